// Parts sent to the machine shop, with what is to be done to them, and back.
#include "build/decision.h"
#include "build/findings.h"
#include "build/fitting.h"
#include "build/orders.h"
#include "build/reopening.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

using json::Kind;
using procedure::EntryKind;

namespace {

// Where a line of an order goes: each position named, or all the part has; [""] for a part of which there is one.
Result<std::vector<std::string>> places_of(const Build& build, const std::string& id,
                                           const std::vector<std::string>& named) {
  const auto* part = build.plan->procedure().part(id);
  if (!part) return bad_value(fmt::format("There is no part \"{}\" in this procedure.", id));
  if (part->positions.empty()) {
    if (named.empty()) return std::vector<std::string>{""};
    return bad_value(fmt::format("There is only one {}; leave the positions out.", part->title));
  }
  for (const auto& position : named)
    if (std::find(part->positions.begin(), part->positions.end(), position) == part->positions.end())
      return bad_value(fmt::format("Say which {}: {}.", part->title, fmt::join(part->positions, ", ")));
  return named.empty() ? part->positions : named;
}

Value size_item(const std::string& title, std::string size) {
  return Value::object({{"title", Value::text(title)}, {"text", Value::text(std::move(size))}});
}

Result<Value> size_of_limit(const Build& build, const std::string& id) {
  const Effective now = effective(build, id);
  if (now.unset)
    return refusal("option-unset",
                   fmt::format("{} depends on a size that is not picked yet; pick it, then order.", now.limit->title));
  if (!now.values)
    return refusal("limit-missing",
                   fmt::format("{} has no numbers yet; fill them in from the manual, then order.", now.limit->title));
  const Unit& unit = *now.limit->unit;
  if (now.values->standard) return size_item(now.limit->title, text(*now.values->standard, unit));
  if (now.values->target) return size_item(now.limit->title, quantity::text({*now.values->target, &unit, {}}));
  return size_item(now.limit->title, text(*now.values->service, unit));
}

// The size worked out for this position.
Result<Value> size_worked_out(const Build& build, const procedure::OfferedWork& work, const std::string& position) {
  const std::size_t step = *build.plan->find_step(work.sizes_step);
  const EntryAt at{step, *build.plan->find_entry(step, work.sizes_entry)};
  const auto& positions = build.plan->step(step).positions;
  const auto place = std::find(positions.begin(), positions.end(), position);
  const auto& calculated = build.entry(at).calculated;
  const std::size_t index = place == positions.end() ? 0 : static_cast<std::size_t>(place - positions.begin());
  const std::string& title = build.plan->entry(at).title;
  const Value none;
  const Value& results = index < calculated.size() ? calculated[index].results : none;
  const auto* low = results.is(Kind::object) ? results.find(work.low) : nullptr;
  const auto* high = results.is(Kind::object) ? results.find(work.high) : nullptr;
  if (!low || !high || !low->is(Kind::object) || !high->is(Kind::object))
    return refusal("entry-missing",
                   fmt::format("{}{} is worked out once its readings are there; the order says to which size.", title,
                               position.empty() ? "" : " (" + position + ")"));
  Bounds bounds;
  bounds.low = *Exact::written(low->at("value").as_text());
  bounds.high = *Exact::written(high->at("value").as_text());
  return size_item(title, text(bounds, *quantity::find_unit(low->at("unit").as_text())));
}

Result<Value> sizes(const Build& build, const procedure::OfferedWork& work, const std::string& position) {
  Value out = Value::array();
  if (!work.sizes_entry.empty()) {
    auto size = size_worked_out(build, work, position);
    if (!size) return size.error();
    out.push(std::move(*size));
  }
  for (const auto& limit : work.limits) {
    auto size = size_of_limit(build, limit);
    if (!size) return size.error();
    out.push(std::move(*size));
  }
  return out;
}

// Findings on that part there: those named, or when none of them is (no list at all) every open one.
std::vector<std::string> findings_there(const Case& it, const std::string& part, const std::string& position,
                                        const std::vector<std::string>* named) {
  std::vector<std::string> out;
  for (const auto& finding : it.build.findings) {
    if (finding.part != part) continue;
    if (!finding.position.empty() && !position.empty() && finding.position != position) continue;
    const bool wanted = !named ? is_open(it.shop, it.build, finding, it.context.now)
                               : std::find(named->begin(), named->end(), finding.id) != named->end();
    if (wanted) out.push_back(finding.id);
  }
  return out;
}

Result<void> known_findings(const Build& build, const std::string& part, const std::vector<std::string>& named) {
  for (const auto& id : named) {
    const auto* finding = find_finding(build, id);
    if (!finding || finding->part != part)
      return bad_value(fmt::format("There is no finding \"{}\" on that part.", id));
  }
  return {};
}

Result<const procedure::OfferedWork*> offered_for(const Build& build, const std::string& id, const std::string& part) {
  if (id.empty()) return nullptr;
  const auto* work = build.plan->procedure().work(id);
  if (!work) return bad_value(fmt::format("This procedure offers no machine work \"{}\".", id));
  if (std::find(work->parts.begin(), work->parts.end(), part) == work->parts.end())
    return bad_value(fmt::format("\"{}\" is not done to that part; say it in your own words.", work->text));
  return work;
}

// One line of the action as lines of the event, one for each position.
Result<void> add_lines(const Case& it, const Value& given, Value& lines) {
  if (!given.is(Kind::object)) return bad_value("Each of \"lines\" must hold a \"part\" and its \"work\" or \"text\".");
  Asked asked(given, {"part", "positions", "work", "text", "finish", "findings"});
  const std::string part = asked.text("part");
  const auto positions = asked.texts("positions");
  const std::string work_id = asked.text("work", false);
  const std::string words = asked.line("text", work_id.empty());
  const std::string finish = asked.line("finish", false);
  const auto named = asked.texts("findings");
  if (const auto wrong = asked.wrong()) return *wrong;
  const auto places = places_of(it.build, part, positions);
  if (!places) return places.error();
  const auto work = offered_for(it.build, work_id, part);
  if (!work) return work.error();
  if (const auto known = known_findings(it.build, part, named); !known) return known.error();
  for (const auto& position : *places) {
    if (const auto away = away_at(it.build, part, position))
      return refusal("part-away", fmt::format("{} is away already: {}.", part_text(it.build, part, position),
                                              away_text(it.build, *away)));
    Value line = Value::object({{"part", Value::text(part)}});
    if (!position.empty()) line.set("position", Value::text(position));
    line.set("work", Value::text(*work ? (*work)->text : words));
    if (*work) {
      line.set("offered", Value::text(work_id));
      if (!words.empty()) line.set("text", Value::text(words));
      auto its = sizes(it.build, **work, position);
      if (!its) return its.error();
      if (!its->items().empty()) line.set("sizes", std::move(*its));
    }
    const std::string surface = !finish.empty() || !*work ? finish : (*work)->finish;
    if (!surface.empty()) line.set("finish", Value::text(surface));
    const auto found = findings_there(it, part, position, given.find("findings") ? &named : nullptr);
    if (!found.empty()) line.set("findings", text_list(found));
    lines.push(std::move(line));
  }
  return {};
}

} // namespace

