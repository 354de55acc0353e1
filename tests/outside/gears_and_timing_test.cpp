// Gears, dead centre, crank and rim: what is printed somewhere, and the geometry worked another way.
#include "outside/ledger.h"

#include "calculating.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

using namespace calculating;
using outside::agrees;
using outside::Source;
using outside::Standing;
using std::numbers::pi;

namespace {

constexpr Source gear_handbook{"Elements of Metric Gear Technology, section 14"};
constexpr Source gear_problems{"printed problems on meshing gears (four cog wheels; marked gears; hunting tooth)"};
constexpr Source army{"US Army technical manuals"};
constexpr Source piston_program{"a piston position program, the two examples of its page", Standing::reference};
constexpr Source custom{"common practice, no source", Standing::custom};
constexpr Source involute{"involute geometry: cos(aw) = (a0 / a) cos(alpha), inv x = tan x - x", Standing::worked};
constexpr Source counting{"turning the gears tooth by tooth", Standing::worked};
constexpr Source geometry{"geometry", Standing::worked};

double radians(double degrees) {
  return degrees * pi / 180;
}

double backlash_change(double change, double pressure_angle) {
  return value(answer("centre-distance",
                      fmt::format(R"({{"change":"{} mm","pressure_angle":"{} deg"}})", change, pressure_angle)),
               "backlash_change");
}

std::vector<double> turns(std::string_view teeth) {
  const auto found = answer("mark-recurrence", fmt::format(R"({{"teeth":{}}})", teeth));
  std::vector<double> all;
  for (const calc::Outcome& each : std::get<calc::Outcomes>(*found.find("each")))
    all.push_back(std::get<calc::Exact>(each).to_double());
  CHECK(std::get<calc::Exact>(*found.find("turns")).to_double() == all.front());
  return all;
}

double drop(std::string_view stroke, std::string_view rod, double angle) {
  return value(answer("crank-position",
                      fmt::format(R"({{"stroke":"{}","rod_length":"{}","angle":"{} deg"}})", stroke, rod, angle)),
               "drop");
}

double angle(std::string_view stroke, std::string_view rod, std::string_view down) {
  return value(
      answer("crank-position", fmt::format(R"({{"stroke":"{}","rod_length":"{}","drop":"{}"}})", stroke, rod, down)),
      "angle");
}

double inv(double x) {
  return std::tan(x) - x;
}

} // namespace

TEST_CASE("gear handbook: opening of the centres for a given backlash") {
  INFO("equation 14-3b: change = 1.933 backlash at 14.5 deg");
  agrees(gear_handbook, "centre-distance", 1 / backlash_change(1, 14.5), 1.933, 0.0005);
  INFO("equation 14-3c: change = 1.374 backlash at 20 deg");
  agrees(gear_handbook, "centre-distance", 1 / backlash_change(1, 20), 1.374, 0.0005);
  INFO("below it: 20 deg gears have 41 per cent more backlash");
  agrees(gear_handbook, "centre-distance", backlash_change(1, 20) / backlash_change(1, 14.5), 1.41, 0.005);
}

TEST_CASE("involute gears without backlash at their standard centres, moved apart") {
  struct Pair {
    double module;
    int driver, driven;
    double alpha, change, exact; // deg, mm, mm as worked by the reference
  };
  constexpr Pair pairs[] = {{2.5, 28, 56, 20, 0.05, 0.036480},
                            {2.5, 28, 56, 20, 0.10, 0.073124},
                            {2.5, 28, 56, 20, 0.50, 0.372169},
                            {2.0, 40, 40, 14.5, 0.05, 0.025998}};
  for (const Pair& pair : pairs) {
    INFO(pair.change << " mm at " << pair.alpha << " deg");
    const double standard = pair.module * (pair.driver + pair.driven) / 2;
    const double moved = standard + pair.change;
    const double alpha = radians(pair.alpha);
    const double working = std::acos(standard / moved * std::cos(alpha));
    const double exact = 2 * moved * (inv(working) - inv(alpha));
    CHECK(exact == Approx(pair.exact).margin(1e-6));
    // The formula is the first term of a series in change: what it leaves grows with the square.
    const double left = 4 * pair.change * pair.change / standard / std::tan(alpha);
    agrees(involute, "centre-distance", backlash_change(pair.change, pair.alpha), exact, left);
  }
}

