// lint: every fault of a procedure with its place in the file.
#include "command/commands.h"
#include "procedure/reader.h"
#include "json/read.h"
#include "json/write.h"

#include <fmt/format.h>

#include <ostream>

namespace command {

namespace {

// The remarks are written to `to` as lines of the file.
Result<procedure::Reading> check_file(const std::string& file, std::ostream& to) {
  const auto text = json::read_file(file);
  if (!text) return text.error();
  procedure::Reading reading = procedure::read_procedure(*text);
  for (const auto& remark : reading.remarks) to << procedure::line_of(remark, one_line(file)) << '\n';
  return reading;
}

Exit check_files(const std::vector<std::string>& files, const Streams& streams) {
  bool all_good = true;
  bool all_read = true;
  for (const std::string& file : files) {
    const auto reading = check_file(file, streams.out);
    if (!reading) refuse(streams, reading.error().message);
    all_read = all_read && reading.ok();
    all_good = all_good && reading.ok() && reading->procedure;
  }
  if (!all_read) return Exit::could_not_try;
  return all_good ? Exit::done : Exit::answer_is_no;
}

// stdout is for the procedure alone.
Exit print_resolved(const std::string& file, const Streams& streams) {
  const auto reading = check_file(file, streams.err);
  if (!reading) return refuse(streams, reading.error().message);
  if (!reading->procedure) return Exit::answer_is_no;
  streams.out << json::pretty(procedure::resolved(*reading->procedure)) << '\n';
  return Exit::done;
}

Exit explain_warning(const std::string& code, const Streams& streams) {
  const std::string_view text = procedure::explain(code);
  if (text.empty())
    return refuse(streams, fmt::format("no warning has the code \"{}\"; the codes are W01, W02 and so on", code));
  streams.out << wrapped(fmt::format("{}: {}", code, text), 0);
  return Exit::done;
}

Exit run_lint(const Arguments& arguments, const Streams& streams) {
  const Usage usage = lint_command().usage;
  const auto& files = arguments.operands();
  const bool resolves = arguments.has("--resolved");
  const bool explains = arguments.has("--explain");
  if (resolves + explains + !files.empty() > 1)
    return refuse_use(streams, "FILE..., --resolved and --explain are not used together", usage);
  if (resolves) return print_resolved(arguments.value("--resolved"), streams);
  if (explains) return explain_warning(arguments.value("--explain"), streams);
  if (files.empty()) return refuse_use(streams, "FILE is missing", usage);
  return check_files(files, streams);
}

} // namespace

Command lint_command() {
  return {.name = "lint",
          .purpose = "Checks procedures and tells every fault with its place in the file.",
          .usage = {.line = "witnessmark lint FILE... | lint --resolved FILE | lint --explain Wnn",
                    .switches = {{.name = "--resolved", .takes = Takes::one, .value = "FILE"},
                                 {.name = "--explain", .takes = Takes::one, .value = "Wnn"}},
                    .operand = "FILE",
                    .most = any_number},
          .details =
              "  FILE...           checks each file; a file without a fault gives no line. The faults go to stdout:\n"
              "                      FILE:LINE:COLUMN: error: ...\n"
              "                      FILE:LINE:COLUMN: warning: Wnn ...\n"
              "                    Exit status 1 when there is an error; warnings alone give 0\n"
              "  --resolved FILE   prints the procedure with every default written out; its faults go to stderr\n"
              "  --explain Wnn     says what a warning means and what to do about it\n",
          .work = run_lint};
}

} // namespace command
