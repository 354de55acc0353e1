// U by drawing: the inputs of a computation scattered normally with U/2, twice the standard deviation of what comes out
// (JCGM 101:2008). 100 000 draws know it to about 0.2 per cent; the formulas are written out here once more.
#include "calculating.h"

#include <cmath>
#include <functional>
#include <random>

using namespace calculating;

namespace {

constexpr int draws = 100'000;
constexpr double tolerance = 0.01;

class Scatter {
public:
  double operator()(double value, double u) { return value + u / 2 * normal_(random_); }

private:
  std::mt19937_64 random_{20241231};
  std::normal_distribution<double> normal_;
};

double drawn_u(const std::function<double(Scatter&)>& result) {
  Scatter scatter;
  double mean = 0;
  double squares = 0;
  for (int i = 1; i <= draws; ++i) {
    const double value = result(scatter);
    const double from_mean = value - mean;
    mean += from_mean / i;
    squares += from_mean * (value - mean);
  }
  return 2 * std::sqrt(squares / (draws - 1));
}

} // namespace

TEST_CASE("drawn: mean oil clearance, with a setting each gauge shares") {
  const auto found = answer(
      "oil-clearance", R"({"bore":{"values":[[50.036,50.031],[50.034,50.030]],"unit":"mm","u":0.004,"u_shared":0.003},)"
                       R"("journal":{"values":[[49.982,49.976]],"unit":"mm","u":0.002,"u_shared":0.001}})");
  CHECK(u(found, "mean") == Approx(drawn_u([](Scatter& around) {
                              const double bore_setting = around(0, 0.003);
                              const double journal_setting = around(0, 0.001);
                              double bore = 0;
                              for (const double diameter : {50.036, 50.031, 50.034, 50.030})
                                bore += around(diameter, 0.004) / 4;
                              double journal = 0;
                              for (const double diameter : {49.982, 49.976}) journal += around(diameter, 0.002) / 2;
                              return bore + bore_setting - journal - journal_setting;
                            })).epsilon(tolerance));
}

TEST_CASE("drawn: rate, free length and installed load of a spring") {
  const auto found = answer("spring", R"({"loads":{"values":[310,850],"unit":"N","u":6,"u_shared":4},)"
                                      R"("lengths":{"values":[40.5,29.5],"unit":"mm","u":0.05,"u_shared":0.08},)"
                                      R"("installed":{"value":36,"unit":"mm","u":0.1}})");
  struct Spring {
    double rate, free_length, load;
  };
  const auto drawn = [](Scatter& around) {
    const double load_setting = around(0, 4);
    const double length_setting = around(0, 0.08);
    const double load1 = around(310, 6) + load_setting;
    const double load2 = around(850, 6) + load_setting;
    const double length1 = around(40.5, 0.05) + length_setting;
    const double length2 = around(29.5, 0.05) + length_setting;
    const double rate = (load2 - load1) / (length1 - length2);
    const double free_length = length1 + load1 / rate;
    return Spring{rate, free_length, rate * (free_length - around(36, 0.1))};
  };
  CHECK(u(found, "rate") == Approx(drawn_u([&](Scatter& s) { return drawn(s).rate; })).epsilon(tolerance));
  CHECK(u(found, "free_length") ==
        Approx(drawn_u([&](Scatter& s) { return drawn(s).free_length; })).epsilon(tolerance));
  CHECK(u(found, "load_installed") == Approx(drawn_u([&](Scatter& s) { return drawn(s).load; })).epsilon(tolerance));
}

TEST_CASE("drawn: backlash and its angle") {
  const auto found = answer("backlash", R"({"indicator":{"values":[0.10,0.12,0.11,0.13],"unit":"mm","u":0.01},)"
                                        R"("indicator_radius":{"value":42,"unit":"mm","u":1.5},)"
                                        R"("pitch_radius":{"value":35,"unit":"mm","u":0.8}})");
  const auto mean_reading = [](Scatter& around) {
    double sum = 0;
    for (const double reading : {0.10, 0.12, 0.11, 0.13}) sum += around(reading, 0.01);
    return sum / 4;
  };
  CHECK(u(found, "mean") == Approx(drawn_u([&](Scatter& around) {
                              return mean_reading(around) * around(35, 0.8) / around(42, 1.5);
                            })).epsilon(tolerance));
  CHECK(u(found, "angle") == Approx(drawn_u([&](Scatter& around) {
                               return mean_reading(around) / around(42, 1.5) * 180 / 3.14159265358979;
                             })).epsilon(tolerance));
}

TEST_CASE("drawn: tilt of a seal, ring gap and strip taper") {
  const auto seal = answer("seal-squareness", R"({"depths":{"values":[4.02,4.20,4.32,4.14],"unit":"mm","u":0.02},)"
                                              R"("diameter":{"value":70,"unit":"mm","u":2}})");
  CHECK(u(seal, "tilt") == Approx(drawn_u([](Scatter& around) {
                             const double x = around(4.02, 0.02) - around(4.32, 0.02);
                             const double y = around(4.20, 0.02) - around(4.14, 0.02);
                             return std::atan(std::hypot(x, y) / around(70, 2)) * 180 / 3.14159265358979;
                           })).epsilon(2 * tolerance)); // bent a little by the square root
  const auto ring = answer("ring-gap", R"({"gap":{"value":0.30,"unit":"mm","u":0.02},)"
                                       R"("gauge_bore":{"value":83,"unit":"mm","u":0.004},)"
                                       R"("working_bore":{"value":83.062,"unit":"mm","u":0.006}})");
  CHECK(u(ring, "per_bore") == Approx(drawn_u([](Scatter& around) {
                                 const double working = around(83.062, 0.006);
                                 return (around(0.30, 0.02) + 3.14159265358979 * (working - around(83, 0.004))) /
                                        working;
                               })).epsilon(tolerance));
  const auto strip = answer("strip-clearance", R"({"width":{"values":[1.0,1.6],"unit":"mm","u":0.03,"u_shared":0.02},)"
                                               R"("strip_diameter":{"value":0.28,"unit":"mm","u":0.004}})");
  CHECK(u(strip, "taper") == Approx(drawn_u([](Scatter& around) {
                               const double setting = around(0, 0.02);
                               const double diameter = around(0.28, 0.004);
                               const double area = 3.14159265358979 / 4 * diameter * diameter;
                               return area / (around(1.0, 0.03) + setting) - area / (around(1.6, 0.03) + setting);
                             })).epsilon(tolerance));
}
