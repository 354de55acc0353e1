#include "command/command.h"
#include "desktop/desktop.h"

#include <string>
#include <vector>

int main(int argc, char** argv) {
  const std::vector<std::string> arguments(argv + (argc > 0 ? 1 : 0), argv + argc);
  if (arguments.empty() || arguments.front() == "bench") return desktop::run(arguments);
  return command::run(argc, argv);
}
