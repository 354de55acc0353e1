// calc: one computation on what stands on stdin.
#include "command/calc_help.h"
#include "command/commands.h"
#include "json/read.h"
#include "json/write.h"

#include <fmt/format.h>

#include <algorithm>
#include <istream>
#include <ostream>

namespace command {

namespace {

// Everything there is, or just over what may be read: more than that is refused without being kept.
Result<std::string> read_input(std::istream& in) {
  std::string text;
  std::string piece(std::size_t{64} << 10, '\0');
  while (in && text.size() <= json::largest_text) {
    in.read(piece.data(), static_cast<std::streamsize>(piece.size()));
    text.append(piece, 0, static_cast<std::size_t>(in.gcount()));
  }
  if (in.bad()) return Error{"unreadable", "stdin could not be read to its end"};
  return text;
}

Result<const calc::Computation*> computation_named(std::string_view name) {
  if (const auto* found = calc::find_computation(name)) return found;
  return Error{"bad-arguments",
               fmt::format("there is no computation \"{}\"; witnessmark calc --list shows those there are", name)};
}

Exit list(const Streams& streams) {
  std::size_t width = 0;
  for (const auto& computation : calc::all_computations()) width = std::max(width, computation.name.size());
  for (const auto& computation : calc::all_computations())
    streams.out << fmt::format("{:<{}}  {}\n", computation.name, width, computation.purpose);
  return Exit::done;
}

std::string said_of(const json::Fault& fault) {
  const std::string where = fault.pointer.empty() ? "" : fmt::format(" ({})", fault.pointer);
  return fmt::format("stdin, line {}, column {}: {}{}", fault.place.line, fault.place.column, fault.message, where);
}

Exit compute(const calc::Computation& computation, const Streams& streams) {
  const auto text = read_input(streams.in);
  if (!text) return refuse(streams, text.error().message);
  const json::Document input = json::read(*text);
  if (!input.faults.empty()) return refuse(streams, said_of(input.faults.front()));
  const auto answer = calc::compute(computation, input.root);
  if (!answer) return refuse(streams, answer.error().message);
  streams.out << json::pretty(calc::to_json(computation, *answer)) << '\n';
  return Exit::done;
}

Exit run_calc(const Arguments& arguments, const Streams& streams) {
  const Usage usage = calc_command().usage;
  const auto& names = arguments.operands();
  if (arguments.has("--list"))
    return names.empty() ? list(streams) : refuse_use(streams, "--list takes no NAME", usage);
  if (names.empty()) return refuse_use(streams, "NAME is missing", usage);
  const auto computation = computation_named(names.front());
  return computation ? compute(**computation, streams) : refuse(streams, computation.error().message);
}

} // namespace

Exit tell_about_calc(const Command& command, const std::vector<std::string>& words, const Streams& streams) {
  const auto name = std::ranges::find_if(words, [](std::string_view word) { return !word.starts_with('-'); });
  if (name == words.end()) {
    tell_about(command, streams);
    streams.out << '\n' << about_units();
    return Exit::done;
  }
  const auto computation = computation_named(*name);
  if (!computation) return refuse(streams, computation.error().message);
  streams.out << about(**computation);
  return Exit::done;
}

Command calc_command() {
  return {.name = "calc",
          .purpose = "Does one computation: a JSON object on stdin, the answer on stdout.",
          .usage = {.line = "witnessmark calc NAME | calc --list | calc NAME --help",
                    .switches = {{.name = "--list"}},
                    .operand = "NAME",
                    .most = 1},
          .details =
              "  NAME          the computation; reads its inputs from stdin as one JSON object of at most 16 MB\n"
              "  --list        shows the name and the purpose of every computation\n"
              "  NAME --help   shows inputs, results, formula, source and a worked example\n"
              "\n"
              "A quantity is a number with its unit, or the text a person types; several share one unit:\n"
              "  {\"value\": 61.962, \"unit\": \"mm\"}\n"
              "  \"2.4395 in\"\n"
              "  {\"values\": [69.931, 69.905], \"unit\": \"mm\", \"u\": 0.003}\n"
              "\"u\" is the expanded uncertainty (k = 2) of one reading, \"u_shared\" that of a setting all of\n"
              "them share, both in the unit beside them. A number means the decimal it is written as.\n"
              "Bad input is refused with exit status 2 and the name of the field.\n",
          .work = run_calc};
}

} // namespace command
