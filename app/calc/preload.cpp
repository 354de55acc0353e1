// Torque against preload.
#include "calc/bolt.h"
#include "calc/combine.h"
#include "calc/groups.h"

#include <fmt/format.h>

namespace calc {

namespace {

const Unit& unit(std::string_view name) {
  return *quantity::find_unit(name);
}

// U of a result that moves with the sizes of a joint, and with a load.
std::optional<Exact> joint_u(const Joint& joint, const PerMillimetre& slope, const Exact& per_load,
                             const std::optional<Exact>& load_u) {
  const auto u_of = [](const std::optional<Quantity>& size) { return size ? size->u : std::nullopt; };
  return combined({{per_load, load_u},
                   {slope.diameter, joint.diameter.u},
                   {slope.pitch, u_of(joint.pitch)},
                   {slope.head, u_of(joint.head)}});
}

PerMillimetre times(const PerMillimetre& slope, const Exact& factor) {
  return {slope.diameter * factor, slope.pitch * factor, slope.head * factor};
}

Result<Answer> tightening_torque(const Given& given) {
  const Result<Joint> joint = joint_of(given);
  if (!joint) return joint.error();
  if (joint->nut_factor && joint->pitch) return bad_input("pitch", "does nothing beside nut_factor: leave it out");
  const Quantity preload = given_in(given, "preload", "N");
  const Lever arm = lever(*joint, 1);
  const Exact thousandth = Exact::ratio(1, 1000); // N mm become N.m
  const Exact torque = preload.value * arm.length * thousandth;
  Answer answer;
  answer.results = {{"torque", Quantity{joint->nut_factor ? torque : Exact::rounded(torque.to_double()), &unit("N.m"),
                                        joint_u(*joint, times(arm.slope, preload.value * thousandth),
                                                arm.length * thousandth, preload.u)}}};
  return answer;
}

struct Clamped {
  Exact force; // N
  PerMillimetre slope;
  std::optional<Exact> u;
};

// `torque` in N mm; `part` stretches all friction.
Clamped clamped(const Joint& joint, const Quantity& torque, const Exact& part) {
  const Lever arm = lever(joint, part);
  const Exact exact = torque.value / arm.length;
  const Exact force = joint.nut_factor ? exact : Exact::rounded(exact.to_double());
  const PerMillimetre slope = times(arm.slope, -force / arm.length);
  return {force, slope, joint_u(joint, slope, Exact(1) / arm.length, torque.u)};
}

Outcome newtons(const Clamped& clamped) {
  return Quantity{clamped.force, &unit("N"), clamped.u};
}

// In the bolt as it is pulled, without what the torque twists.
Quantity tension(const Joint& joint, const Clamped& pulled, const Quantity& torque) {
  const StressArea stress = stress_area(joint.diameter.value, joint.pitch->value);
  const Exact value = Exact::rounded((pulled.force / stress.area).to_double());
  const auto slope = [&](const Exact& of_force, const Exact& of_area) {
    return (of_force - value * of_area) / stress.area;
  };
  return {value, &unit("MPa"),
          joint_u(joint,
                  {slope(pulled.slope.diameter, stress.slope.diameter), slope(pulled.slope.pitch, stress.slope.pitch),
                   slope(pulled.slope.head, 0)},
                  value / torque.value, torque.u)};
}

Result<Answer> preload(const Given& given) {
  const Result<Joint> joint = joint_of(given);
  if (!joint) return joint.error();
  if (given.has("scatter") && given.number("scatter") >= Exact(1))
    return bad_input("scatter", "must be below 1: no bolt is without friction");
  Quantity torque = given_in(given, "torque", "N.m");
  torque.value = torque.value * Exact(1000); // N mm
  if (torque.u) torque.u = *torque.u * Exact(1000);
  const Clamped as_stated = clamped(*joint, torque, 1);

  Answer answer;
  Outcome low;
  Outcome high;
  Exact most = as_stated.force;
  if (given.has("scatter")) {
    const Exact& scatter = given.number("scatter");
    low = newtons(clamped(*joint, torque, Exact(1) + scatter));
    high = newtons(clamped(*joint, torque, Exact(1) - scatter));
    most = high.quantity()->value;
  }
  Outcome stress;
  Outcome percent;
  if (joint->pitch) stress = tension(*joint, as_stated, torque);
  if (given.has("class")) {
    const Result<Exact> proof = proof_stress(given.text("class"), joint->diameter.value);
    if (!proof) return proof.error();
    if (stress.quantity()) {
      const Exact per_cent = Exact(100) / *proof;
      const Exact value = Exact::rounded((stress.quantity()->value * per_cent).to_double());
      percent = Quantity{value, &unit("1"), combined({{per_cent, stress.quantity()->u}})};
      if (value > Exact(100))
        answer.notes.push_back(
            fmt::format("past the proof stress of class {}, {} MPa", given.text("class"), proof->text()));
      else if (value * most > as_stated.force * Exact(100))
        answer.notes.push_back(fmt::format("with the least friction past the proof stress of class {}, {} MPa",
                                           given.text("class"), proof->text()));
    }
  }
  answer.results = {
      {"preload", newtons(as_stated)}, {"low", low}, {"high", high}, {"stress", stress}, {"percent_of_proof", percent}};
  return answer;
}

// The fields of the joint between the load that comes first and what follows.
std::vector<Field> with_joint(const Field& load, const std::vector<Field>& more) {
  std::vector<Field> fields = joint_fields();
  fields.insert(fields.begin(), load);
  fields.insert(fields.end(), more.begin(), more.end());
  return fields;
}

} // namespace

std::vector<Computation> preload_computations() {
  using enum Dimension;
  const Field scatter = {.name = "scatter",
                         .shape = Shape::number,
                         .meaning = "of friction, either way, as a fraction: 0.2 for a fifth more or less",
                         .required = false,
                         .sign = Sign::not_negative};
  return {
      {.name = "tightening-torque",
       .group = "preload",
       .purpose = "Torque that brings a bolt to a preload.",
       .inputs = with_joint({.name = "preload", .dimension = force, .meaning = "tension wanted in the bolt"}, {}),
       .results = {{"torque", ResultKind::quantity, torque, "to be put on the turned head or nut"}},
       .formula = "torque = preload (p/(2 pi) + mu_thread d2/(2 cos 30) + mu_head head_diameter/2), or nut_factor "
                  "diameter preload",
       .source = "linearised screw formula as in VDI 2230-1; nut factor: Shigley, Mechanical Engineering Design, 9th "
                 "ed., eq. 8-27",
       .example = {R"({"preload":{"value":29600,"unit":"N","u":900},"diameter":"10 mm","pitch":"1.5 mm",)"
                   R"("mu_thread":0.12,"mu_head":0.12,"head_diameter":"12.815 mm"})",
                   R"({"calculation":"tightening-torque","results":{"torque":{"value":48.3354010344,)"
                   R"("unit":"N.m","u":1.469657463885}},"notes":[]})"},
       .work = tightening_torque},
      {.name = "preload",
       .group = "preload",
       .purpose = "Tension a torque leaves in a bolt, and how much of its proof stress that is.",
       .inputs = with_joint({.name = "torque", .dimension = torque, .meaning = "put on the turned head or nut"},
                            {scatter, class_field()}),
       .results = {{"preload", ResultKind::quantity, force, "at the friction stated; its u knows the readings only"},
                   {"low", ResultKind::quantity, force, "with the most friction; null without scatter"},
                   {"high", ResultKind::quantity, force, "with the least friction; null without scatter"},
                   {"stress", ResultKind::quantity, pressure, "tension in the thread; null without pitch"},
                   {"percent_of_proof", ResultKind::quantity, number,
                    "stress in per cent of the proof stress; null without pitch and class"}},
       .formula = "preload = torque / (p/(2 pi) + mu_thread d2/(2 cos 30) + mu_head head_diameter/2), or torque / "
                  "(nut_factor diameter); low, high: all friction times 1 + scatter, 1 - scatter; stress = preload / "
                  "stress area",
       .source = "as tightening-torque; ISO 898-1:2013, table 3 (proof stress: 8.8 580 MPa, above M16 600 MPa; 10.9 "
                 "830 MPa; 12.9 970 MPa)",
       .example = {R"({"torque":{"value":48,"unit":"N.m","u":2},"diameter":"10 mm","pitch":"1.5 mm",)"
                   R"("mu_thread":0.12,"mu_head":0.12,"head_diameter":"12.815 mm","scatter":0.2,"class":"8.8"})",
                   R"({"calculation":"preload","results":{"preload":{"value":29394.6045671,"unit":"N",)"
                   R"("u":1224.7751903},"low":{"value":25107.270785,"unit":"N","u":1046.13628271},)"
                   R"("high":{"value":35447.6719301,"unit":"N","u":1476.98633042},)"
                   R"("stress":{"value":506.894478696,"unit":"MPa","u":21.120603279},)"
                   R"("percent_of_proof":{"value":87.3955997752,"unit":"1","u":3.64148332397}},)"
                   R"("notes":["with the least friction past the proof stress of class 8.8, 580 MPa"]})"},
       .work = preload}};
}

} // namespace calc
