// Extensions, bolt stretch, stages and sequences printed in US Army technical manuals (public domain).
#include "calculating.h"
#include "outside/ledger.h"

#include <fmt/format.h>

#include <vector>

using namespace calculating;
using outside::agrees;
using outside::Source;

namespace {

const Source army = {"US Army technical manuals"};

constexpr double lbf_in = 0.1129848290276167; // N.m
constexpr double lbf_ft = 12 * lbf_in;

double setting(std::string_view torque, std::string_view wrench, std::string_view extension, double degrees = 0) {
  return value(answer("wrench-setting",
                      fmt::format(R"({{"torque":"{}","wrench_length":"{}","extension":"{}","angle":"{} deg"}})", torque,
                                  wrench, extension, degrees)),
               "setting");
}

// The order that comes out, as the numbers of the positions.
std::vector<int> order(std::string_view points) {
  const auto found = answer("pattern-order", fmt::format(R"({{"positions":{{"points":{},"unit":"mm"}}}})", points));
  std::vector<int> numbers;
  for (const calc::Outcome& number : std::get<calc::Outcomes>(*found.find("order")))
    numbers.push_back(static_cast<int>(std::get<calc::Exact>(number).to_double()));
  return numbers;
}

// What a manual prints is the turn of each position, going along; this is the positions in their turn.
std::vector<int> in_turn(const std::vector<int>& turns) {
  std::vector<int> positions(turns.size());
  for (std::size_t i = 0; i < turns.size(); ++i)
    positions[static_cast<std::size_t>(turns[i]) - 1] = static_cast<int>(i) + 1;
  return positions;
}

std::string row_of(int count, int step) {
  std::string points;
  for (int i = 0; i < count; ++i) points += fmt::format(",[{},0]", i * step);
  return "[" + points.substr(1) + "]";
}

// Clockwise from the top, to three decimals.
std::string circle_of(int count) {
  std::string points;
  for (int i = 0; i < count; ++i) {
    const double angle = 2 * std::numbers::pi * i / count;
    points += fmt::format(",[{:.3f},{:.3f}]", 100 * std::sin(angle), 100 * std::cos(angle));
  }
  return "[" + points.substr(1) + "]";
}

const std::vector<int> straight = {9, 7, 5, 3, 1, 2, 4, 6, 8}; // TM 5-3805-298-23-2 WP 0176, left to right
// As the text of the figure runs, clockwise: that way each even turn is opposite to the odd one before it.
const std::vector<int> circular = {1, 5, 12, 3, 9, 7, 2, 6, 11, 4, 10, 8}; // TB 9-3950-253-13&P WP 0061, clockwise

} // namespace

TEST_CASE("US Army: settings of a wrench with an extension") {
  // TM 1-1500-204-23-9, figure 8-16: 300 lbf.in, wrench 10 in, attachment 4 in: 214.
  agrees(army, "wrench-setting", setting("300 lbf.in", "10 in", "4 in") / lbf_in, 214, 0.5);
  // TM 9-2350-277-40&P p. 44 and TM 9-2350-261-20-1 p. 2-29: 40 lbf.ft, 12 in, 4 in: 30.
  agrees(army, "wrench-setting", setting("40 lbf.ft", "12 in", "4 in") / lbf_ft, 30, 1e-9);
  // TM 9-254 p. 4-4: 60 lbf.in set, 12 in, 2 in, gives 70 lbf.in.
  agrees(army, "wrench-setting", setting("70 lbf.in", "12 in", "2 in") / lbf_in, 60, 1e-9);
  // TM 5-3805-274-13&P WP 0051: 19 lbf.ft, 22 in, 3 in: 17, to whole lbf.ft.
  agrees(army, "wrench-setting", setting("19 lbf.ft", "22 in", "3 in") / lbf_ft, 17, 0.5);
  // TM 1-1500-204-23-9, figure 8-17: an attachment that points back is subtracted.
  agrees(army, "wrench-setting", setting("300 lbf.in", "10 in", "4 in", 180) / lbf_in, 300.0 * 10 / (10 - 4), 1e-9);
}

