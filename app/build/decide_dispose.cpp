// What is done about a reading that is not within: rework, repair, replace, scrap, concession; used again when worn but
// within its service limit; accepted when too close to the limit to tell.
#include "build/decision.h"
#include "build/doubt.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

using procedure::EntryKind;

// "customer": whether they agreed, who, when and how. Not said: the record says that they were not asked.
Result<Value> customer_agreed(Asked& asked) {
  const Value* given = asked.any("customer", false);
  if (!given) return Value::object({{"agreed", Value::text("not asked")}});
  if (!given->is(json::Kind::object))
    return bad_value("\"customer\" must hold \"agreed\" (true or false), \"name\", \"date\" and \"how\".");
  Asked facts(*given, {"agreed", "name", "date", "how"});
  const auto agreed = facts.truth("agreed");
  const std::string name = facts.line("name");
  const auto date = facts.date("date");
  const std::string how = facts.line("how");
  if (const auto wrong = facts.wrong()) return *wrong;
  if (!agreed || !date)
    return bad_value("\"customer\" must say \"agreed\" (true or false) and the \"date\" it was said.");
  if (!*agreed)
    return refusal("customer-refused", fmt::format("{} did not agree; without that there is no concession.", name));
  return Value::object({{"agreed", Value::text("agreed")},
                        {"name", Value::text(name)},
                        {"date", Value::text(calc::text(*date))},
                        {"how", Value::text(how)}});
}

