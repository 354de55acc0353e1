#include "quantity/typed.h"

#include <catch2/catch.hpp>

using quantity::Exact;
using quantity::find_unit;
using quantity::parse_typed;
using quantity::parse_with_unit;
using quantity::Unit;

namespace {

Exact dec(std::string_view text) {
  return Exact::decimal(text).value();
}

const Unit& unit(std::string_view name) {
  const Unit* found = find_unit(name);
  REQUIRE(found != nullptr);
  return *found;
}

void reads(std::string_view typed, std::string_view expected, std::string_view value, std::string_view in) {
  INFO('"' << typed << '"');
  const auto read = parse_typed(typed, unit(expected));
  if (!read.ok()) FAIL(read.error().message);
  CHECK(read->value == dec(value));
  CHECK(read->unit->name == in);
  CHECK_FALSE(read->u.has_value());
}

void refuses(std::string_view typed, std::string_view expected, std::string_view code, std::string_view message) {
  INFO('"' << typed << '"');
  const auto read = parse_typed(typed, unit(expected));
  REQUIRE_FALSE(read.ok());
  CHECK(read.error().code == code);
  CHECK(read.error().message == message);
}

void refuses_saying(std::string_view typed, std::string_view expected, const std::string& part) {
  INFO('"' << typed << '"');
  const auto read = parse_typed(typed, unit(expected));
  REQUIRE_FALSE(read.ok());
  CHECK(read.error().code == "bad-value");
  CHECK_THAT(read.error().message, Catch::Contains(part));
}

} // namespace

TEST_CASE("a number alone is in the unit that is expected") {
  reads("61.962", "mm", "61.962", "mm");
  reads("-0.05", "mm", "-0.05", "mm");
  reads(".5", "thou", "0.5", "thou");
  reads("  29.5\t", "lbf.ft", "29.5", "lbf.ft");
  reads("0.14", "1", "0.14", "1");
}

TEST_CASE("a number with a unit keeps the unit that was typed") {
  reads("61.962 mm", "mm", "61.962", "mm");
  reads("2.4395in", "mm", "2.4395", "in");
  reads("2.4395\"", "mm", "2.4395", "in");
  reads("1.5 thou", "mm", "1.5", "thou");
  reads("  35   \u00B5m ", "mm", "35", "um");
  reads("60 lb ft", "N.m", "60", "lbf.ft");
  reads("5 kg/cm2", "kPa", "5", "kgf/cm2");
  reads("82 \u00B0C", "degF", "82", "degC");
  reads("82\u00B0C", "degC", "82", "degC");
}

TEST_CASE("an exponent is not taken for a unit, nor a unit for an exponent") {
  reads("11.5e-6 1/K", "1/K", "0.0000115", "1/K");
  reads("11.5e-6/K", "1/K", "0.0000115", "1/K");
  reads("5e3mm", "mm", "5000", "mm");
  refuses("5 e", "mm", "bad-unit", "the unit \"e\" is not known; a length is written in mm, um, m, in or thou");
  refuses("5E", "mm", "bad-unit", "the unit \"E\" is not known; a length is written in mm, um, m, in or thou");
}

TEST_CASE("a unit of another kind is refused by what was typed and what is wanted") {
  refuses("60 mm", "N.m", "bad-unit", "mm measures a length; here a torque in N.m is wanted");
  refuses("60 ft-lb", "mm", "bad-unit", "ft-lb measures a torque; here a length in mm is wanted");
  refuses("5 mm", "1", "bad-unit", "mm measures a length; here a plain number is wanted");
  refuses("120 kg", "N", "bad-unit", "kg measures a mass; here a force in N is wanted (a force is written kgf)");
  refuses("120 lb", "N", "bad-unit", "lb measures a mass; here a force in N is wanted (a force is written lbf)");
  refuses("82\u00B0", "degC", "bad-unit",
          "\u00B0 measures an angle; here a temperature in degC is wanted (a temperature is written degC or degF)");
}

