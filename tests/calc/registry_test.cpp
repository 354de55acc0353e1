#include "calculating.h"

#include <algorithm>
#include <set>

using calc::ResultKind;

namespace {

bool is_of_kind(const calc::Outcome& outcome, ResultKind kind) {
  if (outcome.is_null()) return true;
  switch (kind) {
  case ResultKind::quantity: return outcome.quantity() != nullptr;
  case ResultKind::quantities: return std::holds_alternative<calc::Outcomes>(outcome);
  case ResultKind::number: return std::holds_alternative<calc::Exact>(outcome);
  case ResultKind::text: return std::holds_alternative<std::string>(outcome);
  case ResultKind::truth: return std::holds_alternative<bool>(outcome);
  case ResultKind::any: return true;
  }
  return false;
}

} // namespace

TEST_CASE("every computation has its worked example, which comes out as written") {
  for (const calc::Computation& each : calc::all_computations()) {
    INFO(each.name);
    const calc::Answer found = calculating::answer(each.name, each.example.input);
    CHECK(json::compact(calc::to_json(each, found)) == each.example.answer);
  }
}

TEST_CASE("an answer holds the results of the description, in its order and of its kind") {
  for (const calc::Computation& each : calc::all_computations()) {
    INFO(each.name);
    const calc::Answer found = calculating::answer(each.name, each.example.input);
    REQUIRE(found.results.size() == each.results.size());
    for (std::size_t i = 0; i < each.results.size(); ++i) {
      INFO(each.results[i].name);
      CHECK(found.results[i].name == each.results[i].name);
      CHECK(is_of_kind(found.results[i].outcome, each.results[i].kind));
      const calc::Quantity* quantity = found.results[i].outcome.quantity();
      if (quantity && each.results[i].dimension) CHECK(quantity->unit->dimension == *each.results[i].dimension);
    }
  }
}

TEST_CASE("every computation says what it is for, how it reckons and where that comes from") {
  std::set<std::string_view> names;
  for (const calc::Computation& each : calc::all_computations()) {
    INFO(each.name);
    CHECK(names.insert(each.name).second);
    CHECK(calc::find_computation(each.name) == &each);
    CHECK(each.purpose.ends_with("."));
    CHECK(!each.formula.empty());
    CHECK(!each.source.empty());
    CHECK(std::ranges::none_of(each.inputs, [](const calc::Field& field) { return field.meaning.empty(); }));
    CHECK(std::ranges::none_of(each.results, [](const calc::ResultField& field) { return field.meaning.empty(); }));
  }
}

TEST_CASE("the computations are these, by name") {
  std::vector<std::string_view> names;
  for (const calc::Computation& each : calc::all_computations()) names.push_back(each.name);
  std::ranges::sort(names);
  CHECK(names == std::vector<std::string_view>{"angle-gain",
                                               "backlash",
                                               "bolt-length",
                                               "bore-target",
                                               "centre-distance",
                                               "clearance",
                                               "compression-ratio",
                                               "compression-spread",
                                               "convert",
                                               "crank-position",
                                               "dead-centre",
                                               "elongation",
                                               "end-play",
                                               "fit-limits",
                                               "flatness",
                                               "form",
                                               "heating",
                                               "installed-height",
                                               "interference",
                                               "lash-shim",
                                               "leak-down",
                                               "liner-height",
                                               "lip-place",
                                               "mark-recurrence",
                                               "match",
                                               "mean-of",
                                               "oil-clearance",
                                               "oversize-selection",
                                               "pattern-order",
                                               "piston-clearance",
                                               "piston-to-head",
                                               "preload",
                                               "protrusion",
                                               "rim",
                                               "ring-gap",
                                               "run-out",
                                               "seal-squareness",
                                               "shell-selection",
                                               "shim-selection",
                                               "spread",
                                               "spring",
                                               "straightedge",
                                               "straightness",
                                               "strip-agreement",
                                               "strip-clearance",
                                               "surface-speed",
                                               "temperature",
                                               "thread",
                                               "thrust-selection",
                                               "tightening-torque",
                                               "tooth-error",
                                               "torque-stages",
                                               "uncertainty",
                                               "undersize-selection",
                                               "verdict",
                                               "wrench-fitness",
                                               "wrench-setting"});
  CHECK(calc::find_computation("alchemy") == nullptr);
}

TEST_CASE("every outcome has its JSON") {
  const calc::Unit* mm = quantity::find_unit("mm");
  const auto written = [](const calc::Outcome& outcome) { return json::compact(calc::to_json(outcome)); };
  CHECK(written({}) == "null");
  CHECK(written(true) == "true");
  CHECK(written(calc::Exact(3)) == "3");
  CHECK(written(std::string("B")) == "\"B\"");
  CHECK(written(calc::Quantity{calc::Exact::ratio(1, 3), mm, calc::Exact(0)}) ==
        R"({"value":0.333333333333,"unit":"mm","u":0})");
  CHECK(written(calc::Outcomes{calc::Exact(1), {}}) == "[1,null]");
}
