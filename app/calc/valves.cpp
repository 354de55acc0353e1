#include "calc/combine.h"
#include "calc/groups.h"

#include <fmt/format.h>

namespace calc {

namespace {

const Unit& unit(std::string_view name) {
  return *quantity::find_unit(name);
}

Result<Answer> spring(const Given& given) {
  const Readings& loads = given.readings("loads");
  const Readings& lengths = given.readings("lengths");
  const Quantity installed = given.quantity("installed");
  const Exact first_length = lengths.flat()[0];
  const Exact shortening = first_length - lengths.flat()[1];
  const auto newtons = [&](const Exact& load) { return quantity::convert(load, *loads.unit, unit("N")); };
  const auto newtons_u = [&](const std::optional<Exact>& u) { return u ? std::optional(newtons(*u)) : u; };
  const Exact first_load = newtons(loads.flat()[0]);
  const Exact rise = newtons(loads.flat()[1]) - first_load;
  if (shortening.sign() == 0) return bad_input("lengths", "are equal: two different lengths are needed");
  if (rise.sign() * shortening.sign() <= 0) return bad_input("loads", "do not rise as the spring shortens");

  const Exact rate = rise / shortening; // N for each unit of length
  const Exact free_length = first_length + first_load / rate;
  const Exact load = rate * (free_length - installed.value);
  if (load.sign() < 0)
    return bad_input("installed", fmt::format("is longer than the free length, {}",
                                              quantity::text({free_length, lengths.unit, {}})));

  // Sensitivities to the first and second load and length; what two readings share moves both alike.
  const auto load_u = newtons_u(loads.u);
  const auto load_shared = newtons_u(loads.u_shared);
  const Exact per_load = Exact(1) / rate;
  const Exact outside = first_load / rise;                           // of the free length beyond the first
  const Exact along = (first_length - installed.value) / shortening; // of the installed length from the first
  const Exact per_shortening = Exact(1) / shortening;
  const auto rate_u = combined({{per_shortening, load_u},
                                {per_shortening, load_u},
                                {rate * per_shortening, lengths.u},
                                {rate * per_shortening, lengths.u},
                                {0, load_shared},
                                {0, lengths.u_shared}});
  const auto free_u = combined({{per_load * (Exact(1) + outside), load_u},
                                {per_load * outside, load_u},
                                {per_load, load_shared},
                                {Exact(1) + outside, lengths.u},
                                {outside, lengths.u},
                                {1, lengths.u_shared}});
  const auto installed_u = combined({{Exact(1) - along, load_u},
                                     {along, load_u},
                                     {1, load_shared},
                                     {rate * (Exact(1) - along), lengths.u},
                                     {rate * along, lengths.u},
                                     {rate, lengths.u_shared},
                                     {rate, installed.u}});
  const Exact millimetres = quantity::convert(1, *lengths.unit, unit("mm"));
  return Answer{
      {{"rate", Quantity{rate / millimetres, &unit("N/mm"), rate_u ? std::optional(*rate_u / millimetres) : rate_u}},
       {"free_length", Quantity{free_length, lengths.unit, free_u}},
       {"load_installed", Quantity{load, &unit("N"), installed_u}}},
      {}};
}

Result<Answer> installed_height(const Given& given) {
  const Quantity measured = given.quantity("measured");
  const Quantity wanted = given.quantity("wanted");
  const Quantity lift = given.quantity("lift");
  const Quantity solid = given.quantity("solid");
  const Exact shim = measured.value - wanted.value;
  const Exact room = wanted.value - lift.value - solid.value;
  Answer answer;
  answer.results = {{"shim", Quantity{shim, measured.unit, combined({{1, measured.u}, {1, wanted.u}})}},
                    {"room", Quantity{room, measured.unit, combined({{1, wanted.u}, {1, lift.u}, {1, solid.u}})}}};
  if (shim.sign() < 0) answer.notes.push_back("the spring stands shorter than wanted already: no shim puts that right");
  if (room.sign() <= 0) answer.notes.push_back("the coils touch before full lift");
  return answer;
}

Computation spring_computation() {
  using enum Dimension;
  return {
      .name = "spring",
      .group = "valves",
      .purpose = "Rate and free length of a spring from two loads, and its load at the installed length.",
      .inputs = {{.name = "loads",
                  .shape = Shape::list,
                  .dimension = force,
                  .meaning = "the two loads",
                  .sign = Sign::not_negative,
                  .least = 2,
                  .most = 2},
                 {.name = "lengths",
                  .shape = Shape::list,
                  .dimension = length,
                  .meaning = "the lengths at these loads",
                  .least = 2,
                  .most = 2},
                 {.name = "installed", .dimension = length, .meaning = "installed length"}},
      .results = {{"rate", ResultKind::quantity, stiffness, "load for each mm of shortening"},
                  {"free_length", ResultKind::quantity, length, "length without load, on the same straight line"},
                  {"load_installed", ResultKind::quantity, force, "load at the installed length"}},
      .formula = "rate = (F2 - F1) / (L1 - L2); free_length = L1 + F1 / rate; load_installed = rate (free_length - "
                 "installed)",
      .source = "TM 9-6115-464-34 table 1-1 (two loads at two lengths, and the free length)",
      .example = {R"({"loads":{"values":[310,850],"unit":"N"},"lengths":{"values":[40.5,29.5],"unit":"mm"},)"
                  R"("installed":"39 mm"})",
                  R"({"calculation":"spring","results":{"rate":{"value":49.0909090909,"unit":"N/mm"},)"
                  R"("free_length":{"value":46.8148148148,"unit":"mm"},"load_installed":{"value":383.636363636,)"
                  R"("unit":"N"}},"notes":[]})"},
      .work = spring,
  };
}

Computation installed_height_computation() {
  using enum Dimension;
  return {.name = "installed-height",
          .group = "valves",
          .purpose = "Shim under a valve spring for its installed height, and the room left to coil bind.",
          .inputs = {{.name = "measured",
                      .dimension = length,
                      .meaning = "height from spring seat to retainer, valve closed"},
                     {.name = "wanted", .dimension = length, .meaning = "installed height wanted"},
                     {.name = "lift", .dimension = length, .meaning = "full lift of the valve"},
                     {.name = "solid", .dimension = length, .meaning = "length of the spring with its coils touching"}},
          .results = {{"shim", ResultKind::quantity, length, "thickness to put under the spring; below 0 none helps"},
                      {"room", ResultKind::quantity, length, "left to coil bind at full lift"}},
          .formula = "shim = measured - wanted; room = wanted - lift - solid",
          .source = "common practice, no source; TM 9-2815-220-24 WP 0145 (lengths and solid heights of springs)",
          .example = {R"({"measured":"40.3 mm","wanted":"39 mm","lift":"9.5 mm","solid":"26.8 mm"})",
                      R"({"calculation":"installed-height","results":{"shim":{"value":1.3,"unit":"mm"},)"
                      R"("room":{"value":2.7,"unit":"mm"}},"notes":[]})"},
          .work = installed_height};
}

} // namespace

std::vector<Computation> valve_computations() {
  return {spring_computation(), installed_height_computation()};
}

} // namespace calc
