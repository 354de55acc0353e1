// Means and scatter against reference data sets.
#include "calculating.h"
#include "outside/piston_rings.h"

#include <fmt/format.h>

using namespace calculating;

namespace {

std::string values(const std::vector<std::string>& numbers, std::string_view unit) {
  return fmt::format(R"({{"values":{{"values":[{}],"unit":"{}"}}}})", fmt::join(numbers, ","), unit);
}

// One value, then 500 pairs of two others.
std::vector<std::string> pairs(const char* first, const char* low, const char* high) {
  std::vector<std::string> all = {first};
  for (int i = 0; i < 500; ++i) {
    all.emplace_back(low);
    all.emplace_back(high);
  }
  return all;
}

} // namespace

// NIST Statistical Reference Datasets, univariate summary statistics: values that binary floating point gets wrong.
TEST_CASE("NIST StRD NumAcc1 to NumAcc4 come out exactly") {
  const auto check = [](const std::vector<std::string>& numbers, std::string_view mean, std::string_view deviation) {
    const auto found = answer("mean-of", values(numbers, "mm"));
    CHECK(quantity_in(found, "mean").value.text() == mean);
    CHECK(quantity_in(found, "standard_deviation").value.text() == deviation);
  };
  check({"10000001", "10000003", "10000002"}, "10000002", "1");
  check(pairs("1.2", "1.1", "1.3"), "1.2", "0.1");
  check(pairs("1000000.2", "1000000.1", "1000000.3"), "1000000.2", "0.1");
  check(pairs("10000000.2", "10000000.1", "10000000.3"), "10000000.2", "0.1");
}

// JCGM 100:2008 (GUM), 4.4.3 and table 1: twenty readings of a temperature; printed 100.14, 1.49 and 0.33 degC.
// The readings are from memory.
TEST_CASE("GUM 4.4.3: mean of twenty temperatures") {
  const auto found = answer("mean-of", values({"96.90",  "98.18",  "98.25",  "98.61",  "99.03",  "99.49",  "99.56",
                                               "99.74",  "99.89",  "100.07", "100.33", "100.42", "100.68", "100.95",
                                               "101.11", "101.20", "101.57", "101.84", "102.36", "102.72"},
                                              "degC"));
  CHECK(value(found, "mean") == Approx(100.145).margin(1e-9));
  CHECK(value(found, "standard_deviation") == Approx(1.489).margin(0.0005));
  CHECK(value(found, "u") / 2 == Approx(0.333).margin(0.0005));
  CHECK(found.notes.empty());
}

TEST_CASE("piston rings: mean, scatter and extremes of two hundred diameters") {
  std::vector<std::string> all;
  for (const auto& sample : outside::piston_rings)
    for (const int deviation : sample) all.push_back(fmt::format("{:.3f}", 74 + deviation / 1000.0));
  const auto found = answer("mean-of", values(all, "mm"));
  CHECK(value(found, "mean") == Approx(74.003605).margin(5e-7));
  CHECK(value(found, "standard_deviation") == Approx(0.011417).margin(5e-7));
}

TEST_CASE("piston rings: a sample is a plane, its range an out-of-round") {
  // Published for the first 25 samples: mean 74.001176, mean range 0.022760.
  double ranges = 0;
  std::string rows;
  for (std::size_t i = 0; i < 25; ++i) {
    std::vector<std::string> row;
    for (const int deviation : outside::piston_rings[i]) row.push_back(fmt::format("{:.3f}", 74 + deviation / 1000.0));
    const std::string plane = fmt::format("[{}]", fmt::join(row, ","));
    ranges += value(answer("form", R"({"readings":)" + mm("[" + plane + "]") + "}"), "out_of_round");
    rows += (rows.empty() ? "" : ",") + plane;
  }
  CHECK(ranges / 25 == Approx(0.022760).margin(5e-7));
  const auto found = answer("form", R"({"readings":)" + mm("[" + rows + "]") + R"(,"nominal":"74 mm","kind":"bore"})");
  CHECK(value(found, "mean") == Approx(74.001176).margin(5e-7));
  CHECK(value(found, "max") == 74.030);
  CHECK(value(found, "min") == 73.967);
  CHECK(value(found, "wear") == 0.030);
  CHECK(value(found, "out_of_round") == 0.039); // sample 14: 74.006 and 73.967
}
