// Lists of the pages: what was conceded, repaired, worn or close; what happened; parts, gauges, notices.
#include "handover/content_parts.h"
#include "handover/values.h"
#include "handover/words.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace handover {

using build::EntryAt;
using build::Standing;

namespace {

std::optional<EntryAt> entry_named(const Build& build, const json::Value& body) {
  const auto step = build.plan->find_step(body.text_or_empty("step"));
  if (!step) return std::nullopt;
  const auto entry = build.plan->find_entry(*step, body.text_or_empty("entry"));
  if (!entry) return std::nullopt;
  return EntryAt{*step, *entry};
}

std::string value_text(const OneValue& value) {
  std::string out = with_unit(value.number(), *value.unit);
  if (!value.result.empty()) out = readable(value.result) + " " + out;
  return value.where.empty() ? out : value.where + ": " + out;
}

template <typename Which>
std::vector<OneValue> values_where(const Build& build, EntryAt at, Which which) {
  auto values = values_of(build, at);
  std::erase_if(values, [&](const OneValue& value) { return !which(value); });
  return values;
}

// "Mains: Oil clearance, 2: 0.021 mm; 3: 0.022 mm (0.020 to 0.062 mm)". Of many, those with the least room; the pages
// of the step show all.
std::string listed(const Build& build, EntryAt at, std::vector<OneValue> values, std::size_t most = 3) {
  std::string more;
  if (values.size() > most + 1) {
    std::stable_sort(values.begin(), values.end(),
                     [](const auto& a, const auto& b) { return room_of(a) < room_of(b); });
    more = fmt::format("; and {} more", values.size() - most);
    values.resize(most);
  }
  std::string out;
  for (const auto& value : values) out += (out.empty() ? "" : "; ") + value_text(value);
  const std::string limits = values.front().by.bounds ? fmt::format(" ({})", bounds_text(values.front())) : "";
  return fmt::format("{}, {}{}{}", of_entry(build, at), out, more, limits);
}

// The newest event of a kind at the entry, or null.
const Event* newest(const std::vector<Event>& events, const Build& build, EntryAt at, std::string_view kind,
                    std::string_view disposition) {
  for (auto it = events.rbegin(); it != events.rend(); ++it) {
    if (it->kind != kind || entry_named(build, it->body) != at) continue;
    if (disposition.empty() || it->body.text_or_empty("disposition") == disposition) return &*it;
  }
  return nullptr;
}

std::string granted(const Event& event) {
  std::string out = fmt::format(" {} Granted by {}, {}.", event.body.at("asked").text_or_empty("text"), event.name,
                                calc::local_text(event.time));
  if (const auto* customer = event.body.find("customer"))
    out +=
        fmt::format(" Customer ({}): {}, {}, {}.", customer->text_or_empty("name"), customer->text_or_empty("agreed"),
                    customer->text_or_empty("date"), customer->text_or_empty("how"));
  return out;
}

bool any_conceded(const build::EntryState& state) {
  for (const auto& fastener : state.fasteners)
    for (const auto& done : fastener)
      if (done.judged.conceded) return true;
  return state.judged.conceded;
}

void tell_of(const Build& build, EntryAt at, const std::vector<Event>& events, Content& out) {
  const auto conceded = values_where(build, at, [](const auto& v) {
    return v.judged.conceded && (v.judged.standing == Standing::outside || v.judged.standing == Standing::undecided);
  });
  if (!conceded.empty() || any_conceded(build.entry(at))) {
    const auto* event = newest(events, build, at, "dispose", "concession");
    const std::string what = conceded.empty() ? of_entry(build, at) : listed(build, at, conceded, conceded.size());
    out.concessions.push_back(what + "." + (event ? granted(*event) : ""));
  }
  const auto worn = values_where(build, at, [](const auto& v) { return v.judged.standing == Standing::worn; });
  if (!worn.empty()) out.worn.push_back(listed(build, at, worn));
  const auto accepted = values_where(
      build, at, [](const auto& v) { return v.judged.accepted && v.judged.standing == Standing::undecided; });
  if (!accepted.empty()) {
    std::string line = listed(build, at, accepted) + ": undecided, accepted at the limit";
    if (const auto* event = newest(events, build, at, "accept", "")) {
      line += fmt::format(" by {}", event->name);
      if (const auto* chances = event->body.find("probability"))
        for (const auto& chance : chances->items())
          line += fmt::format(", probability of being within {}", chance.text_or_empty("probability"));
      line += ". " + event->body.at("asked").text_or_empty("reason");
    }
    out.close.push_back(std::move(line));
  }
  const auto close = values_where(build, at, close_to_limit);
  if (!close.empty()) out.close.push_back(listed(build, at, close) + ": nearer than its uncertainty");
}

std::string places_text(const Build& build, EntryAt at, const json::Value* places) {
  std::vector<std::string> names;
  if (places && places->is(json::Kind::array))
    for (const auto& place : places->items()) {
      const auto name = place_name(build, at, static_cast<std::size_t>(place.as_integer().value_or(0)));
      if (!name.empty()) names.push_back(name);
    }
  if (names.empty() || names.size() > 8) return "";
  return fmt::format(" ({})", fmt::join(names, "; "));
}

std::string where_of(const Build& build, const Event& event) {
  if (const auto at = entry_named(build, event.body)) {
    const json::Value* places = event.body.find("places");
    if (const auto* opened = event.body.find("opened"))
      for (const auto& item : opened->items())
        if (entry_named(build, item) == at) places = item.find("places");
    if (const auto* loosened = event.body.find("loosened")) places = loosened;
    return of_entry(build, *at) + places_text(build, *at, places);
  }
  if (const auto* part = build.plan->procedure().part(event.body.text_or_empty("part"))) {
    const std::string position = event.body.text_or_empty("position");
    return part->title + (position.empty() ? "" : " ") + position;
  }
  const auto step = build.plan->find_step(event.body.text_or_empty("step"));
  return step ? build.plan->step(*step).title : "";
}

// What happened, in words; "" for an event that is plain work or a slip of the keys.
std::string what_of(const Event& event) {
  const auto& asked = *event.body.find("asked");
  if (event.kind == "dispose")
    return fmt::format("Was {}. {}: {}", event.body.text_or_empty("verdict"), event.body.text_or_empty("disposition"),
                       asked.text_or_empty("text"));
  if (event.kind == "accept") return "Accepted: " + asked.text_or_empty("reason");
  if (event.kind == "loosen") return "Loosened: " + asked.text_or_empty("reason");
  if (event.kind == "zero" && !event.body.at("kept").as_boolean())
    return fmt::format("Measured again: {} showed {} {} back on its setting", event.body.text_or_empty("set_gauge"),
                       event.body.text_or_empty("drift"), event.body.text_or_empty("unit"));
  if (event.kind == "reopen") return "Taken apart again: " + asked.text_or_empty("reason");
  if (event.kind == "pick" && !asked.text_or_empty("text").empty())
    return fmt::format("Picked {}, which is not what the readings called for: {}", event.body.text_or_empty("value"),
                       asked.text_or_empty("text"));
  if (event.kind == "note") return "Note: " + asked.text_or_empty("text");
  if (event.kind == "part" && event.body.find("out_of_date"))
    return fmt::format("Used after its last day of use, {}: {}", event.body.text_or_empty("expires"),
                       asked.text_or_empty("text"));
  if (event.kind == "part" && event.body.find("again")) return "The same one again: " + asked.text_or_empty("text");
  if (event.kind == "fill-limit") return "Limit filled in: " + event.body.text_or_empty("limit");
  const std::string reason = asked.text_or_empty("reason");
  if (event.kind == "correct" && reason != "typed" && reason != "misread")
    return fmt::format("Corrected: {} {}", reason, asked.text_or_empty("text"));
  return "";
}

} // namespace

