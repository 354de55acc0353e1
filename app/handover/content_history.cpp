#include "handover/content_parts.h"

#include "build/limits.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace handover {

using json::Kind;
using json::Value;

namespace {

bool troubles(const std::string& verdict) {
  return verdict == "outside" || verdict == "undecided";
}

std::string with_its_unit(const std::string& number, const std::string& unit) {
  return unit.empty() || unit == "1" ? number : number + " " + unit;
}

// What of a record, again or tighten event was not within: "Found outside: 2: 82.513 mm".
std::string trouble_in(const Value& body) {
  std::vector<std::string> list;
  const auto look = [&](const char* key, const std::string& unit) {
    const auto* items = body.find(key);
    if (!items || !items->is(Kind::array)) return;
    for (const auto& item : items->items()) {
      if (!item.is(Kind::object) || !troubles(item.text_or_empty("verdict"))) continue;
      const std::string name = item.text_or_empty("name");
      const std::string value = with_its_unit(item.text_or_empty("value"), unit);
      list.push_back(name.empty() ? value : name + ": " + value);
    }
  };
  look("cells", body.text_or_empty("unit"));
  look("fasteners", body.text_or_empty("unit"));
  std::string out;
  const std::size_t shown = std::min<std::size_t>(list.size(), 6);
  if (!list.empty())
    out = fmt::format("Found {}: {}{}", body.find("verdict") ? body.text_or_empty("verdict") : "outside",
                      fmt::join(list.begin(), list.begin() + static_cast<std::ptrdiff_t>(shown), "; "),
                      shown < list.size() ? fmt::format("; and {} more", list.size() - shown) : "");
  const auto* calculated = body.find("calculated");
  if (!calculated || !calculated->is(Kind::array)) return out;
  for (const auto& item : calculated->items()) {
    const auto* results = item.find("results");
    if (!results || !results->is(Kind::object)) continue;
    for (const auto& result : results->members()) {
      if (!result.value.is(Kind::object) || !troubles(result.value.text_or_empty("verdict"))) continue;
      const auto number = quantity::Exact::written(result.value.text_or_empty("value"));
      const auto u = quantity::Exact::written(result.value.text_or_empty("u"));
      const std::string text = number ? readable(*number, u ? *u : build::Exact()) : result.value.text_or_empty("value");
      const std::string position = item.text_or_empty("position");
      out += fmt::format("{}{}{} calculated {}: {}", out.empty() ? "" : "; ", position, position.empty() ? "" : ":",
                         result.value.text_or_empty("verdict"),
                         with_its_unit(text, result.value.text_or_empty("unit")));
    }
  }
  return out;
}

std::string concession_text(const Value& asked) {
  std::string out = "Concession: " + asked.text_or_empty("text");
  const auto* customer = asked.find("customer");
  if (!customer || !customer->is(Kind::object)) return out;
  const auto* agreed = customer->find("agreed");
  const bool yes = agreed && agreed->is(Kind::boolean) && agreed->as_boolean();
  return fmt::format("{} Customer ({}) {} on {}, {}.", out, customer->text_or_empty("name"),
                     yes ? "agreed" : "was told and did not agree", customer->text_or_empty("date"),
                     customer->text_or_empty("how"));
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string what_happened(const Event& event) {
  const auto* asked_is = event.body.find("asked");
  const Value asked = asked_is ? *asked_is : Value::object();
  if (event.kind == "record" || event.kind == "again" || event.kind == "tighten") {
    const bool aside = event.body.find("as_found") || event.body.find("second_look");
    return aside ? std::string() : trouble_in(event.body);
  }
  if (event.kind == "dispose") {
    const std::string how = event.body.text_or_empty("disposition");
    if (how == "concession") return concession_text(asked);
    return fmt::format("{}: {}", how == "accept" ? "Used again" : capital(how), asked.text_or_empty("text"));
  }
  if (event.kind == "accept") return "Accepted at the limit: " + asked.text_or_empty("reason");
  if (event.kind == "loosen") return "Loosened: " + asked.text_or_empty("reason");
  if (event.kind == "reopen") return "Opened again: " + asked.text_or_empty("reason");
  if (event.kind == "note") return "Note: " + asked.text_or_empty("text");
  return "";
}

} // namespace

std::string place_of(const Build& build, const Value& body) {
  const auto step = build.plan->find_step(body.text_or_empty("step"));
  if (!step) return "";
  const auto& its = build.plan->step(*step);
  const auto entry = build.plan->find_entry(*step, body.text_or_empty("entry"));
  return entry ? fmt::format("{}, {}", its.title, its.entries[*entry].title) : its.title;
}

std::vector<Happening> happenings_of(const Build& build, const std::vector<Event>& events) {
  std::vector<Happening> out;
  for (const auto& event : events)
    if (std::string what = what_happened(event); !what.empty())
      out.push_back({calc::local_text(event.time), event.name, place_of(build, event.body), std::move(what)});
  return out;
}

namespace {

void note_gauge(const Value& facts, std::map<std::string, GaugeUsed>& used) {
  const std::string id = facts.text_or_empty("gauge");
  if (id.empty() || facts.text_or_empty("kind").empty()) return;
  const std::string calibrated = facts.text_or_empty("calibrated");
  const std::string due = facts.text_or_empty("due");
  std::string calibration = calibrated.empty() ? "calibration not stated" : "calibrated " + calibrated;
  if (!due.empty()) calibration += ", due " + due;
  const std::string u = facts.text_or_empty("u");
  const std::string unit = unit_text(facts.text_or_empty("unit"));
  const std::string from = facts.text_or_empty("u_from");
  used.try_emplace(id + ' ' + calibration,
                   GaugeUsed{id, facts.text_or_empty("kind"), calibration,
                             u.empty() ? "" : fmt::format("U {} {}{}", u, unit, from.empty() ? "" : " (" + from + ")")});
}

} // namespace

std::vector<GaugeUsed> gauges_used(const std::vector<Event>& events) {
  std::map<std::string, GaugeUsed> used;
  for (const auto& event : events) {
    const auto* facts = event.body.find("gauge");
    if (facts && facts->is(Kind::object)) note_gauge(*facts, used);
    const auto* several = event.body.find("gauges");
    if (several && several->is(Kind::array))
      for (const auto& one : several->items())
        if (one.is(Kind::object)) note_gauge(one, used);
  }
  std::vector<GaugeUsed> out;
  for (auto& [key, gauge] : used) out.push_back(std::move(gauge));
  return out;
}

} // namespace handover
