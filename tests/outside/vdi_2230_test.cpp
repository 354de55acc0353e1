// VDI 2230: preload and tightening torque at 90 per cent of yield, class by class. The tables use 0.16 p and 0.58 d2
// where the formula has p/(2 pi) and d2/(2 cos 30), and print three digits at most: 1 per cent covers both, or half of
// the last digit where whole N.m are printed. Mean bearing diameters from ISO 4014/4762 heads on ISO 273 medium holes.
#include "calculating.h"
#include "outside/ledger.h"

#include <fmt/format.h>

#include <array>
#include <vector>

using namespace calculating;
using outside::agrees;
using outside::Source;
using outside::Standing;

namespace {

const Source fine_table = {"VDI 2230 (2003), table of fine threads in a supplier's catalogue, p. 685"};
const Source coarse_table = {"VDI 2230 (2003), table A1, coarse threads", Standing::recalled};
const Source worked_example = {"a fastener maker's VDI 2230 tables (2021), worked example"};

struct Row {
  double diameter, pitch, head, friction;
  std::array<double, 3> preload; // kN for 8.8, 10.9, 12.9
  std::array<double, 3> torque;  // N.m
  double last_digit;             // of the torques
};

std::string joint(const Row& row) {
  return fmt::format(R"("diameter":"{} mm","pitch":"{} mm","mu_thread":{},"mu_head":{},"head_diameter":"{} mm"}})",
                     row.diameter, row.pitch, row.friction, row.friction, row.head);
}

// Both ways: the printed preload's torque, the printed torque's preload.
void check(const Source& source, const Row& row) {
  for (std::size_t i = 0; i < row.preload.size(); ++i) {
    INFO("M" << row.diameter << " x " << row.pitch << ", friction " << row.friction << ", class number " << i);
    const auto torque =
        answer("tightening-torque", fmt::format(R"({{"preload":"{} kN",{})", row.preload[i], joint(row)));
    const double slack = std::max(0.01 * row.torque[i], row.last_digit / 2);
    agrees(source, "tightening-torque", value(torque, "torque"), row.torque[i], slack);
    const auto preload = answer("preload", fmt::format(R"({{"torque":"{} N.m",{})", row.torque[i], joint(row)));
    agrees(source, "preload", value(preload, "preload"), 1000 * row.preload[i],
           1000 * row.preload[i] * slack / row.torque[i]);
  }
}

} // namespace

TEST_CASE("VDI 2230: fine threads") {
  constexpr double m8 = 10.315, m10 = 12.815, m12 = 15.065, m14 = 17.435, m16 = 19.995, m20 = 25.095;
  for (const Row& row : std::vector<Row>{{8, 1, m8, 0.10, {20.7, 30.4, 35.6}, {22.8, 33.5, 39.2}, 0.1},
                                         {8, 1, m8, 0.12, {20.2, 29.7, 34.7}, {26.1, 38.3, 44.9}, 0.1},
                                         {8, 1, m8, 0.14, {19.7, 28.9, 33.9}, {29.2, 42.8, 50.1}, 0.1},
                                         {10, 1.25, m10, 0.10, {32.4, 47.5, 55.6}, {44, 65, 76}, 1},
                                         {10, 1.25, m10, 0.12, {31.6, 46.4, 54.3}, {51, 75, 87}, 1},
                                         {10, 1.25, m10, 0.14, {30.8, 45.2, 52.9}, {57, 83, 98}, 1},
                                         {12, 1.25, m12, 0.10, {49.1, 72.1, 84.4}, {79, 116, 135}, 1},
                                         {12, 1.25, m12, 0.12, {48.0, 70.5, 82.5}, {90, 133, 155}, 1},
                                         {12, 1.25, m12, 0.14, {46.8, 68.7, 80.4}, {101, 149, 174}, 1},
                                         {14, 1.5, m14, 0.10, {66.4, 97.5, 114.1}, {124, 182, 213}, 1},
                                         {14, 1.5, m14, 0.12, {64.8, 95.2, 111.4}, {142, 209, 244}, 1},
                                         {14, 1.5, m14, 0.14, {63.2, 92.9, 108.7}, {159, 234, 274}, 1},
                                         {16, 1.5, m16, 0.12, {87.6, 128.7, 150.6}, {218, 320, 374}, 1},
                                         {20, 1.5, m20, 0.12, {148, 211, 246}, {454, 646, 756}, 1}})
    check(fine_table, row);
}

TEST_CASE("VDI 2230: coarse threads") {
  for (const Row& row : std::vector<Row>{{8, 1.25, 10.315, 0.12, {18.6, 27.3, 32.0}, {24.6, 36.1, 42.2}, 0.1},
                                         {10, 1.5, 12.815, 0.12, {29.6, 43.4, 50.8}, {48, 71, 83}, 1},
                                         {12, 1.75, 15.065, 0.12, {43.0, 63.2, 74.0}, {84, 123, 144}, 1},
                                         {14, 2, 17.435, 0.12, {59.1, 86.7, 101.5}, {133, 195, 229}, 1}})
    check(coarse_table, row);
}

TEST_CASE("VDI 2230: the tightening factor of a worked example as scatter of friction") {
  // M12, friction 0.14: 41.9 kN at most, tightening factor 1.8, so 23.3 kN at least. (1 + s)/(1 - s) = 1.8.
  const std::string nut_factor = R"("diameter":"12 mm","nut_factor":0.2,"scatter":0.285714285714})";
  const auto found =
      answer("preload", fmt::format(R"({{"torque":"{:.9f} N.m",{})", 41.9 * 0.2 * 12 * 5 / 7, nut_factor));
  agrees(worked_example, "preload", value(found, "high"), 41900, 1);
  agrees(worked_example, "preload", value(found, "low"), 23300, 50);
  agrees(worked_example, "preload", value(found, "high") / value(found, "low"), 1.8, 1e-9);
}
