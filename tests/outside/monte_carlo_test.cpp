// U by drawing, for the computations of form, clearance, strips, selection, deck, seals, gears, springs, judging.
// Extremes are drawn where one reading leads by more than 3 U; where several are close U is an upper bound.
#include "outside/drawn.h"

#include <algorithm>
#include <numbers>
#include <numeric>
#include <span>
#include <vector>

using namespace calculating;
using outside::drawn_together;
using outside::drawn_tolerance;
using outside::drawn_u;
using outside::draws;
using outside::Scatter;
using std::numbers::pi;

namespace {

using Names = std::vector<std::string_view>;

template <std::size_t N>
void check_drawn(const calc::Answer& found, const Names& names, const std::array<double, N>& drawn) {
  REQUIRE(names.size() == N);
  for (std::size_t i = 0; i < N; ++i) {
    INFO(names[i]);
    CHECK(u(found, names[i]) == Approx(drawn[i]).epsilon(drawn_tolerance));
  }
}

template <std::size_t N>
void check_bound(const calc::Answer& found, const Names& names, const std::array<double, N>& drawn) {
  REQUIRE(names.size() == N);
  for (std::size_t i = 0; i < N; ++i) {
    INFO(names[i]);
    CHECK(u(found, names[i]) >= (1 - drawn_tolerance) * drawn[i]);
  }
}

double u_in_list(const calc::Answer& found, std::string_view name, std::size_t at) {
  return std::get<calc::Outcomes>(*found.find(name)).at(at).quantity()->u.value().to_double();
}

// Readings that share a setting.
template <std::size_t N>
std::array<double, N> read(Scatter& around, const double (&values)[N], double own, double shared) {
  const double setting = around(0, shared);
  std::array<double, N> readings{};
  for (std::size_t i = 0; i < N; ++i) readings[i] = around(values[i], own) + setting;
  return readings;
}

double mean(std::span<const double> values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

double range(std::span<const double> values) {
  return std::ranges::max(values) - std::ranges::min(values);
}

// Smallest, largest and mean difference of two parts.
std::array<double, 3> gaps(std::span<const double> outer, std::span<const double> inner) {
  return {std::ranges::min(outer) - std::ranges::max(inner), std::ranges::max(outer) - std::ranges::min(inner),
          mean(outer) - mean(inner)};
}

} // namespace

TEST_CASE("drawn: size, roundness, taper and wear of a journal") {
  const auto found = answer(
      "form", R"({"readings":{"values":[[69.960,69.905],[69.930,69.921]],"unit":"mm","u":0.002,"u_shared":0.003},)"
              R"("nominal":{"value":69.990,"unit":"mm","u":0.001},"kind":"journal"})");
  check_drawn(found, {"max", "min", "mean", "out_of_round", "taper", "wear"}, drawn_together([](Scatter& around) {
                const auto d = read(around, {69.960, 69.905, 69.930, 69.921}, 0.002, 0.003);
                return std::array{std::ranges::max(d),
                                  std::ranges::min(d),
                                  mean(d),
                                  std::max(std::abs(d[0] - d[1]), std::abs(d[2] - d[3])),
                                  std::max(std::abs(d[0] - d[2]), std::abs(d[1] - d[3])),
                                  around(69.990, 0.001) - std::ranges::min(d)};
              }));
}

TEST_CASE("drawn: of readings all alike U of an extreme is an upper bound") {
  const auto found =
      answer("form", R"({"readings":{"values":[[70,70,70],[70,70,70]],"unit":"mm","u":0.002,"u_shared":0.001}})");
  check_bound(found, {"max", "min", "out_of_round", "taper"}, drawn_together([](Scatter& around) {
                const auto d = read(around, {70, 70, 70, 70, 70, 70}, 0.002, 0.001);
                double taper = 0;
                for (std::size_t i = 0; i < 3; ++i) taper = std::max(taper, std::abs(d[i] - d[i + 3]));
                return std::array{std::ranges::max(d), std::ranges::min(d),
                                  std::max(range(std::span(d).first(3)), range(std::span(d).last(3))), taper};
              }));
}

TEST_CASE("drawn: oil clearance, with a setting each gauge shares") {
  const auto found = answer(
      "oil-clearance", R"({"bore":{"values":[[50.060,50.030],[50.100,50.075]],"unit":"mm","u":0.004,"u_shared":0.003},)"
                       R"("journal":{"values":[[49.980,49.940],[49.950,49.935]],"unit":"mm","u":0.002,)"
                       R"("u_shared":0.001}})");
  check_drawn(found, {"min", "max", "mean"}, drawn_together([](Scatter& around) {
                const auto b = read(around, {50.060, 50.030, 50.100, 50.075}, 0.004, 0.003);
                const auto j = read(around, {49.980, 49.940, 49.950, 49.935}, 0.002, 0.001);
                const auto first = gaps(std::span(b).first(2), std::span(j).first(2));
                const auto second = gaps(std::span(b).last(2), std::span(j).last(2));
                return std::array{std::min(first[0], second[0]), std::max(first[1], second[1]), mean(b) - mean(j)};
              }));
}

TEST_CASE("drawn: clearance of a pin, of a piston") {
  const auto pin = answer("clearance", R"({"outer":{"values":[7.06,7.01],"unit":"mm","u":0.003,"u_shared":0.004},)"
                                       R"("inner":{"values":[6.97,6.93,6.90],"unit":"mm","u":0.004}})");
  check_drawn(pin, {"min", "max", "mean"}, drawn_together([](Scatter& around) {
                return gaps(read(around, {7.06, 7.01}, 0.003, 0.004), read(around, {6.97, 6.93, 6.90}, 0.004, 0));
              }));
  const auto piston =
      answer("piston-clearance", R"({"bore":{"values":[[83.062,83.041],[83.018,82.990]],"unit":"mm","u":0.003,)"
                                 R"("u_shared":0.003},"piston":{"value":82.945,"unit":"mm","u":0.004}})");
  check_drawn(
      piston, {"min", "max", "mean"}, drawn_together([](Scatter& around) {
        return gaps(read(around, {83.062, 83.041, 83.018, 82.990}, 0.003, 0.003), read(around, {82.945}, 0.004, 0));
      }));
}

TEST_CASE("drawn: clearance of a strip by its volume") {
  const auto found = answer("strip-clearance", R"({"width":{"values":[1.0,1.6],"unit":"mm","u":0.03,"u_shared":0.02},)"
                                               R"("strip_diameter":{"value":0.28,"unit":"mm","u":0.004}})");
  const auto drawn = drawn_together([](Scatter& around) {
    const double diameter = around(0.28, 0.004);
    const auto width = read(around, {1.0, 1.6}, 0.03, 0.02);
    const double wide = pi / 4 * diameter * diameter / width[1];
    const double narrow = pi / 4 * diameter * diameter / width[0];
    return std::array{(wide + narrow) / 2, narrow - wide, narrow, wide};
  });
  CHECK(u(found, "mean") == Approx(drawn[0]).epsilon(drawn_tolerance));
  CHECK(u(found, "taper") == Approx(drawn[1]).epsilon(drawn_tolerance));
  CHECK(u_in_list(found, "clearance", 0) == Approx(drawn[2]).epsilon(drawn_tolerance));
  CHECK(u_in_list(found, "clearance", 1) == Approx(drawn[3]).epsilon(drawn_tolerance));
}

TEST_CASE("drawn: clearance of a strip by its scale, U never below half a step of it") {
  const auto found = answer("strip-clearance", R"({"width":{"values":[1.1,1.3],"unit":"mm","u":0.05,"u_shared":0.04},)"
                                               R"("scale":[{"width":{"value":1.0,"unit":"mm","u":0.02},)"
                                               R"("clearance":{"value":0.062,"unit":"mm","u":0.002}},)"
                                               R"({"width":"1.5 mm","clearance":"0.041 mm"}]})");
  const auto drawn = drawn_together([](Scatter& around) {
    const double own = around(0, 0.02);
    const double printed = around(0, 0.002);
    const auto width = read(around, {1.1, 1.3}, 0.05, 0.04);
    const auto at = [&](double w) { return printed + 0.041 + 0.063 * (1 / (w + own) - 1 / 1.5); };
    return std::array{(at(width[0]) + at(width[1])) / 2, at(width[0]) - at(width[1]), at(width[0]), at(width[1])};
  });
  check_bound(found, {"mean", "taper"}, std::array{drawn[0], drawn[1]});
  CHECK(u_in_list(found, "clearance", 0) >= drawn[2]);
  CHECK(u_in_list(found, "clearance", 1) >= drawn[3]);
}

TEST_CASE("drawn: a strip against sizes") {
  const auto found = answer("strip-agreement", R"({"strip":{"value":0.048,"unit":"mm","u":0.006,"u_shared":0.005},)"
                                               R"("computed":{"value":0.055,"unit":"mm","u":0.007}})");
  check_drawn(found, {"difference"}, drawn_together([](Scatter& around) {
                return std::array{around(0.048, 0.006) + around(0, 0.005) - around(0.055, 0.007)};
              }));
}

TEST_CASE("drawn: end play and its spread, the dial's setting cancelling") {
  const auto found = answer("end-play", R"({"readings":{"values":[[0.01,0.22],[0,0.15],[-0.01,0.08]],"unit":"mm",)"
                                        R"("u":0.006,"u_shared":0.02}})");
  check_drawn(found, {"play", "spread"}, drawn_together([](Scatter& around) {
                const auto d = read(around, {0.01, 0.22, 0, 0.15, -0.01, 0.08}, 0.006, 0.02);
                const std::array plays = {std::abs(d[0] - d[1]), std::abs(d[2] - d[3]), std::abs(d[4] - d[5])};
                return std::array{mean(plays), range(plays)};
              }));
}

TEST_CASE("drawn: end play with another pair of thrust washers of one size") {
  const auto found = answer("thrust-selection", R"({"play":{"value":0.34,"unit":"mm","u":0.01},)"
                                                R"("fitted":{"values":[2.310,2.312],"unit":"mm","u":0.006,)"
                                                R"("u_shared":0.004},"low":"0.10 mm","high":"0.20 mm",)"
                                                R"("available":{"values":[2.36,2.41,2.46],"unit":"mm","u":0.005}})");
  check_drawn(found, {"choice", "play_after"}, drawn_together([](Scatter& around) {
                const auto fitted = read(around, {2.310, 2.312}, 0.006, 0.004);
                const double size = around(2.41, 0.005);
                return std::array{size, around(0.34, 0.01) + fitted[0] + fitted[1] - 2 * size};
              }));
}

TEST_CASE("drawn: gap of a ring in another bore") {
  const auto found = answer("ring-gap", R"({"gap":{"value":0.30,"unit":"mm","u":0.02},)"
                                        R"("gauge_bore":{"value":83,"unit":"mm","u":0.004},)"
                                        R"("working_bore":{"value":83.062,"unit":"mm","u":0.006}})");
  check_drawn(found, {"gap_at_working", "per_bore"}, drawn_together([](Scatter& around) {
                const double working = around(83.062, 0.006);
                const double gap = around(0.30, 0.02) + pi * (working - around(83, 0.004));
                return std::array{gap, gap / working};
              }));
}

TEST_CASE("drawn: protrusion of each cylinder, the highest and their spread") {
  const auto found = answer("protrusion", R"({"readings":{"values":[[0.62,0.64],[0.70,0.72],[0.52,null]],"unit":"mm",)"
                                          R"("u":0.008,"u_shared":0.010},"grades":[)"
                                          R"({"name":"one","from":"0.40 mm","to":"1 mm"}]})");
  const auto drawn = drawn_together([](Scatter& around) {
    const auto d = read(around, {0.62, 0.64, 0.70, 0.72, 0.52}, 0.008, 0.010);
    const std::array height = {(d[0] + d[1]) / 2, (d[2] + d[3]) / 2, d[4]};
    return std::array{std::ranges::max(height), range(height), height[0], height[1], height[2]};
  });
  check_drawn(found, {"highest", "spread"}, std::array{drawn[0], drawn[1]});
  for (std::size_t i = 0; i < 3; ++i)
    CHECK(u_in_list(found, "per_cylinder", i) == Approx(drawn[i + 2]).epsilon(drawn_tolerance));
}

TEST_CASE("drawn: a cylinder is no further above the mean of all than its readings let it be known") {
  // The grade turns when the excess of the highest, 0.0575 mm, may pass the step allowed: at its own U, which knows no
  // setting that all share.
  const double excess_u = drawn_u([](Scatter& around) {
    const auto d = read(around, {0.60, 0.60, 0.60, 0.68}, 0.008, 0.05);
    return d[3] - mean(d);
  });
  const auto grade = [](double exceed) {
    return written(answer("protrusion", R"({"readings":{"values":[[0.60],[0.60],[0.60],[0.68]],"unit":"mm","u":0.008,)"
                                        R"("u_shared":0.05},"grades":[{"name":"thin","from":"0.40 mm","to":"0.80 mm"},)"
                                        R"({"name":"thick","from":"0.80 mm","to":"1 mm"}],"basis":"mean","exceed":)" +
                                            ("{\"value\":" + std::to_string(exceed) + R"(,"unit":"mm"}})")),
                   "grade");
  };
  CHECK(grade(0.06 + excess_u * 1.02) == "\"thin\"");
  CHECK(grade(0.06 + excess_u * 0.98) == "null");
  CHECK(grade(0.06 - excess_u * 0.98) == "null");
  CHECK(grade(0.06 - excess_u * 1.02) == "\"thick\"");
}

TEST_CASE("drawn: backlash and its angle") {
  const auto found = answer("backlash", R"({"indicator":{"values":[0.10,0.15,0.20,0.25],"unit":"mm","u":0.01,)"
                                        R"("u_shared":0.006},"indicator_radius":{"value":42,"unit":"mm","u":1.5},)"
                                        R"("pitch_radius":{"value":35,"unit":"mm","u":0.8}})");
  check_drawn(found, {"min", "max", "mean", "angle"}, drawn_together([](Scatter& around) {
                const auto play = read(around, {0.10, 0.15, 0.20, 0.25}, 0.01, 0.006);
                const double at = around(42, 1.5);
                const double lever = around(35, 0.8) / at;
                return std::array{std::ranges::min(play) * lever, std::ranges::max(play) * lever, mean(play) * lever,
                                  mean(play) / at * 180 / pi};
              }));
}

TEST_CASE("drawn: the worst gap under a straightedge and its part of the one allowed") {
  const auto found = answer("straightedge", R"({"lines":[{"name":"edge","enters":"0.03 mm","refuses":"0.04 mm",)"
                                            R"("length":"420 mm"},{"name":"diagonal","enters":"0.08 mm",)"
                                            R"("refuses":{"value":0.09,"unit":"mm","u":0.004},)"
                                            R"("length":{"value":450,"unit":"mm","u":8}}],)"
                                            R"("per_length":{"gap":{"value":0.03,"unit":"mm","u":0.001},)"
                                            R"("length":{"value":150,"unit":"mm","u":3}}})");
  check_drawn(found, {"worst", "ratio"}, drawn_together([](Scatter& around) {
                const double worst = around(0.09, 0.004);
                return std::array{worst, worst / around(450, 8) / (around(0.03, 0.001) / around(150, 3))};
              }));
}

TEST_CASE("drawn: tilt of a seal, where it is deepest and what the tilt leaves") {
  const auto found =
      answer("seal-squareness", R"({"depths":{"values":[4.32,4.20,4.02,4.14],"unit":"mm","u":0.02,"u_shared":0.05},)"
                                R"("diameter":{"value":70,"unit":"mm","u":2}})");
  const auto drawn = drawn_together([](Scatter& around) {
    const auto z = read(around, {4.32, 4.20, 4.02, 4.14}, 0.02, 0.05);
    const double x = z[0] - z[2];
    const double y = z[1] - z[3];
    return std::array{std::hypot(x, y), std::atan(std::hypot(x, y) / around(70, 2)) * 180 / pi,
                      std::atan2(y, x) * 180 / pi, mean(z), std::abs(z[0] - z[1] + z[2] - z[3]) / 2};
  });
  check_drawn(found, {"runout", "tilt", "deepest_at", "mean"}, std::array{drawn[0], drawn[1], drawn[2], drawn[3]});
  check_bound(found, {"residual"}, std::array{drawn[4]});
}

TEST_CASE("drawn: rate, free length and installed load of a spring") {
  const auto found = answer("spring", R"({"loads":{"values":[310,850],"unit":"N","u":6,"u_shared":4},)"
                                      R"("lengths":{"values":[40.5,29.5],"unit":"mm","u":0.05,"u_shared":0.08},)"
                                      R"("installed":{"value":36,"unit":"mm","u":0.1}})");
  check_drawn(found, {"rate", "free_length", "load_installed"}, drawn_together([](Scatter& around) {
                const auto load = read(around, {310, 850}, 6, 4);
                const auto length = read(around, {40.5, 29.5}, 0.05, 0.08);
                const double rate = (load[1] - load[0]) / (length[0] - length[1]);
                const double free_length = length[0] + load[0] / rate;
                return std::array{rate, free_length, rate * (free_length - around(36, 0.1))};
              }));
}

TEST_CASE("drawn: a lash shim and the lash it leaves") {
  const auto found =
      answer("lash-shim", R"({"measured":{"value":0.32,"unit":"mm","u":0.02,"u_shared":0.01},)"
                          R"("target":{"value":0.25,"unit":"mm","u":0.004},)"
                          R"("fitted":{"value":2.65,"unit":"mm","u":0.006},"ratio":1.5,)"
                          R"("available":{"values":[2.60,2.70],"unit":"mm","u":0.003,"u_shared":0.002}})");
  check_drawn(
      found, {"wanted", "choice", "lash_after"}, drawn_together([](Scatter& around) {
        const double measured = around(0.32, 0.02) + around(0, 0.01);
        const double fitted = around(2.65, 0.006);
        const double choice = around(2.70, 0.003) + around(0, 0.002);
        return std::array{fitted + (measured - around(0.25, 0.004)) / 1.5, choice, measured + 1.5 * (fitted - choice)};
      }));
}

TEST_CASE("drawn: a nozzle's shim and the pressure it sets") {
  const auto found = answer("shim-selection", R"({"measured":{"value":118,"unit":"bar","u":1.5,"u_shared":0.8},)"
                                              R"("target":{"value":125,"unit":"bar","u":0.5},"change_per_mm":100,)"
                                              R"("fitted":{"value":1.25,"unit":"mm","u":0.004},)"
                                              R"("available":{"values":[1.30,1.35],"unit":"mm","u":0.003}})");
  check_drawn(
      found, {"wanted", "choice", "result_after"}, drawn_together([](Scatter& around) {
        const double measured = around(118, 1.5) + around(0, 0.8);
        const double fitted = around(1.25, 0.004);
        const double choice = around(1.30, 0.003);
        return std::array{fitted + (around(125, 0.5) - measured) / 100, choice, measured + 100 * (choice - fitted)};
      }));
}

TEST_CASE("drawn: torques of the stages") {
  const auto found = answer("torque-stages", R"({"final":{"value":60,"unit":"lbf.ft","u":2.4},"fractions":[0.4,1]})");
  const auto drawn = drawn_together([](Scatter& around) {
    const double torque = around(60, 2.4) * 1.3558179483314004;
    return std::array{0.4 * torque, torque};
  });
  for (std::size_t i = 0; i < 2; ++i) CHECK(u_in_list(found, "stages", i) == Approx(drawn[i]).epsilon(drawn_tolerance));
}

TEST_CASE("drawn: a mean of readings with a stated U and a shared setting") {
  const auto found = answer("mean-of", R"({"values":{"values":[5,5,5,5,5,5],"unit":"bar","u":0.06,"u_shared":0.02}})");
  const double drawn = drawn_u([](Scatter& around) { return mean(read(around, {5, 5, 5, 5, 5, 5}, 0.06, 0.02)); });
  CHECK(u(found, "mean") == Approx(drawn).epsilon(drawn_tolerance));
  CHECK(value(found, "u") == Approx(drawn).epsilon(drawn_tolerance));
}

TEST_CASE("drawn: the scatter of readings tells the U of their mean") {
  // Many times ten readings with a standard deviation of 1: U of the mean is 2 / sqrt(10), in the root mean square.
  Scatter scatter;
  constexpr int trials = 400;
  double squares = 0;
  for (int i = 0; i < trials; ++i) {
    std::string values;
    for (int k = 0; k < 10; ++k) values += (k ? "," : "") + std::to_string(scatter(50, 2));
    const double found = value(answer("mean-of", R"({"values":)" + mm("[" + values + "]") + "}"), "u");
    squares += found * found / trials;
  }
  CHECK(std::sqrt(squares) == Approx(2 / std::sqrt(10)).epsilon(0.04)); // known to 1.2 % after 400 trials
}

TEST_CASE("drawn: what another unit makes of U") {
  const auto warm = answer("convert", R"({"value":70,"unit":"degF","u":3,"to":"degC"})");
  check_drawn(warm, {"converted"},
              drawn_together([](Scatter& around) { return std::array{(around(70, 3) - 32) / 1.8}; }));
  const auto turn = answer("convert", R"({"value":90,"unit":"deg","u":2,"to":"rad"})");
  check_drawn(turn, {"converted"},
              drawn_together([](Scatter& around) { return std::array{around(90, 2) * pi / 180}; }));
}

TEST_CASE("drawn: the probability that a value conforms") {
  for (const double reading : {0.0660, 0.0875, 0.0900, 0.0380}) {
    Scatter scatter;
    int conforming = 0;
    for (int i = 0; i < draws; ++i) {
      const double truth = scatter(reading, 0.004);
      conforming += truth >= 0.040 && truth <= 0.090;
    }
    const auto found = answer("verdict", R"({"value":{"value":)" + std::to_string(reading) +
                                             R"(,"unit":"mm","u":0.004},"low":"0.040 mm","high":"0.090 mm"})");
    CHECK(std::get<calc::Exact>(*found.find("probability")).to_double() ==
          Approx(conforming / double(draws)).margin(0.005)); // three standard deviations of 100 000 draws
  }
}
