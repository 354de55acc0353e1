// Choosing a washer or shim from the sizes there are.
#include "calc/combine.h"
#include "calc/groups.h"
#include "calc/judging.h"

#include <fmt/format.h>

namespace calc {

namespace {

struct Choice {
  Exact size;
  Exact after; // what it makes of the measured value
  bool tied = false;
};

// The size whose outcome lies inside the bounds and nearest `wanted`. Of two equally near, the larger outcome: for a
// clearance the looser one.
template <typename After>
std::optional<Choice> nearest(const std::vector<Exact>& available, const Bounds& bounds, const Exact& wanted,
                              After after) {
  std::optional<Choice> best;
  for (const Exact& size : available) {
    const Choice here{size, after(size)};
    if (judge(here.after, 0, bounds, Rule::simple) != Verdict::within) continue;
    const auto order = best ? (here.after - wanted).abs() <=> (best->after - wanted).abs() : std::strong_ordering::less;
    if (order < 0) best = here;
    if (order != 0 || here.after == best->after) continue;
    if (here.after > best->after) best = here;
    best->tied = true;
  }
  return best;
}

Bounds bounds_of(const Given& given) {
  Bounds bounds;
  if (given.has("low")) bounds.low = given.quantity("low").value;
  if (given.has("high")) bounds.high = given.quantity("high").value;
  return bounds;
}

std::optional<Error> crossed(const Bounds& bounds) {
  if (bounds.low && bounds.high && *bounds.low > *bounds.high) return bad_input("low", "is above high");
  return {};
}

void add_choice(Answer& answer, const std::optional<Choice>& choice, const Readings& sizes, std::string_view after_name,
                const Unit* after_unit, const std::optional<Exact>& after_u) {
  if (!choice) {
    answer.results.push_back({"choice", Outcome()});
    answer.results.push_back({std::string(after_name), Outcome()});
    return;
  }
  answer.results.push_back({"choice", Quantity{choice->size, sizes.unit, sizes.u_single()}});
  answer.results.push_back({std::string(after_name), Quantity{choice->after, after_unit, after_u}});
  if (choice->tied)
    answer.notes.push_back(fmt::format("two sizes come equally near: the larger {} was taken", after_name));
}

constexpr const char* none_fits = "none of the available sizes comes inside the limits";

Result<Answer> thrust_selection(const Given& given) {
  const Quantity play = given.quantity("play");
  const Readings& fitted = given.readings("fitted");
  const Readings& available = given.readings("available");
  const Bounds bounds = bounds_of(given);
  if (const auto error = crossed(bounds)) return *error;
  const std::vector<Exact> now = fitted.flat();
  const Exact sides = whole(now.size());
  const Exact room = play.value + mean(now) * sides;
  const Exact middle = (*bounds.low + *bounds.high) / Exact(2);

  Answer answer;
  std::optional<Choice> choice;
  if (play.value.sign() > 0)
    choice = nearest(available.flat(), bounds, middle, [&](const Exact& size) { return room - sides * size; });
  if (play.value.sign() <= 0)
    answer.notes.push_back("no play: free the shaft and measure again before choosing");
  else if (!choice)
    answer.notes.push_back(none_fits);
  const auto u = combined({{1, play.u}, {sides, fitted.u_mean(now.size())}, {sides, available.u_single()}});
  add_choice(answer, choice, available, "play_after", play.unit, u);
  return answer;
}

Result<Answer> lash_shim(const Given& given) {
  const Quantity measured = given.quantity("measured");
  const Quantity target = given.quantity("target");
  const Quantity fitted = given.quantity("fitted");
  const Readings& available = given.readings("available");
  const Exact ratio = given.has("ratio") ? given.number("ratio") : Exact(1);
  const Bounds bounds = bounds_of(given);
  if (const auto error = crossed(bounds)) return *error;
  if (measured.value.sign() <= 0) return bad_input("measured", "no lash: fit a thinner shim and measure again");
  const Exact per_lash = Exact(1) / ratio;
  const auto choice = nearest(available.flat(), bounds, target.value,
                              [&](const Exact& size) { return measured.value + ratio * (fitted.value - size); });

  Answer answer;
  answer.results = {{"wanted", Quantity{fitted.value + (measured.value - target.value) * per_lash, measured.unit,
                                        combined({{1, fitted.u}, {per_lash, measured.u}, {per_lash, target.u}})}}};
  if (!choice) answer.notes.push_back(none_fits);
  add_choice(answer, choice, available, "lash_after", measured.unit,
             combined({{1, measured.u}, {ratio, fitted.u}, {ratio, available.u_single()}}));
  return answer;
}

// `change_per_mm` is in the unit the target was written in, for each mm of shim.
Result<Answer> shim_selection(const Given& given) {
  const Quantity measured = given.quantity("measured");
  const Quantity target = given.quantity("target");
  const Quantity fitted = given.quantity("fitted");
  const Readings& available = given.readings("available");
  const Bounds bounds = bounds_of(given);
  if (const auto error = crossed(bounds)) return *error;
  if (given.number("change_per_mm").sign() == 0)
    return bad_input("change_per_mm", "is zero: a shim would change nothing");
  const Unit& millimetre = *quantity::find_unit("mm");
  const Exact change =
      quantity::convert_difference(given.number("change_per_mm"), *given.readings("target").written_in, *target.unit) /
      quantity::convert_difference(1, millimetre, *fitted.unit);
  const Exact per_change = Exact(1) / change;
  const auto choice = nearest(available.flat(), bounds, target.value,
                              [&](const Exact& size) { return measured.value + change * (size - fitted.value); });

  Answer answer;
  answer.results = {{"wanted", Quantity{fitted.value + (target.value - measured.value) * per_change, fitted.unit,
                                        combined({{1, fitted.u}, {per_change, target.u}, {per_change, measured.u}})}}};
  if (!choice) answer.notes.push_back(none_fits);
  add_choice(answer, choice, available, "result_after", measured.unit,
             combined({{1, measured.u}, {change, fitted.u}, {change, available.u_single()}}));
  return answer;
}

Field limit(std::string_view name, std::optional<Dimension> dimension, std::string_view meaning, bool required) {
  return {.name = name, .dimension = dimension, .meaning = meaning, .required = required, .sign = Sign::any};
}

} // namespace

std::vector<Computation> selection_computations() {
  using enum Dimension;
  const Field available = {
      .name = "available", .shape = Shape::list, .dimension = length, .meaning = "sizes there are to choose from"};
  return {
      {.name = "thrust-selection",
       .group = "selection",
       .purpose = "Thrust washer size that brings the end play of a shaft to the middle of its limits.",
       .inputs = {{.name = "play", .dimension = length, .meaning = "end play as measured", .sign = Sign::any},
                  {.name = "fitted",
                   .shape = Shape::list,
                   .dimension = length,
                   .meaning = "thickness now, on each side that is changed",
                   .most = 2},
                  limit("low", length, "least end play allowed", true),
                  limit("high", length, "most end play allowed", true),
                  available},
       .results = {{"choice", ResultKind::quantity, length, "size for each side; null when none fits"},
                   {"play_after", ResultKind::quantity, length, "end play with it; null when none fits"}},
       .formula = "play_after = play + sum of fitted - sides * size, inside low..high and nearest their middle; of two "
                  "equally near the looser",
       .source = "TM 5-4210-233-14&P-2 p. 6-152, table c (play set against the washers taken out)",
       .example = {R"({"play":"0.34 mm","fitted":{"values":[2.310,2.312],"unit":"mm"},"low":"0.10 mm",)"
                   R"("high":"0.20 mm","available":{"values":[2.31,2.36,2.41,2.46],"unit":"mm"}})",
                   R"({"calculation":"thrust-selection","results":{"choice":{"value":2.41,"unit":"mm"},)"
                   R"("play_after":{"value":0.142,"unit":"mm"}},"notes":[]})"},
       .work = thrust_selection},
      {.name = "lash-shim",
       .group = "selection",
       .purpose = "Shim that brings a valve's lash to its target.",
       .inputs = {{.name = "measured", .dimension = length, .meaning = "lash as measured", .sign = Sign::any},
                  {.name = "target", .dimension = length, .meaning = "lash wanted", .sign = Sign::any},
                  {.name = "fitted", .dimension = length, .meaning = "shim fitted now"},
                  available,
                  limit("low", length, "least lash allowed", false),
                  limit("high", length, "most lash allowed", false),
                  {.name = "ratio",
                   .shape = Shape::number,
                   .meaning = "lash lost for each mm of shim, 1 unless said",
                   .required = false}},
       .results = {{"wanted", ResultKind::quantity, length, "shim that would meet the target"},
                   {"choice", ResultKind::quantity, length, "available shim; null when none fits"},
                   {"lash_after", ResultKind::quantity, length, "lash with it; null when none fits"}},
       .formula = "wanted = fitted + (measured - target) / ratio; lash_after = measured + ratio (fitted - choice), "
                  "inside low..high and nearest the target; of two equally near the looser",
       .source = "common practice, no source",
       .example = {R"({"measured":"0.32 mm","target":"0.25 mm","fitted":"2.65 mm",)"
                   R"("available":{"values":[2.60,2.65,2.70,2.75],"unit":"mm"},"low":"0.20 mm","high":"0.30 mm"})",
                   R"({"calculation":"lash-shim","results":{"wanted":{"value":2.72,"unit":"mm"},"choice":{"value":2.7,)"
                   R"("unit":"mm"},"lash_after":{"value":0.27,"unit":"mm"}},"notes":[]})"},
       .work = lash_shim},
      {.name = "shim-selection",
       .group = "selection",
       .purpose = "Shim that brings any value a shim sets (opening pressure, preload, height) to its target.",
       .inputs = {{.name = "measured", .meaning = "value with the shim fitted now", .sign = Sign::any},
                  {.name = "target", .meaning = "value wanted", .sign = Sign::any},
                  {.name = "change_per_mm",
                   .shape = Shape::number,
                   .meaning = "how much the value changes for each mm of shim added, in the target's unit",
                   .sign = Sign::any},
                  {.name = "fitted", .dimension = length, .meaning = "shim fitted now"},
                  available,
                  limit("low", {}, "least value allowed", false),
                  limit("high", {}, "largest value allowed", false)},
       .results = {{"wanted", ResultKind::quantity, length, "shim that would meet the target"},
                   {"choice", ResultKind::quantity, length, "available shim; null when none fits"},
                   {"result_after", ResultKind::quantity, {}, "value with it; null when none fits"}},
       .formula = "wanted = fitted + (target - measured) / change_per_mm; result_after = measured + change_per_mm "
                  "(choice - fitted), inside low..high and nearest the target; of two equally near the larger value",
       .source = "common practice, no source",
       .example = {R"({"measured":"118 bar","target":"125 bar","change_per_mm":100,"fitted":"1.25 mm",)"
                   R"("available":{"values":[1.25,1.30,1.35],"unit":"mm"},"low":"120 bar","high":"130 bar"})",
                   R"({"calculation":"shim-selection","results":{"wanted":{"value":1.32,"unit":"mm"},)"
                   R"("choice":{"value":1.3,"unit":"mm"},"result_after":{"value":123,"unit":"bar"}},"notes":[]})"},
       .work = shim_selection}};
}

} // namespace calc
