#include "quantity/quantity.h"

#include <catch2/catch.hpp>

#include <random>
#include <set>

using quantity::convert;
using quantity::convert_difference;
using quantity::Dimension;
using quantity::Exact;
using quantity::find_unit;
using quantity::Quantity;
using quantity::Unit;

namespace {

Exact dec(std::string_view text) {
  return Exact::decimal(text).value();
}

const Unit& unit(std::string_view name) {
  const Unit* found = find_unit(name);
  INFO("unit " << name);
  REQUIRE(found != nullptr);
  return *found;
}

Exact one(std::string_view from, std::string_view to) {
  return convert(1, unit(from), unit(to));
}

struct Printed {
  const char *from, *to, *factor;
};

// Is `value` what rounds to `printed`: within half a unit of its last digit?
bool rounds_to(const Exact& value, std::string_view printed) {
  const auto dot = printed.find('.');
  Exact half = Exact::ratio(1, 2);
  for (auto i = dot; i != std::string_view::npos && i + 1 < printed.size(); ++i) half = half / 10;
  return (value - dec(printed)).abs() <= half;
}

} // namespace

TEST_CASE("exact factors are those that NIST SP 811 prints bold") {
  // NIST SP 811 (2008), appendix B.8; a factor in boldface is exact. Powers of ten moved to the unit named here.
  const Printed rows[] = {
      {"in", "mm", "25.4"},          {"thou", "mm", "0.0254"},       {"in", "m", "0.0254"},
      {"um", "m", "1e-6"},           {"in2", "mm2", "645.16"},       {"l", "mm3", "1e6"},
      {"kgf", "N", "9.80665"},       {"kgf.m", "N.m", "9.80665"},    {"bar", "kPa", "100"},
      {"kgf/cm2", "kPa", "98.0665"}, {"kgf.cm", "N.m", "0.0980665"},
  };
  for (const auto& row : rows) {
    INFO(row.from << " to " << row.to);
    CHECK(one(row.from, row.to) == dec(row.factor));
  }
}

TEST_CASE("rounded factors are those that NIST SP 811 prints") {
  // NIST SP 811 (2008), appendix B.8, printed to seven digits.
  const Printed rows[] = {
      {"lbf", "N", "4.448222"},     {"lbf.ft", "N.m", "1.355818"}, {"lbf.in", "N.m", "0.1129848"},
      {"psi", "kPa", "6.894757"},   {"oz", "g", "28.34952"},       {"lb", "kg", "0.4535924"},
      {"deg", "rad", "0.01745329"},
  };
  for (const auto& row : rows) {
    INFO(row.from << " to " << row.to << " is " << one(row.from, row.to).text());
    CHECK(rounds_to(one(row.from, row.to), row.factor));
  }
  // The notes of appendix B: one pound is 0.453 592 37 kg exactly, one pound-force 4.448 221 615 260 5 N exactly.
  CHECK(one("lb", "kg") == dec("0.45359237"));
  CHECK(one("lbf", "N") == dec("4.4482216152605"));
  CHECK(one("lbf", "kgf") == dec("0.45359237"));
  CHECK(one("oz", "lb") == Exact::ratio(1, 16));
}

TEST_CASE("factors agree with GNU units to 15 digits") {
  // GNU Units 2.22, `units -t -d 15 FROM TO`.
  const Printed rows[] = {
      {"lbf.ft", "N.m", "1.3558179483314"},
      {"lbf.in", "N.m", "0.112984829027617"},
      {"psi", "MPa", "0.00689475729316836"},
      {"kPa", "psi", "0.145037737730209"},
      {"oz", "g", "28.349523125"},
      {"lb", "g", "453.59237"},
      {"N.m", "lbf.ft", "0.737562149277265"},
      {"N.m", "lbf.in", "8.85074579132718"},
      {"mm", "in", "0.0393700787401575"},
      {"kg", "lb", "2.20462262184878"},
      {"lbf", "kgf", "0.45359237"},
      {"min", "s", "60"},
      {"h", "s", "3600"},
  };
  for (const auto& row : rows) {
    INFO(row.from << " to " << row.to << " is " << one(row.from, row.to).text());
    const Exact expected = dec(row.factor);
    CHECK((one(row.from, row.to) - expected).abs() <= expected * dec("5e-12") / 1000);
  }
  CHECK(convert(dec("61.9633"), unit("mm"), unit("in")) == dec("2.4395"));
  CHECK(rounds_to(convert(dec("29.5"), unit("lbf.ft"), unit("N.m")), "39.9966294757763"));
}

