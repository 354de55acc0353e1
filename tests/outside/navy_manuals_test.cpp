// Extensions on a torque wrench, as US Navy training manuals teach them (public domain).
#include "calculating.h"
#include "outside/ledger.h"

#include <fmt/format.h>

using namespace calculating;
using outside::agrees;
using outside::Source;

namespace {

const Source navy = {"US Navy training manuals"};

constexpr double lbf_in = 0.1129848290276167; // N.m

double setting(double torque, double wrench, double extension, double degrees) {
  return value(answer("wrench-setting", fmt::format(R"({{"torque":"{} lbf.in","wrench_length":"{} in",)"
                                                    R"("extension":"{} in","angle":"{} deg"}})",
                                                    torque, wrench, extension, degrees)),
               "setting") /
         lbf_in;
}

} // namespace

TEST_CASE("NAVEDTRA 14315, figures 3-44 and 3-45: 100 lbf.in through 6 in on a wrench of 12 in") {
  agrees(navy, "wrench-setting", setting(100, 12, 6, 0), 66.7, 0.05);
}

TEST_CASE("NAVEDTRA 14315: at an angle the extension counts by its projection") {
  // The projected length takes the extension's place in the formula: 6 in at 60 degrees counts 3 in.
  agrees(navy, "wrench-setting", setting(100, 12, 6, 60), 100.0 * 12 / (12 + 3), 1e-9);
  agrees(navy, "wrench-setting", setting(100, 12, 6, 45), 100.0 * 12 / (12 + 6 * std::sqrt(0.5)), 1e-9);
}

TEST_CASE("NAVEDTRA 14008 p. 2-12: square to the wrench nothing changes, pointing back is subtracted") {
  agrees(navy, "wrench-setting", setting(100, 12, 6, 90), 100, 1e-12);
  agrees(navy, "wrench-setting", setting(100, 12, 6, 270), 100, 1e-12);
  agrees(navy, "wrench-setting", setting(100, 12, 6, 180), 100.0 * 12 / (12 - 6), 1e-9);
}
