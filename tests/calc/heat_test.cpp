#include "calculating.h"

#include <fmt/format.h>

using namespace calculating;

namespace {

std::string alpha(std::string_view value, std::string_view more = "") {
  return fmt::format(R"({{"value":{},"unit":"1/K"{}}})", value, more);
}

std::string gear(std::string_view interference, std::string_view ambient, std::string_view highest,
                 std::string_view expands = "0.00001") {
  return fmt::format(R"({{"interference":"{} mm","room":"0.06 mm","diameter":"50 mm","alpha":{},"ambient":"{}",)"
                     R"("highest":"{}"}})",
                     interference, alpha(expands), ambient, highest);
}

std::string warm(std::string_view reading, std::string_view part_at, std::string_view part_alpha,
                 std::string_view gauge_at, std::string_view gauge_alpha = "0.0000115") {
  return fmt::format(R"({{"reading":"{}","part_at":"{}","part_alpha":{},"gauge_at":"{}","gauge_alpha":{}}})", reading,
                     part_at, alpha(part_alpha), gauge_at, alpha(gauge_alpha));
}

} // namespace

TEST_CASE("a part is warmed by what it must open") {
  const auto found = answer("heating", gear("0.04", "20 degC", "220 degC"));
  CHECK(written(found, "rise") == R"({"value":200,"unit":"K"})");
  CHECK(written(found, "temperature") == R"({"value":220,"unit":"degC"})"); // just what the temper bears
  CHECK(found.notes.empty());
}

TEST_CASE("a part its temper would not survive is refused") {
  CHECK(refusal("heating", gear("0.04", "20 degC", "219.9 degC")) ==
        "highest: the part would have to be at 220 degC, above the 219.9 degC its temper bears: press it, or cool the "
        "other part");
  CHECK(refusal("heating", gear("0.04", "20 degC", "427.9 degF")).starts_with("highest: "));
  CHECK(refusal("heating", gear("0.04", "20 degC", "428 degF")).empty());
}

TEST_CASE("temperatures answer in the unit of the ambient one") {
  const auto found = answer("heating", gear("0.04", "68 degF", "230 degC"));
  CHECK(written(found, "rise") == R"({"value":200,"unit":"K"})");
  CHECK(written(found, "temperature") == R"({"value":428,"unit":"degF"})");
}

TEST_CASE("a part that is loose enough as it is needs no heat") {
  const auto found = answer("heating", gear("-0.08", "20 degC", "150 degC"));
  CHECK(written(found, "rise") == R"({"value":-40,"unit":"K"})");
  CHECK(has_note(found, "needs no heat"));
  CHECK(has_note(answer("heating", gear("-0.06", "20 degC", "150 degC")), "needs no heat"));
  CHECK(answer("heating", gear("-0.05", "20 degC", "150 degC")).notes.empty());
}

TEST_CASE("a part that does not grow with warmth is refused") {
  CHECK(refusal("heating", gear("0.04", "20 degC", "220 degC", "0")).starts_with("alpha: "));
  CHECK(refusal("heating", gear("0.04", "20 degC", "220 degC", "-0.00001")).starts_with("alpha: "));
  CHECK(refusal("heating", R"({"interference":"0.04 mm","room":"-0.01 mm","diameter":"50 mm","alpha":)" +
                               alpha("1e-5") + R"(,"ambient":"20 degC","highest":"220 degC"})") ==
        "room: must not be negative");
}

TEST_CASE("what heating rests on makes its U") {
  const auto found =
      answer("heating", R"({"interference":{"value":0.04,"unit":"mm","u":0.003},)"
                        R"("room":{"value":0.06,"unit":"mm","u":0.004},"diameter":"50 mm","alpha":)" +
                            alpha("1e-5") + R"(,"ambient":{"value":68,"unit":"degF","u":18},"highest":"500 degC"})");
  CHECK(u(found, "rise") == 10); // 0.005 mm
  CHECK(u(found, "temperature") == Approx(18 * std::sqrt(2.0)).epsilon(1e-11));
  const auto expands =
      answer("heating", R"({"interference":"0.04 mm","room":"0.06 mm",)"
                        R"("diameter":{"value":50,"unit":"mm","u":1.5},"alpha":)" +
                            alpha("1e-5", R"(,"u":4e-7)") + R"(,"ambient":"20 degC","highest":"500 degC"})");
  CHECK(u(expands, "rise") == 10); // 3 and 4 per cent of 200
}