TEST_CASE("angles go through pi and settle at 12 digits") {
  // GNU Units 2.22: 57.2957795130823 and 0.0174532925199433.
  CHECK(one("rad", "deg") == dec("57.2957795131"));
  CHECK(one("deg", "rad") == dec("0.0174532925199"));
  CHECK(convert(180, unit("deg"), unit("rad")) == dec("3.14159265359"));
  CHECK(convert(90, unit("deg"), unit("rad")) == dec("1.57079632679"));
  CHECK(convert(dec("0.1234567890123456789"), unit("rad"), unit("rad")) == dec("0.1234567890123456789"));
  CHECK(convert(dec("0.1234567890123456789"), unit("deg"), unit("deg")) == dec("0.1234567890123456789"));
  CHECK(convert_difference(180, unit("deg"), unit("rad")) == dec("3.14159265359"));
}

TEST_CASE("temperatures carry their offset, differences do not") {
  // NIST SP 811 appendix B.8: T/K = t/degC + 273.15 and T/K = (t/degF + 459.67)/1.8, both exact.
  const Unit &celsius = unit("degC"), &fahrenheit = unit("degF"), &kelvin = unit("K");
  CHECK(convert(0, celsius, kelvin) == dec("273.15"));
  CHECK(convert(-40, celsius, fahrenheit) == Exact(-40));
  CHECK(convert(0, celsius, fahrenheit) == Exact(32));
  CHECK(convert(82, celsius, fahrenheit) == dec("179.6"));         // GNU Units 2.22: tempC(82)
  CHECK(convert(dec("20.5"), celsius, fahrenheit) == dec("68.9")); // tempC(20.5)
  CHECK(convert(212, fahrenheit, kelvin) == dec("373.15"));        // tempF(212)
  CHECK(convert(180, fahrenheit, celsius).text() == "82.2222222222");
  CHECK(convert_difference(1, kelvin, fahrenheit) == dec("1.8"));
  CHECK(convert_difference(9, fahrenheit, celsius) == Exact(5));
  CHECK(convert_difference(82, kelvin, fahrenheit) == dec("147.6")); // GNU Units 2.22: 82 K to degF
  CHECK(convert_difference(dec("0.5"), celsius, kelvin) == dec("0.5"));
}

TEST_CASE("there and back is the same value in every pair of units") {
  std::mt19937 engine(3);
  std::uniform_int_distribution<int> top(-1000000, 1000000);
  for (const Unit& from : quantity::all_units()) {
    for (const Unit& to : quantity::all_units()) {
      if (!same_dimension(from, to)) continue;
      INFO(from.name << " and " << to.name);
      for (int i = 0; i < 5; ++i) {
        const Exact value = Exact::ratio(top(engine), 10000);
        const Exact back = convert(convert(value, from, to), to, from);
        const Exact difference = convert_difference(convert_difference(value, from, to), to, from);
        if (from.through_pi != to.through_pi) {
          REQUIRE((back - value).abs() <= value.abs() * dec("1e-11"));
          REQUIRE((difference - value).abs() <= value.abs() * dec("1e-11"));
        } else {
          REQUIRE(back == value);
          REQUIRE(difference == value);
        }
      }
    }
  }
}

TEST_CASE("a difference converts as the difference of two values") {
  const Exact low = dec("19.3"), high = dec("88.65");
  for (const Unit& from : quantity::all_units()) {
    for (const Unit& to : quantity::all_units()) {
      if (!same_dimension(from, to) || from.through_pi || to.through_pi) continue;
      INFO(from.name << " and " << to.name);
      REQUIRE(convert_difference(high - low, from, to) == convert(high, from, to) - convert(low, from, to));
    }
  }
}