Result<Decision> send(const Case& it) {
  Asked asked(it.action, {"build", "to", "lines", "text"});
  const std::string to = asked.line("to");
  const std::string text = asked.line("text", false);
  const Value* given = asked.any("lines");
  if (const auto wrong = asked.wrong()) return *wrong;
  if (!given->is(Kind::array) || given->items().empty())
    return bad_value("\"lines\" must say what is sent, and what is to be done to it.");
  const std::string id = fmt::format("m{}", it.build.orders.size() + 1);
  Value body = begun(it);
  body.set("order", Value::text(id));
  body.set("to", Value::text(to));
  if (!text.empty()) body.set("text", Value::text(text));
  Value lines = Value::array();
  for (const auto& line : given->items())
    if (const auto added = add_lines(it, line, lines); !added) return added.error();
  body.set("lines", std::move(lines));
  Decision out;
  out.answer = Value::object({{"order", Value::text(id)}});
  out.body = std::move(body);
  return out;
}

namespace {

using Place = std::pair<std::string, std::string>; // part, position

Result<std::vector<Place>> coming_back(const Case& it, const Order& order, const std::string& part,
                                       const std::vector<std::string>& positions) {
  if (!part.empty())
    if (const auto places = places_of(it.build, part, positions); !places) return places.error();
  std::vector<Place> out;
  for (const auto& line : order.lines) {
    if (!line.away() || (!part.empty() && line.part != part)) continue;
    if (!positions.empty() && std::find(positions.begin(), positions.end(), line.position) == positions.end()) continue;
    const Place place{line.part, line.position};
    if (std::find(out.begin(), out.end(), place) == out.end()) out.push_back(place);
  }
  if (out.empty()) return bad_value(fmt::format("Nothing like that of order {} is away.", order.id));
  return out;
}

// What was recorded of the parts before they were worked on.
class Measured {
public:
  explicit Measured(const Build& build) : build_(build), reopening_(build) {}

