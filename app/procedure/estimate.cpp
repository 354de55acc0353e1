#include "procedure/estimate.h"

#include <fmt/format.h>

namespace procedure {

using json::Value;

namespace {

// Mean diameter of the turned face in parts of the thread's, where the joint does not say: Shigley, Mechanical
// Engineering Design, 9th ed., eq. 8-26 (collar diameter 1.25 d).
const Exact& usual_face() {
  static const Exact part = Exact::ratio(5, 4);
  return part;
}

Value in_unit(const Exact& value, std::string_view unit) {
  return Value::object({{"value", Value::number(value.text())}, {"unit", Value::text(std::string(unit))}});
}

} // namespace

Exact assumed_friction(Lubrication lubrication) {
  switch (lubrication) {
  case Lubrication::dry: return Exact::ratio(16, 100);
  case Lubrication::oiled: return Exact::ratio(12, 100);
  case Lubrication::paste: return Exact::ratio(10, 100);
  case Lubrication::sealant: return Exact::ratio(14, 100);
  }
  throw std::logic_error("a lubrication without its friction");
}

std::optional<Estimate> estimate_preload(const Bolt& bolt, const Quantity& torque) {
  const Value friction = Value::number(assumed_friction(bolt.lubrication).text());
  Value input =
      Value::object({{"torque", in_unit(torque.value, torque.unit->name)},
                     {"diameter", in_unit(bolt.diameter, "mm")},
                     {"pitch", in_unit(bolt.pitch, "mm")},
                     {"mu_thread", friction},
                     {"mu_head", friction},
                     {"head_diameter", in_unit(bolt.head_diameter.value_or(bolt.diameter * usual_face()), "mm")}});
  if (!bolt.strength.empty()) input.set("class", Value::text(bolt.strength));
  const auto answer = calc::compute(*calc::find_computation("preload"), input);
  if (!answer) return std::nullopt;
  Estimate estimate{*answer->find("preload")->quantity(), std::nullopt, bolt.lubrication, !bolt.head_diameter};
  if (const Quantity* percent = answer->find("percent_of_proof")->quantity())
    estimate.percent_of_proof = percent->value;
  return estimate;
}

std::string assumptions(const Estimate& estimate) {
  return fmt::format("friction {} assumed for {}{}", assumed_friction(estimate.lubrication).fixed(2),
                     name_of(estimate.lubrication),
                     estimate.face_assumed ? " and a head face of 1.25 times the thread" : "");
}

std::string in_words(const Estimate& estimate) {
  const std::string load = estimate.percent_of_proof
                               ? fmt::format("{} % of proof", estimate.percent_of_proof->fixed(0))
                               : fmt::format("{} kN", (estimate.preload.value / Exact(1000)).fixed(1));
  return fmt::format("about {}, {}", load, assumptions(estimate));
}

} // namespace procedure