GaugeFacts gauge_facts(const std::vector<Event>& events) {
  GaugeFacts out;
  for (const auto& event : events) {
    const auto* gauge = event.body.find("gauge");
    if (!gauge || !gauge->is(json::Kind::object)) continue;
    const std::string entry = event.body.text_or_empty("step") + "/" + event.body.text_or_empty("entry");
    out[{entry, gauge->text_or_empty("gauge")}] = *gauge;
    const auto* setting = event.body.find("setting");
    if (const auto* standard = setting ? setting->find("standard") : nullptr)
      out[{entry, standard->text_or_empty("gauge")}] = *standard;
  }
  return out;
}

void tell_exceptions(const Build& build, const std::vector<Event>& events, Content& out) {
  for (std::size_t s = 0; s < build.plan->size(); ++s)
    for (std::size_t e = 0; e < build.plan->step(s).entries.size(); ++e)
      if (build::entry_on(build, {s, e}) != build::Holds::no) tell_of(build, {s, e}, events, out);
  for (const auto& event : events) {
    const std::string what = event.body.text_or_empty("disposition");
    if (event.kind != "dispose" || (what != "rework" && what != "repair" && what != "replace" && what != "scrap"))
      continue;
    out.repairs.push_back(
        fmt::format("{}, {}: {}", where_of(build, event), what, event.body.at("asked").text_or_empty("text")));
  }
}

std::vector<Happening> happenings_of(const Build& build, const std::vector<Event>& events) {
  std::vector<Happening> out;
  for (const auto& event : events) {
    if (!event.body.find("asked")) continue;
    std::string what = what_of(event);
    if (!what.empty()) out.push_back({calc::local_text(event.time), event.name, where_of(build, event), what});
  }
  return out;
}

