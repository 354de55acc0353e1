// What warmth does to sizes, and what is shrunk on by it.
#include "outside/ledger.h"

#include "calculating.h"

#include <fmt/format.h>

#include <cmath>

using namespace calculating;
using outside::agrees;

namespace {

const outside::Source swyt = {"D. A. Swyt, J. Res. NIST 99 (1994) 31"};
const outside::Source gum = {"JCGM 100:2008, public copies of 4.4.3 and H.1"};
const outside::Source jones = {"F. D. Jones, Turning and Boring (1914)"};
const outside::Source stepwise = {"warmed degree by degree", outside::Standing::worked};

// Millionths for each kelvin.
std::string alpha(double millionths, double u = 0) {
  return fmt::format(R"({{"value":{:.10f},"unit":"1/K","u":{:.16f}}})", millionths * 1e-6, u * 1e-6);
}

std::string celsius(double at, double u = 0) {
  return fmt::format(R"({{"value":{:.10f},"unit":"degC","u":{:.12f}}})", at, u);
}

} // namespace

TEST_CASE("coefficients of steel, aluminium and silicon lengthen a metre by as many micrometres a kelvin") {
  // Section 1: 11.5, 23.1 and 2.6 parts in a million for each degree Celsius.
  for (const double printed : {11.5, 23.1, 2.6}) {
    const auto metre =
        answer("temperature", fmt::format(R"({{"reading":"{:.7f} m","part_at":"21 degC","part_alpha":{},)"
                                          R"("gauge_at":"20 degC","gauge_alpha":{}}})",
                                          1 + printed * 1e-6, alpha(printed), alpha(8)));
    agrees(swyt, "temperature", -1e6 * value(metre, "correction"), printed, 1e-9);
    const auto gauge = answer("temperature", fmt::format(R"({{"reading":"1 m","part_at":"20 degC","part_alpha":{},)"
                                                         R"("gauge_at":"21 degC","gauge_alpha":{}}})",
                                                         alpha(8), alpha(printed)));
    agrees(swyt, "temperature", 1e6 * value(gauge, "correction"), printed, 1e-9);
    const auto ring = answer("heating", fmt::format(R"({{"interference":"{} um","room":"0 um","diameter":"1 m",)"
                                                    R"("alpha":{},"ambient":"20 degC","highest":"100 degC"}})",
                                                    printed, alpha(printed)));
    agrees(swyt, "heating", value(ring, "rise"), 1, 1e-9);
  }
}

TEST_CASE("an end gauge compared with a standard comes out as in the guide, and so does what is not known of it") {
  // H.1: a standard of 50 000 623 nm and a gauge 215 nm longer, both of steel, 11.5 millionths, near 19.9 degC. All u
  // here are standard, for a u of the program twice as large.
  const auto gauge = [](double standard, double comparison, double both_alike, double of_their_alphas) {
    const double reading = std::hypot(standard, comparison);
    return answer("temperature",
                  fmt::format(R"({{"reading":{{"value":50000838e-6,"unit":"mm","u":{:.12f}}},"part_at":{},)"
                              R"("part_alpha":{},"gauge_at":{},"gauge_alpha":{}}})",
                              2 * reading * 1e-6, celsius(19.9, 2 * both_alike), alpha(11.5, 2 * of_their_alphas),
                              celsius(19.9), alpha(11.5)));
  };
  const double apart = 0.05 / std::sqrt(3.0);          // of the two temperatures, H.1.3.4
  const double alphas = 1 / std::sqrt(3.0);            // of the two coefficients, H.1.3.3
  const double comparison = std::hypot(5.8, 3.9, 6.7); // H.1.3.2
  const auto nanometres = [](double u) { return u / 2 * 1e6; };
  const auto whole = gauge(25, comparison, apart, alphas);
  agrees(gum, "temperature", value(whole, "at_20") * 1e6, 50'000'838, 0.5);
  agrees(gum, "temperature", nanometres(u(whole, "at_20")), 32, 0.5);
  // The parts, table H.1.
  agrees(gum, "temperature", nanometres(u(gauge(25, 0, 0, 0), "at_20")), 25, 0.5);
  agrees(gum, "temperature", nanometres(u(gauge(0, comparison, 0, 0), "at_20")), 9.7, 0.05);
  agrees(gum, "temperature", nanometres(u(gauge(0, 0, apart, 0), "at_20")), 16.6, 0.05);
  agrees(gum, "temperature", nanometres(u(gauge(0, 0, 0, alphas), "at_20")), 2.9, 0.05);
}

TEST_CASE("tyres are turned smaller than their wheels by the allowances of the trade") {
  // Shrinkage fits: allowances of the American Railway Master Mechanics Association, by the diameter of the centre.
  struct {
    const char *centre, *tyre;
    double allowance; // in
  } const tyres[] = {{"38", "37.960", 0.040}, {"44", "43.953", 0.047}, {"50", "49.947", 0.053},
                     {"56", "55.940", 0.060}, {"62", "61.934", 0.066}, {"66", "65.930", 0.070}};
  for (const auto& [centre, tyre, allowance] : tyres) {
    const auto found = answer("interference", fmt::format(R"({{"bore":"{} in","part":"{} in"}})", tyre, centre));
    for (const char* result : {"min", "max", "mean"})
      agrees(jones, "interference", value(found, result), allowance, 0.0005);
  }
}

TEST_CASE("a ring warmed degree by degree opens until it clears the shaft") {
  // The bore grows by its first size for each degree. In Fahrenheit: a bearing of 4 in over 4.004 in with 0.005 in of
  // room, 6.7 millionths a degree, is a common textbook exercise.
  struct {
    double bore, shaft, room, millionths; // in, in, in, 1/degF
  } const rings[] = {{4.000, 4.004, 0.005, 6.7}, {2.000, 2.0018, 0.002, 6.4}, {1.500, 1.5012, 0.001, 12.8}};
  for (const auto& [bore, shaft, room, millionths] : rings) {
    double at = 70;
    double opened = bore;
    const double step = 0.001;
    while (opened < shaft + room) {
      opened += bore * millionths * 1e-6 * step;
      at += step;
    }
    const auto found = answer(
        "heating", fmt::format(R"({{"interference":"{:.4f} in","room":"{:.4f} in","diameter":"{} in","alpha":{},)"
                               R"("ambient":"70 degF","highest":"500 degF"}})",
                               shaft - bore, room, bore, alpha(1.8 * millionths)));
    agrees(stepwise, "heating", value(found, "temperature"), at, 2 * step);
    agrees(stepwise, "heating", value(found, "rise") * 1.8, at - 70, 2 * step);
  }
}
