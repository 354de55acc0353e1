#include "build/bench.h"
#include "build/doubt.h"

#include <algorithm>
#include <catch2/catch.hpp>

namespace {

bool has(const std::vector<std::string>& codes, const char* code) {
  return std::find(codes.begin(), codes.end(), code) != codes.end();
}

constexpr const char* found_out =
    R"({"do":"update-gauge","gauge":"mic","found":"out","since":"2025-12-01","calibrated":"2026-01-06","due":"2027-01-06"})";

std::vector<std::string> in_the_way_of_release(const Bench& bench) {
  std::vector<std::string> out;
  for (const auto& blocker : build::release_blockers(bench.shop, bench.build, {"start"}, bench.now))
    if (blocker.code == "gauge-unfit") out.push_back(blocker.step + "/" + blocker.entry);
  return out;
}

void face(Bench& bench, const char* action, const char* gauge) {
  bench.ok(std::string(R"({"do":")") + action + R"(","step":"cover","entry":"flat","value":0.02,"gauge":")" + gauge +
           R"("})");
}

void second_micrometer(Bench& bench) {
  bench.ok(
      R"({"do":"add-gauge","gauge":"mic2","kind":"micrometer","unit":"mm","resolution":0.001,"u":0.004,"calibrated":"2026-01-01"})");
}

} // namespace

TEST_CASE(
    "a gauge found out puts what it measured in open steps in doubt, and measuring again with another leaves it") {
  Bench bench;
  bench.clean();
  second_micrometer(bench);
  face(bench, "record", "mic");
  CHECK_FALSE(has(bench.blocking("cover"), "gauge-unfit"));
  bench.later(60);
  bench.ok(found_out);
  CHECK(has(bench.blocking("cover"), "gauge-unfit"));
  bench.later(1);
  face(bench, "again", "mic2");
  CHECK_FALSE(has(bench.blocking("cover"), "gauge-unfit"));
  const auto& tries = bench.entry("cover", "flat").cells[0].tries;
  REQUIRE(tries.size() == 2);
  CHECK(tries[0].set_aside);
  CHECK(bench.entry("cover", "flat").cells[0].u == build::Exact::ratio(4, 1000)); // of the one that counts
  bench.ok(R"({"do":"take-back","step":"cover","entry":"flat"})");
  CHECK(has(bench.blocking("cover"), "gauge-unfit")); // and what was taken back no longer stands for it
}

TEST_CASE("the same gauge, calibrated since, measures anew") {
  Bench bench;
  bench.clean();
  face(bench, "record", "mic");
  bench.later(24 * 60);
  bench.ok(found_out);
  bench.later(1);
  face(bench, "again", "mic");
  CHECK_FALSE(has(bench.blocking("cover"), "gauge-unfit"));
}

TEST_CASE("a typing slip corrected after the gauge was found out does not make the reading sound, another gauge does") {
  Bench bench;
  bench.clean();
  second_micrometer(bench);
  face(bench, "record", "mic");
  bench.later(60);
  bench.ok(found_out);
  bench.ok(R"({"do":"correct","step":"cover","entry":"flat","value":0.021,"gauge":"mic2","reason":"wrong-gauge"})");
  CHECK_FALSE(has(bench.blocking("cover"), "gauge-unfit"));
  Bench other;
  other.clean();
  face(other, "record", "mic");
  other.later(24 * 60);
  other.ok(found_out);
  other.later(1);
  other.ok(R"({"do":"correct","step":"cover","entry":"flat","value":0.021,"gauge":"mic","reason":"typed"})");
  CHECK(has(other.blocking("cover"), "gauge-unfit"));
}

TEST_CASE("readings before the last good calibration and after the new one are not in doubt") {
  Bench bench;
  bench.clean();
  face(bench, "record", "mic"); // 2026-01-05
  bench.later(60);
  bench.ok(
      R"({"do":"update-gauge","gauge":"mic","found":"out","since":"2026-01-06","calibrated":"2026-01-05","due":"2027-01-06"})");
  CHECK_FALSE(has(bench.blocking("cover"), "gauge-unfit"));
  bench.ok(R"({"do":"update-gauge","gauge":"mic","found":"in","calibrated":"2026-01-05","due":"2027-01-06"})");
  CHECK_FALSE(has(bench.blocking("cover"), "gauge-unfit"));
  bench.ok(
      R"({"do":"update-gauge","gauge":"mic","found":"out","since":"2026-01-05","calibrated":"2026-01-05","due":"2027-01-06"})");
  CHECK(has(bench.blocking("cover"), "gauge-unfit")); // the day itself counts
}

