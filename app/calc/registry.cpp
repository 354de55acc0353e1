#include "calc/registry.h"

#include "calc/groups.h"

#include <algorithm>

namespace calc {

using json::Value;

const Outcome* Answer::find(std::string_view name) const {
  const auto found = std::ranges::find(results, name, &NamedOutcome::name);
  return found == results.end() ? nullptr : &found->outcome;
}

const std::vector<Computation>& all_computations() {
  static const std::vector<Computation> all = [] {
    std::vector<Computation> list;
    for (const auto group :
         {form_computations,     clearance_computations,  strip_computations,   selection_computations,
          sizing_computations,   cylinder_computations,   deck_computations,    running_computations,
          flatness_computations, fit_computations,        heat_computations,    seal_computations,
          gear_computations,     timing_computations,     valve_computations,   thread_computations,
          preload_computations,  wrench_computations,     pattern_computations, fastening_computations,
          judging_computations,  uncertainty_computations})
      for (Computation& computation : group()) list.push_back(std::move(computation));
    return list;
  }();
  return all;
}

const Computation* find_computation(std::string_view name) {
  const auto found = std::ranges::find(all_computations(), name, &Computation::name);
  return found == all_computations().end() ? nullptr : &*found;
}

Result<Answer> compute(const Computation& computation, const Value& input) {
  const Result<Given> given = read_inputs(computation.inputs, input);
  if (!given) return given.error();
  return computation.work(*given);
}

namespace {

struct Writer {
  Value operator()(std::monostate) const { return {}; }
  Value operator()(bool truth) const { return Value::boolean(truth); }
  Value operator()(const Exact& number) const { return Value::number(number.text()); }
  Value operator()(const std::string& text) const { return Value::text(text); }
  Value operator()(const Quantity& quantity) const {
    Value object = Value::object();
    object.set("value", Value::number(quantity.value.text()));
    object.set("unit", Value::text(std::string(quantity.unit->name)));
    if (quantity.u) object.set("u", Value::number(quantity.u->text()));
    return object;
  }
  Value operator()(const Outcomes& outcomes) const {
    Value list = Value::array();
    for (const Outcome& outcome : outcomes) list.push(to_json(outcome));
    return list;
  }
};

} // namespace

Value to_json(const Outcome& outcome) {
  return std::visit(Writer(), outcome);
}

Value to_json(const Computation& computation, const Answer& answer) {
  Value results = Value::object();
  for (const NamedOutcome& result : answer.results) results.set(result.name, to_json(result.outcome));
  Value notes = Value::array();
  for (const std::string& note : answer.notes) notes.push(Value::text(note));
  return Value::object(
      {{"calculation", Value::text(std::string(computation.name))}, {"results", results}, {"notes", notes}});
}

} // namespace calc
