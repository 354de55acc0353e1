// Means and scatter against reference data sets.
#include "calculating.h"
#include "outside/ledger.h"
#include "outside/piston_rings.h"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <vector>

using namespace calculating;
using outside::agrees;

namespace {

const outside::Source strd = {"NIST Statistical Reference Datasets, univariate", outside::Standing::recalled};
const outside::Source montgomery = {
    "D. C. Montgomery, Introduction to Statistical Quality Control, 2nd edition (1991)"};

// Speed of light in air, km/s above 299 000: A. A. Michelson, 1879 (NIST StRD Michelso).
constexpr std::array<int, 100> light_speed = {
    850, 740, 900, 1070, 930, 850, 950, 980, 980, 880, 1000, 980, 930, 650, 760, 810, 1000, 1000, 960, 960,
    960, 940, 960, 940,  880, 800, 850, 880, 900, 840, 830,  790, 810, 880, 880, 830, 800,  790,  760, 800,
    880, 880, 880, 860,  720, 720, 620, 860, 970, 950, 880,  910, 850, 870, 840, 840, 850,  840,  840, 840,
    890, 810, 810, 820,  800, 770, 760, 740, 750, 760, 910,  920, 890, 860, 880, 720, 840,  850,  850, 780,
    890, 840, 780, 810,  760, 810, 790, 810, 820, 850, 870,  870, 810, 740, 810, 940, 950,  800,  810, 870};

// Numbers drawn in a lottery (NIST StRD Lottery).
constexpr std::array<int, 218> lottery = {
    162, 671, 933, 414, 788, 730, 817, 33,  536, 875, 670, 236, 473, 167, 877, 980, 316, 950, 456, 92,  517, 557,
    956, 954, 104, 178, 794, 278, 147, 773, 437, 435, 502, 610, 582, 780, 689, 562, 964, 791, 28,  97,  848, 281,
    858, 538, 660, 972, 671, 613, 867, 448, 738, 966, 139, 636, 847, 659, 754, 243, 122, 455, 195, 968, 793, 59,
    730, 361, 574, 522, 97,  762, 431, 158, 429, 414, 22,  629, 788, 999, 187, 215, 810, 782, 47,  34,  108, 986,
    25,  644, 829, 630, 315, 567, 919, 331, 207, 412, 242, 607, 668, 944, 749, 168, 864, 442, 533, 805, 372, 63,
    458, 777, 416, 340, 436, 140, 919, 350, 510, 572, 905, 900, 85,  389, 473, 758, 444, 169, 625, 692, 140, 897,
    672, 288, 312, 860, 724, 226, 884, 508, 976, 741, 476, 417, 831, 15,  318, 432, 241, 114, 799, 955, 833, 358,
    935, 146, 630, 830, 440, 642, 356, 373, 271, 715, 367, 393, 190, 669, 8,   861, 108, 795, 269, 590, 326, 866,
    64,  523, 862, 840, 219, 382, 998, 4,   628, 305, 747, 247, 34,  747, 729, 645, 856, 974, 24,  568, 24,  694,
    608, 480, 410, 729, 947, 293, 53,  930, 223, 203, 677, 227, 62,  455, 387, 318, 562, 242, 428, 968};

using Numbers = std::vector<std::string>;

calc::Answer mean_of(const Numbers& numbers, std::string_view unit) {
  return answer("mean-of", fmt::format(R"({{"values":{{"values":[{}],"unit":"{}"}}}})", fmt::join(numbers, ","), unit));
}

// One value, then 500 pairs of two others.
Numbers pairs(const char* first, const char* low, const char* high) {
  Numbers all = {first};
  for (int i = 0; i < 500; ++i) {
    all.emplace_back(low);
    all.emplace_back(high);
  }
  return all;
}

Numbers diameters(const std::array<int, 5>& sample) {
  Numbers all;
  for (const int deviation : sample) all.push_back(fmt::format("{:.3f}", 74 + deviation / 1000.0));
  return all;
}

// The first so many samples, one after another.
Numbers rings(std::size_t samples) {
  Numbers all;
  for (std::size_t i = 0; i < samples; ++i)
    for (const std::string& each : diameters(outside::piston_rings[i])) all.push_back(each);
  return all;
}

std::string plane(const std::array<int, 5>& sample) {
  return fmt::format("[{}]", fmt::join(diameters(sample), ","));
}

calc::Answer form(const std::string& planes) {
  return answer("form", R"({"readings":)" + mm("[" + planes + "]") + R"(,"nominal":"74 mm","kind":"bore"})");
}

// Of the first 25 samples: the mean of something each has.
template <typename Figure>
double mean_of_samples(const Figure& figure) {
  double sum = 0;
  for (std::size_t i = 0; i < 25; ++i) sum += figure(outside::piston_rings[i]);
  return sum / 25;
}

double range(const std::array<int, 5>& sample) {
  return value(form(plane(sample)), "out_of_round");
}

double deviation(const std::array<int, 5>& sample) {
  return value(mean_of(diameters(sample), "mm"), "standard_deviation");
}

} // namespace