namespace {

// Cells, positions or fasteners of the entry whose standing is as asked.
template <typename Is>
std::vector<std::size_t> places_where(const EntryState& state, Is is) {
  std::vector<std::size_t> out;
  for (std::size_t c = 0; c < state.cells.size(); ++c)
    if (state.cells[c].filled() && is(state.cells[c].judged)) out.push_back(c);
  for (std::size_t p = 0; p < state.calculated.size(); ++p)
    if (state.calculated[p].filled() && is(state.calculated[p].judged)) out.push_back(p);
  for (std::size_t f = 0; f < state.fasteners.size(); ++f)
    if (std::any_of(state.fasteners[f].begin(), state.fasteners[f].end(), [&](const auto& t) { return is(t.judged); }))
      out.push_back(f);
  if (state.done && is(state.judged)) out.push_back(0);
  return out;
}

bool blocking(const Judged& judged, Standing standing) {
  return judged.standing == standing && judged.blocks();
}

// "positions": the places of the entry at the positions named, else all.
Result<std::set<std::size_t>> named_positions(const Build& build, EntryAt at, Asked& asked) {
  const auto& step = build.plan->step(at.step);
  std::set<std::size_t> out;
  for (const auto& name : asked.texts("positions")) {
    const auto position = named_position(step, name);
    if (!position) return position.error();
    out.insert(*position);
  }
  if (const auto wrong = asked.wrong()) return *wrong;
  return out;
}

// A fastener that belongs to no position counts as at the first.
std::size_t position_of(const Build& build, EntryAt at, std::size_t place) {
  if (!build.entry(at).fasteners.empty()) {
    const auto& positions = build.plan->step(at.step).positions;
    const auto own = std::find(positions.begin(), positions.end(), build.plan->entry(at).fasteners[place].position);
    return own == positions.end() ? 0 : static_cast<std::size_t>(own - positions.begin());
  }
  if (build.entry(at).cells.empty()) return place;
  return place / procedure::cells_of(build.plan->step(at.step), build.plan->entry(at)).per_position();
}

std::vector<std::size_t> at_positions(const Build& build, EntryAt at, std::vector<std::size_t> places,
                                      const std::set<std::size_t>& positions) {
  if (positions.empty()) return places;
  std::erase_if(places, [&](std::size_t place) { return !positions.count(position_of(build, at, place)); });
  return places;
}

std::set<std::size_t> positions_of(const Build& build, EntryAt at, const std::vector<std::size_t>& places) {
  std::set<std::size_t> out;
  for (const auto place : places) out.insert(position_of(build, at, place));
  return out;
}

// Every filled place of an entry at these positions.
std::vector<std::size_t> filled_at(const Build& build, EntryAt at, const std::set<std::size_t>& positions) {
  const bool placed = !build.plan->step(at.step).positions.empty();
  auto places = places_where(build.entry(at), [](const Judged&) { return true; });
  return placed ? at_positions(build, at, std::move(places), positions) : places;
}

// The readings of the same step that a calculated entry is worked out from, at these positions.
void open_sources(const Build& build, EntryAt at, const std::set<std::size_t>& positions,
                  std::vector<std::pair<EntryAt, std::vector<std::size_t>>>& out) {
  for (const auto& [name, source] : build.plan->entry(at).inputs) {
    const auto* from = std::get_if<procedure::FromEntry>(&source);
    if (!from) continue;
    const std::size_t step = *build.plan->find_step(from->step);
    const EntryAt origin{step, *build.plan->find_entry(step, from->entry)};
    if (step != at.step) continue;
    if (build.plan->entry(origin).kind == EntryKind::calculated) {
      open_sources(build, origin, positions, out);
      continue;
    }
    auto places = filled_at(build, origin, positions);
    if (!places.empty()) out.push_back({origin, std::move(places)});
  }
}

Result<Decision> open_again(const Case& it, EntryAt at, Value body, const std::vector<std::size_t>& places) {
  std::vector<std::pair<EntryAt, std::vector<std::size_t>>> opened;
  const auto positions = positions_of(it.build, at, places);
  const bool reads = !it.build.entry(at).cells.empty();
  if (it.build.plan->entry(at).kind == EntryKind::calculated)
    open_sources(it.build, at, it.build.plan->entry(at).over_all ? std::set<std::size_t>() : positions, opened);
  else
    // Work on a part changes every size of it: all that was measured at these positions is measured anew.
    opened.push_back({at, reads ? filled_at(it.build, at, positions) : places});
  if (opened.empty())
    return refusal("step-signed",
                   fmt::format("{} is worked out from readings of other steps; reopen the step where they were "
                               "taken.",
                               it.build.plan->entry(at).title));
  Value list = Value::array();
  std::vector<Changed> changed;
  for (const auto& [origin, its] : opened) {
    list.push(Value::object({{"step", Value::text(it.build.plan->step(origin.step).id)},
                             {"entry", Value::text(it.build.plan->entry(origin).id)},
                             {"places", place_list(its)}}));
    changed.push_back({origin, positions_of(it.build, origin, its)});
  }
  body.set("opened", std::move(list));
  Build next = as_it_would_be(it, body);
  if (const auto done = follow(next, body, changed); !done) return done.error();
  Decision out;
  out.answer = Value::object({{"opened", body.at("opened")}});
  out.body = std::move(body);
  return out;
}

// Everybody whose readings the entry rests on.
void add_recorders(const Build& build, EntryAt at, std::set<std::string>& out) {
  if (const auto& who = build.entry(at).recorded_by; !who.empty()) out.insert(who);
  for (const auto& [name, source] : build.plan->entry(at).inputs)
    if (const auto* from = std::get_if<procedure::FromEntry>(&source)) {
      const std::size_t step = *build.plan->find_step(from->step);
      add_recorders(build, {step, *build.plan->find_entry(step, from->entry)}, out);
    }
}

Result<Decision> concede(const Case& it, EntryAt at, Value body, std::vector<std::size_t> places, Asked& asked) {
  if (!it.context.authority || !it.context.authority->roles.count(Role::owner))
    return refusal("role-needed", "A concession is given by an owner, with their passphrase in the same action.");
  std::set<std::string> recorders;
  add_recorders(it.build, at, recorders);
  const bool alone = recorders.size() == 1 && recorders.count(it.context.authority->person) > 0;
  if (alone && !it.shop.one_person)
    return refusal("second-person-needed",
                   fmt::format("{} took this reading and may not alone concede it; another owner does.",
                               it.context.authority->name));
  if (alone) body.set("alone", Value::boolean(true));
  auto customer = customer_agreed(asked);
  if (!customer) return customer.error();
  body.set("customer", std::move(*customer));
  std::erase_if(places, [&](std::size_t place) {
    const auto& state = it.build.entry(at);
    const auto none = [](const Judged& j) { return !j.blocks(); };
    if (!state.cells.empty()) return none(state.cells[place].judged);
    if (!state.calculated.empty()) return none(state.calculated[place].judged);
    return false;
  });
  if (places.empty())
    return bad_value(
        fmt::format("{}: there is nothing outside or undecided to concede.", it.build.plan->entry(at).title));
  body.set("places", place_list(places));
  if (it.context.actor) body.set("asked_by", Value::text(it.context.actor->person));
  Decision out;
  out.meaning = meaning_conceded;
  out.answer = Value::object();
  out.body = std::move(body);
  return out;
}

} // namespace