  void add(const Place& place) {
    for (const EntryAt at : build_.plan->entries_of_part(place.first)) {
      const auto kind = build_.plan->entry(at).kind;
      if (kind != EntryKind::reading && kind != EntryKind::readings && kind != EntryKind::choice) continue;
      const auto positions = tells_of(build_, at, place.first, place.second);
      const bool whole = build_.plan->step(at.step).positions.empty();
      const auto places = filled_places(build_, at, whole ? std::set<std::size_t>() : positions);
      if (positions.empty() || places.empty()) continue;
      entries_.insert(at);
      if (build_.step(at.step).signatures.empty()) {
        opened_[at].insert(places.begin(), places.end());
        changed_.push_back({at, positions});
      } else {
        reopening_.take(at.step, whole ? std::set<std::size_t>() : positions);
        reopening_.lose(at, positions);
      }
    }
  }

  // Into the body; answers what has to be worked out anew.
  std::vector<Changed> write(Value& body) {
    Value opened = Value::array();
    for (const auto& [at, places] : opened_)
      opened.push(Value::object({{"step", Value::text(build_.plan->step(at.step).id)},
                                 {"entry", Value::text(build_.plan->entry(at).id)},
                                 {"places", place_list({places.begin(), places.end()})}}));
    if (!opened.items().empty()) body.set("opened", std::move(opened));
    Value reopened = reopening_.list(changed_);
    if (!reopened.items().empty()) body.set("reopened", std::move(reopened));
    return changed_;
  }

  Value to_measure() const {
    Value out = Value::array();
    for (const EntryAt at : entries_)
      out.push(Value::object(
          {{"step", Value::text(build_.plan->step(at.step).id)}, {"entry", Value::text(build_.plan->entry(at).id)}}));
    return out;
  }

private:
  const Build& build_;
  Reopening reopening_;
  std::set<EntryAt> entries_;
  std::map<EntryAt, std::set<std::size_t>> opened_;
  std::vector<Changed> changed_;
};

} // namespace

Result<Decision> back(const Case& it) {
  Asked asked(it.action, {"build", "order", "part", "positions", "state", "text"});
  const std::string id = asked.text("order");
  const std::string part = asked.text("part", false);
  const auto positions = asked.texts("positions");
  std::string state = asked.text("state", false);
  asked.line("text", false);
  if (const auto wrong = asked.wrong()) return *wrong;
  const auto* order = find_order(it.build, id);
  if (!order) return bad_value(fmt::format("There is no order \"{}\" on this engine.", id));
  if (!positions.empty() && part.empty()) return bad_value("\"positions\" goes with the \"part\" they are of.");
  if (state.empty()) state = "remade";
  if (state != "remade" && state != "reused" && state != "new")
    return bad_value("\"state\" must be remade, reused (it came back as it went) or new (another in its place).");
  const auto places = coming_back(it, *order, part, positions);
  if (!places) return places.error();
  Value body = begun(it);
  body.set("order", Value::text(id));
  body.set("state", Value::text(state));
  if (const auto* text = it.action.find("text")) body.set("text", *text);
  Value lines = Value::array();
  Measured measured(it.build);
  std::vector<EntryAt> judged;
  for (const auto& place : *places) {
    Value line = Value::object({{"part", Value::text(place.first)}});
    if (!place.second.empty()) line.set("position", Value::text(place.second));
    lines.push(std::move(line));
    if (state != "reused") measured.add(place);
    const auto& its = it.build.plan->entries_of_part(place.first);
    judged.insert(judged.end(), its.begin(), its.end());
  }
  body.set("lines", std::move(lines));
  const auto changed = measured.write(body);
  Build next = as_it_would_be(it, body);
  if (const auto done = follow_judging(next, body, judged, changed); !done) return done.error();
  Decision out;
  Value reopened = Value::array();
  if (const auto* list = body.find("reopened"))
    for (const auto& item : list->items()) reopened.push(item.at("step"));
  out.answer = Value::object({{"measure", measured.to_measure()}, {"reopened", std::move(reopened)}});
  out.body = std::move(body);
  return out;
}

} // namespace build
