#include "calculating.h"

#include <cmath>

using namespace calculating;

TEST_CASE("backlash is carried from the indicator to the pitch circle") {
  const auto found = answer("backlash", R"({"indicator":"0.18 mm","indicator_radius":"35 mm","pitch_radius":"42 mm"})");
  CHECK(written(found, "min") == R"({"value":0.216,"unit":"mm"})");
  CHECK(written(found, "max") == R"({"value":0.216,"unit":"mm"})");
  CHECK(value(found, "angle") == Approx(0.18 / 35 * 180 / 3.14159265358979).epsilon(1e-11));
}

TEST_CASE("backlash taken round the gear gives its extremes and its mean") {
  const auto found = answer("backlash", R"({"indicator":{"values":[0.10,0.14,0.12],"unit":"mm"},)"
                                        R"("indicator_radius":"20 mm","pitch_radius":"10 mm"})");
  CHECK(written(found, "min") == R"({"value":0.05,"unit":"mm"})");
  CHECK(written(found, "max") == R"({"value":0.07,"unit":"mm"})");
  CHECK(written(found, "mean") == R"({"value":0.06,"unit":"mm"})");
  CHECK(found.notes.empty());
}

TEST_CASE("gears that bind are noted and a radius of nothing refused") {
  CHECK(has_note(answer("backlash", R"({"indicator":"0 mm","indicator_radius":"35 mm","pitch_radius":"42 mm"})"),
                 "no backlash"));
  CHECK(refusal("backlash", R"({"indicator":"0.1 mm","indicator_radius":"0 mm","pitch_radius":"42 mm"})") ==
        "indicator_radius: must be greater than 0");
}

TEST_CASE("centres that move apart add backlash and centres that close take it") {
  CHECK(value(answer("centre-distance", R"({"change":"0.1 mm","pressure_angle":"20 deg"})"), "backlash_change") ==
        Approx(0.2 * std::tan(20 * 3.14159265358979 / 180)).epsilon(1e-11));
  CHECK(value(answer("centre-distance", R"({"change":"-0.1 mm","pressure_angle":"20 deg"})"), "backlash_change") ==
        Approx(-0.0727940468532).epsilon(1e-11));
  CHECK(written(answer("centre-distance", R"({"change":"0 mm","pressure_angle":"20 deg"})"), "backlash_change") ==
        R"({"value":0,"unit":"mm"})");
  CHECK(written(answer("centre-distance", R"({"change":"2 thou","pressure_angle":"45 deg"})"), "backlash_change") ==
        R"({"value":4,"unit":"thou"})");
}

TEST_CASE("a pressure angle of a right angle is refused") {
  CHECK(refusal("centre-distance", R"({"change":"0.1 mm","pressure_angle":"90 deg"})") ==
        "pressure_angle: must be less than 90 deg");
  CHECK(refusal("centre-distance", R"({"change":"0.1 mm","pressure_angle":"1.6 rad"})") ==
        "pressure_angle: must be less than 90 deg");
  CHECK(refusal("centre-distance", R"({"change":"0.1 mm","pressure_angle":"0 deg"})") ==
        "pressure_angle: must be greater than 0");
  CHECK(value(answer("centre-distance", R"({"change":"1e12 mm","pressure_angle":"89.999999999999999999 deg"})"),
              "backlash_change") > 1e20);
}

TEST_CASE("the U of a change of centres is doubled by the tangent") {
  const auto found = answer("centre-distance", R"({"change":{"value":0.05,"unit":"mm","u":0.01},)"
                                               R"("pressure_angle":"20 deg"})");
  CHECK(u(found, "backlash_change") == Approx(0.02 * std::tan(20 * 3.14159265358979 / 180)).epsilon(1e-11));
  CHECK(quantity_in(answer("centre-distance", R"({"change":"0.05 mm","pressure_angle":"20 deg"})"), "backlash_change")
            .u == std::nullopt);
}

TEST_CASE("marks of gears without a common tooth count meet late, and that is said") {
  const auto found = answer("mark-recurrence", R"({"teeth":[28,43,56]})");
  CHECK(written(found, "turns") == "86");
  CHECK(written(found, "each") == "[86,56,43]");
  CHECK(has_note(found, "once in 86 turns"));
  const auto half_speed = answer("mark-recurrence", R"({"teeth":[28,56]})");
  CHECK(written(half_speed, "turns") == "2");
  CHECK(half_speed.notes.empty());
  CHECK(written(answer("mark-recurrence", R"({"teeth":[30,30,30]})"), "each") == "[1,1,1]");
}

TEST_CASE("marks that would not meet in a lifetime are refused, not counted wrongly") {
  // 99991, 99989 and 99971 are primes: their product still has a number, with a fourth it has none.
  CHECK(written(answer("mark-recurrence", R"({"teeth":[99991,99989,99971]})"), "turns") == "9996000319");
  CHECK(refusal("mark-recurrence", R"({"teeth":[99991,99989,99971,99961]})") ==
        "teeth: the marks of these gears would not meet again in a lifetime");
}

TEST_CASE("parts of teeth, no teeth and one gear alone are refused") {
  CHECK(refusal("mark-recurrence", R"({"teeth":[28,35.5]})") ==
        "teeth: must be whole numbers of teeth, 100000 at most");
  CHECK(refusal("mark-recurrence", R"({"teeth":[28,100001]})") ==
        "teeth: must be whole numbers of teeth, 100000 at most");
  CHECK(refusal("mark-recurrence", R"({"teeth":[28,0]})") == "teeth: must be greater than 0");
  CHECK(refusal("mark-recurrence", R"({"teeth":[28]})") == "teeth: wants at least 2 numbers, not 1");
}

TEST_CASE("teeth off are turned into crank angle with their sign") {
  const auto off = [](std::string_view teeth_off, std::string_view per_turn) {
    return written(answer("tooth-error", R"({"teeth":48,"teeth_off":)" + std::string(teeth_off) +
                                             R"(,"crank_per_turn":)" + std::string(per_turn) + "}"),
                   "crank_angle");
  };
  CHECK(off("1", "2") == R"({"value":15,"unit":"deg"})");
  CHECK(off("-2", "2") == R"({"value":-30,"unit":"deg"})");
  CHECK(off("1", "1") == R"({"value":7.5,"unit":"deg"})");
  CHECK(off("0", "2") == R"({"value":0,"unit":"deg"})");
  CHECK(off("47", "0.5") == R"({"value":176.25,"unit":"deg"})");
}

TEST_CASE("parts of a tooth, and a whole turn of them, are refused") {
  for (const char* off : {"0.5", "56", "-56", "57"}) {
    INFO(off);
    CHECK(refusal("tooth-error", R"({"teeth":56,"crank_per_turn":2,"teeth_off":)" + std::string(off) + "}") ==
          "teeth_off: must be a whole number less than teeth");
  }
  CHECK(refusal("tooth-error", R"({"teeth":56,"crank_per_turn":0,"teeth_off":1})") ==
        "crank_per_turn: must be greater than 0");
}