namespace {

// Where each lot of the parts used up or dated went in and is still: the titles of the steps, by part and position, lot
// and last day of use.
using Lot = std::pair<std::string, std::string>;
std::map<build::PartPlace, std::map<Lot, std::string>> lots_of(const Build& build, const std::vector<Event>& events) {
  std::map<std::pair<std::size_t, build::PartPlace>, Lot> newest;
  for (const auto& event : events) {
    const auto* fitted = event.body.find("fitted");
    if (event.kind != "sign" || !fitted) continue;
    const std::size_t step = *build.plan->find_step(event.body.at("step").as_text());
    for (const auto& item : fitted->items())
      newest[{step, {item.text_or_empty("part"), item.text_or_empty("position")}}] = {item.text_or_empty("lot"),
                                                                                      item.text_or_empty("expires")};
  }
  std::map<build::PartPlace, std::map<Lot, std::string>> out;
  for (const auto& [at, lot] : newest) {
    if (lot.second.empty() || !build.step(at.first).fitted.count(at.second)) continue;
    std::string& steps = out[at.second][lot];
    steps += fmt::format("{}\"{}\"", steps.empty() ? "" : ", ", build.plan->step(at.first).title);
  }
  return out;
}

std::string joined(const std::vector<std::pair<std::string_view, std::string>>& details) {
  std::string out;
  for (const auto& [name, text] : details)
    if (!text.empty()) out += fmt::format("{}{}{}", out.empty() ? "" : "; ", name, text);
  return out;
}

} // namespace

std::vector<PartFitted> parts_of(const Build& build, const std::vector<Event>& events) {
  const auto lots = lots_of(build, events);
  std::vector<PartFitted> out;
  for (const auto& part : build.plan->procedure().parts)
    for (const auto& [key, state] : build.parts) {
      if (key.first != part.id) continue;
      std::string used_in;
      if (const auto its = lots.find(key); its != lots.end())
        for (const auto& [lot, steps] : its->second) {
          if (lot == Lot{state.lot, state.expires})
            used_in = steps;
          else
            out.push_back({part.title, key.second, "an earlier lot",
                           joined({{"lot ", lot.first}, {"last day of use ", lot.second}, {"in ", steps}})});
        }
      out.push_back({part.title, key.second, state.state,
                     joined({{"size ", state.size},
                             {"lot ", state.lot},
                             {"last day of use ", state.expires},
                             {"in ", used_in},
                             {"from ", state.from},
                             {state.used_out_of_date ? "used after that day: " : "", state.text}})});
    }
  return out;
}

std::vector<GaugeUsed> gauges_of(const GaugeFacts& facts) {
  std::set<std::vector<std::string>> seen; // a gauge calibrated meanwhile stands there twice
  std::vector<GaugeUsed> out;
  for (const auto& [key, fact] : facts) {
    const std::string calibrated = fact.text_or_empty("calibrated");
    const std::string due = fact.text_or_empty("due");
    std::string text = calibrated.empty() ? "calibration not stated" : "calibrated " + calibrated;
    if (!due.empty()) text += ", due " + due;
    if (!seen.insert({key.second, text}).second) continue;
    const bool stated = fact.text_or_empty("u_from") == "stated";
    out.push_back({key.second, fact.text_or_empty("kind"), text,
                   fmt::format("division {}, U {}", fact.text_or_empty("resolution"), stated ? "stated" : "assumed")});
  }
  std::sort(out.begin(), out.end(),
            [](const auto& a, const auto& b) { return std::tie(a.id, a.calibration) < std::tie(b.id, b.calibration); });
  return out;
}

std::vector<Notice> notices_of(const Build& build) {
  std::set<std::string> seen;
  std::vector<Notice> out;
  for (std::size_t s = 0; s < build.plan->size(); ++s)
    for (const auto& caution : build.plan->step(s).cautions) {
      std::string text = fmt::format("{} {} {}", caution.hazard, caution.consequence, caution.avoid);
      if (!seen.insert(text).second || build::step_on(build, s) == build::Holds::no) continue;
      out.push_back({std::string(procedure::name_of(caution.word)), std::move(text)});
    }
  worst_first(out);
  return out;
}

void worst_first(std::vector<Notice>& notices) {
  const auto rank = [](const Notice& it) {
    return it.word == "DANGER" ? 0 : it.word == "WARNING" ? 1 : it.word == "CAUTION" ? 2 : 3;
  };
  std::stable_sort(notices.begin(), notices.end(), [&](const auto& a, const auto& b) { return rank(a) < rank(b); });
}

std::vector<std::string> bases_of(const Build& build) {
  std::map<std::string, int> counted;
  for (const auto& limit : build.plan->procedure().limits)
    ++counted[std::string(procedure::name_of(build.limit(limit.id)->basis))];
  std::vector<std::string> out;
  for (const auto& [basis, count] : counted) out.push_back(fmt::format("{} ({} limits)", basis, count));
  return out;
}

std::size_t unchecked_of(const Build& build) {
  const auto& limits = build.plan->procedure().limits;
  return static_cast<std::size_t>(std::count_if(limits.begin(), limits.end(), [&](const procedure::Limit& limit) {
    const auto& users = build.plan->entries_of_limit(limit.id);
    return !build::doubt_of(build, limit.id).empty() && std::any_of(users.begin(), users.end(), [&](EntryAt at) {
      return build::entry_on(build, at) != build::Holds::no;
    });
  }));
}

} // namespace handover
