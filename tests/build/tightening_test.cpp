#include "build/bench.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

namespace {

Bench ready_to_tighten() {
  Bench bench;
  bench.clean();
  bench.mains();
  return bench;
}

std::string tighten(const char* fastener, const char* stage, const char* value) {
  return fmt::format(
      R"({{"do":"tighten","step":"caps","entry":"bolts","fastener":"{}","stage":"{}","value":{},"gauge":"wrench"}})",
      fastener, stage, value);
}

} // namespace

TEST_CASE("a stage begins when every fastener has finished the one before") {
  Bench bench = ready_to_tighten();
  const auto answer = bench.perform(tighten("2L", "1", "30"));
  CHECK(answer.at("next").at("fastener").as_text() == "2R");
  CHECK(bench.refused(tighten("2L", "2", "68")) == "out-of-order");
  CHECK(bench.message ==
        "Next is fastener 2R, stage 1; a stage begins when every fastener has finished the one before.");
  CHECK(bench.refused(tighten("9", "1", "30")) == "bad-value");
  bench.ok(tighten("all", "1", "30"));
  CHECK(bench.entry("caps", "bolts").fasteners[0].size() == 1);
  const auto last = bench.perform(tighten("all", "2", "68"));
  CHECK(last.at("next").is(json::Kind::null));
  CHECK(bench.refused(tighten("2L", "2", "68")) == "already-recorded");
}

TEST_CASE("ten times the torque is refused as implausible") {
  Bench bench = ready_to_tighten();
  CHECK(bench.refused(tighten("2L", "1", "91")) == "implausible");
  CHECK(bench.refused(tighten("2L", "1", "\"30 kgf.m\"")) == "implausible");
  CHECK(bench.refused(tighten("2L", "1", "0")) == "bad-value");
  CHECK(bench.refused(tighten("2L", "1", "\"30 mm\"")) == "bad-unit");
}

TEST_CASE("a bare target is met when set to one division of the wrench") {
  Bench bench = ready_to_tighten();
  CHECK(bench.perform(tighten("2L", "1", "31")).at("verdict").as_text() == "within");
  CHECK(bench.perform(tighten("2R", "1", "28.9")).at("verdict").as_text() == "outside");
  CHECK(bench.events.back().body.at("by").at("tolerance").as_text() == "maker gives no tolerance");
  CHECK(bench.refused(R"({"do":"sign","step":"caps"})") == "blocked");
  bench.ok(R"({"do":"loosen","step":"caps","entry":"bolts","fasteners":["2R"],"reason":"set short"})");
  CHECK(bench.perform(tighten("2R", "1", "30")).at("verdict").as_text() == "within");
}

TEST_CASE("pound-feet are understood exactly") {
  Bench bench = ready_to_tighten();
  bench.ok(tighten("all", "1", "\"22.1 ft-lb\""));
  // NIST SP 811 table B.8: 1 lbf.ft = 1.3558179483314004 N.m
  CHECK(bench.entry("caps", "bolts").fasteners[0][0].value.to_double() ==
        Approx(22.1 * 1.3558179483314004).epsilon(1e-12));
}

TEST_CASE("a wrench out of its range or of another kind is refused") {
  Bench bench = ready_to_tighten();
  bench.ok(
      R"({"do":"add-gauge","gauge":"big","kind":"torque wrench","unit":"N.m","resolution":5,"tool":"setting","class_error":0.04,"range":[60,300]})");
  CHECK(bench.refused(
            R"({"do":"tighten","step":"caps","entry":"bolts","fastener":"2L","stage":"1","value":30,"gauge":"big"})") ==
        "gauge-unfit");
  CHECK(bench.refused(
            R"({"do":"tighten","step":"caps","entry":"bolts","fastener":"2L","stage":"1","value":30,"gauge":"mic"})") ==
        "gauge-unfit");
  CHECK(
      bench.refused(
          R"({"do":"tighten","step":"caps","entry":"bolts","fastener":"2L","stage":"1","value":30,"gauge":"none"})") ==
      "gauge-unknown");
  CHECK(bench.refused(R"({"do":"tighten","step":"caps","entry":"bolts","fastener":"2L","stage":"1","value":30})") ==
        "gauge-unknown");
}

TEST_CASE("loosening one cap leaves the others and starts it at the first stage") {
  Bench bench = ready_to_tighten();
  bench.ok(tighten("all", "1", "30"));
  bench.ok(tighten("all", "2", "68"));
  bench.ok(R"({"do":"loosen","step":"caps","entry":"bolts","fasteners":["1L","1R"],"reason":"strip read"})");
  CHECK(bench.perform(tighten("1L", "1", "30")).at("next").at("fastener").as_text() == "1R");
  CHECK(bench.refused(R"({"do":"loosen","step":"caps","entry":"bolts","fasteners":["7"],"reason":"x"})") ==
        "bad-value");
  CHECK(bench.refused(R"({"do":"loosen","step":"caps","entry":"bolts","fasteners":["1R"],"reason":"x"})") ==
        "entry-missing");
  bench.ok(R"({"do":"loosen","step":"caps","entry":"bolts","fasteners":"all","reason":"again from the start"})");
  CHECK(bench.entry("caps", "bolts").fasteners[0].empty());
}

TEST_CASE("nothing is tightened ahead of its turn") {
  Bench bench;
  CHECK(bench.refused(tighten("all", "1", "30")) == "out-of-order");
}
