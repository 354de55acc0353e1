// new-procedure: a procedure for another engine, begun from one that there is.
#include "command/commands.h"
#include "handover/make.h"
#include "procedure/check.h"
#include "procedure/emptied.h"
#include "procedure/reader.h"
#include "json/read.h"
#include "json/write.h"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>

namespace command {

namespace {

std::string value_of(const Arguments& arguments, std::string_view name) {
  return arguments.has(name) ? arguments.value(name) : std::string();
}

// The procedure that is begun from; a message names its first error.
Result<procedure::Reading> read_from(const std::string& file, std::string& text) {
  auto read = json::read_file(file);
  if (!read) return read.error();
  text = std::move(*read);
  procedure::Reading reading = procedure::read_procedure(text);
  if (reading.procedure) return reading;
  const auto error = std::ranges::find(reading.remarks, procedure::Severity::error, &procedure::Remark::severity);
  return procedure::Error{"bad-procedure", fmt::format("{}; correct it first, see witnessmark lint",
                                                       procedure::line_of(*error, one_line(file)))};
}

void tell_what_is_left(const std::string& text, const std::string& out, const Streams& streams) {
  const auto reading = procedure::read_procedure(text);
  if (!reading.procedure) return;
  const std::string file = one_line(out);
  streams.out << fmt::format("{}: {} limits to fill in, from the engine maker's manual\n", file,
                             reading.procedure->limits.size());
  const auto document = json::read(text);
  for (const auto& one : procedure::of_old_engine(*reading.procedure)) {
    const json::Place place = procedure::place_in(document.root, one.pointer);
    streams.out << fmt::format("{}:{}:{}: of the engine it begins from: {}\n", file, place.line, place.column,
                               one_line(one.words));
  }
}

Exit run_new_procedure(const Arguments& arguments, const Streams& streams) {
  std::string text;
  const auto from = read_from(arguments.value("--from"), text);
  if (!from) return refuse(streams, from.error().message);
  const procedure::NewHead head{value_of(arguments, "--id"), value_of(arguments, "--title"),
                                value_of(arguments, "--model")};
  const std::string fresh = json::pretty(procedure::emptied(json::read(text).root, head)) + "\n";
  if (const auto again = procedure::read_procedure(fresh); !again.procedure)
    return refuse(streams, procedure::line_of(again.remarks.front(), "the new procedure"));
  const std::string& out = arguments.value("--out");
  if (const auto written = handover::write_new(out, fresh); !written) return refuse(streams, written.error().message);
  tell_what_is_left(fresh, out, streams);
  return Exit::done;
}

} // namespace

Command new_procedure_command() {
  return {.name = "new-procedure",
          .purpose = "Begins a procedure for another engine: the steps of one there is, its limits empty.",
          .usage = {.line = "witnessmark new-procedure --from FILE --out FILE [--id ID] [--title TEXT] [--model NAME]",
                    .switches = {{.name = "--from", .takes = Takes::one, .value = "FILE", .required = true},
                                 {.name = "--out", .takes = Takes::one, .value = "FILE", .required = true},
                                 {.name = "--id", .takes = Takes::one, .value = "ID"},
                                 {.name = "--title", .takes = Takes::one, .value = "TEXT"},
                                 {.name = "--model", .takes = Takes::one, .value = "NAME"}}},
          .details =
              "  --from FILE      a procedure without errors\n"
              "  --out FILE       the new one; a file that is there already is not overwritten\n"
              "  --id, --title, --model   its own; left out, those of the other stay\n"
              "\n"
              "Every limit keeps its name, title and unit and loses its numbers; its basis is \"not yet\". A build\n"
              "may be opened with it: only a step that needs an empty limit waits. What else is of the engine it\n"
              "begins from (bolts, sizes to choose from, teeth, options) is listed with its line, to be looked at.\n",
          .work = run_new_procedure};
}

} // namespace command
