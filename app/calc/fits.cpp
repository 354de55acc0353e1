#include "calc/combine.h"
#include "calc/groups.h"
#include "calc/iso286.h"

namespace calc {

namespace {

struct Limits { // mm
  Exact low;
  Exact high;
};

// The limits of the part, when its class is given.
Result<std::optional<Limits>> limits_of(FitPart part, std::string_view field, const Given& given, const Exact& size) {
  if (!given.has(field)) return std::optional<Limits>();
  const auto deviations = limit_deviations(part, given.text(field), size);
  if (!deviations) return bad_input(field, deviations.error().message);
  return std::optional<Limits>({size + deviations->lower, size + deviations->upper});
}

Result<Answer> fit_limits(const Given& given) {
  const Unit& millimetre = *quantity::find_unit("mm");
  const Quantity size = quantity::in_unit(given.quantity("size"), millimetre).value();
  if (!has_limits(size.value)) return bad_input("size", "must be from 1 mm to 500 mm");
  const auto hole = limits_of(FitPart::hole, "hole", given, size.value);
  if (!hole) return hole.error();
  const auto shaft = limits_of(FitPart::shaft, "shaft", given, size.value);
  if (!shaft) return shaft.error();
  if (!*hole && !*shaft) return bad_input("hole", "give the class of the hole, of the shaft or of both");

  const auto limit = [&](const std::optional<Limits>& of, Exact Limits::*which) -> Outcome {
    if (!of) return {};
    return Quantity{(*of).*which, &millimetre, size.u};
  };
  const auto clearance = [&](Exact Limits::*of_hole, Exact Limits::*of_shaft) -> Outcome {
    if (!*hole || !*shaft) return {};
    return Quantity{(**hole).*of_hole - (**shaft).*of_shaft, &millimetre, combined({{0, size.u}})};
  };
  Answer answer;
  answer.results = {{"hole_low", limit(*hole, &Limits::low)},
                    {"hole_high", limit(*hole, &Limits::high)},
                    {"shaft_low", limit(*shaft, &Limits::low)},
                    {"shaft_high", limit(*shaft, &Limits::high)},
                    {"clearance_min", clearance(&Limits::low, &Limits::high)},
                    {"clearance_max", clearance(&Limits::high, &Limits::low)}};
  return answer;
}

} // namespace

std::vector<Computation> fit_computations() {
  using enum Dimension;
  return {{
      .name = "fit-limits",
      .group = "fits",
      .purpose = "Limits of size of a hole and a shaft from their tolerance classes, and the clearance between them.",
      .inputs = {{.name = "size", .dimension = length, .meaning = "nominal size, 1 mm to 500 mm"},
                 {.name = "hole",
                  .shape = Shape::text,
                  .meaning = "class of the hole, as H7: D E F G H JS K M N P R S with a grade from 5 to 11",
                  .required = false},
                 {.name = "shaft",
                  .shape = Shape::text,
                  .meaning = "class of the shaft, as p6: d e f g h js k m n p r s with a grade from 5 to 11",
                  .required = false}},
      .results = {{"hole_low", ResultKind::quantity, length, "smallest hole, in mm; null without a hole"},
                  {"hole_high", ResultKind::quantity, length, "largest hole, in mm; null without a hole"},
                  {"shaft_low", ResultKind::quantity, length, "smallest shaft, in mm; null without a shaft"},
                  {"shaft_high", ResultKind::quantity, length, "largest shaft, in mm; null without a shaft"},
                  {"clearance_min", ResultKind::quantity, length,
                   "hole_low - shaft_high, in mm, negative: interference; null without both"},
                  {"clearance_max", ResultKind::quantity, length,
                   "hole_high - shaft_low, in mm, negative: interference; null without both"}},
      .formula = "nominal size + fundamental deviation, and from there the standard tolerance IT of the grade; js and "
                 "JS: IT/2 either way, halves of a um kept",
      .source = "ISO 286-1:2010, tables 1 to 5",
      .example = {R"({"size":"40 mm","hole":"H7","shaft":"p6"})",
                  R"({"calculation":"fit-limits","results":{"hole_low":{"value":40,"unit":"mm"},)"
                  R"("hole_high":{"value":40.025,"unit":"mm"},"shaft_low":{"value":40.026,"unit":"mm"},)"
                  R"("shaft_high":{"value":40.042,"unit":"mm"},"clearance_min":{"value":-0.042,"unit":"mm"},)"
                  R"("clearance_max":{"value":-0.001,"unit":"mm"}},"notes":[]})"},
      .work = fit_limits,
  }};
}

} // namespace calc
