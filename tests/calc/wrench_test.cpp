#include "calculating.h"

#include <fmt/format.h>

using namespace calculating;

namespace {

std::string extended(std::string_view angle, std::string_view extension = "60 mm") {
  return fmt::format(R"({{"torque":"100 N.m","wrench_length":"400 mm","extension":"{}","angle":"{}"}})", extension,
                     angle);
}

// A wrench of 20 to 100 N.m, 4 per cent, calibrated for a year, set to 50 N.m the day after; `more` replaces nothing.
std::string wrench(std::string_view torque = "50 N.m", std::string_view on = "2024-03-02", std::string_view more = "") {
  return fmt::format(R"({{"torque":"{}","range":{{"values":[20,100],"unit":"N.m"}},"class_error":0.04,)"
                     R"("calibrated":"2024-03-01","on":"{}","interval_months":12{}}})",
                     torque, on, more);
}

bool fit(const calc::Answer& answer) {
  return std::get<bool>(*answer.find("fit"));
}

} // namespace

// 100 N.m through 60 mm on 400 mm of wrench, all round: worked out here.
TEST_CASE("an extension changes the setting by where it points") {
  for (const auto& [angle, setting] :
       std::initializer_list<std::pair<const char*, double>>{{"0 deg", 86.9565217391},
                                                             {"30 deg", 88.5032},
                                                             {"45 deg", 90.4105165939},
                                                             {"60 deg", 93.023255814},
                                                             {"90 deg", 100},
                                                             {"120 deg", 108.108108108},
                                                             {"135 deg", 111.865},
                                                             {"180 deg", 117.647058824},
                                                             {"270 deg", 100},
                                                             {"-90 deg", 100},
                                                             {"360 deg", 86.9565217391},
                                                             {"-36000 deg", 86.9565217391}}) {
    INFO(angle);
    CHECK(value(answer("wrench-setting", extended(angle)), "setting") == Approx(setting).epsilon(1e-5));
  }
  CHECK(written(answer("wrench-setting", extended("90 deg")), "setting") == R"({"value":100,"unit":"N.m"})");
}

TEST_CASE("a setting in the wrench's own unit is noted beside") {
  const auto found = answer("wrench-setting", R"({"torque":"40 lbf.ft","wrench_length":"12 in","extension":"101.6 mm",)"
                                              R"("angle":"0 rad"})");
  CHECK(has_note(found, "in the unit given: 30 lbf.ft"));
  CHECK(written(found, "setting") == R"({"value":40.674538449942012,"unit":"N.m"})");
}

TEST_CASE("an extension that reaches back to the grip is refused") {
  CHECK(refusal("wrench-setting", extended("180 deg", "400 mm")).starts_with("extension: "));
  CHECK(refusal("wrench-setting", extended("180 deg", "500 mm")).starts_with("extension: "));
  CHECK(refusal("wrench-setting", extended("180 deg", "399.999 mm")).empty());
  CHECK(refusal("wrench-setting", extended("120 deg", "800 mm")).starts_with("extension: "));
  CHECK(refusal("wrench-setting", extended("0 deg", "0 mm")).starts_with("extension: "));
}

TEST_CASE("U of a setting: a square extension lets its angle count and its length not") {
  const auto square = answer("wrench-setting", R"({"torque":"100 N.m","wrench_length":"400 mm",)"
                                               R"("extension":{"value":60,"unit":"mm","u":1},"angle":"90 deg"})");
  CHECK(u(square, "setting") == 0);
  const auto turned = answer("wrench-setting", R"({"torque":"100 N.m","wrench_length":"400 mm","extension":"60 mm",)"
                                               R"("angle":{"value":90,"unit":"deg","u":3}})");
  CHECK(u(turned, "setting") == Approx(100 * 60.0 / 400 * 3 * std::numbers::pi / 180).epsilon(1e-11));
}

TEST_CASE("a wrench in its range and its year is fit") {
  const auto found = answer("wrench-fitness", wrench());
  CHECK(fit(found));
  CHECK(found.notes.empty());
  CHECK(written(found, "u") == R"({"value":2,"unit":"N.m"})");
}

TEST_CASE("the ends of the range are in it") {
  CHECK(fit(answer("wrench-fitness", wrench("20 N.m"))));
  CHECK(fit(answer("wrench-fitness", wrench("100 N.m"))));
  CHECK(has_note(answer("wrench-fitness", wrench("19.9 N.m")), "19.9 N.m is below its range, 20 to 100 N.m"));
  CHECK(has_note(answer("wrench-fitness", wrench("100.1 N.m")), "100.1 N.m is above its range, 20 to 100 N.m"));
  CHECK(!fit(answer("wrench-fitness", wrench("100.1 N.m"))));
}

