// drive, verify and backup: the commands on a shop file.
#include "command/commands.h"
#include "record/session.h"
#include "record/verify.h"
#include "json/read.h"

#include <fmt/format.h>

#include <istream>
#include <optional>
#include <ostream>
#include <string.h>

namespace command {

namespace {

using record::Known;
using record::Report;

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

// --- verify ---------------------------------------------------------------------------------------------------------

constexpr std::string_view hash_rule = "64 hexadecimal digits, as printed; blanks and colons between them do not count";

// As the record writes it; none when it cannot be one.
std::optional<std::string> hash_typed(std::string_view typed) {
  std::string hash;
  for (const char c : typed) {
    if (c == ' ' || c == ':') continue;
    const bool digit = c >= '0' && c <= '9';
    const bool small = c >= 'a' && c <= 'f';
    const bool capital = c >= 'A' && c <= 'F';
    if (!digit && !small && !capital) return std::nullopt;
    hash.push_back(capital ? static_cast<char>(c - 'A' + 'a') : c);
  }
  return hash.size() == record::no_hash.size() ? std::optional(hash) : std::nullopt;
}

Result<Known> known_hashes(const Arguments& arguments) {
  Known known;
  for (const std::string& typed : arguments.values("--known")) {
    const auto hash = hash_typed(typed);
    if (!hash) return Error{"bad-arguments", fmt::format("--known: {} is no hash: {}", typed, hash_rule)};
    known.hashes.push_back(*hash);
  }
  if (!arguments.has("--shop-key")) return known;
  const std::string& typed = arguments.value("--shop-key");
  known.shop_key = hash_typed(typed);
  if (!known.shop_key)
    return Error{"bad-arguments", fmt::format("--shop-key: {} is no fingerprint: {}", typed, hash_rule)};
  return known;
}

void print_notes(const Report& report, std::ostream& out) {
  if (report.practice) out << "PRACTICE, NOT A RECORD\n";
  for (const std::string& note : report.notes) out << "note: " << one_line(note) << '\n';
}

void print_heads(const Report& report, std::ostream& out) {
  for (const auto& [chain, head] : report.heads)
    out << fmt::format("head: {}, event {}, {}\n", one_line(chain), head.seq, head.hash);
}

Exit print_report(const Report& report, std::ostream& out) {
  if (report.intact) {
    out << fmt::format("intact (events: {}, signatures: {})\n", report.events, report.signatures);
  } else {
    out << "not intact: " << one_line(report.fault) << '\n';
  }
  out << "shop key: " << (report.shop_key.empty() ? "none found" : one_line(report.shop_key)) << '\n';
  print_notes(report, out);
  print_heads(report, out);
  return report.intact ? Exit::done : Exit::answer_is_no;
}

// A damaged file is an answer; any other error means that there was nothing to look at.
Result<Report> look_through(const std::string& file, const Known& known) {
  auto report = record::verify_shop(file, known);
  if (report || report.error().code != "store-damaged") return report;
  Report damaged;
  damaged.fault = report.error().message;
  return damaged;
}

constexpr std::string_view key_not_compared =
    "note: compare the shop key above with the one on the shop's card, or give that one with --shop-key\n";
constexpr std::string_view no_head_known =
    "note: the file alone does not show whether a whole older copy was put back, or readings were rewritten since the "
    "last signature; heads noted earlier do, given with --known\n";

Exit run_verify(const Arguments& arguments, const Streams& streams) {
  const auto known = known_hashes(arguments);
  if (!known) return refuse(streams, known.error().message);
  const auto report = look_through(arguments.operands().front(), *known);
  if (!report) return refuse(streams, report.error().message);
  const Exit exit = print_report(*report, streams.out);
  if (!known->shop_key && !report->shop_key.empty()) streams.out << key_not_compared;
  if (known->hashes.empty()) streams.out << no_head_known;
  return exit;
}

// --- backup ---------------------------------------------------------------------------------------------------------

// The copy is looked through like any record; when the record has a fault, so has the copy, and it is kept.
Exit run_backup(const Arguments& arguments, const Streams& streams) {
  const auto store = record::Store::open(arguments.value("--shop"), record::Store::Mode::read_only);
  if (!store) return refuse(streams, store.error().message);
  const std::string& target = arguments.value("--out");
  if (const auto copied = store->backup(target); !copied) return refuse(streams, copied.error().message);
  streams.out << "copied: " << one_line(target) << '\n';
  const auto report = look_through(target, {});
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

Command verify_command() {
  return {.name = "verify",
          .purpose = "Says whether a shop file is intact, or the first thing in it that differs.",
          .usage = {.line = "witnessmark verify FILE [--shop-key FPR] [--known HASH...]",
                    .switches = {{.name = "--shop-key", .takes = Takes::one, .value = "FPR"},
                                 {.name = "--known", .takes = Takes::several, .value = "HASH"}},
                    .operand = "FILE",
                    .least = 1,
                    .most = 1},
          .details =
              "  FILE              a shop file\n"
              "  --shop-key FPR    the fingerprint on the shop's card: another shop's record is not taken for it\n"
              "  --known HASH...   heads noted or printed earlier, each of which must be in the record\n"
              "\n"
              "Exit status 0 intact, 1 not intact, 2 no shop file or not readable. The shop key's fingerprint\n"
              "and the head of each chain are always shown: keep the heads on paper, away from the file.\n",
          .work = run_verify};
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
