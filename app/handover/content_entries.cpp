#include "handover/content_parts.h"

#include "build/blockers.h"
#include "build/copying.h"
#include "build/tightening.h"
#include "procedure/names.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace handover {

using build::Applied;
using build::Calculated;
using build::Cell;
using build::EntryAt;
using build::EntryState;
using build::Exact;
using build::Judged;
using build::Standing;
using procedure::EntryKind;

std::string readable(const Exact& value, const Exact& u) {
  const std::string text = value.text();
  const auto dot = text.find('.');
  const int written = dot == std::string::npos ? 0 : static_cast<int>(text.size() - dot - 1);
  const int kept = u.sign() > 0 ? std::clamp(1 - static_cast<int>(std::floor(std::log10(u.to_double()))), 0, 6) : 6;
  return written > kept ? value.fixed(kept) : text;
}

std::string unit_text(std::string_view unit) {
  return unit == "1" ? std::string() : std::string(unit);
}

std::string note_of(const Judged& judged) {
  if (judged.conceded) return "outside, with a concession";
  if (judged.accepted) return "undecided, accepted at the limit";
  switch (judged.standing) {
  case Standing::worn: return judged.used_again ? "within, worn: used again" : "within, worn";
  case Standing::empty:
  case Standing::recorded:
  case Standing::within: return "";
  default: return std::string(build::name_of(judged.standing));
  }
}

namespace {

std::string with_unit(const std::string& number, std::string_view unit) {
  const std::string its = unit_text(unit);
  return its.empty() ? number : number + " " + its;
}

std::string bounds_text(const build::Bounds& bounds, const build::Unit& unit) {
  if (bounds.low && bounds.high && *bounds.low == *bounds.high)
    return with_unit("exactly " + bounds.low->text(), unit.name);
  std::string text = build::text(bounds, unit);
  if (unit.name == "1" && text.ends_with(" 1")) text.resize(text.size() - 2);
  return text;
}

std::string limits_text(const Applied& applied) {
  if (!applied.limit) return "recorded, not judged";
  const auto basis = procedure::name_of(applied.limit->basis);
  if (!applied.bounds)
    return applied.lacking == Standing::recorded ? "recorded, not judged" : std::string(build::name_of(applied.lacking));
  return fmt::format("{}{} ({})", bounds_text(*applied.bounds, *applied.limit->unit),
                     applied.column == "service" ? " for used parts" : "", basis);
}

// Gathers the values of one entry that one limit judges.
struct Gathered {
  Group group;
  Scale scale;
  Standing worst = Standing::empty;
  double least_room = 2;
};

class Gatherer {
public:
  Gatherer(const Build& build, const Shop& shop, EntryAt at, Found& found)
      : build_(build), shop_(shop), at_(at), entry_(build.plan->entry(at)), step_(build.plan->step(at.step)),
        found_(found) {}

  Gathered& of(const std::string& result, const Applied& applied) {
    const std::string limits = limits_text(applied);
    for (auto& it : all_)
      if (it.group.name == result && it.group.limits == limits) return it;
    Gathered& fresh = all_.emplace_back();
    fresh.group.name = result;
    fresh.group.limits = limits;
    fresh.scale.title = result.empty() ? entry_.title : fmt::format("{}, {}", entry_.title, result);
    fresh.scale.step = step_.title;
    if (!applied.bounds || !applied.limit) return fresh;
    found_.limits_by_basis[std::string(procedure::name_of(applied.limit->basis))].insert(applied.limit->id);
    const auto& bounds = *applied.bounds;
    if (bounds.low && bounds.high && *bounds.low == *bounds.high) return fresh;
    if (bounds.low) fresh.scale.low = bounds.low->to_double();
    if (bounds.high) fresh.scale.high = bounds.high->to_double();
    const auto unit = applied.limit->unit->name;
    if (bounds.low) fresh.scale.low_text = bounds.high ? bounds.low->text() : with_unit(bounds.low->text(), unit);
    if (bounds.high) fresh.scale.high_text = with_unit(bounds.high->text(), unit);
    return fresh;
  }