TEST_CASE("a wrench asked in another unit keeps its range") {
  const auto found = answer("wrench-fitness", wrench("60 lbf.ft"));
  CHECK(fit(found));
  CHECK(value(found, "u") == Approx(60 * 1.3558179483314004 * 0.04).epsilon(1e-12));
  CHECK(!fit(answer("wrench-fitness", wrench("74 lbf.ft"))));
}

TEST_CASE("the last day of the calibration is still good") {
  CHECK(fit(answer("wrench-fitness", wrench("50 N.m", "2025-03-01"))));
  const auto late = answer("wrench-fitness", wrench("50 N.m", "2025-03-02"));
  CHECK(!fit(late));
  CHECK(has_note(late, "its calibration ran out after 2025-03-01"));
  CHECK(fit(answer("wrench-fitness", wrench("50 N.m", "2024-03-01"))));
}

TEST_CASE("dates that cannot be are refused by their field") {
  CHECK(refusal("wrench-fitness", wrench("50 N.m", "2024-02-29")) == "on: is before the wrench was calibrated");
  CHECK(refusal("wrench-fitness", wrench("50 N.m", "2025-02-29")).starts_with("on: "));
  CHECK(refusal("wrench-fitness", R"({"torque":"50 N.m","range":"20 N.m"})").starts_with("range: "));
  const auto calibrated = [](std::string_view date, std::string_view months) {
    return refusal("wrench-fitness", fmt::format(R"({{"torque":"50 N.m","range":["20 N.m","100 N.m"],)"
                                                 R"("class_error":0.04,"calibrated":"{}","on":"2024-03-02",)"
                                                 R"("interval_months":{}}})",
                                                 date, months));
  };
  CHECK(calibrated("last spring", "12").starts_with("calibrated: "));
  CHECK(calibrated("2024-03-01", "1201").starts_with("interval_months: "));
  CHECK(calibrated("2024-03-01", "1200").empty());
  CHECK(calibrated("2024-03-01", "0").starts_with("interval_months: "));
}

TEST_CASE("a wrench used as often as it is good for is due") {
  const auto used = [](std::string_view cycles) {
    return answer("wrench-fitness",
                  wrench("50 N.m", "2024-03-02", fmt::format(R"(,"cycles":{},"cycle_limit":5000)", cycles)));
  };
  CHECK(fit(used("0")));
  CHECK(fit(used("4999")));
  CHECK(!fit(used("5000")));
  CHECK(has_note(used("5000"), "used 5000 times since its calibration, good for 5000"));
  const auto refused = [](std::string_view more) {
    return refusal("wrench-fitness", wrench("50 N.m", "2024-03-02", more));
  };
  CHECK(refused(R"(,"cycles":10)").starts_with("cycle_limit: "));
  CHECK(refused(R"(,"cycle_limit":10)").starts_with("cycles: "));
  CHECK(refused(R"(,"cycles":10.5,"cycle_limit":20)").starts_with("cycles: "));
  CHECK(refused(R"(,"cycles":-1,"cycle_limit":20)").starts_with("cycles: "));
}

TEST_CASE("a wrench whose error fills the limits is not fit, one that just fits is") {
  const auto limited = [](std::string_view low, std::string_view high) {
    return answer("wrench-fitness",
                  wrench("50 N.m", "2024-03-02", fmt::format(R"(,"low":"{}","high":"{}")", low, high)));
  };
  CHECK(fit(limited("48 N.m", "52 N.m")));
  CHECK(!fit(limited("48 N.m", "51.99 N.m")));
  CHECK(has_note(limited("48 N.m", "51.99 N.m"), "its error, 2 N.m either way, fills the limits 48 to 51.99 N.m"));
  CHECK(fit(answer("wrench-fitness", wrench("50 N.m", "2024-03-02", R"(,"high":"50.1 N.m")"))));
  CHECK(refusal("wrench-fitness", wrench("50 N.m", "2024-03-02", R"(,"low":"5 N.m","high":"4 N.m")")) ==
        "low: is above high");
}

TEST_CASE("every reason against a wrench is told, in one go") {
  const auto found = answer("wrench-fitness", wrench("120 N.m", "2026-01-01",
                                                     R"(,"cycles":6000,"cycle_limit":5000,"low":"118 N.m",)"
                                                     R"("high":"122 N.m")"));
  CHECK(!fit(found));
  CHECK(found.notes.size() == 4);
}

TEST_CASE("an error in per cent instead of a fraction, and a range turned round, are refused") {
  const auto with = [](std::string_view error, std::string_view range) {
    return refusal("wrench-fitness", fmt::format(R"({{"torque":"50 N.m","range":{},"class_error":{},)"
                                                 R"("calibrated":"2024-03-01","on":"2024-03-02",)"
                                                 R"("interval_months":12}})",
                                                 range, error));
  };
  CHECK(with("4", R"(["20 N.m","100 N.m"])").starts_with("class_error: "));
  CHECK(with("0.04", R"(["100 N.m","20 N.m"])").starts_with("range: "));
  CHECK(with("0.04", R"(["50 N.m","50 N.m"])").empty());
}
