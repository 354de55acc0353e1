#include "build/calculate.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

using calc::Shape;
using json::Value;
using procedure::EntryKind;

namespace {

Value unit_text(const Unit& unit) {
  return Value::text(std::string(unit.name));
}

// What the cells of one input have for U. Those read from one setting, or at one warmth, share a part of it, which
// cancels in a difference and is not made smaller by a mean.
// Cells of different settings, or some of none, share less than that and differ by more. Then each counts with its
// whole U as its own, and the largest part that is shared anywhere counts once more: a difference has root 2 of the
// whole U, a mean no less than what is shared, and a single one up to root 2 of what it is. Never too little.
class Uncertainty {
public:
  void add(const Cell& cell) {
    whole_ = quantity::max(whole_, cell.u);
    own_ = quantity::max(own_, cell.own);
    shared_ = quantity::max(shared_, cell.shared);
    for (const Try* one : cell.counted()) {
      mixed_ = mixed_ || (first_ && !alike(*first_, *one));
      first_ = first_ ? first_ : one;
    }
  }

  void write(Value& input) const {
    if (!first_) return;
    const bool of_one = shared_.sign() > 0 && !mixed_;
    input.set("u", Value::number((of_one ? own_ : whole_).text()));
    if (shared_.sign() > 0) input.set("u_shared", Value::number(shared_.text()));
  }

private:
  static bool alike(const Try& a, const Try& b) {
    if (a.set != b.set || a.warmth.has_value() != b.warmth.has_value()) return false;
    return !a.warmth || a.warmth->same(*b.warmth);
  }

