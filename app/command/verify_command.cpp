// verify: whether a handover or a shop file is intact.
#include "command/commands.h"
#include "command/report.h"
#include "handover/check.h"
#include "json/read.h"

#include <fmt/format.h>

#include <fstream>
#include <optional>
#include <ostream>

namespace command {

namespace {

using record::Known;
using record::Report;

constexpr std::size_t largest_pdf = 512u << 20;

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

bool is_pdf(const std::string& file) {
  std::ifstream in(file, std::ios::binary);
  std::string start(5, ' ');
  in.read(start.data(), static_cast<std::streamsize>(start.size()));
  return in && start == "%PDF-";
}

Result<Report> look_through(const std::string& file, const Known& known) {
  if (!is_pdf(file)) return look_through_shop(file, known);
  const auto bytes = json::read_file(file, largest_pdf);
  if (!bytes) return bytes.error();
  auto report = handover::check_pdf(*bytes, known);
  if (!report) return Error{report.error().code, fmt::format("{}: {}", one_line(file), report.error().message)};
  return report;
}

constexpr std::string_view key_not_compared =
    "note: compare the shop key above with the one on the shop's card, or give that one with --shop-key\n";
constexpr std::string_view no_head_known =
    "note: the file alone does not show whether a whole older copy was put back, or readings were rewritten since the "
    "last signature; heads noted earlier do, given with --known\n";

constexpr std::string_view no_head_known_of_pdf =
    "note: an older handover of the same engine would be intact too; a head noted later, given with --known, tells\n";

Exit run_verify(const Arguments& arguments, const Streams& streams) {
  const auto known = known_hashes(arguments);
  if (!known) return refuse(streams, known.error().message);
  const auto report = look_through(arguments.operands().front(), *known);
  if (!report) return refuse(streams, report.error().message);
  const Exit exit = print_report(*report, streams.out);
  if (!known->shop_key && !report->shop_key.empty()) streams.out << key_not_compared;
  if (known->hashes.empty())
    streams.out << (is_pdf(arguments.operands().front()) ? no_head_known_of_pdf : no_head_known);
  return exit;
}

} // namespace

Command verify_command() {
  return {.name = "verify",
          .purpose = "Says whether a handover or a shop file is intact, or the first thing in it that differs.",
          .usage = {.line = "witnessmark verify FILE [--shop-key FPR] [--known HASH...]",
                    .switches = {{.name = "--shop-key", .takes = Takes::one, .value = "FPR"},
                                 {.name = "--known", .takes = Takes::several, .value = "HASH"}},
                    .operand = "FILE",
                    .least = 1,
                    .most = 1},
          .details =
              "  FILE              a handover (PDF) or a shop file\n"
              "  --shop-key FPR    the fingerprint on the shop's card: another shop's record is not taken for it\n"
              "  --known HASH...   heads noted or printed earlier, each of which must be in the record\n"
              "\n"
              "Exit status 0 intact, 1 not intact, 2 neither or not readable. The shop key's fingerprint\n"
              "and the head of each chain are always shown: keep the heads on paper, away from the file.\n"
              "Of a handover, the signature over the whole file is checked, then the record inside; that its\n"
              "pages say what the record says is what its signer vouches for.\n",
          .work = run_verify};
}

} // namespace command
