// Room above the piston, the liner's stand, and what the cylinder holds.
#include "calc/combine.h"
#include "calc/groups.h"
#include "calc/judging.h"

#include <fmt/format.h>

#include <algorithm>

namespace calc {

namespace {

// "cylinder 3", "cylinders 2, 3": those of which `is` is true, counted from 1; empty when there is none.
template <typename Is>
std::string numbered(std::string_view what, std::size_t count, Is is) {
  std::vector<std::size_t> which;
  for (std::size_t i = 0; i < count; ++i)
    if (is(i)) which.push_back(i + 1);
  if (which.empty()) return "";
  return fmt::format("{}{} {}", what, which.size() > 1 ? "s" : "", fmt::join(which, ", "));
}

Result<Answer> piston_to_head(const Given& given) {
  const Readings& pieces = given.readings("readings");
  const Quantity wire = given.quantity("wire");
  const std::vector<Exact> values = pieces.flat();
  const Exact crushed_below = wire.value - combined({{1, pieces.u_single()}, {1, wire.u}}).value_or(0);
  const std::string uncrushed =
      numbered("piece", values.size(), [&](std::size_t i) { return values[i] >= crushed_below; });
  if (!uncrushed.empty())
    return Answer{{{"mean", Outcome()}, {"min", Outcome()}, {"spread", Outcome()}},
                  {uncrushed + " of the wire not crushed: take thicker wire and measure again"}};
  return Answer{{{"mean", Quantity{mean(values), pieces.unit, pieces.u_mean(values.size())}},
                 {"min", Quantity{smallest(values), pieces.unit, pieces.u_single()}},
                 {"spread", Quantity{range(values), pieces.unit, pieces.u_difference()}}},
                {}};
}

// All in mm and mm3, so that what goes through pi is rounded once.
struct Cylinder {
  Quantity bore, stroke, chamber, bowl, thickness, gasket_bore, protrusion;
};

Result<Cylinder> cylinder_of(const Given& given) {
  std::optional<Error> error;
  const auto in = [&](const char* name, const char* unit, const Exact& most) {
    Quantity quantity = quantity::in_unit(given.quantity(name), *quantity::find_unit(unit)).value();
    if (!error && (quantity.value.abs() > most || quantity.u.value_or(0) > most))
      error = bad_input(name, "is too large for any engine");
    return quantity;
  };
  const auto length = [&](const char* name) { return in(name, "mm", 1'000'000); };
  const auto volume = [&](const char* name) { return in(name, "mm3", 1'000'000'000'000); };
  const Cylinder cylinder{length("bore"),      length("stroke"),           volume("chamber"),
                          volume("bowl"),      length("gasket_thickness"), length("gasket_bore"),
                          length("protrusion")};
  if (error) return *error;
  return cylinder;
}

Exact circle(const Exact& diameter) {
  return times_pi(diameter * diameter / Exact(4));
}

// What the clearance volume times `factor` takes of the U of everything but the bore: a height weighs by its area, a
// diameter by twice its volume over it.
std::vector<Part> clearance_parts(const Cylinder& cylinder, const Exact& factor) {
  const Exact around_gasket = times_pi(cylinder.gasket_bore.value * cylinder.thickness.value / Exact(2));
  return {{factor, cylinder.chamber.u},
          {factor, cylinder.bowl.u},
          {factor * circle(cylinder.gasket_bore.value), cylinder.thickness.u},
          {factor * around_gasket, cylinder.gasket_bore.u},
          {factor * circle(cylinder.bore.value), cylinder.protrusion.u}};
}

Result<Answer> compression_ratio(const Given& given) {
  const Result<Cylinder> read = cylinder_of(given);
  if (!read) return read.error();
  const Cylinder& cylinder = *read;
  const Exact bore = cylinder.bore.value;
  const Exact gasket_bore = cylinder.gasket_bore.value;
  const Exact swept = times_pi(bore * bore * cylinder.stroke.value / Exact(4));
  const Exact gasket_less_piston =
      gasket_bore * gasket_bore * cylinder.thickness.value - bore * bore * cylinder.protrusion.value;
  const Exact clearance = cylinder.chamber.value + cylinder.bowl.value + times_pi(gasket_less_piston / Exact(4));
  if (clearance.sign() <= 0) return bad_input("protrusion", "takes up all of the clearance volume: no room is left");
  const Exact per_clearance = swept / clearance; // the ratio without its 1
  if (per_clearance > 1'000'000)
    return bad_input("chamber", "with bowl, gasket and protrusion leaves next to nothing of the swept volume");

  const Exact clearance_by_bore = -times_pi(bore * cylinder.protrusion.value / Exact(2));
  const Exact by_clearance = per_clearance / clearance;
  std::vector<Part> of_clearance = clearance_parts(cylinder, 1);
  of_clearance.push_back({clearance_by_bore, cylinder.bore.u});
  std::vector<Part> of_ratio = clearance_parts(cylinder, by_clearance);
  of_ratio.push_back({Exact(2) * per_clearance / bore - by_clearance * clearance_by_bore, cylinder.bore.u});
  of_ratio.push_back({per_clearance / cylinder.stroke.value, cylinder.stroke.u});
  const auto swept_u = combined({{Exact(2) * swept / bore, cylinder.bore.u}, {circle(bore), cylinder.stroke.u}});

  const Unit* volume = quantity::find_unit("mm3");
  const auto rounded = [](const Exact& value) { return Exact::rounded(value.to_double()); };
  const Exact ratio = rounded(per_clearance + Exact(1));
  return Answer{{{"swept", Quantity{swept, volume, swept_u}},
                 {"clearance_volume", Quantity{rounded(clearance), volume, combined(of_clearance)}},
                 {"ratio", Quantity{ratio, quantity::find_unit("1"), combined(of_ratio)}}},
                {}};
}

struct Shim {
  Exact size; // 0: none needed
  Exact height;
};

// The shim that brings a height inside the bounds and nearest their middle, none when it is inside as it stands. Of two
// equally near the one that stands higher.
struct ShimFinder {
  std::vector<Exact> available;
  Exact low;
  Exact high;
  bool tied = false;

