// What plain geometry says, worked out another way than the program does. Geometry needs no document; where a rule of
// the bench is checked instead it says "common practice, no source".
#include "calculating.h"

#include <fmt/format.h>

#include <cmath>
#include <numbers>
#include <random>

using namespace calculating;
using std::numbers::pi;

namespace {

struct Plane {
  double c, a, b; // depth = c + a x + b y
};

// Least squares by the normal equations, solved by Cramer's rule.
Plane fitted_plane(const std::vector<double>& x, const std::vector<double>& y, const std::vector<double>& z) {
  double n = 0, sx = 0, sy = 0, sz = 0, xx = 0, xy = 0, yy = 0, xz = 0, yz = 0;
  for (std::size_t i = 0; i < z.size(); ++i) {
    n += 1;
    sx += x[i];
    sy += y[i];
    sz += z[i];
    xx += x[i] * x[i];
    xy += x[i] * y[i];
    yy += y[i] * y[i];
    xz += x[i] * z[i];
    yz += y[i] * z[i];
  }
  const auto det = [](double a, double b, double c, double d, double e, double f, double g, double h, double i) {
    return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  };
  const double whole = det(n, sx, sy, sx, xx, xy, sy, xy, yy);
  return {det(sz, sx, sy, xz, xx, xy, yz, xy, yy) / whole, det(n, sz, sy, sx, xz, xy, sy, yz, yy) / whole,
          det(n, sx, sz, sx, xx, xz, sy, xy, yz) / whole};
}

} // namespace

TEST_CASE("seal depths: the harmonic is the least-squares plane over the circle") {
  std::mt19937 random(20);
  for (int trial = 0; trial < 50; ++trial) {
    const std::size_t count = 3 + random() % 10;
    const double radius = 20 + static_cast<double>(random() % 100) / 2;
    std::vector<double> x, y, z;
    std::string depths;
    for (std::size_t i = 0; i < count; ++i) {
      const double turn = 2 * pi * static_cast<double>(i) / static_cast<double>(count);
      const int hundredths = 400 + static_cast<int>(random() % 60);
      x.push_back(radius * std::cos(turn));
      y.push_back(radius * std::sin(turn));
      z.push_back(hundredths / 100.0);
      depths += fmt::format("{}{}.{:02}", i ? "," : "", hundredths / 100, hundredths % 100);
    }
    const Plane plane = fitted_plane(x, y, z);
    const double slope = std::hypot(plane.a, plane.b);
    double low = 1e9, high = -1e9;
    for (std::size_t i = 0; i < count; ++i) {
      const double left = z[i] - plane.c - plane.a * x[i] - plane.b * y[i];
      low = std::min(low, left);
      high = std::max(high, left);
    }
    const auto found = answer("seal-squareness", R"({"depths":)" + mm("[" + depths + "]") +
                                                     fmt::format(R"(,"diameter":"{} mm"}})", 2 * radius));
    INFO(depths);
    CHECK(value(found, "mean") == Approx(plane.c).epsilon(1e-9));
    CHECK(value(found, "runout") == Approx(2 * radius * slope).epsilon(1e-9).margin(1e-12));
    CHECK(value(found, "tilt") == Approx(std::atan(slope) * 180 / pi).epsilon(1e-9).margin(1e-12));
    if (slope > 1e-9) {
      const double way = std::atan2(plane.b, plane.a) * 180 / pi;
      CHECK(value(found, "deepest_at") == Approx(way < 0 ? way + 360 : way).epsilon(1e-9).margin(1e-9));
    }
    if (count > 3) CHECK(value(found, "residual") == Approx(high - low).epsilon(1e-9).margin(1e-12));
  }
}

TEST_CASE("seal depths: four depths worked by hand from opposite pairs") {
  // tx = (z0 - z180)/D, ty = (z90 - z270)/D, run-out = D sqrt(tx^2 + ty^2)
  const auto found =
      answer("seal-squareness", R"({"depths":)" + mm("[4.02,4.10,4.12,4.04]") + R"(,"diameter":"70 mm"})");
  CHECK(value(found, "runout") == Approx(0.116619).margin(5e-7));
  CHECK(value(found, "tilt") == Approx(0.095454).margin(5e-7));
  CHECK(value(found, "deepest_at") == Approx(149.0362).margin(5e-5));
  CHECK(value(found, "residual") == 0);
}

TEST_CASE("gauging strip: the pressed section has the area of the round one") {
  for (const auto& [width, clearance] : {std::pair{"2.4630", 0.025}, {"1.2074", 0.051}, {"0.8102", 0.076}}) {
    const auto found =
        answer("strip-clearance", fmt::format(R"({{"width":"{} mm","strip_diameter":"0.28 mm"}})", width));
    CHECK(value(found, "mean") == Approx(clearance).epsilon(1e-4));
    const double round_area = pi * 0.14 * 0.14;
    CHECK(value(found, "mean") * std::stod(width) == Approx(round_area).epsilon(1e-11));
  }
}

TEST_CASE("backlash: the same turn of the gear moves every radius by its own arc") {
  const auto found = answer("backlash", R"({"indicator":"0.10 mm","indicator_radius":"35 mm","pitch_radius":"42 mm"})");
  const double turn = value(found, "angle") * pi / 180;
  CHECK(turn * 35 == Approx(0.10).epsilon(1e-11));
  CHECK(turn * 42 == Approx(value(found, "mean")).epsilon(1e-11));
  CHECK(value(found, "angle") * 60 == Approx(9.8221).margin(5e-5)); // minutes of arc
}

