// U by drawing, for limits of size, gears and the crank's place.
#include "outside/drawn.h"

#include <numbers>

using namespace calculating;
using outside::drawn_tolerance;
using outside::drawn_u;
using outside::Scatter;

namespace {

constexpr double degree = std::numbers::pi / 180;

double drop(double stroke, double rod, double angle) {
  const double radius = stroke / 2;
  const double lean = radius / rod * std::sin(angle * degree);
  return radius * (1 - std::cos(angle * degree)) + rod * (1 - std::sqrt(1 - lean * lean));
}

// By the law of cosines, in the triangle of crank, rod and the line from the crank's centre to the pin.
double angle(double stroke, double rod, double down) {
  const double radius = stroke / 2;
  const double line = radius + rod - down;
  return std::acos((radius * radius + line * line - rod * rod) / (2 * radius * line)) / degree;
}

std::string crank(std::string_view given) {
  return R"({"stroke":{"value":92,"unit":"mm","u":0.05},"rod_length":{"value":158,"unit":"mm","u":0.2},)" +
         std::string(given) + "}";
}

} // namespace

TEST_CASE("drawn: a limit of size and a clearance from an uncertain size") {
  const auto found = answer("fit-limits", R"({"size":{"value":40,"unit":"mm","u":0.004},"hole":"H7","shaft":"p6"})");
  CHECK(u(found, "hole_high") ==
        Approx(drawn_u([](Scatter& around) { return around(40, 0.004) + 0.025; })).epsilon(drawn_tolerance));
  CHECK(u(found, "shaft_low") ==
        Approx(drawn_u([](Scatter& around) { return around(40, 0.004) + 0.026; })).epsilon(drawn_tolerance));
  CHECK(u(found, "clearance_max") == Approx(drawn_u([](Scatter& around) {
                                       const double size = around(40, 0.004);
                                       return size + 0.025 - (size + 0.026);
                                     })).margin(1e-12));
}

TEST_CASE("drawn: backlash of centres that moved, with an uncertain pressure angle") {
  const auto found = answer("centre-distance", R"({"change":{"value":0.08,"unit":"mm","u":0.006},)"
                                               R"("pressure_angle":{"value":20,"unit":"deg","u":1}})");
  CHECK(u(found, "backlash_change") == Approx(drawn_u([](Scatter& around) {
                                         return 2 * around(0.08, 0.006) * std::tan(around(20, 1) * degree);
                                       })).epsilon(drawn_tolerance));
}

TEST_CASE("drawn: dead centre and the pointer's offset") {
  const auto found = answer("dead-centre", R"({"stop_before":{"value":338.5,"unit":"deg","u":0.5,"u_shared":0.2},)"
                                           R"("stop_after":{"value":24.5,"unit":"deg","u":0.8}})");
  const double drawn = drawn_u([](Scatter& around) {
    const double setting = around(0, 0.2);
    return (around(338.5, 0.5) + setting - 360 + around(24.5, 0.8)) / 2;
  });
  CHECK(u(found, "centre") == Approx(drawn).epsilon(drawn_tolerance));
  CHECK(u(found, "offset") == Approx(drawn).epsilon(drawn_tolerance));
}

TEST_CASE("drawn: drop of a piston at a crank angle") {
  for (const double at : {60.0, 90.0, 135.0, 300.0}) {
    INFO(at);
    const auto found =
        answer("crank-position", crank(R"("angle":{"value":)" + std::to_string(at) + R"(,"unit":"deg","u":0.3})"));
    CHECK(u(found, "drop") == Approx(drawn_u([&](Scatter& around) {
                                return drop(around(92, 0.05), around(158, 0.2), around(at, 0.3));
                              })).epsilon(drawn_tolerance));
  }
}

TEST_CASE("drawn: crank angle at a drop of the piston") {
  for (const double down : {10.0, 46.0, 80.0}) {
    INFO(down);
    const auto found =
        answer("crank-position", crank(R"("drop":{"value":)" + std::to_string(down) + R"(,"unit":"mm","u":0.05})"));
    CHECK(u(found, "angle") == Approx(drawn_u([&](Scatter& around) {
                                 return angle(around(92, 0.05), around(158, 0.2), around(down, 0.05));
                               })).epsilon(drawn_tolerance));
  }
}

TEST_CASE("drawn: at dead centre U of the drop is not less than what is drawn") {
  const auto found = answer("crank-position", crank(R"("angle":{"value":0,"unit":"deg","u":2})"));
  const double drawn = drawn_u([](Scatter& around) { return drop(92, 158, around(0, 2)); });
  CHECK(drawn > 0.01);
  CHECK(u(found, "drop") >= 0.98 * drawn);
}

TEST_CASE("drawn: along a rim, both ways") {
  const auto arc = answer("rim", R"({"diameter":{"value":300,"unit":"mm","u":1.5},)"
                                 R"("angle":{"value":19,"unit":"deg","u":0.25}})");
  CHECK(u(arc, "arc") == Approx(drawn_u([](Scatter& around) {
                           return std::numbers::pi * around(300, 1.5) * around(19, 0.25) / 360;
                         })).epsilon(drawn_tolerance));
  const auto turned = answer("rim", R"({"diameter":{"value":300,"unit":"mm","u":4},)"
                                    R"("arc":{"value":50,"unit":"mm","u":0.5}})");
  CHECK(u(turned, "angle") == Approx(drawn_u([](Scatter& around) {
                                return 360 * around(50, 0.5) / (std::numbers::pi * around(300, 4));
                              })).epsilon(drawn_tolerance));
}
