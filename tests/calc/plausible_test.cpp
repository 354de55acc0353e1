// Figures printed together in manuals and tables, good ones and known misprints.
#include "calc/plausible.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <string>
#include <vector>

using calc::gap_change_follows;
using calc::low_to_high;
using calc::one_quantity;
using calc::stress_area_follows;

namespace {

// "" when it fits, else the code of the error.
std::string code(const quantity::Result<void>& result) {
  return result ? "" : result.error().code;
}

struct Pair {
  const char* one;
  const char* other;
};

struct Area {
  double diameter;
  const char* pitch;
  double area;
};

std::string area_code(const Area& row) {
  return code(stress_area_follows(fmt::format("{} mm", row.diameter), fmt::format("{} mm", row.pitch),
                                  fmt::format("{} mm2", row.area)));
}

} // namespace

TEST_CASE("pairs of units printed well are one quantity") {
  for (const auto& [one, other] : {
           Pair{"0.0018 in", "0.046 mm"},
           {"0.0051 in", "0.130 mm"}, // TM 5-4210-229-14&P para 6-12
           {"0.0043 in", "0.109 mm"}, // TM 9-2815-260-24 p. 5-65
           {"0.0047 in", "0.12 mm"},  // TM 9-2815-254-24 p. 3-138
           {"0.0031 in", "0.08 mm"},  // TM 5-3825-229-14&P p. 6-24
           {"0.007 in", "0.1778 mm"}, // TM 5-1940-322-24 WP 0153
           {"0.013 in", "0.33 mm"},   // TM 5-6115-593-34 p. 1-9
           {"29.5 lb-ft", "40 N.m"},  // TM 10-3930-669-20
           {"350 psi", "2413 kPa"},   // TM 5-2420-230-24-2
           {"22 N.m", "224 kgf.cm"},
           {"22 N.m", "16 lbf.ft"}, // service data of makers
           {"0.25 mm", "0.0098 in"},
           {"99.4 mm", "3.91 in"}, // the same
           {"70 degF", "21 degC"}, // TM 9-2815-205-24 WP 0094
       }) {
    INFO(one << " and " << other);
    CHECK(code(one_quantity(one, other)).empty());
    CHECK(code(one_quantity(other, one)).empty());
  }
}

TEST_CASE("misprints are not one quantity") {
  for (const auto& [one, other] : {
           Pair{"0.015 in", "0.0381 mm"}, // TM 10-3930-664-24 p. 3-59, ten times too small
           {"0.003 in", "0.05 mm"},       // the same page
           {"0.012 in", "0.03 mm"},       // TM 9-6115-670-14&P p. 6-78, 0.0012 is meant
           {"2.7548 in", "69.920 mm"},
           {"2.7533 in", "69.632 mm"},        // TM 9-2815-254-24 p. 3-137
           {"0.0025 in", "0.089 mm"},         // TM 9-6115-604-34 table 1-4, 0.0035 is meant
           {"74.915 in", "190.284 mm"},       // the same table, ten times too large
           {"0.003 in", "0.06 mm"},           // TM 5-2815-241-34&P p. 2-150
           {"6.5635 in", "188.713 mm"},       // the same, p. 2-148
           {"0.0035 in", "0.0189 mm"},        // TM 10-4320-344-24 p. 4-5
           {"185.6 mm", "7.130 in"},          // repair page of a heavy diesel
           {"1.0000 lbf.ft", "0.1387 kgf.m"}, // a club's page of torques, where the 1 is exact
           {"270 lb-ft", "365 N.m"},          // TM 55-1905-223-24-1
       }) {
    INFO(one << " and " << other);
    CHECK(code(one_quantity(one, other)) == "implausible");
    CHECK(code(one_quantity(other, one)) == "implausible");
  }
  CHECK(one_quantity("0.015 in", "0.0381 mm").error().message ==
        "0.015 in is 0.381000 mm, not 0.0381 mm: one of the two is a misprint");
}

TEST_CASE("only the digits that are printed count") {
  CHECK(code(one_quantity("1 in", "25 mm")).empty());
  CHECK(code(one_quantity("1.000 in", "25 mm")).empty()); // 25.4 to the nearest mm
  CHECK(code(one_quantity("1.000 in", "25.0 mm")) == "implausible");
  CHECK(code(one_quantity("1.00 in", "25.6 mm")) == "implausible");
  CHECK(code(one_quantity("1.0 in", "25.6 mm")).empty());
  CHECK(code(one_quantity("2.5e3 psi", "17000 kPa")).empty()); // last digit: 100 psi, that is 689 kPa
  CHECK(code(one_quantity("2500 psi", "17000 kPa")) == "implausible");
  CHECK(code(one_quantity("-0.004 in", "-0.10 mm")).empty());
  CHECK(code(one_quantity("-0.004 in", "0.10 mm")) == "implausible");
  CHECK(code(one_quantity("180 deg", "3.14159 rad")).empty());
  CHECK(code(one_quantity("180.000000 deg", "3.14 rad")).empty());
}

