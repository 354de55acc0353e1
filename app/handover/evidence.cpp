#include "handover/evidence.h"

#include "record/digest.h"
#include "json/read.h"
#include "json/write.h"

#include <fmt/format.h>

#include <algorithm>

namespace handover {

using json::Kind;
using json::Value;
using record::Line;
using record::Withheld;

namespace {

Error not_so(const std::string& what) {
  return Error{"not-intact", "the record in it " + what};
}

Value as_json(const Line& line) {
  if (const auto* event = std::get_if<build::Event>(&line)) return build::to_json(*event);
  const auto& withheld = std::get<Withheld>(line);
  Value out = Value::object({{"chain", Value::text(std::string(build::shop_chain))},
                             {"seq", Value::integer(withheld.seq)},
                             {"withheld", Value::text(withheld.hash)}});
  if (!withheld.used.is(Kind::null)) out.set("used", withheld.used);
  return out;
}

bool only(const Value& value, std::initializer_list<std::string_view> keys) {
  return value.is(Kind::object) && std::all_of(value.members().begin(), value.members().end(), [&](const auto& member) {
           return std::find(keys.begin(), keys.end(), member.key) != keys.end();
         });
}

bool is_hash(std::string_view text) {
  return text.size() == record::no_hash.size() && text.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

Result<Line> line_of(const Value& value) {
  if (!value.is(Kind::object)) return not_so("holds something that is no event");
  if (!value.find("withheld")) {
    auto event = build::event_from_json(value);
    if (!event) return not_so("holds an event that cannot be read: " + event.error().message);
    return Line(*std::move(event));
  }
  const auto* seq = value.find("seq");
  const auto number = seq && seq->is(Kind::number) ? seq->as_integer() : std::nullopt;
  const auto* used = value.find("used");
  const std::string& hash = value.text_or_empty("withheld");
  if (!only(value, {"chain", "seq", "withheld", "used"}) || !number || !is_hash(hash) ||
      value.text_or_empty("chain") != build::shop_chain || (used && !used->is(Kind::object)))
    return not_so("withholds an event in another form than ours");
  return Line(Withheld{*number, hash, used ? *used : Value()});
}

} // namespace

Result<std::string> evidence_text(const Evidence& evidence) {
  Value events = Value::array();
  for (const auto& line : evidence.lines) events.push(as_json(line));
  std::string text = json::canonical(Value::object({{"v", Value::integer(evidence_format)},
                                                    {"build", Value::text(evidence.build)},
                                                    {"procedure", Value::text(evidence.procedure)},
                                                    {"events", std::move(events)}}));
  if (text.size() > json::largest_text)
    return Error{"not-written", fmt::format("The record of {} is longer than a handover can carry ({} MB).",
                                            evidence.build, json::largest_text >> 20)};
  return text;
}

Result<Evidence> read_evidence(std::string_view text) {
  const auto read = json::read_one(text);
  if (!read) return not_so("cannot be read: " + read.error().message);
  const auto& root = *read;
  if (!only(root, {"v", "build", "procedure", "events"})) return not_so("has a part that this program does not know");
  const auto* version = root.find("v");
  const auto* events = root.find("events");
  const auto* procedure = root.find("procedure");
  if (!version || !version->is(Kind::number) || version->as_integer() != evidence_format)
    return not_so("was written by another version of this program");
  if (!events || !events->is(Kind::array) || !procedure || !procedure->is(Kind::text))
    return not_so("lacks its events or its procedure");
  Evidence out{root.text_or_empty("build"), procedure->as_text(), {}};
  for (const auto& item : events->items()) {
    auto line = line_of(item);
    if (!line) return line.error();
    out.lines.push_back(*std::move(line));
  }
  try {
    if (json::canonical(root) != text) return not_so("is not written in its canonical form");
  } catch (const std::logic_error&) {
    return not_so("is not written in its canonical form");
  }
  return out;
}

record::Report check_evidence(const Evidence& evidence, const record::Known& known) {
  const std::string hash = record::sha256_hex(evidence.procedure);
  auto report = record::verify_excerpt(
      evidence.lines,
      [&](std::string_view sha256) -> quantity::Result<std::optional<std::string>> {
        return sha256 == hash ? std::optional(evidence.procedure) : std::nullopt;
      },
      known);
  const auto fails = [&](const std::string& what) {
    report.intact = false;
    report.fault = what;
  };
  if (!report.intact) return report;
  const auto other = std::find_if(report.heads.begin(), report.heads.end(), [&](const auto& head) {
    return head.first != build::shop_chain && head.first != build::chain_of_build(evidence.build);
  });
  if (other != report.heads.end())
    fails(fmt::format("the record in it is of {} too, not of {} alone", other->first, evidence.build));
  else if (!report.released.count(evidence.build))
    fails(fmt::format("the build {} is not released in the record in it", evidence.build));
  return report;
}

} // namespace handover