namespace {

// "fasteners": these of a tightening, else all that are troubled.
Result<std::set<std::size_t>> named_fasteners(const procedure::Entry& entry, Asked& asked) {
  std::set<std::size_t> out;
  for (const auto& name : asked.texts("fasteners")) {
    const auto found = std::find_if(entry.fasteners.begin(), entry.fasteners.end(),
                                    [&](const auto& fastener) { return fastener.id == name; });
    if (found == entry.fasteners.end()) return bad_value(fmt::format("{} has no fastener \"{}\".", entry.title, name));
    out.insert(static_cast<std::size_t>(found - entry.fasteners.begin()));
  }
  if (const auto wrong = asked.wrong()) return *wrong;
  return out;
}

// Bolts that are taken out for good.
void take_out(const Build& build, EntryAt at, const std::vector<std::size_t>& places, Value& body) {
  if (!build.plan->entry(at).bolt) return;
  Value names = Value::array();
  for (const auto f : places) names.push(Value::text(build.plan->entry(at).fasteners[f].id));
  body.set("bolts_out", Value::object({{"joint", Value::text(joint_of(build, at))}, {"names", std::move(names)}}));
}

} // namespace

Result<Decision> dispose(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "positions", "fasteners", "disposition", "text", "customer",
                          "person", "passphrase"});
  const auto at = named_entry(it.build, asked);
  if (!at) return at.error();
  const std::string what = asked.text("disposition");
  asked.line("text");
  const auto positions = named_positions(it.build, *at, asked);
  if (!positions) return positions.error();
  const auto fasteners = named_fasteners(it.build.plan->entry(*at), asked);
  if (!fasteners) return fasteners.error();
  static const std::vector<std::string> dispositions = {"rework", "repair", "replace", "scrap", "concession", "accept"};
  if (std::find(dispositions.begin(), dispositions.end(), what) == dispositions.end())
    return bad_value(fmt::format("\"disposition\" must be one of {}.", fmt::join(dispositions, ", ")));
  if (const auto may = may_write(it.build, *at); !may) return may.error();
  const auto& roles = it.context.who()->roles;
  if (roles.size() == 1 && roles.count(Role::visitor))
    return refusal("role-needed",
                   "A visitor looks and signs as a witness; what is done about a fault, a builder says.");
  const auto& entry = it.build.plan->entry(*at);
  const auto& state = it.build.entry(*at);
  Value body = begun(it, *at);
  body.set("disposition", Value::text(what));
  body.set("verdict", Value::text(std::string(name_of(worst_of(state)))));
  if (what == "accept") {
    const auto worn = at_positions(
        it.build, *at, places_where(state, [](const Judged& j) { return j.standing == Standing::worn; }), *positions);
    if (worn.empty())
      return bad_value(
          fmt::format("{}: nothing there is worn within its service limit, to be used again.", entry.title));
    body.set("places", place_list(worn));
    Decision out;
    out.answer = Value::object();
    out.body = std::move(body);
    return out;
  }
  auto troubled = places_where(state, [](const Judged& j) {
    return blocking(j, Standing::outside) || blocking(j, Standing::undecided) || j.standing == Standing::worn;
  });
  troubled = at_positions(it.build, *at, std::move(troubled), *positions);
  const bool tightens = entry.kind == EntryKind::tightening;
  if (tightens && !fasteners->empty()) troubled.assign(fasteners->begin(), fasteners->end());
  if (troubled.empty() && what != "concession") {
    // A part may be changed though its reading is within: the entry opens for a new pass at the places named.
    troubled = at_positions(it.build, *at, places_where(state, [](const Judged&) { return true; }), *positions);
    if (state.done && entry.kind == EntryKind::wait) troubled = {0};
  }
  if (troubled.empty() && what != "concession")
    return refusal("entry-missing", fmt::format("{}: there is nothing recorded to dispose of.", entry.title));
  if (what == "concession") return concede(it, *at, std::move(body), std::move(troubled), asked);
  if (asked.has("customer")) return bad_value("\"customer\" goes with a concession.");
  if (tightens && (what == "replace" || what == "scrap")) take_out(it.build, *at, troubled, body);
  return open_again(it, *at, std::move(body), troubled);
}