TEST_CASE("US Army: misprints among the extensions") {
  // TM 5-3805-274-13&P WP 0051 prints 23.0 N.m beside 17 lbf.ft, both from a divisor cut to 1.14 and rounded up.
  outside::disagrees(army, "wrench-setting", setting("25.8 N.m", "559 mm", "76 mm"), 23.0, 0.05,
                     "setting for 25.8 N.m in TM 5-3805-274-13&P WP 0051, turned from lbf.ft already rounded");
  // TM 9-254 p. 4-5: L = wrench x extension x cos a where a sum is meant; 12 and 2 in in line would be 24 in, not 14.
  outside::disagrees(army, "wrench-setting", setting("70 lbf.in", "12 in", "2 in") / lbf_in, 70.0 * 12 / 24, 0.5,
                     "setting by the effective length of TM 9-254 p. 4-5, which multiplies where it must add");
}

TEST_CASE("TM 55-1905-223-24-1: stretch of connecting-rod bolts, 0.0135 to 0.0185 in") {
  // The greatest stretch is the computation's; a stretch below the least means tightening again.
  const auto stretched = [](std::string_view length) {
    return answer("bolt-length",
                  fmt::format(R"({{"new":"6 in","measured":"{}","stretch_limit":"0.0185 in"}})", length));
  };
  const auto reuse = [&](std::string_view length) { return std::get<bool>(*stretched(length).find("reuse")); };
  agrees(army, "bolt-length", reuse("6.0185 in"));
  agrees(army, "bolt-length", !reuse("6.0186 in"));
  agrees(army, "bolt-length", reuse("6.0135 in"));
  agrees(army, "bolt-length", 25.4 * value(stretched("6.0185 in"), "stretch"), 0.470, 0.0005); // printed beside
  agrees(army, "bolt-length", 25.4 * value(stretched("6.0135 in"), "stretch"), 0.343, 0.0005);
}

TEST_CASE("US Army: a pattern goes round at 70 per cent first") {
  // TM 5-3805-298-23-2 WP 0176, above 41 N.m (30 lbf.ft).
  const auto first = [](std::string_view torque) {
    const auto found = answer("torque-stages", fmt::format(R"({{"final":"{}","fractions":[0.7,1]}})", torque));
    return std::get<calc::Outcomes>(*found.find("stages")).front().quantity()->value.to_double();
  };
  agrees(army, "torque-stages", first("90 N.m"), 0.7 * 90, 1e-9);
  agrees(army, "torque-stages", first("60 lbf.ft"), 0.7 * 60 * lbf_ft, 1e-9);
  agrees(army, "torque-stages", first("41 N.m"), 0.7 * 41, 1e-9);
}

TEST_CASE("US Army: a row of nine, numbered from either end") {
  // Counted from the right the manual's order is ours; counted from the left it is ours seen in a mirror.
  const std::vector<int> from_right(straight.rbegin(), straight.rend());
  agrees(army, "pattern-order", order(row_of(9, 40)) == in_turn(from_right));
  agrees(army, "pattern-order", order(row_of(9, 40)).front() == in_turn(straight).front());
  std::vector<int> mirrored;
  for (const int position : in_turn(straight)) mirrored.push_back(10 - position);
  agrees(army, "pattern-order", order(row_of(9, 40)) == mirrored);
  outside::disagrees(army, "pattern-order", order(row_of(9, 40))[1], in_turn(straight)[1], 0.5,
                     "second of a row of nine, TM 5-3805-298-23-2 WP 0176: of two equally far from the middle the "
                     "manual takes the right one first, the rule of the program the lower number");
}

TEST_CASE("US Army: a circle of twelve goes across each time, but on to another pair") {
  const std::vector<int> ours = order(circle_of(12));
  const std::vector<int> theirs = in_turn(circular);
  agrees(army, "pattern-order", ours[0] == theirs[0]);
  for (std::size_t i = 0; i < 12; i += 2) {
    INFO("pair " << i / 2 + 1);
    CHECK(std::abs(theirs[i + 1] - theirs[i]) == 6);
    agrees(army, "pattern-order", std::abs(ours[i + 1] - ours[i]) == 6);
  }
  outside::disagrees(army, "pattern-order", ours[2], theirs[2], 0.5,
                     "third on a circle of twelve, TB 9-3950-253-13&P WP 0061: the manual goes on a quarter turn, the "
                     "rule of the program to the place farthest from the last, which stands next to the first");
}
