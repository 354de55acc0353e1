#include "build/bench.h"
#include "build/gauge.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

namespace {

std::string face(const char* gauge, const char* value = "0.02") {
  return fmt::format(R"({{"do":"record","step":"cover","entry":"flat","gauge":"{}","value":{}}})", gauge, value);
}

} // namespace

TEST_CASE("a gauge is good on the day it is due and overdue the day after") {
  Bench bench;
  bench.clean();
  bench.now = *calc::parse_moment("2026-06-01T23:59:59+02:00");
  bench.ok(face("mic"));
  bench.ok(R"({"do":"take-back","step":"cover","entry":"flat"})");
  bench.now = *calc::parse_moment("2026-06-02T00:00:00+02:00");
  CHECK(bench.refused(face("mic")) == "gauge-overdue");
  bench.ok(R"({"do":"update-gauge","gauge":"mic","calibrated":"2026-06-02","due":"2027-06-02"})");
  bench.ok(face("mic"));
}

TEST_CASE("an unknown gauge, one of another kind and one outside its range are refused at the entry") {
  Bench bench;
  bench.clean();
  CHECK(bench.refused(face("nobody")) == "gauge-unknown");
  CHECK(bench.refused(R"({"do":"record","step":"cover","entry":"flat","value":0.02})") == "gauge-unknown");
  CHECK(bench.refused(face("wrench")) == "gauge-unfit");
  CHECK(bench.refused(face("mic", "101")) == "gauge-unfit");
}

TEST_CASE("a gauge too coarse for the limits is refused before the first reading") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"add-gauge","gauge":"rule","kind":"caliper","unit":"mm","resolution":0.02})");
  CHECK(bench.refused(
            R"({"do":"record","step":"mains","entry":"journal","gauge":"rule","values":[[47.97,null],null,null]})") ==
        "gauge-unfit");
  CHECK(bench.message.find("too coarse") != std::string::npos);
  CHECK(bench.message.find("(assumed)") != std::string::npos);
}

TEST_CASE("a gauge without a stated uncertainty gets a cautious one, marked assumed") {
  build::Gauge gauge;
  gauge.kind = "micrometer";
  gauge.unit = quantity::find_unit("mm");
  gauge.resolution = build::Exact::ratio(1, 100);
  const auto& mm = *quantity::find_unit("mm");
  CHECK(build::trust(gauge, 48, mm).u == build::Exact::ratio(2, 100)); // two divisions: common practice, no source
  CHECK(build::trust(gauge, 48, mm).assumed);
  gauge.resolution = build::Exact::ratio(1, 1000);
  CHECK(build::trust(gauge, 48, mm).u == build::Exact::ratio(4, 1000)); // never below the kind's least
  CHECK(build::trust(gauge, 48, *quantity::find_unit("um")).u == build::Exact(4));
  gauge.u = build::Exact::ratio(3, 1000);
  CHECK(build::trust(gauge, 48, mm).u == build::Exact::ratio(3, 1000));
  CHECK_FALSE(build::trust(gauge, 48, mm).assumed);
}

TEST_CASE("a wrench's uncertainty is its class error of what is set") {
  build::Gauge wrench;
  wrench.tool = build::Tool::setting;
  wrench.unit = quantity::find_unit("N.m");
  wrench.resolution = 1;
  wrench.class_error = build::Exact::ratio(4, 100);
  CHECK(build::trust(wrench, 68, *wrench.unit).u.text() == "2.72");
}

TEST_CASE("a calibration in the future and a shop that asks for calibration") {
  Bench bench;
  bench.clean();
  bench.ok(
      R"({"do":"add-gauge","gauge":"early","kind":"micrometer","unit":"mm","resolution":0.001,"calibrated":"2027-01-01"})");
  CHECK(bench.refused(face("early")) == "gauge-unfit");
  bench.ok(R"({"do":"add-gauge","gauge":"bare","kind":"micrometer","unit":"mm","resolution":0.001})");
  bench.ok(R"({"do":"set-shop","calibration_needed":true})");
  CHECK(bench.refused(face("bare")) == "gauge-unfit");
  bench.ok(R"({"do":"set-shop","calibration_needed":false})");
  bench.ok(face("bare"));
  CHECK(bench.events.back().body.at("gauge").at("calibrated").as_text() == "not stated");
}

TEST_CASE("a gauge that fails its check on the standard is not used until it is good again") {
  Bench bench;
  bench.clean();
  CHECK_FALSE(bench.perform(R"({"do":"check-gauge","gauge":"mic","standard":"ring 25","size":25,"reading":25.004})")
                  .at("good")
                  .as_boolean());
  CHECK(bench.refused(face("mic")) == "gauge-unfit");
  CHECK(bench.perform(R"({"do":"check-gauge","gauge":"mic","standard":"ring 25","size":25,"reading":25.001})")
            .at("good")
            .as_boolean());
  bench.ok(face("mic"));
  CHECK(bench.refused(R"({"do":"check-gauge","gauge":"wrench","standard":"x","size":1,"reading":1})") == "gauge-unfit");
}

TEST_CASE("a date left blank is no date, and is told before it is written down") {
  Bench bench;
  CHECK(bench.refused(R"({"do":"update-gauge","gauge":"mic","calibrated":""})") == "bad-value");
  CHECK(bench.message.find("calibrated") != std::string::npos);
}

TEST_CASE("a division typed with an exponent and a range typed with another unit are taken in") {
  Bench bench;
  bench.ok(
      R"({"do":"add-gauge","gauge":"depth","kind":"depth gauge","unit":"mm","resolution":"1e-2","range":["0","6 in"]})");
  const auto* depth = bench.shop.gauge("depth");
  REQUIRE(depth);
  CHECK(depth->resolution == build::Exact::ratio(1, 100));
  CHECK(depth->high == build::Exact::ratio(1524, 10));
}

TEST_CASE("a gauge with impossible facts is not added") {
  Bench bench;
  const auto add = [](const char* more) {
    return fmt::format(R"({{"do":"add-gauge","gauge":"g","kind":"micrometer","unit":"mm","resolution":0.01{}}})", more);
  };
  CHECK(bench.refused(add(R"(,"u":-1)")) == "bad-value");
  CHECK(bench.refused(add(R"(,"repeat":0.001)")) == "bad-value");
  CHECK(bench.refused(add(R"(,"range":[25,0])")) == "bad-value");
  CHECK(bench.refused(add(R"(,"calibrated":"2026-13-01")")) == "bad-value");
  CHECK(bench.refused(add(R"(,"calibrated":"2026-02-01","due":"2026-01-01")")) == "bad-value");
  CHECK(bench.refused(R"({"do":"add-gauge","gauge":"g","kind":"eye","unit":"mm","resolution":0.01})") == "bad-value");
  CHECK(bench.refused(R"({"do":"add-gauge","gauge":"g","kind":"micrometer","unit":"furlong","resolution":1})") ==
        "bad-unit");
  CHECK(bench.refused(R"({"do":"add-gauge","gauge":"g","kind":"micrometer","unit":"mm","resolution":0})") ==
        "bad-value");
  CHECK(bench.refused(R"({"do":"add-gauge","gauge":"g","kind":"torque wrench","unit":"N.m","resolution":1})") ==
        "bad-value");
  CHECK(bench.refused(R"({"do":"add-gauge","gauge":"mic","kind":"micrometer","unit":"mm","resolution":1})") ==
        "bad-value");
}
