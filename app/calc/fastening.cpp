#include "calc/combine.h"
#include "calc/groups.h"

#include <fmt/format.h>

namespace calc {

namespace {

// The nearest line of the wrench's scale, never beyond the final torque.
Exact on_scale(const Exact& torque, const Exact& division, const Exact& final_torque) {
  const Exact nearest = (torque / division + Exact::ratio(1, 2)).floor() * division;
  return nearest > final_torque ? nearest - division : nearest;
}

Result<std::vector<Exact>> fractions_of(const Given& given) {
  if (!given.has("fractions")) return std::vector<Exact>{Exact::ratio(1, 3), Exact::ratio(2, 3), 1};
  const std::vector<Exact>& fractions = given.numbers("fractions");
  for (std::size_t i = 1; i < fractions.size(); ++i)
    if (fractions[i] <= fractions[i - 1]) return bad_input("fractions", "must rise from stage to stage");
  if (fractions.back() != Exact(1)) return bad_input("fractions", "must end with 1, the final torque");
  return fractions;
}

Result<Answer> torque_stages(const Given& given) {
  const Quantity final_torque = given.quantity("final");
  const Result<std::vector<Exact>> fractions = fractions_of(given);
  if (!fractions) return fractions.error();
  const Unit& newton_metre = *quantity::find_unit("N.m");
  Answer answer;
  Outcomes stages;
  std::string as_given;
  for (const Exact& fraction : *fractions) {
    Quantity stage{final_torque.value * fraction, final_torque.unit, combined({{fraction, final_torque.u}})};
    if (given.has("division") && fraction != Exact(1))
      stage.value = on_scale(stage.value, given.quantity("division").value, final_torque.value);
    if (stage.value.sign() <= 0) return bad_input("division", "is too coarse for the first stage");
    as_given += (as_given.empty() ? "" : ", ") + stage.value.text();
    stages.emplace_back(quantity::in_unit(stage, newton_metre).value());
  }
  if (final_torque.unit != &newton_metre)
    answer.notes.push_back(fmt::format("in the unit given: {} {}", as_given, final_torque.unit->name));
  answer.results = {{"stages", stages}};
  return answer;
}

} // namespace

std::vector<Computation> fastening_computations() {
  using enum Dimension;
  return {{
      .name = "torque-stages",
      .group = "fastening",
      .purpose = "Torques at which a pattern of fasteners is gone round before its final torque.",
      .inputs = {{.name = "final", .dimension = torque, .meaning = "final torque"},
                 {.name = "fractions",
                  .shape = Shape::numbers,
                  .meaning = "part of it at each stage, rising to 1; thirds unless said",
                  .required = false},
                 {.name = "division",
                  .dimension = torque,
                  .meaning = "step of the wrench's scale; stages before the last go to its nearest line",
                  .required = false}},
      .results = {{"stages", ResultKind::quantities, torque, "torque of each stage"}},
      .formula = "stage = fraction * final, to the nearest division; the last is the final torque itself",
      .source = "common practice, no source (thirds); TM 5-3805-298-23-2 WP 0176 (70 % first)",
      .example = {R"({"final":"88 N.m","division":"5 N.m"})",
                  R"({"calculation":"torque-stages","results":{"stages":[{"value":30,"unit":"N.m"},{"value":60,)"
                  R"("unit":"N.m"},{"value":88,"unit":"N.m"}]},"notes":[]})"},
      .work = torque_stages,
  }};
}

} // namespace calc