  std::optional<Shim> operator()(const Exact& height) {
    if (low <= height && height <= high) return Shim{0, height};
    std::optional<Shim> best;
    const auto off = [&](const Exact& after) { return (after * Exact(2) - low - high).abs(); };
    bool even = false;
    for (const Exact& size : available) {
      const Exact after = height + size;
      if (after < low || after > high) continue;
      const auto order = best ? off(after) <=> off(best->height) : std::strong_ordering::less;
      if (order == 0 && after != best->height) even = true;
      if (order < 0) even = false;
      if (order < 0 || (order == 0 && after > best->height)) best = Shim{size, after};
    }
    tied = tied || even;
    return best;
  }
};

Outcome one_or_list(const Outcomes& outcomes) {
  return outcomes.size() == 1 ? outcomes.front() : Outcome(outcomes);
}

void add_shims(Answer& answer, const Given& given, const std::vector<Exact>& heights, const Quantity& like) {
  const Readings& available = given.readings("available");
  ShimFinder find{available.flat(), given.quantity("low").value, given.quantity("high").value};
  const auto shim_u = available.u_single();
  const auto shimmed_u = combined({{1, like.u}, {1, shim_u}});
  const auto no_shim_u = shim_u ? std::optional(Exact(0)) : std::nullopt;
  Outcomes choices;
  Outcomes after;
  for (const Exact& height : heights) {
    const auto shim = find(height);
    const bool needed = shim && shim->size.sign() > 0;
    choices.push_back(shim ? Outcome(Quantity{shim->size, available.unit, needed ? shim_u : no_shim_u}) : Outcome());
    after.push_back(shim ? Outcome(Quantity{shim->height, like.unit, needed ? shimmed_u : like.u}) : Outcome());
  }
  const std::string none =
      numbered("liner", heights.size(), [&](std::size_t i) { return choices[i].is_null() && heights[i] < find.low; });
  if (!none.empty()) answer.notes.push_back(none + ": none of the available shims comes inside the limits");
  if (find.tied) answer.notes.push_back("two shims come equally near: the one that stands the liner higher was taken");
  answer.results.push_back({"choice", one_or_list(choices)});
  answer.results.push_back({"height_after", one_or_list(after)});
}

void note_heights(Answer& answer, const Bounds& bounds, const std::vector<Exact>& heights) {
  const std::string below =
      numbered("liner", heights.size(), [&](std::size_t i) { return bounds.low && heights[i] < *bounds.low; });
  const std::string above =
      numbered("liner", heights.size(), [&](std::size_t i) { return bounds.high && heights[i] > *bounds.high; });
  if (!below.empty()) answer.notes.push_back(below + " below low: shim under the flange");
  if (!above.empty()) answer.notes.push_back(above + " above high: cut the counterbore deeper");
}

Result<Answer> liner_height(const Given& given) {
  const Readings& flange = given.readings("flange");
  const Readings& counterbore = given.readings("counterbore");
  const std::vector<Exact> flanges = flange.flat();
  const std::vector<Exact> depths = counterbore.flat();
  if (flanges.size() != depths.size())
    return bad_input("counterbore",
                     fmt::format("wants one depth for each flange, {}, not {}", flanges.size(), depths.size()));
  Bounds bounds;
  if (given.has("low")) bounds.low = given.quantity("low").value;
  if (given.has("high")) bounds.high = given.quantity("high").value;
  if (bounds.low && bounds.high && *bounds.low > *bounds.high) return bad_input("low", "is above high");
  const bool shims = given.has("available");
  for (const char* limit : {"low", "high"})
    if (shims && !given.has(limit)) return bad_input(limit, "missing; available shims are chosen between low and high");

  const auto u = combined({{1, flange.u_single()}, {1, counterbore.u_single()}});
  std::vector<Exact> heights;
  Outcomes shown;
  for (std::size_t i = 0; i < flanges.size(); ++i) {
    heights.push_back(flanges[i] - depths[i]);
    shown.emplace_back(Quantity{heights.back(), flange.unit, u});
  }
  Answer answer;
  answer.results = {{"height", one_or_list(shown)}};
  note_heights(answer, bounds, heights);
  if (shims)
    add_shims(answer, given, heights, {heights.front(), flange.unit, u});
  else
    answer.results.insert(answer.results.end(), {{"choice", Outcome()}, {"height_after", Outcome()}});

  Outcome spread;
  Outcome step;
  if (heights.size() > 1) {
    const auto difference_u = combined({{1, flange.u_difference()}, {1, counterbore.u_difference()}});
    Exact largest_step;
    for (std::size_t i = 1; i < heights.size(); ++i)
      largest_step = quantity::max(largest_step, (heights[i] - heights[i - 1]).abs());
    spread = Quantity{range(heights), flange.unit, difference_u};
    step = Quantity{largest_step, flange.unit, difference_u};
  }
  answer.results.push_back({"spread", spread});
  answer.results.push_back({"step", step});
  return answer;
}

void note_compression(Answer& answer, const Given& given, const std::vector<Exact>& values) {
  const auto below = [&](const Exact& limit) {
    return numbered("cylinder", values.size(), [&](std::size_t i) { return values[i] < limit; });
  };
  if (given.has("least")) {
    const Quantity least = given.quantity("least");
    const std::string low = below(least.value);
    if (!low.empty()) answer.notes.push_back(fmt::format("{} below least, {}", low, quantity::text(least)));
  }
  if (given.has("spread_limit")) {
    const Quantity limit = given.quantity("spread_limit");
    if (range(values) > limit.value)
      answer.notes.push_back(fmt::format(
          "range above spread_limit, {}: find out what is wrong in the cylinder that governs", quantity::text(limit)));
  }
  if (given.has("below_mean")) {
    const Exact& part = given.number("below_mean");
    const std::string low = below(mean(values) * (Exact(1) - part));
    if (!low.empty())
      answer.notes.push_back(fmt::format("{} below the mean by more than below_mean, {}", low, part.text()));
  }
}

Result<Answer> compression_spread(const Given& given) {
  const Readings& readings = given.readings("readings");
  const std::vector<Exact> values = readings.flat();
  if (given.has("below_mean") && given.number("below_mean") > 1)
    return bad_input("below_mean", "is a part of the mean, from 0 to 1");
  const Exact highest = largest(values);
  if (highest.sign() == 0) return bad_input("readings", "are all zero");
  const auto lowest = std::ranges::min_element(values);
  const Exact ratio = *lowest / highest;
  const Exact per_highest = Exact(1) / highest;
  const auto ratio_u = combined({{per_highest, readings.u},
                                 {ratio * per_highest, readings.u},
                                 {(Exact(1) - ratio) * per_highest, readings.u_shared}});
  Answer answer;
  answer.results = {{"range", Quantity{highest - *lowest, readings.unit, readings.u_difference()}},
                    {"lowest", Quantity{*lowest, readings.unit, readings.u_single()}},
                    {"lowest_to_highest", Quantity{ratio, quantity::find_unit("1"), ratio_u}},
                    {"governs", whole(static_cast<std::size_t>(lowest - values.begin()) + 1)}};
  note_compression(answer, given, values);
  return answer;
}

Result<Answer> leak_down(const Given& given) {
  const Quantity supply = given.quantity("supply");
  const Quantity held = given.quantity("held");
  if (held.value > supply.value)
    return bad_input("held", "is above the supply: set both gauges to zero and test again");
  const Exact per_supply = Exact(1) / supply.value;
  const Exact kept = held.value * per_supply;
  return Answer{{{"lost", Quantity{Exact(1) - kept, quantity::find_unit("1"),
                                   combined({{per_supply, held.u}, {kept * per_supply, supply.u}})}}},
                {}};
}

Field given_length(std::string_view name, std::string_view meaning, Sign sign = Sign::positive, bool required = true) {
  return {.name = name, .dimension = Dimension::length, .meaning = meaning, .required = required, .sign = sign};
}

Computation piston_to_head_computation() {
  using enum Dimension;
  return {.name = "piston-to-head",
          .group = "cylinder",
          .purpose = "Clearance between piston and head, from soft wire crushed between them.",
          .inputs = {{.name = "readings",
                      .shape = Shape::list,
                      .dimension = length,
                      .meaning = "thickness of the crushed pieces, where each is thinnest"},
                     given_length("wire", "diameter of the wire before")},
          .results = {{"mean", ResultKind::quantity, length, "of the pieces; null when one was not crushed"},
                      {"min", ResultKind::quantity, length, "thinnest piece; null when one was not crushed"},
                      {"spread", ResultKind::quantity, length,
                       "thickest - thinnest, a tilt; null when one was not crushed"}},
          .formula = "mean, smallest and range of the pieces; a piece no thinner than wire - U was not crushed",
          .source = "TM 9-2815-252-24 p. 3-58 (four pieces of 1.58 mm in line with the pin, two turns by hand)",
          .example = {R"({"readings":{"values":[0.62,0.64,0.60,0.66],"unit":"mm","u":0.01},"wire":"1.58 mm"})",
                      R"({"calculation":"piston-to-head","results":{"mean":{"value":0.63,"unit":"mm","u":0.005},)"
                      R"("min":{"value":0.6,"unit":"mm","u":0.01},"spread":{"value":0.06,"unit":"mm",)"
                      R"("u":0.0141421356237}},"notes":[]})"},
          .work = piston_to_head};
}

Computation compression_ratio_computation() {
  using enum Dimension;
  const auto given_volume = [](std::string_view name, std::string_view meaning) {
    return Field{.name = name, .dimension = volume, .meaning = meaning, .sign = Sign::not_negative};
  };
  return {
      .name = "compression-ratio",
      .group = "cylinder",
      .purpose = "Compression ratio of a cylinder from its sizes.",
      .inputs = {given_length("bore", "diameter of the cylinder"), given_length("stroke", "twice the crank throw"),
                 given_volume("chamber", "volume in the head, as measured; 0 when it is flat"),
                 given_volume("bowl", "volume in the piston crown; 0 when it is flat"),
                 given_length("gasket_thickness", "crushed"),
                 given_length("gasket_bore", "diameter of the gasket's hole"),
                 given_length("protrusion", "of the piston at top dead centre, + above the deck", Sign::any)},
      .results = {{"swept", ResultKind::quantity, volume, "pi/4 bore^2 stroke"},
                  {"clearance_volume", ResultKind::quantity, volume, "left above the piston at top dead centre"},
                  {"ratio", ResultKind::quantity, number, "(swept + clearance_volume) / clearance_volume"}},
      .formula = "clearance_volume = chamber + bowl + pi/4 gasket_bore^2 gasket_thickness - pi/4 bore^2 protrusion; "
                 "ratio = (swept + clearance_volume) / clearance_volume",
      .source = "geometry; TM 5-4310-389-14 table 4-2 (bore and stroke with the displacement)",
      .example = {R"({"bore":"83 mm","stroke":"92 mm","chamber":"0 ml","bowl":"24.5 ml","gasket_thickness":"1.60 mm",)"
                  R"("gasket_bore":"84.5 mm","protrusion":"0.829 mm"})",
                  R"({"calculation":"compression-ratio","results":{"swept":{"value":497775.931183,)"
                  R"("unit":"mm3"},"clearance_volume":{"value":28987.3087893,"unit":"mm3"},)"
                  R"("ratio":{"value":18.1722023179,"unit":"1"}},"notes":[]})"},
      .work = compression_ratio};
}

Computation liner_height_computation() {
  using enum Dimension;
  const auto list = [](std::string_view name, std::string_view meaning, bool required = true) {
    return Field{.name = name, .shape = Shape::list, .dimension = length, .meaning = meaning, .required = required};
  };
  return {
      .name = "liner-height",
      .group = "cylinder",
      .purpose = "How far liners stand above the deck, and the shim under the flange that puts it right.",
      .inputs = {list("flange", "thickness of each liner's flange"),
                 list("counterbore", "depth of each counterbore, in the same order"),
                 list("available", "shims there are; with them low and high are needed", false),
                 given_length("low", "least height allowed", Sign::any, false),
                 given_length("high", "most height allowed", Sign::any, false)},
      .results = {{"height", ResultKind::any, length, "above the deck; a list for several liners"},
                  {"choice", ResultKind::any, length,
                   "shim, 0 when none is needed; a list for several liners; null when none fits"},
                  {"height_after", ResultKind::any, length, "height with it; null when none fits"},
                  {"spread", ResultKind::quantity, length, "highest - lowest as measured; null with one liner"},
                  {"step", ResultKind::quantity, length,
                   "largest difference of two neighbours as measured; null with one liner"}},
      .formula = "height = flange - counterbore; height_after = height + choice, inside low..high and nearest their "
                 "middle; a liner inside the limits gets no shim; of two equally near the higher",
      .source = "TM 5-2815-241-34&P p. 2-150 and TM 5-6115-593-34 (flange less counterbore; below shim, above cut)",
      .example = {R"({"flange":{"values":[5.020,5.015,4.995],"unit":"mm"},"counterbore":{"values":[4.960,4.975,4.985],)"
                  R"("unit":"mm"},"available":{"values":[0.02,0.05],"unit":"mm"},"low":"0.03 mm","high":"0.08 mm"})",
                  R"({"calculation":"liner-height","results":{"height":[{"value":0.06,"unit":"mm"},)"
                  R"({"value":0.04,"unit":"mm"},{"value":0.01,"unit":"mm"}],"choice":[{"value":0,)"
                  R"("unit":"mm"},{"value":0,"unit":"mm"},{"value":0.05,"unit":"mm"}],)"
                  R"("height_after":[{"value":0.06,"unit":"mm"},{"value":0.04,"unit":"mm"},{"value":0.06,)"
                  R"("unit":"mm"}],"spread":{"value":0.05,"unit":"mm"},"step":{"value":0.03,"unit":"mm"}},)"
                  R"("notes":["liner 3 below low: shim under the flange"]})"},
      .work = liner_height};
}

Computation compression_spread_computation() {
  using enum Dimension;
  return {.name = "compression-spread",
          .group = "cylinder",
          .purpose = "How far the compression pressures of the cylinders lie apart, and which is too low.",
          .inputs = {{.name = "readings",
                      .shape = Shape::list,
                      .dimension = pressure,
                      .meaning = "pressure of each cylinder, all at one speed",
                      .sign = Sign::not_negative,
                      .least = 2},
                     {.name = "least",
                      .dimension = pressure,
                      .meaning = "least pressure allowed at this altitude",
                      .required = false,
                      .sign = Sign::any},
                     {.name = "spread_limit",
                      .dimension = pressure,
                      .meaning = "most the range may be",
                      .required = false,
                      .sign = Sign::not_negative},
                     {.name = "below_mean",
                      .shape = Shape::number,
                      .meaning = "part of the mean a cylinder may be below it, 0 to 1",
                      .required = false,
                      .sign = Sign::not_negative}},
          .results = {{"range", ResultKind::quantity, pressure, "highest - lowest"},
                      {"lowest", ResultKind::quantity, pressure, "lowest pressure"},
                      {"lowest_to_highest", ResultKind::quantity, number, "lowest / highest"},
                      {"governs", ResultKind::number, {}, "cylinder of the lowest, from 1; the first of equal ones"}},
          .formula = "range = highest - lowest; lowest_to_highest = lowest / highest; notes name the cylinders below "
                     "least, a range above spread_limit and the cylinders below mean (1 - below_mean)",
          .source = "TM 5-3895-359-14&P p. 0498 (least by altitude and range); TM 1-1500-204-23-1 (below the mean); TM "
                    "5-4210-230-14&P-1 (lowest to highest)",
          .example = {R"({"readings":{"values":[31.0,30.5,27.5,30.0],"unit":"bar"},"least":"26 bar",)"
                      R"("spread_limit":"3 bar"})",
                      R"({"calculation":"compression-spread","results":{"range":{"value":3.5,"unit":"bar"},)"
                      R"("lowest":{"value":27.5,"unit":"bar"},"lowest_to_highest":{"value":0.887096774194,)"
                      R"("unit":"1"},"governs":3},"notes":["range above spread_limit,)"
                      R"( 3 bar: find out what is wrong in the cylinder that governs"]})"},
          .work = compression_spread};
}

} // namespace

std::vector<Computation> cylinder_computations() {
  using enum Dimension;
  return {piston_to_head_computation(),
          compression_ratio_computation(),
          liner_height_computation(),
          compression_spread_computation(),
          {.name = "leak-down",
           .group = "cylinder",
           .purpose = "Part of the air a cylinder loses at top dead centre.",
           .inputs = {{.name = "supply", .dimension = pressure, .meaning = "pressure before the orifice"},
                      {.name = "held",
                       .dimension = pressure,
                       .meaning = "pressure the cylinder holds behind it",
                       .sign = Sign::not_negative}},
           .results = {{"lost", ResultKind::quantity, number, "part of the supply that is lost, 0 to 1"}},
           .formula = "lost = (supply - held) / supply",
           .source = "FAA AC 43.13-1B par. 8-14, from memory (60 held of 80 supplied is the limit, a quarter)",
           .example = {R"({"supply":{"value":5.5,"unit":"bar","u":0.05},"held":{"value":4.95,"unit":"bar","u":0.05}})",
                       R"({"calculation":"leak-down","results":{"lost":{"value":0.1,"unit":"1",)"
                       R"("u":0.0122305673155}},"notes":[]})"},
           .work = leak_down}};
}

} // namespace calc
