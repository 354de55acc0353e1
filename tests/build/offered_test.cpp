// The faults that the example engine's procedure offers, each as it would be found: it holds up what it should, and is
// left by its own proof alone. What they say is common practice, no source.
#include "build/bench.h"
#include "build/findings.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <fstream>
#include <iterator>

namespace {

std::string whole_engine() {
  std::ifstream file(std::string(PROJECT_FOLDER) + "/procedures/hx4-150.json");
  return {std::istreambuf_iterator<char>(file), {}};
}

const procedure::OfferedFinding& offered(const Bench& bench, std::string_view id) {
  const auto* found = bench.plan->procedure().finding(id);
  REQUIRE(found);
  return *found;
}

bool mentions(const std::string& text, std::string_view word) {
  return text.find(word) != std::string::npos;
}

} // namespace

TEST_CASE(
    "every fault the example engine offers can be found on each of its parts, and holds up a step unless slight") {
  Bench bench(whole_engine());
  int found = 0;
  for (const auto& it : bench.plan->procedure().findings)
    for (const auto& part : it.parts) {
      const auto answer = bench.perform(R"({"do":"finding","part":")" + part + R"(","offered":")" + it.id + "\"}");
      INFO(it.id << " on " << part << ": " << answer.text_or_empty("message"));
      REQUIRE(answer.at("ok").as_boolean());
      const auto& finding = bench.build.findings.back();
      CHECK(build::steps_held_up(bench.build, finding).empty() == it.slight);
      CHECK(finding.cause_asked == it.cause);
      ++found;
    }
  CHECK(found >= 60);
  const auto steps = bench.plan->size();
  std::size_t held_up = 0;
  for (std::size_t s = 0; s < steps; ++s) {
    const auto codes = bench.blocking(bench.plan->step(s).id);
    held_up += std::find(codes.begin(), codes.end(), "finding-open") != codes.end();
  }
  CHECK(held_up > 15);
}

TEST_CASE("a fault with a proof is not cleared before the proof is there") {
  Bench bench(whole_engine());
  for (const auto& it : bench.plan->procedure().findings) {
    if (it.proof_step.empty()) continue;
    bench.ok(R"({"do":"finding","part":")" + it.parts.front() + R"(","offered":")" + it.id + "\"}");
    INFO(it.id);
    CHECK(bench.refused(R"({"do":"clear","finding":")" + bench.build.findings.back().id +
                        R"(","disposition":"repair","text":"Done"})") == "not-proved");
  }
}