  Exact whole_, own_, shared_;
  const Try* first_ = nullptr;
  bool mixed_ = false;
};

// [x, y, height] each: the heights at their places.
Value heights_at(const std::vector<procedure::Place>& places, const std::vector<Value>& heights) {
  Value out = Value::array();
  for (std::size_t i = 0; i < places.size() && i < heights.size(); ++i)
    out.push(Value::array({Value::number(places[i].x.text()), Value::number(places[i].y.text()), heights[i]}));
  return out;
}

// Readings of positions first..last as the computation's field wants them; null while a point is missing.
Value readings_input(const Build& build, EntryAt at, std::size_t first, std::size_t last, Shape wanted, bool as_found) {
  const auto& entry = build.plan->entry(at);
  const auto& cells = as_found ? build.entry(at).as_found : build.entry(at).cells;
  if (cells.empty()) return {};
  const auto shape = procedure::cells_of(build.plan->step(at.step), entry);
  const bool all = last - first > 1;
  std::vector<Value> rows;
  std::vector<Value> flat;
  Uncertainty u;
  for (std::size_t p = first; p < last; ++p) {
    std::vector<Value> row;
    for (std::size_t c = 0; c < shape.per_position(); ++c) {
      const Cell& cell = cells[p * shape.per_position() + c];
      if (!cell.filled() || cell.asked) return {};
      Value number = cell.skipped ? Value() : Value::number(cell.value.text());
      if (!cell.skipped) {
        if (!entry.by_eye) u.add(cell);
        flat.push_back(number);
      }
      row.push_back(std::move(number));
      if (!all && row.size() == shape.columns) rows.push_back(Value::array(std::exchange(row, {})));
    }
    if (all) rows.push_back(Value::array(std::move(row)));
  }
  Value out = Value::object();
  if (wanted == Shape::one) {
    if (flat.size() != 1) return {};
    out.set("value", flat.front());
  } else if (wanted == Shape::points) {
    out.set("points", heights_at(entry.places, flat));
  } else {
    out.set("values", Value::array(wanted == Shape::list ? std::move(flat) : std::move(rows)));
  }
  out.set("unit", unit_text(*entry.unit));
  u.write(out);
  return out;
}

Value number_of(const Value& text) {
  return Value::number(text.as_text());
}

// A result as it stands in an event ({value, unit, u} as texts, a number or text, or a list) back as an input.
Value result_input(const Value& result, Shape wanted) {
  if (result.is(json::Kind::text) && (wanted == Shape::number || wanted == Shape::count)) return number_of(result);
  if (result.is(json::Kind::array)) {
    std::vector<Value> numbers;
    Value out = Value::object();
    for (const auto& item : result.items()) {
      if (!item.is(json::Kind::object)) return {};
      numbers.push_back(number_of(item.at("value")));
      out.set("unit", item.at("unit"));
      if (const auto* u = item.find("u")) out.set("u", number_of(*u));
    }
    if (numbers.empty()) return {};
    out.set("values", Value::array(std::move(numbers)));
    return out;
  }
  if (!result.is(json::Kind::object)) return result;
  Value out = Value::object({{"value", number_of(result.at("value"))}, {"unit", result.at("unit")}});
  if (const auto* u = result.find("u")) out.set("u", number_of(*u));
  return out;
}

Value calculated_input(const Build& build, EntryAt at, const std::string& result, std::size_t position, bool all,
                       Shape wanted) {
  const auto& state = build.entry(at);
  const auto one = [&](const Calculated& it) -> Value {
    if (!it.filled()) return {};
    const auto* found = it.results.find(result);
    return found ? result_input(*found, wanted) : Value();
  };
  if (state.calculated.size() == 1) return one(state.calculated.front());
  if (!all) return one(state.calculated[position]);
  std::vector<Value> numbers;
  Value out = Value::object();
  for (const auto& it : state.calculated) {
    const Value value = one(it);
    if (!value.is(json::Kind::object) || !value.find("value")) return {};
    numbers.push_back(wanted == Shape::list || wanted == Shape::readings ? value.at("value")
                                                                         : Value::array({value.at("value")}));
    out.set("unit", value.at("unit"));
    if (const auto* u = value.find("u")) out.set("u", *u);
  }
  out.set("values", Value::array(std::move(numbers)));
  return out;
}

Value entry_input(const Build& build, EntryAt at, const procedure::FromEntry& from, std::size_t position, bool all,
                  Shape wanted) {
  const std::size_t step = *build.plan->find_step(from.step);
  const EntryAt origin{step, *build.plan->find_entry(step, from.entry)};
  if (entry_on(build, origin) != Holds::yes) return {};
  const auto& entry = build.plan->entry(origin);
  const auto& state = build.entry(origin);
  switch (entry.kind) {
  case EntryKind::reading:
  case EntryKind::readings: {
    const std::size_t positions = procedure::cells_of(build.plan->step(step), entry).positions;
    const bool whole = all || build.plan->step(at.step).positions.empty();
    if (positions == 1) return readings_input(build, origin, 0, 1, wanted, from.as_found);
    return whole ? readings_input(build, origin, 0, positions, wanted, from.as_found)
                 : readings_input(build, origin, position, position + 1, wanted, from.as_found);
  }
  case EntryKind::calculated:
    return calculated_input(build, origin, from.result, position, all || build.plan->step(at.step).positions.empty(),
                            wanted);
  case EntryKind::choice: return state.done && !state.asked ? Value::text(state.text) : Value();
  default: return {};
  }
}

Value limit_input(const Build& build, const procedure::FromLimit& from) {
  const Effective now = effective(build, from.limit);
  if (!now.values) return {};
  std::optional<Exact> value;
  const auto& values = *now.values;
  if (from.bound == "target") value = values.target;
  if (from.bound == "low" && values.standard) value = values.standard->low;
  if (from.bound == "high" && values.standard) value = values.standard->high;
  if (from.bound == "service low" && values.service) value = values.service->low;
  if (from.bound == "service high" && values.service) value = values.service->high;
  if (!value) return {};
  return Value::object({{"value", Value::number(value->text())}, {"unit", unit_text(*now.limit->unit)}});
}

Value input_of(const Build& build, EntryAt at, const procedure::Source& source, std::size_t position, Shape wanted) {
  const bool all = build.plan->entry(at).over_all;
  if (const auto* from = std::get_if<procedure::FromEntry>(&source))
    return entry_input(build, at, *from, position, all, wanted);
  if (const auto* limit = std::get_if<procedure::FromLimit>(&source)) return limit_input(build, *limit);
  if (const auto* option = std::get_if<procedure::FromOption>(&source)) {
    const std::string now = build.option(option->option);
    return now.empty() ? Value() : Value::text(now);
  }
  return std::get<procedure::Constant>(source).value;
}

// A result as text in an event, judged where the procedure says by which limit.
Value judged_result(const Build& build, EntryAt at, std::size_t position, const std::string& limit,
                    const calc::Outcome& outcome, Standing& worst) {
  if (const auto* list = std::get_if<calc::Outcomes>(&outcome)) {
    std::vector<Value> items;
    for (const auto& item : *list) items.push_back(judged_result(build, at, position, limit, item, worst));
    return Value::array(std::move(items));
  }
  const auto* quantity = outcome.quantity();
  if (!quantity) {
    const Value plain = calc::to_json(outcome);
    if (!limit.empty() && plain.is(json::Kind::null)) worst = worse(worst, Standing::undecided);
    return plain.is(json::Kind::number) && !plain.as_integer() ? Value::text(plain.number_text()) : plain;
  }
  Value out = Value::object({{"value", Value::text(quantity->value.text())}, {"unit", unit_text(*quantity->unit)}});
  if (quantity->u) out.set("u", Value::text(quantity->u->text()));
  if (limit.empty()) return out;
  const Applied by = applied(build, at, limit, position);
  Standing standing = by.lacking;
  if (by.bounds) {
    const Unit& unit = *by.limit->unit;
    const Exact u = quantity->u ? quantity::convert_difference(*quantity->u, *quantity->unit, unit) : Exact();
    standing = judge(by, quantity::convert(quantity->value, *quantity->unit, unit), u);
  }
  out.set("verdict", Value::text(std::string(name_of(standing))));
  out.set("by", facts(by));
  worst = worse(worst, standing);
  return out;
}

} // namespace

Value inputs_of(const Build& build, EntryAt at, std::size_t position) {
  const auto& entry = build.plan->entry(at);
  Value input = Value::object();
  for (const auto& [name, source] : entry.inputs) {
    const auto field = std::find_if(entry.computation->inputs.begin(), entry.computation->inputs.end(),
                                    [&, wanted = std::string_view(name)](const auto& f) { return f.name == wanted; });
    Value value = input_of(build, at, source, position, field->shape);
    if (value.is(json::Kind::null)) return {};
    input.set(name, std::move(value));
  }
  return input;
}

Computed calculate(const Build& build, EntryAt at, std::size_t position) {
  const auto& entry = build.plan->entry(at);
  Computed out;
  const Value input = inputs_of(build, at, position);
  if (input.is(json::Kind::null)) return out;
  const auto answer = calc::compute(*entry.computation, input);
  if (!answer) {
    out.refusal = answer.error().message;
    return out;
  }
  out.notes = answer->notes;
  out.results = Value::object();
  Standing worst = Standing::recorded;
  for (const auto& [name, outcome] : answer->results) {
    const auto limit = std::find_if(entry.judge.begin(), entry.judge.end(),
                                    [&, wanted = std::string_view(name)](const auto& j) { return j.first == wanted; });
    out.results.set(
        name, judged_result(build, at, position, limit == entry.judge.end() ? "" : limit->second, outcome, worst));
  }
  out.standing = worst;
  return out;
}

} // namespace build
