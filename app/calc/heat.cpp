// What warmth does to sizes: how hot a part must be to go on, and what a warm part reads at 20 degC.
#include "calc/combine.h"
#include "calc/groups.h"

#include <fmt/format.h>

namespace calc {

namespace {

const Unit& kelvin() {
  return *quantity::find_unit("K");
}
const Unit& celsius() {
  return *quantity::find_unit("degC");
}

// U of a temperature in kelvins.
std::optional<Exact> kelvins(const Quantity& temperature) {
  if (!temperature.u) return std::nullopt;
  return quantity::convert_difference(*temperature.u, *temperature.unit, kelvin());
}

Result<Answer> heating(const Given& given) {
  const Quantity interference = given.quantity("interference");
  const Quantity room = given.quantity("room");
  const Quantity diameter = given.quantity("diameter");
  const Quantity alpha = given.quantity("alpha");
  const Quantity ambient = given.quantity("ambient");
  const Quantity highest = given.quantity("highest");
  if (alpha.value.sign() <= 0) return bad_input("alpha", "must be greater than 0: warmth would not open the part");
  const Exact per_length = Exact(1) / (alpha.value * diameter.value);
  const Exact rise = (interference.value + room.value) * per_length;
  const auto rise_u = combined({{per_length, interference.u},
                                {per_length, room.u},
                                {rise / alpha.value, alpha.u},
                                {rise / diameter.value, diameter.u}});
  const Exact degree = quantity::convert_difference(1, kelvin(), *ambient.unit);
  const Exact temperature = ambient.value + rise * degree;
  if (temperature > highest.value)
    return bad_input("highest", fmt::format("the part would have to be at {}, above the {} its temper bears: press it, "
                                            "or cool the other part",
                                            quantity::text({Exact::rounded(temperature.to_double()), ambient.unit, {}}),
                                            quantity::text({highest.value, highest.unit, {}})));
  Answer answer;
  answer.results = {{"rise", Quantity{rise, &kelvin(), rise_u}},
                    {"temperature", Quantity{temperature, ambient.unit, combined({{degree, rise_u}, {1, ambient.u}})}}};
  if (rise.sign() <= 0) answer.notes.push_back("the part has this much room as it is: it needs no heat");
  return answer;
}

// 1 + alpha (temperature - 20 degC), and what it rests on.
struct Expansion {
  Quantity alpha;
  Quantity at;
  Exact over; // kelvins above 20 degC
  Exact factor;
};

Expansion expansion(const Quantity& at, const Quantity& alpha) {
  const Exact over = quantity::convert(at.value, *at.unit, celsius()) - Exact(20);
  return {alpha, at, over, Exact(1) + alpha.value * over};
}

// U of a size whose expansion counts once, for each of it.
std::vector<Part> parts(const Expansion& of, const Exact& size) {
  return {{size * of.over / of.factor, of.alpha.u}, {size * of.alpha.value / of.factor, kelvins(of.at)}};
}

Result<Answer> size_at_20(const Given& given) {
  const Quantity reading = given.quantity("reading");
  const Expansion part = expansion(given.quantity("part_at"), given.quantity("part_alpha"));
  const Expansion gauge = expansion(given.quantity("gauge_at"), given.quantity("gauge_alpha"));
  if (part.factor.sign() <= 0) return bad_input("part_at", "the part would have no size left at this temperature");
  if (gauge.factor.sign() <= 0) return bad_input("gauge_at", "the gauge would have no size left at this temperature");
  const Exact ratio = gauge.factor / part.factor;
  const Exact at_20 = reading.value * ratio;
  std::vector<Part> shares = parts(part, at_20);
  for (const Part& share : parts(gauge, at_20)) shares.push_back(share);
  const auto with_reading = [&](const Exact& sensitivity) {
    std::vector<Part> all = shares;
    all.push_back({sensitivity, reading.u});
    return combined(all);
  };
  Answer answer;
  answer.results = {{"at_20", Quantity{at_20, reading.unit, with_reading(ratio)}},
                    {"correction", Quantity{at_20 - reading.value, reading.unit, with_reading(ratio - Exact(1))}}};
  if ((part.over - gauge.over).abs() > Exact(3))
    answer.notes.push_back(
        "part and gauge are more than 3 K apart: let them come to one temperature and measure again");
  return answer;
}

Field warmth(std::string_view name, std::string_view meaning) {
  return {.name = name, .dimension = Dimension::temperature, .meaning = meaning, .sign = Sign::any};
}
Field expands(std::string_view name, std::string_view meaning) {
  return {.name = name, .dimension = Dimension::expansion, .meaning = meaning, .sign = Sign::any};
}

Computation heating_a_part() {
  using enum Dimension;
  return {.name = "heating",
          .group = "heat",
          .purpose = "How warm a gear or bearing must be to drop over a shaft that is larger than its bore.",
          .inputs = {{.name = "interference",
                      .dimension = length,
                      .meaning = "shaft less bore, both cold; negative: loose",
                      .sign = Sign::any},
                     {.name = "room",
                      .dimension = length,
                      .meaning = "clearance wanted while it goes on",
                      .sign = Sign::not_negative},
                     {.name = "diameter", .dimension = length, .meaning = "of the bore"},
                     expands("alpha", "expansion of the heated part, 1.15e-5 1/K for steel; above 0"),
                     warmth("ambient", "temperature both are at now"),
                     warmth("highest", "temperature the part's temper bears")},
          .results = {{"rise", ResultKind::quantity, Dimension::temperature, "in K, above ambient"},
                      {"temperature", ResultKind::quantity, Dimension::temperature, "of the part as it goes on"}},
          .formula = "rise = (interference + room) / (alpha diameter); temperature = ambient + rise, refused above "
                     "highest",
          .source = "common practice, no source; linear expansion as in D. A. Swyt, J. Res. NIST 99 (1994) 31",
          .example = {R"({"interference":"0.045 mm","room":"0.05 mm","diameter":"60 mm",)"
                      R"("alpha":{"value":0.0000115,"unit":"1/K"},"ambient":"20 degC","highest":"180 degC"})",
                      R"({"calculation":"heating","results":{"rise":{"value":137.68115942,"unit":"K"},)"
                      R"("temperature":{"value":157.68115942,"unit":"degC"}},"notes":[]})"},
          .work = heating};
}

Computation correcting_a_reading() {
  using enum Dimension;
  return {.name = "temperature",
          .group = "heat",
          .purpose = "Size at 20 degC of a part measured warm or cold, with a gauge that may be warm or cold too.",
          .inputs = {{.name = "reading", .dimension = length, .meaning = "what the gauge shows", .sign = Sign::any},
                     warmth("part_at", "temperature of the part"),
                     expands("part_alpha", "expansion of the part"),
                     warmth("gauge_at", "temperature of the gauge"),
                     expands("gauge_alpha", "expansion of the gauge, or of what it was set with")},
          .results = {{"at_20", ResultKind::quantity, length, "size at 20 degC"},
                      {"correction", ResultKind::quantity, length, "at_20 - reading"}},
          .formula = "at_20 = reading (1 + gauge_alpha (gauge_at - 20)) / (1 + part_alpha (part_at - 20))",
          .source = "ISO 1 (20 degC); JCGM 100:2008, H.1 (a gauge block and its expansion)",
          .example = {R"({"reading":"82.930 mm","part_at":"26 degC","part_alpha":{"value":0.0000231,"unit":"1/K"},)"
                      R"("gauge_at":"24 degC","gauge_alpha":{"value":0.0000115,"unit":"1/K"}})",
                      R"({"calculation":"temperature","results":{"at_20":{"value":82.9223217462,"unit":"mm"},)"
                      R"("correction":{"value":-0.00767825379402,"unit":"mm"}},"notes":[]})"},
          .work = size_at_20};
}

} // namespace

std::vector<Computation> heat_computations() {
  return {heating_a_part(), correcting_a_reading()};
}

} // namespace calc