  // `value` and `u` in `unit`.
  void add(Gathered& to, const Applied& applied, const std::string& name, const Exact& value, const Exact& u,
           const build::Unit& unit, const Judged& judged) {
    to.group.values.push_back({name, with_unit(readable(value, u), unit.name), note_of(judged)});
    to.worst = build::worse(to.worst, judged.standing);
    note(name, judged, to);
    if (!to.scale.low && !to.scale.high) return;
    const Exact here = quantity::convert(value, unit, *applied.limit->unit);
    const Exact its_u = quantity::convert_difference(u, unit, *applied.limit->unit);
    to.scale.marks.push_back({here.to_double(), its_u.to_double(), judged.blocks() || judged.conceded});
    const double room = room_of(to.scale, here.to_double());
    if (room >= to.least_room) return;
    to.least_room = room;
    to.scale.nearest = name.empty() ? to.group.values.back().text : name + ": " + to.group.values.back().text;
  }

  std::vector<Gathered> take() { return std::move(all_); }
  const Build& build() const { return build_; }
  const Shop& shop() const { return shop_; }

private:
  static double room_of(const Scale& scale, double value) {
    const double width = scale.low && scale.high ? *scale.high - *scale.low : std::abs(scale.low.value_or(*scale.high));
    double room = 1;
    if (width <= 0) return room;
    if (scale.low) room = std::min(room, (value - *scale.low) / width);
    if (scale.high) room = std::min(room, (*scale.high - value) / width);
    return room;
  }

  void note(const std::string& name, const Judged& judged, const Gathered& to) {
    if (judged.standing != Standing::worn && !judged.accepted) return;
    const std::string where = name.empty() ? "" : fmt::format(", {}", name);
    auto& list = judged.accepted ? found_.close : found_.worn;
    list.push_back(fmt::format("{}, {}{}: {} ({})", step_.title, to.scale.title, where, to.group.values.back().text,
                               to.group.limits));
  }

