// U by drawing: threads, torque and preload, turning, stretching, extensions, and parts put together.
#include "outside/drawn.h"

#include <numbers>

using namespace calculating;
using outside::drawn_tolerance;
using outside::drawn_u;
using outside::Scatter;

namespace {

constexpr double pi = std::numbers::pi;

double stress_area(double diameter, double pitch) {
  const double across = diameter - (0.649519053 + 1.226869322) / 2 * pitch;
  return pi / 4 * across * across;
}

double lever(double diameter, double pitch, double head, double friction) { // mm
  return pitch / (2 * pi) + friction * (diameter - 0.649519053 * pitch) / (2 * std::cos(pi / 6)) + friction * head / 2;
}

} // namespace

TEST_CASE("drawn: diameters and stress area of a thread") {
  const auto found = answer("thread", R"({"diameter":{"value":10,"unit":"mm","u":0.06},)"
                                      R"("pitch":{"value":1.5,"unit":"mm","u":0.05}})");
  const auto drawn = [](double depth) {
    return drawn_u([=](Scatter& around) { return around(10, 0.06) - depth * around(1.5, 0.05); });
  };
  CHECK(u(found, "d2") == Approx(drawn(0.649519053)).epsilon(drawn_tolerance));
  CHECK(u(found, "d3") == Approx(drawn(1.226869322)).epsilon(drawn_tolerance));
  CHECK(u(found, "stress_area") == Approx(drawn_u([](Scatter& around) {
                                     const double diameter = around(10, 0.06);
                                     return stress_area(diameter, around(1.5, 0.05));
                                   })).epsilon(drawn_tolerance));
}

TEST_CASE("drawn: torque for a preload, either way of friction") {
  const auto by_friction = answer("tightening-torque", R"({"preload":{"value":29600,"unit":"N","u":600},)"
                                                       R"("diameter":{"value":10,"unit":"mm","u":0.3},)"
                                                       R"("pitch":{"value":1.5,"unit":"mm","u":0.2},)"
                                                       R"("mu_thread":0.12,"mu_head":0.12,)"
                                                       R"("head_diameter":{"value":12.8,"unit":"mm","u":0.4}})");
  CHECK(u(by_friction, "torque") == Approx(drawn_u([](Scatter& around) {
                                      const double preload = around(29600, 600);
                                      const double diameter = around(10, 0.3);
                                      const double pitch = around(1.5, 0.2);
                                      return preload * lever(diameter, pitch, around(12.8, 0.4), 0.12) / 1000;
                                    })).epsilon(drawn_tolerance));
  const auto by_factor =
      answer("tightening-torque", R"({"preload":{"value":29600,"unit":"N","u":900},)"
                                  R"("diameter":{"value":10,"unit":"mm","u":0.3},"nut_factor":0.2})");
  CHECK(u(by_factor, "torque") == Approx(drawn_u([](Scatter& around) {
                                    return 0.2 * around(29600, 900) * around(10, 0.3) / 1000;
                                  })).epsilon(drawn_tolerance));
}

TEST_CASE("drawn: preload of a torque, its extremes, its stress") {
  const auto found = answer("preload", R"({"torque":{"value":48,"unit":"N.m","u":2},)"
                                       R"("diameter":{"value":10,"unit":"mm","u":0.2},)"
                                       R"("pitch":{"value":1.5,"unit":"mm","u":0.1},)"
                                       R"("mu_thread":0.12,"mu_head":0.12,)"
                                       R"("head_diameter":{"value":12.8,"unit":"mm","u":0.4},)"
                                       R"("scatter":0.2,"class":"8.8"})");
  struct Drawn {
    double preload, stress;
  };
  const auto drawn = [](Scatter& around, double friction) {
    const double torque = around(48, 2) * 1000;
    const double diameter = around(10, 0.2);
    const double pitch = around(1.5, 0.1);
    const double preload = torque / lever(diameter, pitch, around(12.8, 0.4), friction);
    return Drawn{preload, preload / stress_area(diameter, pitch)};
  };
  const auto preload_u = [&](double friction) {
    return drawn_u([&](Scatter& around) { return drawn(around, friction).preload; });
  };
  CHECK(u(found, "preload") == Approx(preload_u(0.12)).epsilon(drawn_tolerance));
  CHECK(u(found, "low") == Approx(preload_u(0.12 * 1.2)).epsilon(drawn_tolerance));
  CHECK(u(found, "high") == Approx(preload_u(0.12 * 0.8)).epsilon(drawn_tolerance));
  const double stress_u = drawn_u([&](Scatter& around) { return drawn(around, 0.12).stress; });
  CHECK(u(found, "stress") == Approx(stress_u).epsilon(drawn_tolerance));
  CHECK(u(found, "percent_of_proof") == Approx(100 * stress_u / 580).epsilon(drawn_tolerance));
}

