// Shaft lip seals. ISO 6194-1 was not to be had; the tolerances of its shaft and bore are with those of ISO 286.
#include "outside/ledger.h"

#include "calculating.h"

#include <fmt/format.h>

#include <cmath>

using namespace calculating;
using outside::agrees;

namespace {

const outside::Source army = {"US Army technical manuals"};
const outside::Source rolling = {"a wheel that rolls", outside::Standing::worked};

// Distance a wheel rolls, as the perimeter of a polygon of 2^20 sides drawn in and one drawn round it: between them.
struct Perimeters {
  double inside, outside;
};
Perimeters of_polygons(double diameter) {
  // Archimedes: from the hexagon on, the harmonic and then the geometric mean.
  Perimeters sides{3 * diameter, 2 * std::sqrt(3.0) * diameter};
  for (int doubling = 0; doubling < 18; ++doubling) {
    sides.outside = 2 * sides.inside * sides.outside / (sides.inside + sides.outside);
    sides.inside = std::sqrt(sides.inside * sides.outside);
  }
  return sides;
}

double lip_distance(std::string_view depth, std::string_view groove) {
  return value(answer("lip-place", fmt::format(R"({{"depth":"{} mm","lip":"4.5 mm","groove_from":"{} mm",)"
                                               R"("groove_to":"{} mm"}})",
                                               depth, groove, groove)),
               "distance");
}

} // namespace

TEST_CASE("seal depths: each of the three puts the lip beside the lines of the others") {
  // TM 5-3895-382-24 p. 6-92: a seal goes 2.3 mm deep at first, 4.6 and then 6.9 over a grooved shaft. The lip 4.5 mm
  // in is ours; it does not matter.
  const double half_digit = 0.05;
  agrees(army, "lip-place", lip_distance("4.6", "6.8"), 4.6 - 2.3, half_digit); // after the first line, at 2.3 + 4.5
  agrees(army, "lip-place", lip_distance("6.9", "6.8"), 6.9 - 2.3, half_digit); // twice over
  agrees(army, "lip-place", lip_distance("6.9", "9.1"), 6.9 - 4.6, half_digit); // after the second
  agrees(army, "lip-place", lip_distance("2.3", "9.1"), 4.6 - 2.3, half_digit); // and back again
  agrees(army, "lip-place", lip_distance("2.3", "6.8") == 0);                   // where it wore its line
}

TEST_CASE("surface speed: a turn goes the circumference, shut in between two polygons") {
  struct {
    int diameter, turns; // mm, a minute
  } const shafts[] = {{70, 3000}, {45, 3600}, {85, 2400}, {100, 1000}};
  for (const auto& [diameter, turns] : shafts) {
    const double speed =
        value(answer("surface-speed", fmt::format(R"({{"diameter":"{} mm","speed":"{} rpm"}})", diameter, turns)),
              "surface_speed");
    const Perimeters way = of_polygons(diameter / 1000.0);
    const double middle = (way.inside + way.outside) / 2 * turns / 60;
    agrees(rolling, "surface-speed", speed, middle, (way.outside - way.inside) * turns / 60 + 1e-11 * middle);
  }
  // 12 in and 1000 rpm: pi feet a turn.
  const double feet = value(answer("surface-speed", R"({"diameter":"12 in","speed":"1000 rpm"})"), "surface_speed");
  agrees(rolling, "surface-speed", feet / 0.3048 * 60, of_polygons(1000).inside, 1e-6);
}
