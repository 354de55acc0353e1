// Conversions against NIST SP 811, the SI Brochure and GNU units.
#include "calculating.h"
#include "outside/ledger.h"

#include <fmt/format.h>

#include <array>
#include <cstdio>
#include <map>
#include <memory>

using namespace calculating;
using outside::agrees;

namespace {

// The factors of B.8 and B.9 that public libraries quote with their place, and the others from memory.
const outside::Source sp_811 = {"NIST SP 811 (2008), appendix B"};
const outside::Source sp_811_recalled = {"NIST SP 811 (2008), appendix B", outside::Standing::recalled};
const outside::Source si_brochure = {"SI Brochure, 9th edition", outside::Standing::recalled};
const outside::Source gnu = {"GNU units 2.22", outside::Standing::reference};

double converted(std::string_view from, std::string_view to, std::string_view number = "1") {
  return value(answer("convert", fmt::format(R"({{"value":{},"unit":"{}","to":"{}"}})", number, from, to)),
               "converted");
}

// How GNU units calls ours.
const std::map<std::string_view, std::string_view>& names() {
  static const std::map<std::string_view, std::string_view> all = {
      {"mm", "mm"},         {"um", "um"},      {"m", "m"},         {"in", "in"},         {"thou", "mil"},
      {"mm2", "mm^2"},      {"in2", "in^2"},   {"mm3", "mm^3"},    {"cm3", "cm^3"},      {"ml", "ml"},
      {"l", "l"},           {"N.m", "N m"},    {"kgf.m", "kgf m"}, {"kgf.cm", "kgf cm"}, {"lbf.ft", "lbf ft"},
      {"lbf.in", "lbf in"}, {"N", "N"},        {"kN", "kN"},       {"kgf", "kgf"},       {"lbf", "lbf"},
      {"MPa", "MPa"},       {"GPa", "GPa"},    {"kPa", "kPa"},     {"bar", "bar"},       {"kgf/cm2", "kgf/cm^2"},
      {"psi", "psi"},       {"g", "g"},        {"kg", "kg"},       {"oz", "oz"},         {"lb", "lb"},
      {"deg", "degree"},    {"rad", "radian"}, {"N/mm", "N/mm"},   {"m/s", "m/s"},       {"rpm", "rpm"},
      {"1/K", "1/K"},       {"s", "s"},        {"min", "min"},     {"h", "hour"},        {"1", "1"}};
  return all;
}

// The answers of GNU units to lines of "have", "want".
std::vector<double> gnu_units(const std::string& lines) {
  const std::string command = "printf '" + lines + "' | LC_ALL=C units -q -t -o %.15g";
  const std::unique_ptr<FILE, int (*)(FILE*)> output(popen(command.c_str(), "r"), pclose);
  REQUIRE(output);
  std::vector<double> answers;
  std::array<char, 256> line{};
  while (std::fgets(line.data(), static_cast<int>(line.size()), output.get()))
    answers.push_back(std::stod(line.data()));
  return answers;
}

// A factor as printed, seven digits; slack 0 where it is printed as exact.
struct Factor {
  const char* from;
  const char* to;
  double printed, slack;
};

void check(const outside::Source& source, const Factor& factor) {
  INFO(factor.from << " to " << factor.to);
  agrees(source, "convert", converted(factor.from, factor.to), factor.printed, factor.slack);
}

} // namespace

TEST_CASE("NIST SP 811 B.8 and B.9: factors read") {
  for (const Factor& factor : {Factor{"lbf", "N", 4.448222, 5e-7},
                               {"lbf.ft", "N.m", 1.355818, 5e-7},
                               {"lbf.in", "N.m", 1.129848e-1, 5e-8},
                               {"kgf.m", "N.m", 9.80665, 0},
                               {"psi", "kPa", 6.894757, 5e-7},
                               {"kgf/cm2", "kPa", 98.0665, 0},
                               {"bar", "kPa", 100, 0}})
    check(sp_811, factor);
}

TEST_CASE("NIST SP 811 B.8 and B.9: factors from memory") {
  for (const Factor& factor : {Factor{"in", "m", 2.54e-2, 0},
                               {"in", "mm", 25.4, 0},
                               {"thou", "mm", 2.54e-2, 0}, // mil
                               {"um", "m", 1e-6, 0},       // micron
                               {"in2", "mm2", 645.16, 0},
                               {"l", "cm3", 1000, 0},
                               {"kgf", "N", 9.80665, 0},
                               {"oz", "g", 28.34952, 5e-6},
                               {"lb", "kg", 4.535924e-1, 5e-8},
                               {"deg", "rad", 1.745329e-2, 5e-9},
                               {"min", "s", 60, 0},
                               {"h", "s", 3600, 0}})
    check(sp_811_recalled, factor);
}

