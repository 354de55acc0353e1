// U by drawing (see drawn.h) for faces, lines, seals, warmth and press fits.
#include "outside/drawn.h"

#include <fmt/format.h>

#include <algorithm>
#include <numbers>
#include <vector>

using namespace calculating;
using outside::drawn_together;
using outside::drawn_tolerance;
using outside::drawn_u;
using outside::Scatter;

namespace {

Approx near(double drawn) {
  return Approx(drawn).epsilon(drawn_tolerance);
}

// An upper bound, and no more than the root of two too large.
void check_bound(double reported, double drawn) {
  CHECK(reported >= 0.98 * drawn);
  CHECK(reported <= 1.02 * std::sqrt(2.0) * drawn);
}

std::string line(const std::vector<double>& heights, double u) {
  std::string points;
  for (std::size_t i = 0; i < heights.size(); ++i)
    points += fmt::format("{}[{}e3,{}]", points.empty() ? "" : ",", i, heights[i]);
  return fmt::format(R"({{"points":[{}],"unit":"um","u":{},"u_shared":9}})", points, u);
}

std::vector<double> scattered(Scatter& around, const std::vector<double>& heights, double u) {
  const double setting = around(0, 9);
  std::vector<double> drawn;
  for (const double height : heights) drawn.push_back(around(height, u) + setting);
  return drawn;
}

double range_over(const std::vector<double>& heights, double slope) {
  double low = heights[0];
  double high = heights[0];
  for (std::size_t i = 1; i < heights.size(); ++i) {
    const double above = heights[i] - slope * static_cast<double>(i);
    low = std::min(low, above);
    high = std::max(high, above);
  }
  return high - low;
}

double fitted_range(const std::vector<double>& heights) {
  const double middle = static_cast<double>(heights.size() - 1) / 2;
  double moment = 0;
  double places = 0;
  for (std::size_t i = 0; i < heights.size(); ++i) {
    const double from_middle = static_cast<double>(i) - middle;
    moment += from_middle * heights[i];
    places += from_middle * from_middle;
  }
  return range_over(heights, moment / places);
}

double least_range(const std::vector<double>& heights) {
  double least = 1e300;
  for (std::size_t i = 0; i < heights.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      least = std::min(least, range_over(heights, (heights[i] - heights[j]) / static_cast<double>(i - j)));
  return least;
}

} // namespace

TEST_CASE("drawn: a line whose neighbours stand out is as uncertain as their difference") {
  std::vector<double> heights(21);
  heights[10] = 40;
  heights[11] = -40;
  const auto found = answer("straightness", line(heights, 4));
  CHECK(u(found, "least_squares") ==
        near(drawn_u([&](Scatter& around) { return fitted_range(scattered(around, heights, 4)); })));
}

TEST_CASE("drawn: a line held by three points, one of them alone") {
  // 40 um in the middle of the first two steps of a hundred: 0.99 of the first point and 0.01 of the last against it.
  const auto found = answer("straightness", R"({"points":[[0,0],[1,40],[100,0]],"unit":"um","u":4,"u_shared":9})");
  CHECK(u(found, "minimum_zone") == near(drawn_u([](Scatter& around) {
          return std::abs(around(40, 4) - 0.99 * around(0, 4) - 0.01 * around(0, 4));
        })));
}

TEST_CASE("drawn: lines where several points are close keep below their U") {
  for (const std::vector<double>& heights :
       {std::vector<double>{0, 7, 9, 14, 6, 12, 2}, std::vector<double>{0, -4, -9, -3, 5, 8, 10}}) {
    const auto found = answer("straightness", line(heights, 2));
    const auto drawn = drawn_together([&](Scatter& around) {
      const std::vector<double> points = scattered(around, heights, 2);
      return std::array{least_range(points), fitted_range(points)};
    });
    check_bound(u(found, "minimum_zone"), drawn[0]);
    check_bound(u(found, "least_squares"), drawn[1]);
  }
  // A line as straight as can be seen: what is drawn is scatter alone.
  const std::vector<double> level(7);
  const auto found = answer("straightness", line(level, 2));
  CHECK(u(found, "minimum_zone") >= drawn_u([&](Scatter& around) { return least_range(scattered(around, level, 2)); }));
}

TEST_CASE("drawn: a face whose neighbours stand out is as uncertain as their difference") {
  std::string points;
  for (int i = 0; i < 25; ++i)
    points += fmt::format("{}[{},{},{}]", i ? "," : "", i % 5, i / 5, i == 12 ? 40 : i == 13 ? -40 : 0);
  const auto found = answer("flatness", R"({"points":[)" + points + R"(],"unit":"um","u":4,"u_shared":9})");
  CHECK(u(found, "least_squares") == near(drawn_u([](Scatter& around) {
          std::array<double, 25> heights{};
          double a = 0;
          double b = 0;
          for (int i = 0; i < 25; ++i) {
            double& height = heights.at(static_cast<std::size_t>(i));
            height = around(i == 12 ? 40 : i == 13 ? -40 : 0, 4);
            a += height * (i % 5 - 2) / 50;
            b += height * (i / 5 - 2) / 50;
          }
          return heights[12] - heights[13] + a;
        })));
}

TEST_CASE("drawn: a face held by three against one and by two against two") {
  // The point within a hundredth of a corner hangs on that corner almost alone.
  const auto dent =
      answer("flatness", R"({"points":[[0,0,0],[100,0,0],[0,100,0],[1,1,-40]],"unit":"um","u":4,"u_shared":9})");
  CHECK(u(dent, "minimum_zone") == near(drawn_u([](Scatter& around) {
          return std::abs(around(-40, 4) - 0.98 * around(0, 4) - 0.01 * around(0, 4) - 0.01 * around(0, 4));
        })));
  const auto twist =
      answer("flatness", R"({"points":[[0,0,10],[100,0,0],[0,100,0],[100,100,10]],"unit":"um","u":2,"u_shared":9})");
  const double drawn = drawn_u(
      [](Scatter& around) { return std::abs(around(10, 2) + around(10, 2) - around(0, 2) - around(0, 2)) / 2; });
  check_bound(u(twist, "minimum_zone"), drawn); // two halves on each side: the root of two larger than drawn
  check_bound(u(twist, "least_squares"), drawn);
}

TEST_CASE("drawn: a lip beside its groove, and the speed of a shaft") {
  const auto lip = answer("lip-place", R"({"depth":{"value":2.3,"unit":"mm","u":0.05,"u_shared":0.03},)"
                                       R"("lip":{"value":4.5,"unit":"mm","u":0.1},)"
                                       R"("groove_from":{"value":8,"unit":"mm","u":0.08},"groove_to":"9 mm"})");
  CHECK(u(lip, "distance") == near(drawn_u([](Scatter& around) {
          return around(8, 0.08) - around(2.3, 0.05) - around(0, 0.03) - around(4.5, 0.1);
        })));
  const auto shaft = answer("surface-speed", R"({"diameter":{"value":70,"unit":"mm","u":0.5},)"
                                             R"("speed":{"value":3000,"unit":"rpm","u":60}})");
  CHECK(u(shaft, "surface_speed") ==
        near(drawn_u([](Scatter& around) { return std::numbers::pi * around(70, 0.5) * around(3000, 60) / 60'000; })));
}

TEST_CASE("drawn: a part that is warmed to go on") {
  const auto found =
      answer("heating", R"({"interference":{"value":0.045,"unit":"mm","u":0.004},)"
                        R"("room":{"value":0.05,"unit":"mm","u":0.003},"diameter":{"value":60,"unit":"mm","u":0.5},)"
                        R"("alpha":{"value":0.0000115,"unit":"1/K","u":0.0000006},)"
                        R"("ambient":{"value":68,"unit":"degF","u":6},"highest":"400 degC"})");
  const auto drawn = drawn_together([](Scatter& around) {
    const double rise = (around(0.045, 0.004) + around(0.05, 0.003)) / (around(11.5e-6, 0.6e-6) * around(60, 0.5));
    return std::array{rise, around(68, 6) + 1.8 * rise};
  });
  CHECK(u(found, "rise") == near(drawn[0]));
  CHECK(u(found, "temperature") == near(drawn[1]));
}

TEST_CASE("drawn: a warm part read with a warm gauge") {
  const auto found = answer("temperature", R"({"reading":{"value":82.93,"unit":"mm","u":0.001},)"
                                           R"("part_at":{"value":95,"unit":"degF","u":1.8},)"
                                           R"("part_alpha":{"value":0.0000231,"unit":"1/K","u":0.000002},)"
                                           R"("gauge_at":{"value":28,"unit":"degC","u":2},)"
                                           R"("gauge_alpha":{"value":0.0000115,"unit":"1/K","u":0.000001}})");
  const auto drawn = drawn_together([](Scatter& around) {
    const double reading = around(82.93, 0.001);
    const double at_20 =
        reading * (1 + around(11.5e-6, 1e-6) * around(8, 2)) / (1 + around(23.1e-6, 2e-6) * around(15, 1));
    return std::array{at_20, at_20 - reading};
  });
  CHECK(u(found, "at_20") == near(drawn[0]));
  CHECK(u(found, "correction") == near(drawn[1]));
}

TEST_CASE("drawn: an interference, and its mean") {
  const auto found =
      answer("interference", R"({"bore":{"values":[40.00,40.02],"unit":"mm","u":0.003,"u_shared":0.002},)"
                             R"("part":{"values":[40.05,40.07],"unit":"mm","u":0.004,"u_shared":0.001}})");
  const auto drawn = drawn_together([](Scatter& around) {
    const double bore_setting = around(0, 0.002);
    const double part_setting = around(0, 0.001);
    const double bore[] = {around(40.00, 0.003) + bore_setting, around(40.02, 0.003) + bore_setting};
    const double part[] = {around(40.05, 0.004) + part_setting, around(40.07, 0.004) + part_setting};
    return std::array{std::min(part[0], part[1]) - std::max(bore[0], bore[1]),
                      std::max(part[0], part[1]) - std::min(bore[0], bore[1]),
                      (part[0] + part[1] - bore[0] - bore[1]) / 2};
  });
  CHECK(u(found, "min") == near(drawn[0]));
  CHECK(u(found, "max") == near(drawn[1]));
  CHECK(u(found, "mean") == near(drawn[2]));
}