TEST_CASE("printed problems: when gears stand as they did") {
  INFO("four cog wheels in line of 165, 45, 40 and 32 teeth");
  const auto four = turns("[165,45,40,32]");
  constexpr std::array<double, 4> printed = {96, 352, 396, 495};
  for (std::size_t i = 0; i < 4; ++i) agrees(gear_problems, "mark-recurrence", four[i], printed[i], 0);
  INFO("marked gears of 15 and 24 teeth: eight turns of the smaller, five of the larger");
  const auto marked = turns("[15,24]");
  agrees(gear_problems, "mark-recurrence", marked[0], 8, 0);
  agrees(gear_problems, "mark-recurrence", marked[1], 5, 0);
  INFO("hunting tooth: 11 teeth on 30, and on 31, begin anew after eleven turns of the gear");
  for (const char* teeth : {"[11,30]", "[11,31]"}) agrees(gear_problems, "mark-recurrence", turns(teeth)[1], 11, 0);
}

TEST_CASE("gear trains turned tooth by tooth until every mark is back") {
  for (const std::vector<int>& teeth :
       {std::vector{28, 35, 56}, {28, 43, 56}, {24, 40, 48}, {30, 45, 60}, {21, 49, 42}}) {
    std::vector<int> at(teeth.size(), 0);
    int passed = 0;
    do {
      ++passed;
      for (std::size_t i = 0; i < teeth.size(); ++i) at[i] = (at[i] + 1) % teeth[i];
    } while (std::any_of(at.begin(), at.end(), [](int place) { return place != 0; }));
    const auto found = turns(fmt::format("[{}]", fmt::join(teeth, ",")));
    for (std::size_t i = 0; i < teeth.size(); ++i)
      agrees(counting, "mark-recurrence", found[i], static_cast<double>(passed) / teeth[i], 0);
  }
}

TEST_CASE("a camshaft gear one tooth off, against the teeth of the crank gear it runs at half speed of") {
  for (const int crank_teeth : {28, 24, 30, 21}) {
    const auto found =
        answer("tooth-error", fmt::format(R"({{"teeth":{},"teeth_off":1,"crank_per_turn":2}})", 2 * crank_teeth));
    agrees(geometry, "tooth-error", value(found, "crank_angle"), 360.0 / crank_teeth, 1e-9);
  }
}

TEST_CASE("backlash at the pitch circle, and its angle in minutes of arc") {
  const auto found = answer("backlash", R"({"indicator":"0.18 mm","indicator_radius":"35 mm","pitch_radius":"42 mm"})");
  agrees(geometry, "backlash", value(found, "mean"), 0.216, 1e-9);
  const auto other = answer("backlash", R"({"indicator":"0.10 mm","indicator_radius":"42 mm","pitch_radius":"35 mm"})");
  agrees(geometry, "backlash", value(other, "mean"), 0.083333, 5e-7);
  const auto turned =
      answer("backlash", R"({"indicator":"0.10 mm","indicator_radius":"35 mm","pitch_radius":"35 mm"})");
  agrees(geometry, "backlash", value(turned, "angle") * 60, 9.8221, 5e-5);
}

TEST_CASE("dead centre halfway between the stops, the scale set to it") {
  INFO("21 deg on one side and 15 deg on the other: with the scale moved by 3 deg both read 18 deg");
  const auto found = answer("dead-centre", R"({"stop_before":"-15 deg","stop_after":"21 deg"})");
  agrees(custom, "dead-centre", value(found, "offset"), 3, 1e-12);
  agrees(custom, "dead-centre", 21 - value(found, "offset"), 18, 1e-12);
}

