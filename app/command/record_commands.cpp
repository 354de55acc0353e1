// drive and backup: the commands that work on a shop file.
#include "command/commands.h"
#include "command/report.h"
#include "record/session.h"
#include "json/read.h"

#include <fmt/format.h>

#include <istream>
#include <optional>
#include <ostream>
#include <string.h>

namespace command {

namespace {

// --- drive ----------------------------------------------------------------------------------------------------------

// The next line without its line end; false when there is none. Of a line that is longer than any JSON text may be only
// so much is kept as shows that it is too long.
bool next_line(std::istream& in, std::string& line) {
  line.clear();
  for (char byte = 0; in.get(byte);) {
    if (byte == '\n') return true;
    if (line.size() <= json::largest_text) line.push_back(byte);
  }
  return !line.empty();
}

Exit run_drive(const Arguments& arguments, const Streams& streams) {
  auto session = record::Session::open(arguments.value("--shop"), {.practice = arguments.has("--practice")});
  if (!session) return refuse(streams, session.error().message);
  std::string line;
  line.reserve(std::size_t{16} << 10); // so that the lines with passphrases are never moved
  while (streams.out && next_line(streams.in, line)) {
    if (line.empty() || line == "\r") continue;
    streams.out << session->answer(line) << '\n' << std::flush;
    explicit_bzero(line.data(), line.size());
  }
  if (streams.in.bad()) return refuse(streams, "stdin could not be read to its end");
  return Exit::done;
}

// --- backup ---------------------------------------------------------------------------------------------------------

// The copy is looked through like any record; when the record has a fault, so has the copy, and it is kept.
Exit run_backup(const Arguments& arguments, const Streams& streams) {
  const auto store = record::Store::open(arguments.value("--shop"), record::Store::Mode::read_only);
  if (!store) return refuse(streams, store.error().message);
  const std::string& target = arguments.value("--out");
  if (const auto copied = store->backup(target); !copied) return refuse(streams, copied.error().message);
  streams.out << "copied: " << one_line(target) << '\n';
  const auto report = look_through_shop(target, {});
  return report ? print_report(*report, streams.out) : refuse(streams, report.error().message);
}

} // namespace

Command drive_command() {
  return {.name = "drive",
          .purpose = "Reads actions from stdin, one JSON object a line, and answers each with one line.",
          .usage = {.line = "witnessmark drive --shop FILE [--practice]",
                    .switches = {{.name = "--shop", .takes = Takes::one, .value = "FILE", .required = true},
                                 {.name = "--practice"}}},
          .details =
              "  --shop FILE   the shop file; the first enrol makes it when it is not there\n"
              "  --practice    makes a practice shop, or demands that it is one; only there a line may say \"at\"\n"
              "\n"
              "Each line is an object with \"do\", the name of the action, and its fields:\n"
              "  {\"do\": \"sign-in\", \"person\": \"ada\", \"passphrase\": \"...\"}\n"
              "The answer is {\"ok\":true,...}, or {\"ok\":false,\"error\":CODE,\"message\":...}; what it says is on\n"
              "the disk by then. A line that is no action is answered too; a line with nothing on it is passed\n"
              "over. Exit status 0 when all of stdin was answered, refusals or not.\n",
          .work = run_drive};
}

Command backup_command() {
  return {.name = "backup",
          .purpose = "Makes a checked copy of a shop file, also while it is in use.",
          .usage = {.line = "witnessmark backup --shop FILE --out FILE",
                    .switches = {{.name = "--shop", .takes = Takes::one, .value = "FILE", .required = true},
                                 {.name = "--out", .takes = Takes::one, .value = "FILE", .required = true}}},
          .details = "  --shop FILE   the shop file\n"
                     "  --out FILE    the copy; a file that is there already is not overwritten\n"
                     "\n"
                     "Exit status 1 when the copy was made but the record in it is not intact; verify says the same.\n",
          .work = run_backup};
}

} // namespace command