TEST_CASE("drawn: preload and stress by a nut factor") {
  const auto found = answer("preload", R"({"torque":{"value":50,"unit":"N.m","u":2},)"
                                       R"("diameter":{"value":10,"unit":"mm","u":0.2},)"
                                       R"("pitch":{"value":1.5,"unit":"mm","u":0.1},"nut_factor":0.2})");
  CHECK(u(found, "preload") == Approx(drawn_u([](Scatter& around) {
                                 return around(50, 2) * 1000 / (0.2 * around(10, 0.2));
                               })).epsilon(drawn_tolerance));
  CHECK(u(found, "stress") == Approx(drawn_u([](Scatter& around) {
                                const double torque = around(50, 2) * 1000;
                                const double diameter = around(10, 0.2);
                                return torque / (0.2 * diameter) / stress_area(diameter, around(1.5, 0.1));
                              })).epsilon(drawn_tolerance));
}

TEST_CASE("drawn: gain of a turn and the stretch it makes") {
  const auto found = answer("angle-gain", R"({"angle":{"value":60,"unit":"deg","u":3},)"
                                          R"("pitch":{"value":1.75,"unit":"mm","u":0.04},)"
                                          R"("bolt_stiffness":{"value":346859,"unit":"N/mm","u":20000},)"
                                          R"("joint_stiffness":{"value":1040577,"unit":"N/mm","u":120000}})");
  struct Gain {
    double load, stretch;
  };
  const auto drawn = [](Scatter& around) {
    const double advance = around(60, 3) / 360 * around(1.75, 0.04);
    const double bolt = around(346859, 20000);
    const double joint = around(1040577, 120000);
    const double load = advance * bolt * joint / (bolt + joint);
    return Gain{load, load / bolt};
  };
  CHECK(u(found, "preload_gain") ==
        Approx(drawn_u([&](Scatter& around) { return drawn(around).load; })).epsilon(drawn_tolerance));
  CHECK(u(found, "bolt_stretch") ==
        Approx(drawn_u([&](Scatter& around) { return drawn(around).stretch; })).epsilon(drawn_tolerance));
}

TEST_CASE("drawn: elongation and stiffness of a bolt of two sections") {
  const auto found = answer("elongation", R"({"preload":{"value":40,"unit":"kN","u":1},"segments":[)"
                                          R"({"length":{"value":40,"unit":"mm","u":1},)"
                                          R"("area":{"value":113,"unit":"mm2","u":3}},)"
                                          R"({"length":{"value":20,"unit":"mm","u":1},)"
                                          R"("area":{"value":84,"unit":"mm2","u":2}}],)"
                                          R"("modulus":{"value":205,"unit":"GPa","u":5}})");
  struct Bolt {
    double elongation, stiffness;
  };
  const auto drawn = [](Scatter& around) {
    const double load = around(40000, 1000);
    const double shank = around(40, 1) / around(113, 3);
    const double compliance = (shank + around(20, 1) / around(84, 2)) / around(205000, 5000);
    return Bolt{load * compliance, 1 / compliance};
  };
  CHECK(u(found, "elongation") ==
        Approx(drawn_u([&](Scatter& around) { return drawn(around).elongation; })).epsilon(drawn_tolerance));
  CHECK(u(found, "stiffness") ==
        Approx(drawn_u([&](Scatter& around) { return drawn(around).stiffness; })).epsilon(drawn_tolerance));
}

TEST_CASE("drawn: stretch of a bolt measured twice") {
  const auto found = answer("bolt-length", R"({"new":{"value":98.6,"unit":"mm","u":0.03},)"
                                           R"("measured":{"value":99.1,"unit":"mm","u":0.04,"u_shared":0.02},)"
                                           R"("limit":"99.4 mm"})");
  CHECK(u(found, "stretch") == Approx(drawn_u([](Scatter& around) {
                                 return around(99.1, 0.04) + around(0, 0.02) - around(98.6, 0.03);
                               })).epsilon(drawn_tolerance));
}

TEST_CASE("drawn: setting of a wrench with an extension aslant") {
  const auto found = answer("wrench-setting", R"({"torque":{"value":100,"unit":"N.m","u":1},)"
                                              R"("wrench_length":{"value":400,"unit":"mm","u":20},)"
                                              R"("extension":{"value":120,"unit":"mm","u":4},)"
                                              R"("angle":{"value":40,"unit":"deg","u":4}})");
  CHECK(u(found, "setting") == Approx(drawn_u([](Scatter& around) {
                                 const double torque = around(100, 1);
                                 const double length = around(400, 20);
                                 const double reach = around(120, 4) * std::cos(around(40, 4) * pi / 180);
                                 return torque * length / (length + reach);
                               })).epsilon(drawn_tolerance));
}

TEST_CASE("drawn: parts of three shapes together, each drawn by its own shape") {
  const auto found = answer("uncertainty", R"({"parts":[{"name":"step","value":"3 um","shape":"rectangular"},)"
                                           R"({"name":"feel","value":"4 um","shape":"triangular","sensitivity":-2},)"
                                           R"({"name":"ring","value":"2 um","shape":"normal","k":2}]})");
  std::mt19937_64 random(5);
  std::uniform_real_distribution<double> even(-1, 1);
  std::uniform_real_distribution<double> half(-0.5, 0.5);
  CHECK(value(found, "expanded") == Approx(drawn_u([&](Scatter& around) {
                                      const double triangular = half(random) + half(random);
                                      return 3 * even(random) - 2 * 4 * triangular + around(0, 2);
                                    })).epsilon(drawn_tolerance));
}
