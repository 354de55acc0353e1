// Remarks as lines, and what the warnings mean.
#include "procedure/reader.h"

#include "json/fields.h"

#include <fmt/format.h>

#include <array>

namespace procedure {

namespace {

struct Explanation {
  std::string_view code;
  std::string_view text;
};

constexpr std::array explanations = {
    Explanation{"W01", "A limit that no entry, stage or calculation names judges nothing. Name it where it belongs, or "
                       "take it out."},
    Explanation{"W02", "An option on which no limit, step, entry or calculation depends changes nothing, whatever is "
                       "picked. Add the \"when\" it was meant for, or take it out."},
    Explanation{"W03", "A part that no step fits and no entry names: a finding on it would hold up no step. Name it as "
                       "the \"part\" of the step that fits it, or among the \"parts\" of an entry."},
    Explanation{"W04",
                "A limit of basis \"none\" is recorded, never judged, so its numbers are only shown. If they are "
                "to judge, say where they come from with another basis."},
    Explanation{"W05", "Service bounds hold for reused parts. The entry names no \"parts\" whose state could be "
                       "reused, so it is always judged by the standard bounds. Add \"parts\", or \"judged-by\"."},
    Explanation{"W06", "The first case whose conditions hold counts. An earlier case holds whenever this one does, so "
                       "its numbers are never used. Change the order, or take it out."},
    Explanation{"W07", "The entry that is calculated must be filled before the step can be signed, and it needs a "
                       "reading that may be left empty. Make both optional, or neither."},
    Explanation{"W08",
                "A section that may be left open at release would hold up a step that may not. Move the step, or "
                "make its section deferrable too."},
};

// A file with hidden characters is told of them, but they must not reach the terminal.
std::string printable(std::string text) {
  if (!json::has_hidden_characters(text)) return text;
  for (char& c : text)
    if (c < ' ' || c > '~') c = '?';
  return text;
}

} // namespace

std::string line_of(const Remark& remark, std::string_view file) {
  const json::Fault& fault = remark.fault;
  const bool is_error = remark.severity == Severity::error;
  const std::string kind = is_error ? "error: " : fmt::format("warning: {} ", remark.code);
  const std::string where = fault.pointer.empty() ? "" : fmt::format(" ({})", fault.pointer);
  return fmt::format("{}:{}:{}: {}{}", file, fault.place.line, fault.place.column, kind,
                     printable(fault.message + where));
}

std::string_view explain(std::string_view code) {
  for (const Explanation& one : explanations)
    if (one.code == code) return one.text;
  return "";
}

} // namespace procedure