namespace {

Value chance_item(std::size_t place, const Exact& value, const Exact& u, const Unit& unit, const Applied& by) {
  const Unit& its = *by.limit->unit;
  const double chance = calc::conformance_probability(quantity::convert(value, unit, its),
                                                      quantity::convert_difference(u, unit, its), *by.bounds);
  return Value::object({{"place", Value::integer(static_cast<std::int64_t>(place))},
                        {"probability", Value::text(Exact::rounded(chance).fixed(3))}});
}

// How likely each undecided value is inside its limits all the same: of a reading, or of each undecided result.
Value chances(const Build& build, EntryAt at, const std::vector<std::size_t>& places) {
  const auto& entry = build.plan->entry(at);
  const auto& state = build.entry(at);
  const auto shape = procedure::cells_of(build.plan->step(at.step), entry);
  Value out = Value::array();
  for (const auto place : places) {
    if (!state.cells.empty()) {
      const Cell& cell = state.cells[place];
      out.push(chance_item(place, cell.value, cell.u, *entry.unit,
                           applied(build, at, entry.limit, place / shape.per_position())));
      continue;
    }
    if (state.calculated.empty()) continue;
    for (const auto& [name, limit] : entry.judge) {
      const auto* result = state.calculated[place].results.find(name);
      if (!result || !result->is(json::Kind::object) || result->text_or_empty("verdict") != "undecided") continue;
      Value item =
          chance_item(place, *Exact::written(result->at("value").as_text()), *Exact::written(result->at("u").as_text()),
                      *quantity::find_unit(result->at("unit").as_text()), applied(build, at, limit, place));
      item.set("result", Value::text(name));
      out.push(std::move(item));
    }
  }
  return out;
}

} // namespace

Result<Decision> accept(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "reason"});
  const auto at = named_entry(it.build, asked);
  if (!at) return at.error();
  asked.line("reason");
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto may = may_write(it.build, *at); !may) return may.error();
  const auto places =
      places_where(it.build.entry(*at), [](const Judged& j) { return blocking(j, Standing::undecided); });
  const auto& entry = it.build.plan->entry(*at);
  const InDoubt doubt = in_doubt(it.shop, it.build, *at);
  if (places.empty() && !doubt.doubt)
    return bad_value(fmt::format("{}: nothing there is undecided or in doubt; only a value too close to its limit to "
                                 "tell, or one whose gauge was found out, is accepted.",
                                 entry.title));
  Value body = begun(it, *at);
  Decision out;
  out.meaning = meaning_done;
  out.answer = Value::object();
  if (!places.empty()) {
    body.set("places", place_list(places));
    body.set("probability", chances(it.build, *at, places));
    out.answer.set("probability", body.at("probability"));
  }
  if (doubt.doubt) {
    body.set("doubt", to_json(*doubt.doubt));
    body.set("doubted", place_list(doubt.places));
    out.answer.set("doubt", body.at("doubt"));
  }
  out.body = std::move(body);
  return out;
}

} // namespace build