TEST_CASE("a doubt needs figures that can be read") {
  CHECK(code(one_quantity("one inch", "25.4 mm")) == "bad-value");
  CHECK(code(one_quantity("1 in", "25.4")) == "bad-unit");
  CHECK(code(one_quantity("1 in", "25.4 kg")) == "bad-unit");
  CHECK(code(gap_change_follows("1 mm", "3 N")) == "bad-unit");
  CHECK(code(low_to_high("1 mm", "")) == "bad-value");
  CHECK(code(low_to_high("", "1 mm")) == "bad-value");
  CHECK(code(low_to_high("1 mm", "2 bar")) == "bad-unit");
  CHECK(code(stress_area_follows("10", "1.5 mm", "58 mm2")) == "bad-unit");
  CHECK(code(stress_area_follows("10 mm", "1.5 bar", "58 mm2")) == "bad-unit");
  CHECK(code(stress_area_follows("10 mm", "1.5 mm", "58 mm")) == "bad-unit");
  CHECK(code(stress_area_follows("1 mm", "1.5 mm", "58 mm2")) == "implausible");
}

// ISO 898-1 tables 4 and 5 in public reproductions, and fine threads of a public table.
TEST_CASE("stress areas printed well follow from the thread") {
  for (const Area& row : std::vector<Area>{{5, "0.8", 14.2},
                                           {6, "1", 20.1},
                                           {7, "1", 28.9},
                                           {8, "1.25", 36.6},
                                           {10, "1.5", 58.0},
                                           {12, "1.75", 84.3},
                                           {14, "2", 115},
                                           {16, "2", 157},
                                           {18, "2.5", 192},
                                           {20, "2.5", 245},
                                           {8, "1", 39.2},
                                           {10, "1.25", 61.2},
                                           {12, "1.25", 92.1},
                                           {12, "1.5", 88.1},
                                           {14, "1.5", 125},
                                           {16, "1.5", 167},
                                           {18, "1.5", 216},
                                           {20, "1.5", 272}}) {
    INFO(row.diameter << " x " << row.pitch);
    CHECK(area_code(row).empty());
  }
}

TEST_CASE("stress areas misprinted on a page of fine threads do not") {
  for (const Area& row : std::vector<Area>{{8, "0.75", 44.2},
                                           {10, "0.75", 72.7},
                                           {12, "1", 98.0},
                                           {14, "1.25", 131},
                                           {16, "1", 182},
                                           {18, "2", 216},
                                           {18, "1.5", 232},
                                           {18, "1", 250},
                                           {20, "2", 272},
                                           {20, "1.5", 290},
                                           {20, "1", 311}}) {
    INFO(row.diameter << " x " << row.pitch);
    CHECK(area_code(row) == "implausible");
  }
  CHECK(stress_area_follows("16 mm", "1 mm", "182 mm2").error().message ==
        "16 mm with a pitch of 1 mm has a stress area of 178.17 mm2, not 182 mm2");
}

// The area of a printed breaking load: load over the least strength of the class (ISO 898-1 table 3).
TEST_CASE("of three copies of one breaking load the wrong ones are found by the area they mean") {
  CHECK(area_code({20, "2.5", 255'000 / 1040.0}).empty());          // M20 10.9, two copies
  CHECK(area_code({20, "2.5", 250'000 / 1040.0}) == "implausible"); // the third
  CHECK(area_code({12, "1.75", 75'900 / 900.0}).empty());           // M12 9.8
  CHECK(area_code({12, "1.75", 75'200 / 900.0}) == "implausible");
  CHECK(area_code({4, "0.7", 9'130 / 1040.0}).empty()); // M4 10.9
  CHECK(area_code({4, "0.7", 91'130 / 1040.0}) == "implausible");
}

TEST_CASE("a ring gap follows the bore by pi") {
  CHECK(code(gap_change_follows("0.001 in", "0.003 in")).empty());            // TM 5-6115-593-34 table 1-2
  CHECK(code(gap_change_follows("0.03 mm", "0.08 mm")).empty());              // TM 5-3825-229-14&P p. 6-24
  CHECK(code(gap_change_follows("0.0012 in", "0.0031 in")) == "implausible"); // the same in inches
  CHECK(gap_change_follows("0.0012 in", "0.0031 in").error().message ==
        "0.0012 in on the bore changes the gap by 0.003770 in, not 0.0031 in");
  CHECK(code(gap_change_follows("0.001 in", "0.08 mm")).empty());
  CHECK(code(gap_change_follows("0.0010 in", "0.0063 in")) == "implausible"); // twice pi: wear counted on one side
}

TEST_CASE("limits stand from low to high") {
  CHECK(code(low_to_high("0.0012 in", "0.0055 in")).empty());
  CHECK(code(low_to_high("0.012 in", "0.0055 in")) == "implausible");  // TM 9-6115-670-14&P p. 6-78
  CHECK(code(low_to_high("2.7548 in", "2.7533 in")) == "implausible"); // TM 9-2815-254-24 p. 3-137
  CHECK(code(low_to_high("69.920 mm", "69.632 mm")) == "implausible"); // the same in millimetres
  CHECK(code(low_to_high("0.013 in", "0.008 in")) == "implausible");   // TM 55-1930-209-14&P-21 p. 6-54, backlash
  CHECK(code(low_to_high("0.08 mm", "0.08 mm")).empty());
  CHECK(code(low_to_high("-1 mm", "-0.5 mm")).empty());
  CHECK(code(low_to_high("2.4395 in", "61.9633 mm")).empty());
  CHECK(code(low_to_high("61.9633 mm", "2.4395 in")).empty());
  CHECK(low_to_high("61.9634 mm", "2.4395 in").error().message ==
        "the lower limit 61.9634 mm is above the upper limit 2.4395 in");
}
