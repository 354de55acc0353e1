// Pairs of inches and millimetres as US Army technical manuals print them: good pairs agree up to the rounding of
// their last digit, known misprints do not.
#include "calculating.h"

#include <cmath>

namespace {

// How far apart the two may be by rounding: half the last digit of either.
double slack(std::string_view inches, std::string_view millimetres) {
  const auto half_digit = [](std::string_view text) {
    const auto dot = text.find('.');
    const auto places = dot == std::string_view::npos ? 0 : text.size() - dot - 1;
    return 0.5 * std::pow(10.0, -static_cast<double>(places));
  };
  return std::max(25.4 * half_digit(inches), half_digit(millimetres)) * (1 + 1e-9);
}

bool pair_agrees(std::string_view inches, std::string_view millimetres) {
  const auto found =
      calculating::answer("convert", R"({"value":)" + std::string(inches) + R"(,"unit":"in","to":"mm"})");
  return std::abs(calculating::value(found, "converted") - std::stod(std::string(millimetres))) <=
         slack(inches, millimetres);
}

} // namespace

TEST_CASE("pairs printed well agree") {
  CHECK(pair_agrees("0.0018", "0.046")); // TM 5-4210-229-14&P para 6-12
  CHECK(pair_agrees("0.0051", "0.130"));
  CHECK(pair_agrees("0.0043", "0.109")); // TM 9-2815-260-24 p. 5-65
  CHECK(pair_agrees("0.0047", "0.12"));  // TM 9-2815-254-24 p. 3-138
  CHECK(pair_agrees("0.0031", "0.08"));  // TM 5-3825-229-14&P p. 6-24
  CHECK(pair_agrees("0.007", "0.1778")); // TM 5-1940-322-24 WP 0153
  CHECK(pair_agrees("0.013", "0.33"));
  CHECK(pair_agrees("0.004", "0.10")); // TM 9-2815-254-24 p. 3-151, backlash
  CHECK(pair_agrees("0.007", "0.17"));
}

TEST_CASE("misprints do not") {
  CHECK(!pair_agrees("0.015", "0.0381"));   // TM 10-3930-664-24 p. 3-59, ten times too small
  CHECK(!pair_agrees("0.003", "0.05"));     // the same page
  CHECK(!pair_agrees("0.012", "0.03"));     // TM 9-6115-670-14&P p. 6-78
  CHECK(!pair_agrees("2.7533", "69.632"));  // TM 9-2815-254-24 p. 3-137
  CHECK(!pair_agrees("0.0025", "0.089"));   // TM 9-6115-604-34 table 1-4
  CHECK(!pair_agrees("74.915", "190.284")); // the same table
  CHECK(!pair_agrees("0.003", "0.06"));     // TM 5-2815-241-34&P p. 2-150
  CHECK(!pair_agrees("6.5635", "188.713")); // the same, p. 2-148
}