TEST_CASE("ring gap: the ring's length stays, the bore's circumference grows") {
  const double circumference = pi * 83.000;
  const double ring = circumference - 0.30;
  const auto found = answer("ring-gap", R"({"gap":"0.30 mm","gauge_bore":"83.000 mm","working_bore":"83.062 mm"})");
  CHECK(value(found, "gap_at_working") == Approx(pi * 83.062 - ring).epsilon(1e-9));
  CHECK(value(found, "per_bore") == Approx((pi * 83.062 - ring) / 83.062).epsilon(1e-9));
}

TEST_CASE("straightedge: a hollow face takes the blades its profile has room for") {
  // Heights in um every 50 mm; the edge rests on the two ends.
  const std::vector<double> profile = {0, -12, -20, -24, -18, -9, 4};
  double gap = 0;
  for (std::size_t i = 0; i < profile.size(); ++i) {
    const double edge = profile.front() + (profile.back() - profile.front()) * static_cast<double>(i) / 6;
    gap = std::max(gap, edge - profile[i]);
  }
  CHECK(gap == Approx(26));
  const int enters = static_cast<int>(gap / 5) * 5; // blades of 5 um steps
  const auto found =
      answer("straightedge", fmt::format(R"({{"lines":[{{"name":"along","enters":"{} um","refuses":"{} um",)"
                                         R"("length":"300 mm"}}]}})",
                                         enters, enters + 5));
  CHECK(value(found, "worst") == 30);
  CHECK(value(found, "worst") >= gap); // never less than the gap there is
}

TEST_CASE("end play: a dial set anywhere shows the same swing") {
  // Common practice, no source: pry one way, read, pry the other way, read.
  for (const char* zero : {"-0.7", "0", "0.31"}) {
    const double start = std::stod(zero);
    const auto found = answer("end-play", fmt::format(R"({{"readings":{{"values":[[{:.3f},{:.3f}],[{:.3f},{:.3f}]],)"
                                                      R"("unit":"mm"}}}})",
                                                      start, start + 0.152, start + 0.148, start));
    CHECK(written(found, "play") == R"({"value":0.15,"unit":"mm"})");
    CHECK(written(found, "spread") == R"({"value":0.004,"unit":"mm"})");
  }
}

TEST_CASE("shims: lash and shim together stay what they were") {
  // Common practice, no source: 2.65 mm with 0.32 mm of lash, 0.25 wanted: 2.72 mm; with 0.18 mm: 2.58 mm.
  const auto lash = [](std::string_view measured) {
    return answer("lash-shim", R"({"measured":")" + std::string(measured) +
                                   R"( mm","target":"0.25 mm","fitted":"2.65 mm","available":["2.60 mm","2.70 mm"]})");
  };
  CHECK(value(lash("0.32"), "wanted") == 2.72);
  CHECK(value(lash("0.18"), "wanted") == 2.58);
  CHECK(value(lash("0.32"), "choice") + value(lash("0.32"), "lash_after") == Approx(2.65 + 0.32).epsilon(1e-12));
  // The same through the general form, a thicker shim taking lash away.
  const auto found = answer("shim-selection", R"({"measured":"0.32 mm","target":"0.25 mm","change_per_mm":-1,)"
                                              R"("fitted":"2.65 mm","available":["2.70 mm"]})");
  CHECK(value(found, "wanted") == 2.72);
  CHECK(value(found, "result_after") == value(lash("0.32"), "lash_after"));
}

TEST_CASE("shims: a spring's preload rises by its rate for each millimetre") {
  // From the definition of a spring rate; the numbers are ours.
  const auto spring =
      answer("spring", R"({"loads":["300 N","800 N"],"lengths":["40 mm","30 mm"],"installed":"38 mm"})");
  const auto found = answer("shim-selection", R"({"measured":"400 N","target":"425 N","change_per_mm":50,)"
                                              R"("fitted":"1 mm","available":["1.5 mm"]})");
  CHECK(value(spring, "rate") == 50);
  CHECK(value(spring, "load_installed") == 400);
  CHECK(value(found, "result_after") == 425);
}

TEST_CASE("protrusion: gasket tables of light diesels") {
  // Workshop manual of a light diesel (not named): two points a piston, mean a cylinder, the highest picks among
  // 0.758 to 0.813 (A), 0.813 to 0.859 (B), 0.859 to 0.914 (C). The readings are ours.
  const std::string table = R"(,"grades":[{"name":"A","from":"0.758 mm","to":"0.813 mm"},)"
                            R"({"name":"B","from":"0.813 mm","to":"0.859 mm"},)"
                            R"({"name":"C","from":"0.859 mm","to":"0.914 mm"}])";
  const auto found = answer(
      "protrusion", R"({"readings":)" + mm("[[0.782,0.801],[0.795,0.813],[0.820,0.838],[0.771,0.786]]") + table + "}");
  CHECK(value(found, "highest") == 0.829);
  CHECK(value(found, "spread") == 0.0505);
  CHECK(written(found, "grade") == "\"B\"");
  CHECK(written(answer("protrusion", R"({"readings":)" + mm("[[0.7575]]") + table + "}"), "grade") == "null");
  // Workshop manual of a light truck (not named): the mean of all picks, and one class more when any is over 0.05 mm
  // above that mean.
  const std::string by_mean = table + R"(,"basis":"mean","exceed":"0.05 mm"})";
  CHECK(written(answer("protrusion", R"({"readings":)" + mm("[[0.78],[0.78],[0.78],[0.84]]") + by_mean), "grade") ==
        "\"A\"");
  CHECK(written(answer("protrusion", R"({"readings":)" + mm("[[0.77],[0.77],[0.77],[0.85]]") + by_mean), "grade") ==
        "\"B\"");
}