  const Build& build_;
  const Shop& shop_;
  EntryAt at_;
  const procedure::Entry& entry_;
  const procedure::Step& step_;
  Found& found_;
  std::vector<Gathered> all_;
};

std::string gauge_text(const Shop& shop, const std::string& id) {
  const auto* gauge = shop.gauge(id);
  return gauge ? fmt::format("{} {}", gauge->kind, id) : id;
}

void add_cells(Gatherer& to, EntryAt at, const EntryState& state) {
  const auto& step = to.build().plan->step(at.step);
  const auto& entry = to.build().plan->entry(at);
  const auto shape = procedure::cells_of(step, entry);
  std::map<std::string, std::set<std::string>> measured; // by limits
  for (std::size_t c = 0; c < state.cells.size(); ++c) {
    const Cell& cell = state.cells[c];
    const std::string name = procedure::name_of_cell(step, entry, c);
    if (!cell.filled()) continue;
    const Applied applied = build::applied(to.build(), at, entry.limit, c / shape.per_position());
    Gathered& group = to.of("", applied);
    if (cell.skipped) {
      group.group.values.push_back({name, "left out", ""});
      continue;
    }
    to.add(group, applied, name, cell.value, cell.u, *entry.unit, cell.judged);
    auto& by = measured[group.group.limits];
    if (cell.u.sign() > 0) by.insert("U " + with_unit(cell.u.fixed(4), entry.unit->name));
    for (const auto* one : cell.counted())
      if (!one->gauge.empty()) by.insert(gauge_text(to.shop(), one->gauge));
    group.group.measured = fmt::format("{}", fmt::join(by, "; "));
  }
}

Judged judged_as(const json::Value& result, const Judged& whole) {
  Judged out;
  const std::string verdict = result.text_or_empty("verdict");
  out.standing = verdict.empty() ? Standing::recorded : build::standing_named(verdict).value_or(Standing::recorded);
  out.conceded = whole.conceded && out.standing == Standing::outside;
  out.accepted = whole.accepted && out.standing == Standing::undecided;
  out.used_again = whole.used_again && out.standing == Standing::worn;
  return out;
}

std::string words(std::string text) {
  std::replace(text.begin(), text.end(), '_', ' ');
  return text;
}

void add_result(Gatherer& to, EntryAt at, std::size_t position, const json::Member& result, const Judged& whole) {
  const auto& entry = to.build().plan->entry(at);
  const auto& step = to.build().plan->step(at.step);
  const bool each = !entry.over_all && position < step.positions.size();
  const std::string where = each ? step.positions[position] : "";
  const auto& value = result.value;
  std::string limit;
  for (const auto& [name, its] : entry.judge)
    if (name == result.key) limit = its;
  const Applied applied = limit.empty() ? Applied{} : build::applied(to.build(), at, limit, position);
  if (value.is(json::Kind::text)) {
    to.of(words(result.key), applied).group.values.push_back({where, value.as_text(), ""});
  } else if (value.is(json::Kind::object) && value.find("value") && !value.text_or_empty("value").empty()) {
    const auto* unit = quantity::find_unit(value.text_or_empty("unit"));
    if (!unit) return;
    const Exact u = value.find("u") ? build::exact(value.at("u")) : Exact();
    Gathered& group = to.of(words(result.key), applied);
    to.add(group, applied, where, build::exact(value.at("value")), u, *unit, judged_as(value, whole));
    if (u.sign() > 0 && group.group.measured.empty())
      group.group.measured = "U " + with_unit(readable(u, u), unit->name);
  }
}

void add_stages(EntryDone& out, const Build& build, const Shop& shop, EntryAt at, const EntryState& state) {
  const auto& entry = build.plan->entry(at);
  for (std::size_t s = 0; s < entry.stages.size(); ++s) {
    const auto& stage = entry.stages[s];
    StageDone done;
    done.title = fmt::format("Stage {}: {}", stage.id, procedure::name_of(stage.kind));
    const auto aim = procedure::has_limit(stage.kind) ? build::aim_of(build, entry, stage) : build::Result<build::Aim>(build::Aim{});
    if (aim && aim->limit) done.title += ", " + build::text(*aim);
    if (!stage.text.empty()) done.title += ", " + stage.text;
    std::set<std::string> gauges;
    for (std::size_t f = 0; f < entry.fasteners.size(); ++f) {
      if (state.fasteners[f].size() <= s) continue;
      const auto& it = state.fasteners[f][s];
      const bool number = aim && aim->limit;
      done.fasteners.push_back({entry.fasteners[f].id,
                                number ? with_unit(readable(it.value, {}), aim->limit->unit->name) : "done",
                                note_of(it.judged)});
      if (!it.gauge.empty()) gauges.insert(gauge_text(shop, it.gauge));
    }
    done.gauges = fmt::format("{}", fmt::join(gauges, "; "));
    if (!done.fasteners.empty()) out.stages.push_back(std::move(done));
  }
  out.figure = !out.stages.empty() && entry.fasteners.size() > 1 && entry.fasteners.front().at.has_value();
}

} // namespace

EntryDone entry_done(const Build& build, const Shop& shop, EntryAt at, std::vector<Scale>& scales, Found& found) {
  const auto& entry = build.plan->entry(at);
  const auto& state = build.entry(at);
  EntryDone out;
  out.title = entry.title;
  out.at = at;
  Gatherer gatherer(build, shop, at, found);
  add_cells(gatherer, at, state);
  for (std::size_t p = 0; p < state.calculated.size(); ++p)
    if (state.calculated[p].filled())
      for (const auto& result : state.calculated[p].results.members())
        add_result(gatherer, at, p, result, state.calculated[p].judged);
  for (auto& it : gatherer.take()) {
    it.group.verdict = std::string(build::name_of(it.worst));
    out.groups.push_back(std::move(it.group));
    if (!it.scale.marks.empty()) scales.push_back(std::move(it.scale));
  }
  if (entry.kind == EntryKind::tightening) add_stages(out, build, shop, at, state);
  if (entry.kind == EntryKind::wait && state.done)
    out.lines.push_back(fmt::format("Waited from {} to {}", calc::local_text(state.from), calc::local_text(state.until)));
  else if (!state.text.empty())
    out.lines.push_back(note_of(state.judged).empty() ? state.text : fmt::format("{}: {}", state.text, note_of(state.judged)));
  else if (state.done)
    out.lines.push_back("Confirmed");
  if (entry.kind == EntryKind::calculated && !out.groups.empty())
    out.lines.push_back(fmt::format("Calculated: {}", entry.computation->formula));
  if (out.groups.empty() && out.stages.empty() && out.lines.empty())
    out.lines.push_back(entry.optional ? "Left empty" : "Nothing recorded");
  return out;
}

} // namespace handover
