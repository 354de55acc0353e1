#include "build/cells.h"

#include <algorithm>
#include <cmath>

namespace build {

Exact both(const Exact& own, const Exact& shared) {
  return shared.sign() > 0 ? quantity::root_sum_of_squares({own, shared}) : own;
}

namespace {

// The mean of the tries made with the best gauge (the others stay in the record), and its U: only the repeatability
// part shrinks with their number, never what they share.
void summarise(Cell& cell) {
  const auto counted = cell.counted();
  Exact sum;
  const auto n = static_cast<long long>(counted.size());
  for (const Try* one : counted) {
    sum += one->value;
    cell.own = quantity::max(cell.own, one->own);
    cell.shared = quantity::max(cell.shared, one->shared);
  }
  cell.value = sum / Exact(n);
  const Exact& repeat = counted.front()->repeat;
  if (n > 1 && repeat.sign() > 0) {
    const double all = cell.own.to_double();
    const double part = repeat.to_double();
    const double kept = std::max(0.0, all * all - part * part);
    cell.own = Exact::rounded(std::sqrt(kept + part * part / static_cast<double>(n)));
  }
  cell.u = both(cell.own, cell.shared);
}

// Try or Cell: U, and the two parts of it when something is shared.
template <typename It>
void set_u(Value& out, const It& it) {
  out.set("u", Value::text(it.u.text()));
  if (it.shared.sign() == 0) return;
  out.set("own", Value::text(it.own.text()));
  out.set("shared", Value::text(it.shared.text()));
}

Value warmth_value(const Warmth& warmth) {
  Value out = Value::object({{"read", Value::text(warmth.read.text())},
                             {"part_at", Value::text(warmth.part_at.text())},
                             {"gauge_at", Value::text(warmth.gauge_at.text())}});
  if (warmth.gauge_assumed) out.set("gauge_assumed", Value::boolean(true));
  out.set("alpha", Value::text(warmth.alpha.text()));
  out.set("correction", Value::text(warmth.correction.text()));
  return out;
}

Value try_value(const Try& one) {
  Value out = Value::object({{"value", Value::text(one.value.text())}});
  set_u(out, one);
  if (one.repeat.sign() > 0) out.set("repeat", Value::text(one.repeat.text()));
  if (!one.gauge.empty()) out.set("gauge", Value::text(one.gauge));
  if (one.set > 0) out.set("set", Value::integer(one.set));
  if (!one.set_with.empty()) out.set("set_with", Value::text(one.set_with));
  if (one.warmth) out.set("warmth", warmth_value(*one.warmth));
  if (one.set_aside) out.set("set_aside", Value::boolean(true));
  return out;
}

} // namespace

Value cell_item(const Case& it, EntryAt at, std::size_t index, Cell cell, bool as_found, std::string& verdict) {
  const auto& step = it.build.plan->step(at.step);
  const auto& entry = it.build.plan->entry(at);
  Value item = Value::object({{"cell", Value::integer(static_cast<std::int64_t>(index))},
                              {"name", Value::text(procedure::name_of_cell(step, entry, index))}});
  if (cell.skipped) {
    item.set("skipped", Value::boolean(true));
    verdict = "recorded";
    return item;
  }
  Value tries = Value::array();
  for (const auto& one : cell.tries) tries.push(try_value(one));
  item.set("tries", std::move(tries));
  if (cell.tries.empty()) return item;
  cell.own = cell.shared = Exact();
  summarise(cell);
  Value by = Value::object();
  // The value is judged as the record keeps it.
  const Exact kept = *Exact::written(cell.value.text());
  const Standing standing = as_found ? Standing::recorded : standing_of(it.build, at, index, kept, cell.u, by);
  item.set("value", Value::text(cell.value.text()));
  set_u(item, cell);
  verdict = std::string(name_of(standing));
  item.set("verdict", Value::text(verdict));
  if (!by.members().empty()) item.set("by", std::move(by));
  return item;
}

} // namespace build
