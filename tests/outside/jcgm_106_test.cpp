// Decision rules and the chance of a wrong decision against their documents.
#include "calc/judging.h"

#include "calculating.h"
#include "outside/ledger.h"

#include <array>
#include <cmath>
#include <numbers>

using namespace calculating;
using calc::Bounds;
using calc::Exact;
using outside::agrees;

namespace {

const outside::Source jcgm_106 = {"JCGM 106:2012", outside::Standing::recalled};
const outside::Source iso_14253 = {"ISO 14253-1:2017", outside::Standing::recalled};
const outside::Source iso_13528 = {"ISO 13528", outside::Standing::recalled};
const outside::Source python = {"Python 3 (normal distribution of its statistics module)",
                                outside::Standing::reference};

Exact exact(std::string_view text) {
  return Exact::decimal(text).value();
}

double probability(std::string_view value, std::string_view standard_u, const Bounds& bounds) {
  return calc::conformance_probability(exact(value), exact(standard_u) + exact(standard_u), bounds);
}

double probability(const calc::Answer& answer) {
  return std::get<Exact>(*answer.find("probability")).to_double();
}

// A measured value with U against limits in mm.
calc::Answer judged(const char* value, const char* u, const char* low, const char* high) {
  return answer("verdict", R"({"value":{"value":)" + std::string(value) + R"(,"unit":"mm","u":)" + u + R"(},"low":")" +
                               low + R"( mm","high":")" + high + R"( mm","rule":"guarded"})");
}

// What a value's verdict is by the rule, and the chance that the true value conforms.
struct Row {
  const char* value;
  const char* verdict;
  double probability;
};

void check_row(const Row& row, const char* u, const char* low, const char* high) {
  INFO(row.value);
  const auto found = judged(row.value, u, low, high);
  agrees(iso_14253, "verdict", std::get<std::string>(*found.find("verdict")) == row.verdict);
  agrees(python, "verdict", probability(found), row.probability, 5e-7);
}

} // namespace

// JCGM 106:2012 (also OIML G 1-106), clause 7; the examples' numbers from memory, each worked out to more digits.
TEST_CASE("JCGM 106: breakdown voltage of a diode, one upper limit") {
  // -5.40 V at most, measured -5.47 V with u = 0.05 V
  const double found = probability("-5.47", "0.05", {{}, exact("-5.40")});
  agrees(jcgm_106, "verdict", found, 0.92, 0.005);
  agrees(python, "verdict", found, 0.9192433407662289, 1e-12);
}

TEST_CASE("JCGM 106: pressure a container withstands, one lower limit") {
  // 490 kPa at least, measured 509.7 kPa with u = 8.6 kPa
  const auto found =
      answer("verdict", R"({"value":{"value":509.7,"unit":"kPa","u":17.2},"low":"490 kPa","rule":"simple"})");
  agrees(jcgm_106, "verdict", probability(found), 0.99, 0.005);
  agrees(python, "verdict", probability(found), 0.989010, 5e-7);
  CHECK(value(found, "guard_band") == 17.2);
}

TEST_CASE("JCGM 106: viscosity of an oil, two limits") {
  // 12.5 to 16.3 mm2/s, measured 13.6 with u = 1.8
  const double found = probability("13.6", "1.8", {exact("12.5"), exact("16.3")});
  agrees(jcgm_106, "verdict", found, 0.66, 0.005);
  agrees(python, "verdict", found, 0.662630, 5e-7);
}

TEST_CASE("JCGM 106: speed that proves a limit exceeded") {
  // 100 km/h with u = 2 % of the reading: 107 km/h, the first whole reading that exceeds it with 99.9 %
  const auto exceeded = [](const char* speed, const char* standard_u) {
    return 1 - probability(speed, standard_u, {{}, exact("100")});
  };
  agrees(jcgm_106, "verdict", exceeded("107", "2.14") >= 0.999 && exceeded("106", "2.12") < 0.999);
  agrees(python, "verdict", exceeded("106.587", "2.13174"), 0.999, 2e-6);
}

TEST_CASE("JCGM 106 table 1: one-sided probabilities") {
  for (const auto& [chance, z] : std::array<std::pair<double, const char*>, 5>{
           {{0.80, "0.84"}, {0.90, "1.28"}, {0.95, "1.64"}, {0.99, "2.33"}, {0.999, "3.09"}}}) {
    // z is printed to 0.01, which moves the chance by the density there.
    const double density = std::exp(-std::pow(std::stod(z), 2) / 2) / std::sqrt(2 * std::numbers::pi);
    agrees(jcgm_106, "verdict", probability("0", "1", {{}, exact(z)}), chance, 0.005 * density + 1e-5);
  }
  for (const auto& [chance, z] : std::array<std::pair<double, const char*>, 5>{
           {{0.80, "0.8416"}, {0.90, "1.2816"}, {0.95, "1.6449"}, {0.99, "2.3263"}, {0.999, "3.0902"}}})
    agrees(python, "verdict", probability("0", "1", {{}, exact(z)}), chance, 2e-5);
}