TEST_CASE("an unknown unit is refused with those that would do") {
  refuses("3 kpa", "bar", "bad-unit",
          "the unit \"kpa\" is not known; a pressure is written in MPa, GPa, kPa, bar, kgf/cm2 or psi");
  refuses("3 MM", "mm", "bad-unit", "the unit \"MM\" is not known; a length is written in mm, um, m, in or thou");
  refuses("2 kgm", "N.m", "bad-unit",
          "the unit \"kgm\" is not known; a torque is written in N.m, kgf.m, kgf.cm, lbf.ft or lbf.in");
  refuses("7 foo", "N/mm", "bad-unit", "the unit \"foo\" is not known; a stiffness is written in N/mm");
  refuses("7 foo", "1", "bad-unit", "the unit \"foo\" is not known; here a plain number is wanted");
  refuses("61.962 mm high", "mm", "bad-unit",
          "the unit \"mm high\" is not known; a length is written in mm, um, m, in or thou");
}

TEST_CASE("what is no number is refused with the reason, unit or not") {
  refuses("", "mm", "bad-value", "no number stands here; type one");
  refuses("   ", "mm", "bad-value", "no number stands here; type one");
  refuses_saying("1,5 mm", "mm", "comma");
  refuses_saying("1.2.3mm", "mm", "two dots");
  refuses_saying("mm", "mm", "not a number");
  refuses_saying("about 5", "mm", "space");
  refuses_saying("nan mm", "mm", "space");
  refuses_saying("inf", "mm", "no finite number");
  refuses_saying("0x1F", "mm", "hexadecimal");
  refuses_saying("-", "mm", "a sign without a number");
  refuses_saying("- mm", "mm", "a sign without a number");
  refuses_saying(". mm", "mm", "a dot without digits");
  refuses_saying("2 500 mm", "mm", "space");
  refuses_saying("5 1", "1", "space");
  refuses_saying("5 -3", "mm", "space");
  refuses_saying("1/64 in", "mm", "fraction");
  refuses_saying("2 1/64 in", "mm", "fraction");
  refuses_saying("0.020-0.062 mm", "mm", "not a range");
  refuses_saying("\u22120.05 mm", "mm", "type \"-\"");
  refuses_saying("0.020\u20130.062 mm", "mm", "long dash");
  refuses_saying("5e1,5 mm", "mm", "comma");
  refuses_saying("5e1.5 mm", "mm", "dot in its exponent");
  refuses_saying("5e13 mm", "mm", "out of range");
  refuses_saying("1234567890123456789012345678901 mm", "mm", "significant digits");
  refuses_saying(std::string(50, '1') + " mm", "mm", "50 characters");
}

TEST_CASE("a text that must bring its unit") {
  const auto read = parse_with_unit(" 2.4395 in");
  REQUIRE(read.ok());
  CHECK(read->value == dec("2.4395"));
  CHECK(read->unit == &unit("in"));

  const auto bare = parse_with_unit("61.962");
  REQUIRE_FALSE(bare.ok());
  CHECK(bare.error().code == "bad-unit");
  CHECK(bare.error().message == "\"61.962\" has no unit; write it behind the number, as in \"61.962 mm\"");

  const auto unknown = parse_with_unit("5 furlong");
  REQUIRE_FALSE(unknown.ok());
  CHECK(unknown.error().code == "bad-unit");
  CHECK(unknown.error().message == "the unit \"furlong\" is not known; write one such as mm, N.m or kPa");

  const auto comma = parse_with_unit("1,5 mm");
  REQUIRE_FALSE(comma.ok());
  CHECK(comma.error().code == "bad-value");
}

TEST_CASE("what text() writes can be typed again") {
  for (const Unit& each : quantity::all_units()) {
    const quantity::Quantity written{dec("-12.0625"), &each, std::nullopt};
    const auto read = parse_typed(text(written), each);
    INFO(each.name);
    REQUIRE(read.ok());
    CHECK(*read == written);
  }
}