TEST_CASE("a gauge found out and not calibrated since is not used") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"update-gauge","gauge":"mic","found":"out"})");
  CHECK(bench.refused(R"({"do":"record","step":"cover","entry":"flat","value":0.02,"gauge":"mic"})") == "gauge-unfit");
  bench.ok(R"({"do":"update-gauge","gauge":"mic","calibrated":"2026-01-05","due":"2027-01-05"})");
  face(bench, "record", "mic");
}

TEST_CASE("what is in doubt may be accepted, signed and with its reason") {
  Bench bench;
  bench.clean();
  face(bench, "record", "mic");
  CHECK(bench.refused(R"({"do":"accept","step":"cover","entry":"flat","reason":"x"})") == "bad-value");
  bench.later(60);
  bench.ok(found_out);
  bench.ok(R"({"do":"accept","step":"cover","entry":"flat","reason":"0.004 out; the face is 0.03 inside its limit"})");
  CHECK(bench.events.back().meaning == build::meaning_done);
  CHECK(bench.events.back().body.at("doubt").at("gauge").as_text() == "mic");
  CHECK_FALSE(has(bench.blocking("cover"), "gauge-unfit"));
  bench.later(60);
  bench.ok(found_out);
  CHECK(has(bench.blocking("cover"), "gauge-unfit")); // found out once more: the acceptance was of the first time
}

TEST_CASE("a wrench found out puts joints in doubt, and the joint is done again") {
  Bench bench;
  bench.clean();
  bench.mains();
  bench.ok(
      R"({"do":"tighten","step":"caps","entry":"bolts","fastener":"all","stage":"1","value":30,"gauge":"wrench"})");
  bench.later(5);
  bench.ok(R"({"do":"update-gauge","gauge":"wrench","found":"out","calibrated":"2026-01-05"})");
  CHECK(has(bench.blocking("caps"), "gauge-unfit"));
  bench.later(1);
  bench.ok(R"({"do":"loosen","step":"caps","entry":"bolts","fasteners":"all","reason":"wrench found out"})");
  CHECK_FALSE(has(bench.blocking("caps"), "gauge-unfit"));
  bench.ok(
      R"({"do":"tighten","step":"caps","entry":"bolts","fastener":"all","stage":"1","value":30,"gauge":"wrench"})");
  CHECK_FALSE(has(bench.blocking("caps"), "gauge-unfit"));
}

TEST_CASE("a signed step in doubt keeps the engine from release until it is opened and measured again") {
  Bench bench;
  bench.clean();
  bench.mains();
  bench.later(60);
  bench.ok(found_out);
  CHECK(bench.state("mains") == "signed");
  CHECK(in_the_way_of_release(bench) == std::vector<std::string>{"mains/bore", "mains/journal"});
  CHECK(bench.refused(R"({"do":"accept","step":"mains","entry":"bore","reason":"x"})") == "step-signed");
  bench.ok(R"({"do":"reopen","step":"mains","reason":"micrometer found out"})");
  CHECK(has(bench.blocking("mains"), "gauge-unfit"));
  for (const char* entry : {"bore", "journal"})
    bench.ok(std::string(R"({"do":"accept","step":"mains","reason":"0.001 out","entry":")") + entry + R"("})");
  CHECK(in_the_way_of_release(bench).empty());
}

TEST_CASE("a released engine in doubt is due an addendum, which settles it") {
  Bench bench;
  bench.clean();
  bench.mains();
  bench.build.outcome = "released"; // as the whole demo reaches it; here only what comes after
  bench.later(60);
  bench.ok(found_out);
  const auto due = [&] {
    const auto status = build::status(bench.shop, bench.build, bench.now);
    const auto* list = status.find("addendum_due");
    return list ? list->items().size() : 0U;
  };
  CHECK(due() == 2);
  CHECK(bench.refused(R"({"do":"addendum","person":"anna","passphrase":"right"})") == "bad-value");
  CHECK(
      bench.refused(
          R"({"do":"addendum","person":"anna","passphrase":"right","entries":[{"step":"mains","entry":"nothing","text":"x"}]})") ==
      "unknown-entry");
  bench.ok(
      R"({"do":"addendum","person":"anna","passphrase":"right","entries":[{"step":"mains","entry":"bore","text":"0.001 out; still inside"}]})");
  CHECK(due() == 1);
  CHECK(bench.events.back().body.at("entries").items()[0].at("doubt").at("gauge").as_text() == "mic");
  bench.ok(
      R"({"do":"addendum","person":"anna","passphrase":"right","text":"Told the owner.","entries":[{"step":"mains","entry":"journal","text":"the same"}]})");
  CHECK(due() == 0);
}