// Values that binary floating point gets wrong; the certified ones are exact.
TEST_CASE("NIST StRD NumAcc1 to NumAcc4 come out exactly") {
  const auto check = [](const Numbers& numbers, std::string_view mean, std::string_view deviation_text) {
    const auto found = mean_of(numbers, "mm");
    agrees(strd, "mean-of", quantity_in(found, "mean").value.text() == mean);
    agrees(strd, "mean-of", quantity_in(found, "standard_deviation").value.text() == deviation_text);
  };
  check({"10000001", "10000003", "10000002"}, "10000002", "1");
  check(pairs("1.2", "1.1", "1.3"), "1.2", "0.1");
  check(pairs("1000000.2", "1000000.1", "1000000.3"), "1000000.2", "0.1");
  check(pairs("10000000.2", "10000000.1", "10000000.3"), "10000000.2", "0.1");
}

TEST_CASE("NIST StRD Michelso and Lottery to every digit a result has") {
  Numbers speeds;
  for (const int speed : light_speed) speeds.push_back(fmt::format("{:.3f}", 299 + speed / 1000.0));
  const auto light = mean_of(speeds, "m/s");
  agrees(strd, "mean-of", value(light, "mean"), 299.852400000000, 0);
  agrees(strd, "mean-of", value(light, "standard_deviation"), 0.0790105478190518, 1e-13);
  Numbers drawn;
  for (const int number : lottery) drawn.push_back(fmt::format("{}", number));
  const auto numbers = mean_of(drawn, "1");
  agrees(strd, "mean-of", value(numbers, "mean"), 518.958715596330, 1e-9);
  agrees(strd, "mean-of", value(numbers, "standard_deviation"), 291.699727470969, 1e-9);
}

// The data as in the package qcc 2.7 of R; what is made of them recomputed to more digits than the book prints.
TEST_CASE("piston rings: mean, scatter and extremes of two hundred diameters") {
  const auto all = mean_of(rings(40), "mm");
  agrees(montgomery, "mean-of", value(all, "mean"), 74.003605, 5e-7);
  agrees(montgomery, "mean-of", value(all, "standard_deviation"), 0.011417, 5e-7);
  std::string planes;
  for (const auto& sample : outside::piston_rings) planes += (planes.empty() ? "" : ",") + plane(sample);
  const auto shape = form(planes);
  agrees(montgomery, "form", value(shape, "min"), 73.967, 0);
  agrees(montgomery, "form", value(shape, "max"), 74.036, 0);
  agrees(montgomery, "form", value(shape, "mean"), 74.003605, 5e-7);
}

TEST_CASE("piston rings: a sample is a plane, its range an out-of-round") {
  std::string planes;
  for (std::size_t i = 0; i < 25; ++i) planes += (planes.empty() ? "" : ",") + plane(outside::piston_rings[i]);
  const auto shape = form(planes);
  const double mean_range = mean_of_samples(range);
  agrees(montgomery, "form", mean_range, 0.022760, 5e-7);
  agrees(montgomery, "form", value(shape, "mean"), 74.001176, 5e-7);
  agrees(montgomery, "form", mean_range / 2.326, 0.009785, 5e-7);                         // d2 of five
  agrees(montgomery, "form", 2.115 * mean_range, 0.048137, 5e-7);                         // D4 of five
  agrees(montgomery, "form", value(shape, "mean") - 0.577 * mean_range, 73.988043, 5e-7); // A2 of five
  agrees(montgomery, "form", value(shape, "mean") + 0.577 * mean_range, 74.014309, 5e-7);
  CHECK(value(shape, "max") == 74.030);
  CHECK(value(shape, "min") == 73.967);
  CHECK(value(shape, "wear") == 0.030);
  CHECK(value(shape, "out_of_round") == 0.039); // sample 14: 74.006 and 73.967
}

TEST_CASE("piston rings: how far a sample's sizes lie apart is its range") {
  const auto apart = [](const std::array<int, 5>& sample) {
    return value(answer("spread", R"({"sizes":{"values":)" + plane(sample) + R"(,"unit":"mm"}})"), "spread");
  };
  agrees(montgomery, "spread", mean_of_samples(apart), 0.022760, 5e-7);
  agrees(montgomery, "spread", apart(outside::piston_rings[0]), 0.038, 0);
  agrees(montgomery, "spread", apart(outside::piston_rings[13]), 0.039, 0);
}

TEST_CASE("piston rings: scatter within samples, and how well the process keeps 73.95 to 74.05 mm") {
  const double mean = value(mean_of(rings(25), "mm"), "mean");
  agrees(montgomery, "mean-of", mean, 74.001176, 5e-7);
  agrees(montgomery, "mean-of", mean_of_samples(deviation), 0.009240, 5e-7);
  const double squares = mean_of_samples([](const auto& sample) { return std::pow(deviation(sample), 2); });
  agrees(montgomery, "mean-of", std::sqrt(squares), 0.009863, 5e-7);
  const double sigma = mean_of_samples(range) / 2.326;
  agrees(montgomery, "form", (74.05 - 73.95) / (6 * sigma), 1.70328, 5e-6);
  agrees(montgomery, "form", std::min(74.05 - mean, mean - 73.95) / (3 * sigma), 1.66322, 5e-6);
}
