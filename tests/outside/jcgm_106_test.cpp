// Decision rules against their documents.
#include "calc/judging.h"

#include "calculating.h"

#include <array>

using namespace calculating;
using calc::Bounds;
using calc::Exact;

namespace {

Exact exact(std::string_view text) {
  return Exact::decimal(text).value();
}

double probability(std::string_view value, std::string_view standard_u, const Bounds& bounds) {
  return calc::conformance_probability(exact(value), exact(standard_u) + exact(standard_u), bounds);
}

} // namespace

// JCGM 106:2012 (also OIML G 1-106), clause 7; the examples' numbers from memory, each recomputed to more digits.
TEST_CASE("JCGM 106: breakdown voltage of a diode, one upper limit") {
  // -5.40 V at most, measured -5.47 V with u = 0.05 V: printed 0.92.
  CHECK(probability("-5.47", "0.05", {{}, exact("-5.40")}) == Approx(0.919243340766).epsilon(1e-11));
}

TEST_CASE("JCGM 106: pressure a container withstands, one lower limit") {
  // 490 kPa at least, measured 509.7 kPa with u = 8.6 kPa: printed 0.99.
  const auto found =
      answer("verdict", R"({"value":{"value":509.7,"unit":"kPa","u":17.2},"low":"490 kPa","rule":"simple"})");
  CHECK(value(answer("verdict", R"({"value":{"value":509.7,"unit":"kPa","u":17.2},"low":"490 kPa"})"), "guard_band") ==
        17.2);
  CHECK(std::get<Exact>(*found.find("probability")).to_double() == Approx(0.989010).margin(5e-7));
}

TEST_CASE("JCGM 106: viscosity of an oil, two limits") {
  // 12.5 to 16.3 mm2/s, measured 13.6 with u = 1.8: printed 0.66.
  CHECK(probability("13.6", "1.8", {exact("12.5"), exact("16.3")}) == Approx(0.662630).margin(5e-7));
}

TEST_CASE("JCGM 106: speed that proves a limit exceeded") {
  // 100 km/h with u = 2 % of the reading: 106.587 km/h (printed 107) exceeds it with 99.9 %.
  CHECK(1 - probability("106.587", "2.13174", {{}, exact("100")}) == Approx(0.999).margin(2e-6));
}

TEST_CASE("JCGM 106 table 1: one-sided probabilities") {
  for (const auto& [chance, z] : std::array<std::pair<double, const char*>, 5>{
           {{0.80, "0.8416"}, {0.90, "1.2816"}, {0.95, "1.6449"}, {0.99, "2.3263"}, {0.999, "3.0902"}}})
    CHECK(probability("0", "1", {{}, exact(z)}) == Approx(chance).margin(2e-5));
}

// ISO 14253-1: proved within LSL + U to USL - U, proved outside beyond LSL - U and USL + U, neither between. The
// probabilities are those of JCGM 106 for the same values; the values are ours.
TEST_CASE("ISO 14253-1: three zones round a tolerance of 0.040 to 0.090 with U = 0.004") {
  struct Row {
    const char* value;
    const char* verdict;
    double probability;
  };
  for (const Row& row :
       {Row{"0.0660", "within", 1.0}, Row{"0.0865", "undecided", 0.959941}, Row{"0.0875", "undecided", 0.894350},
        Row{"0.0900", "undecided", 0.5}, Row{"0.0925", "undecided", 0.105650}, Row{"0.0945", "outside", 0.012224},
        Row{"0.0350", "outside", 0.006210}, Row{"0.0380", "undecided", 0.158655},
        Row{"0.0439", "undecided", 0.974412}}) {
    INFO(row.value);
    const auto found = answer("verdict", R"({"value":{"value":)" + std::string(row.value) +
                                             R"(,"unit":"mm","u":0.004},"low":"0.040 mm","high":"0.090 mm",)" +
                                             R"("rule":"guarded"})");
    CHECK(std::get<std::string>(*found.find("verdict")) == row.verdict);
    CHECK(std::get<Exact>(*found.find("probability")).to_double() == Approx(row.probability).margin(5e-7));
  }
}

// ISO 13528 and ISO/IEC 17043, from memory: E = (x1 - x2) / sqrt(U1^2 + U2^2), satisfactory up to 1.
TEST_CASE("two results agree when their normalized error is at most one") {
  for (const auto& [strip, e] : std::array<std::pair<const char*, double>, 4>{
           {{"0.060", 0.5}, {"0.045", -1.0}, {"0.0449", -1.01}, {"0.066", 1.1}}}) {
    const auto found = answer("strip-agreement", R"({"strip":{"value":)" + std::string(strip) +
                                                     R"(,"unit":"mm","u":0.006},"computed":{"value":0.055,)" +
                                                     R"("unit":"mm","u":0.008}})");
    CHECK(value(found, "difference") / u(found, "difference") == Approx(e).epsilon(1e-9));
    CHECK(written(found, "agrees") == (std::abs(e) <= 1 ? "true" : "false"));
  }
}
