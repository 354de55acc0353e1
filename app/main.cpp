#include "command/command.h"

int main(int argc, char** argv) {
  return command::run(argc, argv);
}
