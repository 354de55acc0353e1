#include "command/command.h"

#include "build/event.h"
#include "command/commands.h"

#include <fmt/format.h>

#include <iostream>
#include <sys/resource.h>

namespace command {

namespace {

constexpr std::string_view version = "0.1";

const std::vector<Command>& all_commands() {
  static const std::vector<Command> all = {
      drive_command(),    lint_command(),  calc_command(),          verify_command(), backup_command(),
      handover_command(), order_command(), new_procedure_command(), limits_command(), speed_command()};
  return all;
}

std::string overview() {
  std::string text = "witnessmark follows a procedure while an engine is put together: it says what a reading means,\n"
                     "does not go on past one that is out of its limits, and keeps a signed record.\n\n";
  for (const Command& command : all_commands()) text += fmt::format("  {:<14}{}\n", command.name, command.purpose);
  text +=
      "  bench         Opens the window on a shop file; so does witnessmark alone, on the one in the data folder.\n";
  return text + "\nwitnessmark COMMAND --help   tells about one command\n"
                "witnessmark --version        tells which version this is\n\n"
                "Exit status: 0 done, 1 the answer is no, 2 could not try. An error is one line on stderr.\n"
                "The engine maker's manual, local codes and licensed practice come first.\n";
}

std::string version_line() {
  return fmt::format("witnessmark {} (record format {}, rules {})\n", version, build::event_format, build::rules_now);
}

Exit tell_about_program(const std::vector<std::string>& arguments, const Streams& streams) {
  const Usage usage = {.line = "witnessmark --help | --version",
                       .switches = {{.name = "--help"}, {.name = "--version"}}};
  const auto read = read_arguments(usage, arguments);
  if (!read) return refuse(streams, read.error().message);
  streams.out << (read->has("--help") ? overview() : version_line());
  return Exit::done;
}

Exit run_command(const Command& command, const std::vector<std::string>& rest, const Streams& streams) {
  if (ask_for_help(rest))
    return command.name == "calc" ? tell_about_calc(command, rest, streams) : tell_about(command, streams);
  const auto arguments = read_arguments(command.usage, rest);
  if (!arguments) return refuse(streams, arguments.error().message);
  return command.work(*arguments, streams);
}

Exit dispatch(const std::vector<std::string>& arguments, const Streams& streams) {
  const std::string& name = arguments.front();
  if (name == "--help" || name == "--version") return tell_about_program(arguments, streams);
  for (const Command& command : all_commands())
    if (command.name == name) return run_command(command, {arguments.begin() + 1, arguments.end()}, streams);
  return refuse(streams, fmt::format("there is no command \"{}\"; witnessmark --help shows those there are", name));
}

} // namespace

Exit tell_about(const Command& command, const Streams& streams) {
  streams.out << command.usage.line << "\n\n" << command.purpose << "\n\n" << command.details;
  return Exit::done;
}

Exit refuse_use(const Streams& streams, std::string_view what, const Usage& usage) {
  return refuse(streams, fmt::format("{}; usage: {}", what, usage.line));
}

int run(const std::vector<std::string>& arguments, const Streams& streams) {
  if (arguments.empty()) {
    streams.err << overview();
    return static_cast<int>(Exit::could_not_try);
  }
  const Exit exit = dispatch(arguments, streams);
  streams.out.flush();
  if (!streams.out) return static_cast<int>(refuse(streams, "the answer could not be written to stdout"));
  return static_cast<int>(exit);
}

int run(int argc, char** argv) {
  const rlimit nothing{0, 0};
  setrlimit(RLIMIT_CORE, &nothing); // a passphrase or an unlocked key may be in memory
  std::ios::sync_with_stdio(false);
  const Streams streams{std::cin, std::cout, std::cerr};
  try {
    return run({argv + 1, argv + argc}, streams);
  } catch (const std::exception& mistake) {
    return static_cast<int>(refuse(streams, fmt::format("this program made a mistake: {}", mistake.what())));
  }
}

} // namespace command
