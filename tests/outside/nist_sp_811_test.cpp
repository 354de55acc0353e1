// Conversions against NIST SP 811 and against GNU units.
#include "calculating.h"

#include <fmt/format.h>

#include <array>
#include <cstdio>
#include <map>
#include <memory>

using namespace calculating;

namespace {

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

} // namespace

// NIST SP 811 (2008), appendix B.8: factors as printed, seven digits (exact where SP 811 prints them bold).
TEST_CASE("NIST SP 811: factors as printed") {
  constexpr double printed = 5e-7;
  CHECK(converted("in", "mm") == 25.4);
  CHECK(converted("thou", "mm") == 0.0254);
  CHECK(converted("kgf", "N") == 9.80665);
  CHECK(converted("kgf.m", "N.m") == 9.80665);
  CHECK(converted("lb", "kg") == 0.45359237);
  CHECK(converted("lbf", "N") == Approx(4.448222).epsilon(printed));
  CHECK(converted("lbf.ft", "N.m") == Approx(1.355818).epsilon(printed));
  CHECK(converted("lbf.in", "N.m") == Approx(0.1129848).epsilon(printed));
  CHECK(converted("oz", "g") == Approx(28.34952).epsilon(printed));
  CHECK(converted("psi", "kPa") == Approx(6.894757).epsilon(printed));
  CHECK(converted("kgf/cm2", "kPa") == Approx(98.0665).epsilon(printed));
  CHECK(converted("in2", "mm2") == Approx(645.16).epsilon(printed));
}

// SP 811, B.8 from its exact base units (0.45359237 kg, 9.80665 m/s2, 0.3048 m), to the last digit.
TEST_CASE("NIST SP 811: factors exactly") {
  const auto exactly = [](std::string_view from, std::string_view to) {
    return quantity_in(answer("convert", fmt::format(R"({{"value":1,"unit":"{}","to":"{}"}})", from, to)), "converted")
        .value.text();
  };
  CHECK(exactly("lbf", "N") == "4.4482216152605");
  CHECK(exactly("lbf.ft", "N.m") == "1.3558179483314004");
  CHECK(exactly("lbf.in", "N.m") == "0.1129848290276167");
  CHECK(exactly("kgf.cm", "N.m") == "0.0980665");
}

TEST_CASE("NIST SP 811 B.8: temperatures") {
  CHECK(converted("degF", "degC", "212") == 100);
  CHECK(converted("degF", "degC", "-40") == -40);
  CHECK(converted("degC", "K", "20") == 293.15);
  CHECK(converted("degF", "K", "68") == 293.15);
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
    CHECK(ours[i] == Approx(theirs[i]).epsilon(1e-11));
  }
}

TEST_CASE("GNU units agrees on temperatures") {
  const auto theirs = gnu_units("tempC(90)\\ntempF\\ntempF(180)\\ntempC\\ntempC(25)\\nK\\n");
  REQUIRE(theirs.size() == 3);
  CHECK(converted("degC", "degF", "90") == Approx(theirs[0]).epsilon(1e-11));
  CHECK(converted("degF", "degC", "180") == Approx(theirs[1]).epsilon(1e-11));
  CHECK(converted("degC", "K", "25") == Approx(theirs[2]).epsilon(1e-11));
}
