// Parts measured warm or cold, taken to 20 degC (ISO 1). Expansion as in JCGM 100:2008, H.1; numbers worked out by
// hand.
#include "build/bores.h"

#include <catch2/catch.hpp>

#include <cmath>

namespace {

std::string skirts(const std::string& more, const std::string& name = "record") {
  return R"({"do":")" + name + R"(","step":"pistons","entry":"skirt","gauge":"mic","position":"1","values":[81.940])" +
         more + "}";
}

const build::Cell& skirt(const Bench& bench) {
  return bench.entry("pistons", "skirt").cells[0];
}

} // namespace

TEST_CASE("a piston read warm is taken to its size at 20 degC") {
  Bores bench;
  bench.ok(skirts(R"(,"part_at":31,"gauge_at":22)"));
  // 81.940 (1 + 11.5e-6 x 2) / (1 + 21e-6 x 11)
  const double by_hand = 81.940 * (1 + 11.5e-6 * 2) / (1 + 21e-6 * 11);
  CHECK(skirt(bench).value.to_double() == Approx(by_hand).epsilon(1e-11));
  CHECK(by_hand == Approx(81.92296).margin(5e-6));
  const auto& warmth = bench.events.back().body.at("cells").items()[0].at("tries").items()[0].at("warmth");
  CHECK(warmth.at("read").as_text() == "81.94");
  CHECK(warmth.at("part_at").as_text() == "31");
  CHECK(warmth.at("gauge_at").as_text() == "22");
  CHECK(warmth.at("alpha").as_text() == "0.000021");
  CHECK(build::Exact::written(warmth.at("correction").as_text())->to_double() == Approx(by_hand - 81.940).margin(1e-9));
  CHECK(bench.events.back().body.at("cells").items()[0].at("typed").as_text() == "81.940");
}

TEST_CASE("the U of what warmth adds is shared by all readings at one warmth") {
  Bores bench;
  bench.ok(skirts(R"(,"part_at":31,"gauge_at":22)"));
  // Thermometers 1 K each, expansions a tenth of themselves; sensitivities by hand, JCGM 100:2008, H.1.
  const double size = 81.923;
  const double shared = std::sqrt(std::pow(size * 21e-6, 2) + std::pow(size * 11 * 2.1e-6, 2) +
                                  std::pow(size * 11.5e-6, 2) + std::pow(size * 2 * 1.15e-6, 2));
  CHECK(skirt(bench).own.text() == "0.003");
  CHECK(skirt(bench).shared.to_double() == Approx(shared).epsilon(1e-3));
  CHECK(skirt(bench).u.to_double() == Approx(std::sqrt(shared * shared + 9e-6)).epsilon(1e-3));
}

TEST_CASE("a gauge of which nothing is said counts as at 20 degC, and less is believed") {
  Bores bench;
  bench.ok(skirts(R"(,"part_at":"68 degF")")); // 20 degC
  CHECK(skirt(bench).value.text() == "81.94");
  CHECK(skirt(bench).tries[0].warmth->gauge_assumed);
  Bores said;
  said.ok(skirts(R"(,"part_at":20,"gauge_at":20)"));
  CHECK(said.entry("pistons", "skirt").cells[0].u < skirt(bench).u);
}

TEST_CASE("a gauge's warmth without the part's says nothing") {
  Bores bench;
  CHECK(bench.refused(skirts(R"(,"gauge_at":22)")) == "bad-value");
  CHECK(bench.message.find("part_at") != std::string::npos);
}

TEST_CASE("a part whose expansion is not known is left to come to the room's warmth") {
  Bores bench;
  CHECK(
      bench.refused(
          R"({"do":"record","step":"bores","entry":"bore","position":"1","gauge":"mic","values":[[82.01,null],null],"part_at":31})") ==
      "expansion-unknown");
  CHECK(bench.message.find("let it come to the warmth of the room") != std::string::npos);
  CHECK(bench.message.find("\"alpha\"") != std::string::npos);
}

TEST_CASE("only lengths are taken to 20 degC, and only at temperatures of a workshop") {
  Bores bench;
  CHECK(bench.refused(R"({"do":"record","step":"pull","entry":"torque","gauge":"wrench","value":3,"part_at":31})") ==
        "bad-value");
  CHECK(bench.refused(R"({"do":"record","step":"bores","entry":"level","position":"1","value":3,"part_at":31})") ==
        "bad-value");
  CHECK(bench.refused(skirts(R"(,"part_at":81.94)")).empty()); // a piston out of hot water
  CHECK(bench.refused(skirts(R"(,"part_at":300)", "again")) == "implausible");
  CHECK(bench.refused(skirts(R"(,"part_at":20,"gauge_at":-60)", "again")) == "implausible");
  CHECK(bench.refused(skirts(R"(,"part_at":"31 mm")", "again")) == "bad-unit");
  CHECK(bench.refused(skirts(R"(,"part_at":"warm")", "again")) == "bad-value");
}

TEST_CASE("what warmth leaves in doubt may be more than the limits allow") {
  Bores bench;
  CHECK(bench.refused(skirts(R"(,"part_at":140,"gauge_at":22)")) == "gauge-unfit");
  CHECK(bench.message.find("let the part come to 20 degC") != std::string::npos);
}

TEST_CASE("measured again cold, the two tries stay and the better one counts") {
  Bores bench;
  bench.ok(skirts(R"(,"part_at":40,"gauge_at":20)"));
  bench.ok(skirts("", "again"));
  CHECK(skirt(bench).tries.size() == 2);
  CHECK(skirt(bench).tries[0].warmth);
  CHECK_FALSE(skirt(bench).tries[1].warmth);
}

TEST_CASE("from a setting and warm: the size first, then to 20 degC") {
  Bores bench;
  bench.ok(
      R"({"do":"record","step":"pistons","entry":"skirt","position":"1","gauge":"mic","set_at":82,"values":[-0.06],"part_at":31,"gauge_at":22})");
  CHECK(skirt(bench).value.to_double() == Approx(81.940 * (1 + 11.5e-6 * 2) / (1 + 21e-6 * 11)).epsilon(1e-11));
  CHECK(skirt(bench).tries[0].warmth->read.text() == "81.94");
  bench.ok(
      R"({"do":"correct","step":"pistons","entry":"skirt","position":"1","gauge":"mic","set_at":82,"values":[-0.05],"part_at":31,"gauge_at":22,"reason":"misread"})");
  CHECK(skirt(bench).tries[0].warmth->read.text() == "81.95");
  CHECK(bench.entry("pistons", "skirt").sets.size() == 1);
}

TEST_CASE("two pistons read at one warmth differ by what the gauge can tell, at two by more") {
  const auto u_of_mean = [](const char* second_at) {
    Bores bench;
    bench.ok(skirts(R"(,"part_at":31,"gauge_at":22)"));
    bench.ok(
        std::string(
            R"({"do":"record","step":"pistons","entry":"skirt","gauge":"mic","position":"2","values":[81.940],"gauge_at":22,"part_at":)") +
        second_at + "}");
    return bench.entry("pistons", "skirt").cells[1].shared;
  };
  CHECK(u_of_mean("35") > u_of_mean("31"));
}