TEST_CASE("dead centre from the two crank angles at which a piston stands equally low") {
  // Pointers set wrong by all sorts of angles; the middle as the direction of the sum of both pointers' directions.
  for (const double wrong : {0.0, 1.5, -1.5, 87.0, 179.0, -179.5, 301.25}) {
    const double stop = angle("92 mm", "158 mm", "11.4 mm");
    const double before = std::fmod(wrong - stop + 720, 360);
    const double after = std::fmod(wrong + stop + 720, 360);
    const double x = std::cos(radians(before)) + std::cos(radians(after));
    const double y = std::sin(radians(before)) + std::sin(radians(after));
    const double middle = std::round(std::atan2(y, x) * 180 / pi * 1e10) / 1e10;
    const auto found = answer(
        "dead-centre", fmt::format(R"({{"stop_before":"{:.15f} deg","stop_after":"{:.15f} deg"}})", before, after));
    INFO(wrong);
    agrees(geometry, "dead-centre", value(found, "offset"), middle, 1e-9);
    agrees(geometry, "dead-centre", value(found, "centre"), middle < 0 ? middle + 360 : middle, 1e-9);
  }
}

TEST_CASE("TM 5-6115-593-34: piston 0.2032 in below its top is 19 degrees before top center") {
  // Check of the injection timing, step e (4): 0.2032 in, 5.161 mm, 19 degrees before top center. Table 1-2, p. 1-9:
  // rod 304.75 to 304.80 mm between centres. The stroke of this engine, 6 in, is from memory.
  agrees(army, "crank-position", drop("6 in", "304.80 mm", 19), 0.2032, 0.0001);
  agrees(army, "crank-position", drop("152.4 mm", "304.80 mm", 341), 5.161, 0.0025);
  agrees(army, "crank-position", angle("6 in", "304.80 mm", "0.2032 in"), 19, 0.005);
  agrees(army, "crank-position", angle("6 in", "304.75 mm", "5.161 mm"), 19, 0.005);
}

TEST_CASE("another program: stroke 54.5 mm, rod 110 mm") {
  agrees(piston_program, "crank-position", angle("54.5 mm", "110 mm", "25.6 mm"), 79.51, 0.005);
  agrees(piston_program, "crank-position", drop("54.5 mm", "110 mm", 83), 27.31, 0.005);
}

TEST_CASE("crank, rod and cylinder as points in a plane") {
  // The pin lies where a circle of the rod's length round the crank pin crosses the cylinder's axis.
  for (const double degrees : {1.0, 19.0, 45.0, 90.0, 120.0, 179.0, 200.0, 330.0}) {
    const double radius = 46;
    const double rod = 158;
    const double x = radius * std::sin(radians(degrees));
    const double y = radius * std::cos(radians(degrees));
    double low = y;
    double high = radius + rod;
    for (int i = 0; i < 200; ++i) {
      const double pin = (low + high) / 2;
      (std::hypot(x, pin - y) < rod ? low : high) = pin;
    }
    INFO(degrees);
    agrees(geometry, "crank-position", drop("92 mm", "158 mm", degrees), radius + rod - high, 1e-9);
  }
}

TEST_CASE("a rim laid off as a polygon of many short sides") {
  constexpr int sides = 1'000'000;
  const double side = 300 * std::sin(radians(19.0 / 2 / sides));
  agrees(geometry, "rim", value(answer("rim", R"({"diameter":"300 mm","angle":"19 deg"})"), "arc"), side * sides, 1e-8);
  agrees(geometry, "rim", value(answer("rim", R"({"diameter":"300 mm","arc":"1 mm"})"), "angle"), 180 * 2 / (300 * pi),
         1e-11);
  agrees(geometry, "rim", value(answer("rim", R"({"diameter":"11.459155902616 in","arc":"1 in"})"), "angle"), 10,
         1e-10);
}