TEST_CASE("the units are the agreed ones, each once") {
  const std::set<std::string_view> agreed = {
      "mm",  "um",    "m",       "in",     "thou",   "mm2", "in2", "mm3", "cm3", "ml",  "l",
      "N.m", "kgf.m", "kgf.cm",  "lbf.ft", "lbf.in", "N",   "kN",  "kgf", "lbf", "MPa", "GPa",
      "kPa", "bar",   "kgf/cm2", "psi",    "g",      "kg",  "oz",  "lb",  "deg", "rad", "N/mm",
      "m/s", "rpm",   "degC",    "degF",   "K",      "1/K", "s",   "min", "h",   "1"};
  std::set<std::string_view> names;
  for (const Unit& each : quantity::all_units()) {
    CHECK(names.insert(each.name).second);
    CHECK(find_unit(each.name) == &each);
    CHECK(each.factor.sign() > 0);
  }
  CHECK(names == agreed);
}

TEST_CASE("the trade's spellings are known") {
  const std::pair<const char*, const char*> spellings[] = {
      {"\u00B5m", "um"},   {"\u03BCm", "um"},    {"\"", "in"},          {"ft-lb", "lbf.ft"},        {"lb-ft", "lbf.ft"},
      {"lb ft", "lbf.ft"}, {"in-lb", "lbf.in"},  {"cc", "cm3"},         {"mm\u00B2", "mm2"},        {"cm\u00B3", "cm3"},
      {"Nm", "N.m"},       {"N\u00B7m", "N.m"},  {"kg/cm2", "kgf/cm2"}, {"kg/cm\u00B2", "kgf/cm2"}, {"N/mm2", "MPa"},
      {"lbf/in2", "psi"},  {"\u00B0", "deg"},    {"\u00B0C", "degC"},   {"\u00B0F", "degF"},        {"L", "l"},
      {"/K", "1/K"},       {"1/\u00B0C", "1/K"},
  };
  for (const auto& [typed, name] : spellings) {
    INFO(typed);
    CHECK(find_unit(typed) == &unit(name));
  }
}

TEST_CASE("what could be mistaken for a unit is not one") {
  // "mil" is a thousandth of an inch to some and a millimetre to others; "kgm" and "kg" are no force here.
  for (const auto* typed :
       {"", " ", "MM", "Mm", "kpa", "Mpa", "PSI", "nm", "NM", "kgm", "kg.m", "mil", "tpi", "mm ", "°K"}) {
    INFO('"' << typed << '"');
    CHECK(find_unit(typed) == nullptr);
  }
  CHECK(unit("kg").dimension == Dimension::mass);
  CHECK(unit("lb").dimension == Dimension::mass);
}

TEST_CASE("converting between dimensions is a programming error") {
  CHECK_THROWS_AS(convert(1, unit("mm"), unit("N")), std::invalid_argument);
  CHECK_THROWS_AS(convert_difference(1, unit("mm"), unit("mm2")), std::invalid_argument);
}

TEST_CASE("a quantity takes its uncertainty along without the offset") {
  const Quantity warm{20, &unit("degC"), dec("0.5")};
  const auto in_fahrenheit = in_unit(warm, unit("degF"));
  REQUIRE(in_fahrenheit.ok());
  CHECK(in_fahrenheit->value == Exact(68));
  CHECK(in_fahrenheit->unit == &unit("degF"));
  CHECK(in_fahrenheit->u == dec("0.9"));

  const auto length = in_unit({dec("2.4395"), &unit("in"), std::nullopt}, unit("mm"));
  REQUIRE(length.ok());
  CHECK(length->value == dec("61.9633"));
  CHECK_FALSE(length->u.has_value());
}

TEST_CASE("a quantity of another kind is refused by both names") {
  const auto refused = in_unit({1, &unit("mm"), std::nullopt}, unit("N.m"));
  REQUIRE_FALSE(refused.ok());
  CHECK(refused.error().code == "bad-unit");
  CHECK(refused.error().message == "mm measures a length; here a torque in N.m is wanted");
}

TEST_CASE("every dimension can be named in a sentence") {
  std::set<std::string_view> names;
  for (const Unit& each : quantity::all_units()) names.insert(name_of(each.dimension));
  CHECK(names.size() == 15);
  CHECK(names.count("a length") == 1);
  CHECK(names.count("a plain number") == 1);
}

TEST_CASE("a quantity is written with its unit, a plain number without") {
  CHECK(text(Quantity{dec("61.9620"), &unit("mm"), std::nullopt}) == "61.962 mm");
  CHECK(text(Quantity{dec("-0.05"), &unit("\""), std::nullopt}) == "-0.05 in");
  CHECK(text(Quantity{dec("0.14"), &unit("1"), std::nullopt}) == "0.14");
}