TEST_CASE("a warm part is smaller at 20 degC and a warm gauge reads less than there is") {
  CHECK(value(answer("temperature", warm("69.926 mm", "32 degC", "11.5e-6", "20 degC")), "at_20") ==
        Approx(69.926 / (1 + 11.5e-6 * 12)).epsilon(1e-12));
  // As worked by hand, to the last digit written.
  const auto at_20 = [](const std::string& input) { return value(answer("temperature", input), "at_20"); };
  CHECK(at_20(warm("69.926 mm", "32 degC", "11.5e-6", "20 degC")) == Approx(69.916352).margin(5e-7));
  CHECK(at_20(warm("82.930 mm", "35 degC", "23.1e-6", "20 degC")) == Approx(82.901275).margin(5e-7));
  CHECK(at_20(warm("83.012 mm", "30 degC", "10.5e-6", "24 degC")) == Approx(83.007103).margin(5e-7));
  CHECK(at_20(warm("100 mm", "20 degC", "11.5e-6", "30 degC")) == 100.0115);
}

TEST_CASE("a part and a gauge of one material at one temperature need no correction") {
  const auto found = answer("temperature", warm("83.012 mm", "30 degC", "11.5e-6", "30 degC"));
  CHECK(written(found, "at_20") == R"({"value":83.012,"unit":"mm"})");
  CHECK(written(found, "correction") == R"({"value":0,"unit":"mm"})");
  CHECK(written(answer("temperature", warm("83.012 mm", "20 degC", "23.1e-6", "68 degF")), "correction") ==
        R"({"value":0,"unit":"mm"})");
}

TEST_CASE("a piston closes on its bore as both grow warm") {
  const auto grown = [](std::string_view expands) {
    return value(answer("temperature", warm("83 mm", "35 degC", expands, "20 degC")), "correction");
  };
  // 83 mm, 15 K, 23.1 - 10.5 millionths: 15.687 um to first order.
  CHECK(grown("10.5e-6") - grown("23.1e-6") == Approx(0.015687).margin(1e-5));
}

TEST_CASE("part and gauge more than 3 K apart are noted") {
  CHECK(answer("temperature", warm("83 mm", "23 degC", "1e-5", "20 degC")).notes.empty());
  CHECK(has_note(answer("temperature", warm("83 mm", "23.1 degC", "1e-5", "20 degC")), "more than 3 K apart"));
  CHECK(answer("temperature", warm("83 mm", "73.4 degF", "1e-5", "68 degF")).notes.empty());
  CHECK(has_note(answer("temperature", warm("83 mm", "68 degF", "1e-5", "73.5 degF")), "more than 3 K apart"));
}

TEST_CASE("Fahrenheit and Celsius correct alike, and inches stay inches") {
  const auto celsius = answer("temperature", warm("4 in", "30 degC", "1.1e-5", "25 degC"));
  const auto fahrenheit = answer("temperature", warm("4 in", "86 degF", "1.1e-5", "298.15 K"));
  CHECK(written(celsius, "at_20") == written(fahrenheit, "at_20"));
  CHECK(quantity_in(celsius, "at_20").unit->name == "in");
}

TEST_CASE("a temperature at which nothing would be left is refused") {
  CHECK(refusal("temperature", warm("83 mm", "-100000 degC", "1e-5", "20 degC")).starts_with("part_at: "));
  CHECK(refusal("temperature", warm("83 mm", "20 degC", "1e-5", "1e6 degC", "-1e-5")).starts_with("gauge_at: "));
}

TEST_CASE("what a correction rests on makes its U") {
  // 83 mm, 10.5 millionths known to 1 (rectangular), 10 K known to 1 K (rectangular): u = 0.694841 um.
  const double rectangular = 2 / std::sqrt(3.0);
  const auto found =
      answer("temperature",
             fmt::format(
                 R"({{"reading":"83 mm","part_at":{{"value":30,"unit":"degC","u":{:.12f}}},)"
                 R"("part_alpha":{{"value":10.5e-6,"unit":"1/K","u":{:.15f}}},"gauge_at":"20 degC","gauge_alpha":{}}})",
                 rectangular, rectangular * 1e-6, alpha("11.5e-6")));
  CHECK(u(found, "at_20") == Approx(2 * 0.694841e-3).epsilon(3e-4)); // to first order
  CHECK(u(found, "correction") == u(found, "at_20"));
  const auto reading = answer("temperature", R"({"reading":{"value":100,"unit":"mm","u":0.002},"part_at":"20 degC",)"
                                             R"("part_alpha":)" +
                                                 alpha("1e-5") + R"(,"gauge_at":{"value":68,"unit":"degF","u":1.8},)" +
                                                 R"("gauge_alpha":)" + alpha("1.5e-5") + "}");
  CHECK(u(reading, "at_20") == 0.0025);
  CHECK(u(reading, "correction") == 0.0015); // the reading drops out
}