TEST_CASE("JCGM 106: measurement capability index") {
  // T / (2 U) of a tolerance of 0.050 with U = 0.004: 6.25; below 1 no value can be proved
  const auto found = judged("0.065", "0.004", "0.040", "0.090");
  agrees(jcgm_106, "verdict", 0.050 / (2 * value(found, "guard_band")), 6.25, 1e-12);
  CHECK(!calc::too_coarse(exact("0.004"), {exact("0.040"), exact("0.090")}));
  CHECK(calc::too_coarse(exact("0.005"), {exact("0.018"), exact("0.024")}));
}

TEST_CASE("JCGM 106 clause 9: risks of the two wrong decisions over a whole process") {
  // A process round 0 with 0.12, a gauge with 0.04, a tolerance of +-0.2 and guard bands w; the integrals by Simpson's
  // rule over the true value, the chance of acceptance by the program.
  const auto accepted = [](double truth, const char* acceptance) {
    const Exact limit = exact(acceptance);
    return calc::conformance_probability(Exact::rounded(truth), exact("0.08"), {-limit, limit});
  };
  const auto integral = [](double from, double to, const auto& f) {
    constexpr int steps = 400;
    const double step = (to - from) / steps;
    double sum = f(from) + f(to);
    for (int i = 1; i < steps; ++i) sum += f(from + i * step) * (i % 2 ? 4 : 2);
    return sum * step / 3;
  };
  const auto density = [](double x) {
    return std::exp(-x * x / (2 * 0.12 * 0.12)) / (0.12 * std::sqrt(2 * std::numbers::pi));
  };
  struct Risk {
    const char* acceptance;
    double consumer, producer;
  };
  for (const Risk& risk :
       {Risk{"0.20", 0.018942, 0.037208}, {"0.16", 0.004334, 0.114657}, {"0.12", 0.000469, 0.247670}}) {
    INFO(risk.acceptance);
    const double consumer = 2 * integral(0.2, 0.7, [&](double x) { return density(x) * accepted(x, risk.acceptance); });
    const double producer =
        integral(-0.2, 0.2, [&](double x) { return density(x) * (1 - accepted(x, risk.acceptance)); });
    agrees(python, "verdict", consumer, risk.consumer, 1e-6);
    agrees(python, "verdict", producer, risk.producer, 1e-6);
  }
}

// ISO 14253-1: proved within LSL + U to USL - U, proved outside beyond LSL - U and USL + U, neither between. The rule
// from summaries of the document, the values ours.
TEST_CASE("ISO 14253-1: three zones round a tolerance of 0.040 to 0.090 with U = 0.004") {
  for (const Row& row :
       {Row{"0.0660", "within", 1.0}, Row{"0.0865", "undecided", 0.959941}, Row{"0.0875", "undecided", 0.894350},
        Row{"0.0900", "undecided", 0.5}, Row{"0.0925", "undecided", 0.105650}, Row{"0.0945", "outside", 0.012224},
        Row{"0.0350", "outside", 0.006210}, Row{"0.0380", "undecided", 0.158655}, Row{"0.0439", "undecided", 0.974412}})
    check_row(row, "0.004", "0.040", "0.090");
}

TEST_CASE("ISO 14253-1: oil clearances against 0.018 to 0.065 with U = 0.005") {
  for (const Row& row :
       {Row{"0.048", "within", 1.0}, Row{"0.062", "undecided", 0.884930}, Row{"0.0605", "undecided", 0.964070},
        Row{"0.0595", "within", 0.986097}, Row{"0.071", "outside", 0.008198}})
    check_row(row, "0.005", "0.018", "0.065");
}

TEST_CASE("ISO 14253-1: the edges of the zones") {
  const auto verdict = [](const char* value) {
    return std::get<std::string>(*judged(value, "0.004", "0.040", "0.090").find("verdict"));
  };
  agrees(iso_14253, "verdict", verdict("0.044") == "within" && verdict("0.043999") == "undecided");
  agrees(iso_14253, "verdict", verdict("0.086") == "within" && verdict("0.086001") == "undecided");
  agrees(iso_14253, "verdict", verdict("0.036") == "undecided" && verdict("0.035999") == "outside");
  agrees(iso_14253, "verdict", verdict("0.094") == "undecided" && verdict("0.094001") == "outside");
}

// ISO 13528 and ISO/IEC 17043: E = (x1 - x2) / sqrt(U1^2 + U2^2), satisfactory up to 1.
TEST_CASE("two results agree when their normalized error is at most one") {
  for (const auto& [strip, e] : std::array<std::pair<const char*, double>, 4>{
           {{"0.060", 0.5}, {"0.045", -1.0}, {"0.0449", -1.01}, {"0.066", 1.1}}}) {
    INFO(strip);
    const auto found = answer("strip-agreement", R"({"strip":{"value":)" + std::string(strip) +
                                                     R"(,"unit":"mm","u":0.006},"computed":{"value":0.055,)" +
                                                     R"("unit":"mm","u":0.008}})");
    agrees(iso_13528, "strip-agreement", value(found, "difference") / u(found, "difference"), e, 1e-9);
    agrees(iso_13528, "strip-agreement", written(found, "agrees") == (std::abs(e) <= 1 ? "true" : "false"));
  }
}
