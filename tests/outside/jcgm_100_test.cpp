// JCGM 100:2008 (GUM): divisors, the end gauge of annex H.1, repeated readings.
#include "calculating.h"
#include "outside/ledger.h"

#include <fmt/format.h>

#include <string>
#include <vector>

using namespace calculating;
using outside::agrees;
using outside::Source;
using outside::Standing;

namespace {

const Source gum = {"JCGM 100:2008, public copies of 4.4.3 and H.1"};
const Source from_memory = {"JCGM 100:2008", Standing::recalled};

struct Part {
  double value;
  const char* shape;
  double k = 0; // of a normal part
  double sensitivity = 1;
};

// All in plain numbers: the parts of these examples are in several units.
calc::Answer combined(const std::vector<Part>& parts) {
  std::string list;
  for (const Part& part : parts)
    list += fmt::format(R"(,{{"name":"part","value":{{"value":{},"unit":"1"}},"shape":"{}",{}"sensitivity":{}}})",
                        part.value, part.shape, part.k > 0 ? fmt::format(R"("k":{},)", part.k) : "", part.sensitivity);
  return answer("uncertainty", R"({"parts":[)" + list.substr(1) + "]}");
}

double standard(const std::vector<Part>& parts) {
  return value(combined(parts), "standard");
}

} // namespace

TEST_CASE("GUM H.1: an end gauge against its standard, in nanometres") {
  const std::vector<Part> comparison = {{5.8, "normal", 1}, {3.9, "normal", 1}, {6.7, "normal", 1}};
  constexpr double length = 50'000'623; // of the standard
  agrees(gum, "uncertainty", standard(comparison), 9.7, 0.05);
  // Difference of the expansions +/- 1e-6/K at -0.1 K; difference of the temperatures +/- 0.05 K at 11.5e-6/K.
  agrees(gum, "uncertainty", standard({{1e-6, "rectangular", 0, length * 0.1}}), 2.9, 0.05);
  agrees(gum, "uncertainty", standard({{0.05, "rectangular", 0, length * 11.5e-6}}), 16.6, 0.05);
  std::vector<Part> all = comparison;
  all.push_back({25, "normal", 1});
  all.push_back({1e-6, "rectangular", 0, length * 0.1});
  all.push_back({0.05, "rectangular", 0, length * 11.5e-6});
  agrees(gum, "uncertainty", standard(all), 32, 0.5);
  agrees(gum, "uncertainty", standard(all), 31.66388, 5e-6);
  // H.1.7: terms of second order, 11.7 and 1.7 nm.
  all.push_back({11.726186, "normal", 1});
  all.push_back({1.666687, "normal", 1});
  agrees(gum, "uncertainty", standard(all), 34, 0.5);
}

TEST_CASE("GUM 4.4.3, table 1: twenty readings of a temperature") {
  const auto found = answer(
      "mean-of", R"({"values":{"values":[96.90,98.18,98.25,98.61,99.03,99.49,99.56,99.74,99.89,100.07,100.33,100.42,)"
                 R"(100.68,100.95,101.11,101.20,101.57,101.84,102.36,102.72],"unit":"degC"}})");
  agrees(gum, "mean-of", value(found, "mean"), 100.14, 0.00501); // 100.145, printed cut
  agrees(gum, "mean-of", value(found, "standard_deviation"), 1.49, 0.005);
  agrees(gum, "mean-of", u(found, "mean") / 2, 0.33, 0.005);
}

TEST_CASE("GUM F.2.2.1: the step of a digital indication, 0.29 of it") {
  agrees(from_memory, "uncertainty", standard({{0.5, "rectangular"}}), 0.29, 0.005);
  for (const double step : {0.001, 0.002, 0.010}) // mm
    agrees(from_memory, "uncertainty", standard({{step / 2, "rectangular"}}), step / std::sqrt(12.0), 1e-11 * step);
}

TEST_CASE("GUM 4.3: certificates, coverage and half-widths") {
  agrees(from_memory, "uncertainty", standard({{240, "normal", 3}}), 80, 1e-9);          // 4.3.3, a mass, ug
  agrees(from_memory, "uncertainty", standard({{129, "normal", 2.58}}), 50, 0.5);        // 4.3.4, a resistor, uOhm
  agrees(from_memory, "uncertainty", standard({{0.04, "normal", 0.6745}}), 0.06, 0.005); // 4.3.5, a length, mm
  agrees(from_memory, "uncertainty", standard({{0.40, "rectangular"}}), 0.23, 0.005);    // 4.3.7, copper, 1e-6/K
  agrees(from_memory, "uncertainty", standard({{4, "rectangular"}}), 2.3, 0.05);         // 4.4.5, 96 to 104 degC
  agrees(from_memory, "uncertainty", standard({{4, "triangular"}}), 1.6, 0.05);          // 4.4.6, the same, triangular
}

TEST_CASE("GUM H.2, table H.2: five readings each of voltage, current and phase") {
  struct Row {
    const char* readings;
    double mean, deviation; // of the mean
    double mean_slack, slack;
  };
  for (const Row& row : {Row{"[5.007,4.994,5.005,4.990,4.999]", 4.9990, 0.0032, 0.00005, 0.00005},
                         Row{"[19.663,19.639,19.640,19.685,19.678]", 19.6610, 0.0095, 0.00005, 0.00005},
                         Row{"[1.0456,1.0438,1.0468,1.0428,1.0433]", 1.04446, 0.00075, 0.000005, 0.000005}}) {
    const auto found = answer("mean-of", fmt::format(R"({{"values":{{"values":{},"unit":"1"}}}})", row.readings));
    agrees(from_memory, "mean-of", value(found, "mean"), row.mean, row.mean_slack);
    agrees(from_memory, "mean-of", u(found, "mean") / 2, row.deviation, row.slack);
  }
}

TEST_CASE("GUM H.3: scatter of the thermometer's corrections about their line, as parts of one") {
  // Printed: s = 0.0035; slope 0.00218(67) and intercept -0.1712(29) at 20 degC, correlated by -0.930. The prediction
  // at 30 degC holds both and what they share; without what they share it would be 0.0073, with it 0.0041.
  const double slope = 0.00066794;
  const double intercept = 0.002878;
  const double apart = standard({{intercept, "normal", 1}, {slope, "normal", 1, 10}});
  CHECK(apart == Approx(std::hypot(intercept, 10 * slope)).epsilon(1e-9));
  outside::disagrees(from_memory, "uncertainty", apart, 0.0041, 0.0005,
                     "prediction at 30 degC of annex H.3: slope and intercept are correlated there, and the "
                     "computation is for independent parts");
}
