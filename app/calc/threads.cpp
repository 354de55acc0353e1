// Threaded fasteners: geometry, turning past snug, stretch.
#include "calc/bolt.h"
#include "calc/combine.h"
#include "calc/groups.h"

#include <fmt/format.h>

namespace calc {

namespace {

const Unit& unit(std::string_view name) {
  return *quantity::find_unit(name);
}

Result<Answer> thread(const Given& given) {
  const Quantity diameter = given.quantity("diameter");
  const Quantity pitch = given.quantity("pitch");
  const Quantity diameter_mm = given_in(given, "diameter", "mm");
  const Quantity pitch_mm = given_in(given, "pitch", "mm");
  if (const auto error = not_a_bolt(diameter_mm.value, pitch_mm.value)) return *error;
  const StressArea stress = stress_area(diameter_mm.value, pitch_mm.value);
  // Each diameter is that of the thread less a part of the pitch.
  const auto less = [&](Exact (*diameter_of)(const Exact&, const Exact&)) {
    return Quantity{diameter_of(diameter.value, pitch.value), diameter.unit,
                    combined({{1, diameter.u}, {diameter_of(0, 1), pitch.u}})};
  };
  Answer answer;
  answer.results = {
      {"d2", less(pitch_diameter)},
      {"d3", less(root_diameter)},
      {"stress_area", Quantity{stress.area, &unit("mm2"),
                               combined({{stress.slope.diameter, diameter_mm.u}, {stress.slope.pitch, pitch_mm.u}})}}};
  return answer;
}

// Whether the bolt is still elastic at this preload, as a note when it is not or nothing says so.
Result<std::string> elastic_note(const Given& given, const Exact& gained) {
  if (!given.has("diameter") || !given.has("class"))
    return std::string("holds while bolt and joint stay elastic: give diameter and class to have that checked");
  const Exact diameter = given_in(given, "diameter", "mm").value;
  const Exact pitch = given_in(given, "pitch", "mm").value;
  if (const auto error = not_a_bolt(diameter, pitch)) return *error;
  const Result<Exact> proof = proof_stress(given.text("class"), diameter);
  if (!proof) return proof.error();
  const Exact snug = given.has("snug_preload") ? given_in(given, "snug_preload", "N").value : Exact();
  const Exact limit = *proof * stress_area(diameter, pitch).area;
  if (snug + gained <= limit) return std::string();
  return fmt::format("past the proof load of class {}, {} N: the bolt yields and the gain is not believed",
                     given.text("class"), limit.fixed(0));
}

Result<Answer> angle_gain(const Given& given) {
  const Quantity angle = given_in(given, "angle", "deg");
  const Quantity pitch = given_in(given, "pitch", "mm");
  const Quantity bolt = given.quantity("bolt_stiffness");
  const Quantity joint = given.quantity("joint_stiffness");
  const Exact turns = angle.value / Exact(360);
  const Exact joint_part = joint.value / (bolt.value + joint.value); // of the advance that stretches the bolt
  const Exact stretch = turns * pitch.value * joint_part;
  const Exact gain = stretch * bolt.value;
  const Result<std::string> note = elastic_note(given, gain);
  if (!note) return note.error();

  const Exact both = bolt.value + joint.value;
  const Exact bolt_part = bolt.value / both;
  const auto gain_u = combined({{gain / angle.value, angle.u},
                                {gain / pitch.value, pitch.u},
                                {gain / bolt.value * joint_part, bolt.u},
                                {gain / joint.value * bolt_part, joint.u}});
  const auto stretch_u = combined({{stretch / angle.value, angle.u},
                                   {stretch / pitch.value, pitch.u},
                                   {stretch / both, bolt.u},
                                   {stretch / joint.value * bolt_part, joint.u}});
  Answer answer;
  answer.results = {
      {"preload_gain", Quantity{gain, &unit("N"), gain_u}},
      {"bolt_stretch",
       quantity::in_unit(Quantity{stretch, &unit("mm"), stretch_u}, *given.readings("pitch").unit).value()}};
  if (!note->empty()) answer.notes.push_back(*note);
  return answer;
}

Result<Answer> elongation(const Given& given) {
  const Quantity preload = given_in(given, "preload", "N");
  const Quantity modulus = given_in(given, "modulus", "MPa");
  const std::vector<Given>& segments = given.records("segments");
  Exact slenderness; // sum of length / area
  std::vector<Part> slenderness_parts;
  for (const Given& segment : segments) {
    const Quantity length = given_in(segment, "length", "mm");
    const Quantity area = given_in(segment, "area", "mm2");
    const Exact share = length.value / area.value;
    slenderness += share;
    slenderness_parts.push_back({Exact(1) / area.value, length.u});
    slenderness_parts.push_back({share / area.value, area.u});
  }
  const auto slenderness_u = combined(slenderness_parts);
  const Exact longer = preload.value * slenderness / modulus.value;
  const Exact stiffness = modulus.value / slenderness;
  const Quantity elongated{longer, &unit("mm"),
                           combined({{longer / preload.value, preload.u},
                                     {longer / modulus.value, modulus.u},
                                     {longer / slenderness, slenderness_u}})};
  Answer answer;
  answer.results = {{"elongation", quantity::in_unit(elongated, *segments.front().readings("length").unit).value()},
                    {"stiffness", Quantity{stiffness, &unit("N/mm"),
                                           combined({{stiffness / modulus.value, modulus.u},
                                                     {stiffness / slenderness, slenderness_u}})}}};
  return answer;
}

// Notes why when the reading is over its limit, or closer to it than its U. Whether the bolt may be used again.
bool below(const Quantity& reading, const Quantity& limit, std::string_view what, Answer& answer) {
  if (reading.u && (reading.value - limit.value).abs() < *reading.u)
    answer.notes.push_back(fmt::format("{} is closer to its limit than its U", what));
  if (reading.value <= limit.value) return true;
  answer.notes.push_back(fmt::format("{} {} is over its limit, {}", what,
                                     quantity::text({reading.value, reading.unit, {}}),
                                     quantity::text({limit.value, limit.unit, {}})));
  return false;
}

Result<Answer> bolt_length(const Given& given) {
  const Quantity fresh = given.quantity("new");
  const Quantity measured = given.quantity("measured");
  const Quantity stretch{measured.value - fresh.value, measured.unit, combined({{1, measured.u}, {1, fresh.u}})};
  if (given.has("limit") == given.has("stretch_limit"))
    return given.has("limit") ? bad_input("stretch_limit", "stands beside limit: give one of them")
                              : bad_input("limit", "missing; give limit or stretch_limit");
  Answer answer;
  bool reuse = given.has("limit") ? below(measured, given.quantity("limit"), "the length", answer)
                                  : below(stretch, given.quantity("stretch_limit"), "the stretch", answer);
  if (given.has("necked")) {
    const Given& necked = given.records("necked").front();
    const Quantity thick = necked.quantity("thick");
    const Quantity thin = necked.quantity("thin");
    if (thin.value > thick.value) return bad_input("necked, thin", "is more than thick: the two are changed over");
    const Quantity difference{thick.value - thin.value, thick.unit, combined({{1, thick.u}, {1, thin.u}})};
    if (!below(difference, necked.quantity("limit"), "the necking", answer)) reuse = false;
  }
  if (stretch.value.sign() < 0) answer.notes.push_back("shorter than new: is it the same bolt, and measured alike?");
  answer.results = {{"stretch", stretch}, {"reuse", reuse}};
  return answer;
}

} // namespace

std::vector<Computation> thread_computations() {
  using enum Dimension;
  return {
      {.name = "thread",
       .group = "threads",
       .purpose = "Pitch and root diameter of a metric thread, and the area its stress is reckoned on.",
       .inputs = {{.name = "diameter", .dimension = length, .meaning = "nominal diameter: 10 mm for M10"},
                  {.name = "pitch", .dimension = length, .meaning = "from one thread to the next"}},
       .results = {{"d2", ResultKind::quantity, length, "pitch diameter"},
                   {"d3", ResultKind::quantity, length, "root diameter of the bolt"},
                   {"stress_area", ResultKind::quantity, area, "nominal stress area"}},
       .formula = "d2 = d - 0.649519053 p; d3 = d - 1.226869322 p; stress_area = pi/4 ((d2 + d3)/2)^2",
       .source = "ISO 68-1 and ISO 724 (diameters); ISO 898-1:2013, 9.1.6.1 (stress area)",
       .example = {R"({"diameter":"10 mm","pitch":"1.5 mm"})",
                   R"({"calculation":"thread","results":{"d2":{"value":9.0257214205,"unit":"mm"},)"
                   R"("d3":{"value":8.159696017,"unit":"mm"},"stress_area":{"value":57.9895931057,)"
                   R"("unit":"mm2"}},"notes":[]})"},
       .work = thread},
      {.name = "angle-gain",
       .group = "threads",
       .purpose = "Preload that a turn past snug adds.",
       .inputs = {{.name = "angle", .dimension = angle, .meaning = "turned from snug on"},
                  {.name = "pitch", .dimension = length, .meaning = "of the thread"},
                  {.name = "bolt_stiffness", .dimension = stiffness, .meaning = "of the bolt, as elongation gives it"},
                  {.name = "joint_stiffness", .dimension = stiffness, .meaning = "of the parts it clamps"},
                  {.name = "snug_preload",
                   .dimension = force,
                   .meaning = "preload at snug, none unless said",
                   .required = false,
                   .sign = Sign::not_negative},
                  {.name = "diameter",
                   .dimension = length,
                   .meaning = "nominal diameter, to see whether the bolt stays elastic",
                   .required = false},
                  class_field()},
       .results = {{"preload_gain", ResultKind::quantity, force, "added to what snug gave, while elastic"},
                   {"bolt_stretch", ResultKind::quantity, length, "of the bolt by the turn"}},
       .formula = "preload_gain = angle/360 p kb kj/(kb + kj); bolt_stretch = preload_gain / kb",
       .source = "geometry of a screw and two springs in a row; Shigley, Mechanical Engineering Design, 9th ed., "
                 "problems on turn of nut",
       .example = {R"({"angle":"30 deg","pitch":"1.75 mm","bolt_stiffness":"346859 N/mm",)"
                   R"("joint_stiffness":"1040577 N/mm","snug_preload":"8 kN","diameter":"12 mm","class":"10.9"})",
                   R"({"calculation":"angle-gain","results":{"preload_gain":{"value":37937.703125,"unit":"N"},)"
                   R"("bolt_stretch":{"value":0.109375,"unit":"mm"}},"notes":[]})"},
       .work = angle_gain},
      {.name = "elongation",
       .group = "threads",
       .purpose = "How far a bolt stretches under its preload, and its stiffness.",
       .inputs = {{.name = "preload", .dimension = force, .meaning = "tension in the bolt"},
                  {.name = "segments",
                   .shape = Shape::records,
                   .meaning = "pieces of one section, head to nut, 20 at most",
                   .most = 20,
                   .members = {{.name = "length", .dimension = length, .meaning = "of the piece"},
                               {.name = "area", .dimension = area, .meaning = "of its section"}}},
                  {.name = "modulus", .dimension = pressure, .meaning = "of elasticity: 205 GPa for steel"}},
       .results = {{"elongation", ResultKind::quantity, length, "of all pieces together"},
                   {"stiffness", ResultKind::quantity, stiffness, "load for each mm of it"}},
       .formula = "elongation = sum of preload length / (area modulus); stiffness = preload / elongation",
       .source = "Hooke's law; Shigley, Mechanical Engineering Design, 9th ed., table 8-7",
       .example = {R"({"preload":"39.9 kN","segments":[{"length":"40 mm","area":"113.097 mm2"},)"
                   R"({"length":"20 mm","area":"84.267 mm2"}],"modulus":"205 GPa"})",
                   R"({"calculation":"elongation","results":{"elongation":{"value":0.115032582449,)"
                   R"("unit":"mm"},"stiffness":{"value":346858.247902,"unit":"N/mm"}},"notes":[]})"},
       .work = elongation},
      {.name = "bolt-length",
       .group = "threads",
       .purpose = "Whether a stretched bolt may be used again.",
       .inputs = {{.name = "new", .dimension = length, .meaning = "length when new"},
                  {.name = "measured", .dimension = length, .meaning = "length now"},
                  {.name = "limit", .dimension = length, .meaning = "greatest length, still good", .required = false},
                  {.name = "stretch_limit",
                   .dimension = length,
                   .meaning = "greatest stretch, still good; in place of limit",
                   .required = false,
                   .sign = Sign::not_negative},
                  {.name = "necked",
                   .shape = Shape::records,
                   .meaning = "where the shank has drawn thin",
                   .required = false,
                   .most = 1,
                   .members = {{.name = "thick", .dimension = length, .meaning = "diameter where it is sound"},
                               {.name = "thin", .dimension = length, .meaning = "smallest diameter found"},
                               {.name = "limit",
                                .dimension = length,
                                .meaning = "greatest difference, still good",
                                .sign = Sign::not_negative}}}},
       .results = {{"stretch", ResultKind::quantity, length, "measured - new"},
                   {"reuse", ResultKind::truth, {}, "true when nothing is over its limit; reasons in the notes"}},
       .formula = "stretch = measured - new; reuse when measured <= limit or stretch <= stretch_limit, and thick - "
                  "thin <= its limit",
       .source = "common practice, no source; limits are the joint's own",
       .example = {R"({"new":"98.6 mm","measured":"99.41 mm","limit":"99.4 mm",)"
                   R"("necked":{"thick":"9.98 mm","thin":"9.87 mm","limit":"0.11 mm"}})",
                   R"({"calculation":"bolt-length","results":{"stretch":{"value":0.81,"unit":"mm"},)"
                   R"("reuse":false},"notes":["the length 99.41 mm is over its limit, 99.4 mm"]})"},
       .work = bolt_length}};
}

} // namespace calc