TEST_CASE("NIST SP 811 B.9: temperatures from memory") {
  // t/degC = (t/degF - 32)/1.8; T/K = t/degC + 273.15; T/K = (t/degF + 459.67)/1.8
  agrees(sp_811_recalled, "convert", converted("degF", "degC", "212"), 100, 0);
  agrees(sp_811_recalled, "convert", converted("degF", "degC", "-40"), -40, 0);
  agrees(sp_811_recalled, "convert", converted("degC", "degF", "20"), 68, 0);
  agrees(sp_811_recalled, "convert", converted("degC", "K", "20"), 293.15, 0);
  agrees(sp_811_recalled, "convert", converted("degF", "K", "68"), 293.15, 0);
  agrees(sp_811_recalled, "convert", converted("K", "degC", "0"), -273.15, 0);
  agrees(sp_811_recalled, "convert", converted("K", "degF", "0"), -459.67, 0);
}

TEST_CASE("SI Brochure: prefixes, and units that go with the SI") {
  for (const Factor& factor : {Factor{"kN", "N", 1000, 0},
                               {"GPa", "MPa", 1000, 0},
                               {"kPa", "MPa", 0.001, 0},
                               {"bar", "MPa", 0.1, 0},
                               {"kg", "g", 1000, 0},
                               {"ml", "mm3", 1000, 0},
                               {"l", "ml", 1000, 0},
                               {"h", "min", 60, 0}})
    check(si_brochure, factor);
}

// From the base units that SP 811 gives as exact (0.45359237 kg, 9.80665 m/s2, 0.3048 m), to the last digit.
TEST_CASE("factors are kept exactly") {
  const auto exactly = [](std::string_view from, std::string_view to) {
    return quantity_in(answer("convert", fmt::format(R"({{"value":1,"unit":"{}","to":"{}"}})", from, to)), "converted")
        .value.text();
  };
  const outside::Source decimals = {"Python 3 (decimal)", outside::Standing::reference};
  agrees(decimals, "convert", exactly("lbf", "N") == "4.4482216152605");
  agrees(decimals, "convert", exactly("lbf.ft", "N.m") == "1.3558179483314004");
  agrees(decimals, "convert", exactly("lbf.in", "N.m") == "0.1129848290276167");
  agrees(decimals, "convert", exactly("kgf.cm", "N.m") == "0.0980665");
  agrees(decimals, "convert", exactly("lbf.ft", "kgf.m") == "0.138254954376");
  agrees(decimals, "convert", converted("N.m", "lbf.ft"), 0.7375621492772653878, 1e-12);
  agrees(decimals, "convert", converted("N.m", "lbf.in"), 8.8507457913271844, 1e-11);
  agrees(decimals, "convert", converted("N.m", "kgf.m"), 0.1019716212977928, 1e-12);
  agrees(decimals, "convert", converted("kgf.m", "lbf.ft"), 7.2330138512098944, 1e-11);
}

TEST_CASE("GNU units agrees on every factor of every unit") {
  std::string lines;
  std::vector<double> ours;
  std::vector<std::string> pairs;
  for (const quantity::Unit& from : quantity::all_units()) {
    for (const quantity::Unit& to : quantity::all_units()) {
      if (!quantity::same_dimension(from, to) || from.dimension == quantity::Dimension::temperature) continue;
      REQUIRE(names().contains(from.name));
      lines += fmt::format("{}\\n{}\\n", names().at(from.name), names().at(to.name));
      ours.push_back(converted(from.name, to.name));
      pairs.push_back(fmt::format("{} to {}", from.name, to.name));
    }
  }
  const std::vector<double> theirs = gnu_units(lines);
  REQUIRE(theirs.size() == ours.size());
  for (std::size_t i = 0; i < ours.size(); ++i) {
    INFO(pairs[i]);
    agrees(gnu, "convert", ours[i], theirs[i], 1e-11 * theirs[i]);
  }
}

TEST_CASE("GNU units agrees on temperatures") {
  const auto theirs = gnu_units("tempC(90)\\ntempF\\ntempF(180)\\ntempC\\ntempC(25)\\nK\\n");
  REQUIRE(theirs.size() == 3);
  agrees(gnu, "convert", converted("degC", "degF", "90"), theirs[0], 1e-11 * theirs[0]);
  agrees(gnu, "convert", converted("degF", "degC", "180"), theirs[1], 1e-11 * theirs[1]);
  agrees(gnu, "convert", converted("degC", "K", "25"), theirs[2], 1e-11 * theirs[2]);
}