TEST_CASE("the faults of the trade are offered, each with what cures it and proves it") {
  Bench bench(whole_engine());
  const auto cure = [&](std::string_view id) { return offered(bench, id).usually; };
  const auto proof = [&](std::string_view id) {
    return offered(bench, id).proof_step + "/" + offered(bench, id).proof_entry;
  };
  // A new lip must not run in the groove of the old one.
  CHECK(mentions(cure("rear-land-groove"), "beside the groove"));
  CHECK(proof("rear-land-groove") == "rear-seal/lip");
  CHECK(mentions(cure("front-hub-groove"), "Sleeve"));
  CHECK(proof("front-hub-groove") == "front-seal/hub");
  // A lip seal seals on its inside and on its outside: raised metal in its bore leaks.
  CHECK(mentions(cure("seal-bore-edge"), "outside as well"));
  CHECK(proof("seal-bore-edge") == "seal-bores/edges");
  // The edge of an oil hole above the journal wears a line into the shells.
  CHECK(mentions(cure("oil-port-edge"), "line into the new shells"));
  CHECK(proof("oil-port-edge") == "crank-check/ports");
  // One burr raised as a shaft is pressed into a bush scores the bush all round.
  CHECK(mentions(cure("idler-bush-scored"), "burr"));
  CHECK(mentions(cure("pin-bush-scored"), "burr"));
  // A face worn to a radius is recut or the valve replaced, one slightly marked is lapped.
  CHECK(mentions(cure("valve-face-worn"), "Recut"));
  CHECK(proof("valve-face-worn") == "seats/width");
  CHECK(offered(bench, "valve-face-marked").slight);
  CHECK(mentions(cure("valve-face-marked"), "Lapped"));
  // A lightly scored pump cover is lapped flat; whether the pump stays, the faces of its rotors decide.
  CHECK(mentions(cure("pump-cover-scored"), "faces of the rotors decide"));
  CHECK(proof("pump-cover-scored") == "pump-cover/gaps");
  CHECK(proof("rotor-scored") == "pump-rotors/end");
  // A face ground hollow between two bores is not closed by more sealant.
  for (const char* id : {"joint-hollow", "adapter-hollow", "deck-hollow"}) {
    CAPTURE(id);
    CHECK(mentions(cure(id), "sealant"));
    CHECK_FALSE(offered(bench, id).proof_step.empty());
  }
  // A welded cover is suspect until it is flat and tight: one proof for both.
  CHECK(proof("welded") == "joint-faces/welds");
  // Boring costs less than sleeving; scored at a few hours, its cause is looked for: 4,000 and more are expected.
  CHECK(mentions(cure("bore-scored"), "less than sleeving"));
  CHECK(mentions(cure("bore-scored"), "4,000 hours"));
  CHECK(offered(bench, "bore-scored").cause);
  CHECK(offered(bench, "skirt-scored").cause);
  // Play between pin and bush lets the piston rock and score skirt and bore.
  CHECK(mentions(cure("pin-bush-worn"), "rock and score skirt and bore"));
  CHECK(proof("pin-bush-worn") == "piston-sizes/pin-in-rod");
}

TEST_CASE("a scored bore asks for its cause before the release, and does not stop the work by it") {
  Bench bench(whole_engine());
  bench.ok(R"({"do":"finding","part":"cylinder","position":"2","offered":"bore-scored"})");
  bench.ok(R"({"do":"acknowledge","step":"coming-in"})");
  bench.ok(R"({"do":"confirm","step":"coming-in","entry":"drained"})");
  const auto asked = [&] {
    build::Context context;
    context.now = bench.now;
    const auto found = build::what_blocks(bench.shop, bench.build, *json::read_one(R"({"do":"release"})"), context);
    return std::any_of(found.begin(), found.end(), [](const auto& it) { return it.code == "cause-missing"; });
  };
  CHECK(asked());
  const auto codes = bench.blocking("fit-pistons");
  CHECK(std::find(codes.begin(), codes.end(), "finding-open") != codes.end());
  CHECK(std::find(codes.begin(), codes.end(), "cause-missing") == codes.end());
}

TEST_CASE("a weld is proved by flat and tight, and by nothing less") {
  Bench bench(whole_engine());
  bench.ok(R"({"do":"finding","part":"front-cover","offered":"welded"})");
  const std::string clear = R"({"do":"clear","finding":"f1","disposition":"repair","text":"Flat"})";
  bench.ok(R"({"do":"acknowledge","step":"joint-faces"})");
  bench.ok(R"({"do":"pick","step":"joint-faces","entry":"welds","value":"not proved"})");
  CHECK(bench.refused(clear) == "not-proved");
  bench.ok(
      R"({"do":"dispose","step":"joint-faces","entry":"welds","disposition":"rework","text":"Tried under water"})");
  bench.ok(R"({"do":"pick","step":"joint-faces","entry":"welds","value":"flat and tight"})");
  bench.ok(clear);
}

TEST_CASE("a piston goes back where it came from, or the record says why not") {
  Bench bench(whole_engine());
  CHECK(bench.refused(R"({"do":"part","part":"piston","position":"2","state":"reused","from":"3"})") == "wrong-place");
  bench.ok(R"({"do":"part","part":"piston","position":"2","state":"reused","from":"2"})");
  bench.ok(R"({"do":"part","part":"piston","position":"3","state":"new","from":"stock, shelf 4"})");
  bench.ok(
      R"({"do":"part","part":"piston","position":"4","state":"reused","from":"1","text":"Bore 1 sleeved; weights matched again"})");
}
