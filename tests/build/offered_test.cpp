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
  CHECK(found >= 46);
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

TEST_CASE("the faults of the trade are offered, with their proof or their question") {
  Bench bench(whole_engine());
  // A new lip must not run in the old one's groove, front and rear: the distance of the lip proves it.
  CHECK(offered(bench, "rear-land-groove").proof_step == "rear-seal");
  CHECK(offered(bench, "front-hub-groove").proof_step == "front-seal");
  // A lip seal seals outside too: the bore it sits in.
  CHECK_FALSE(offered(bench, "seal-bore-edge").proof_step.empty());
  // A raised edge at an oil hole wears a line into the shells.
  CHECK_FALSE(offered(bench, "oil-port-edge").slight);
  // A valve face worn to a radius is recut or replaced, a slightly marked one lapped.
  CHECK_FALSE(offered(bench, "valve-face-worn").slight);
  CHECK(offered(bench, "valve-face-marked").slight);
  // A face ground hollow cannot be sealed by more sealant; flatness proves it.
  CHECK_FALSE(offered(bench, "joint-hollow").proof_step.empty());
  // Scored bores at so few hours have a cause; boring costs less than sleeving.
  CHECK(offered(bench, "bore-scored").cause);
  CHECK(mentions(offered(bench, "bore-scored").usually, "sleev"));
  CHECK(offered(bench, "skirt-scored").cause);
  // A lightly scored pump cover is lapped; the rotors' faces decide.
  CHECK_FALSE(offered(bench, "pump-cover-scored").proof_step.empty());
  CHECK_FALSE(offered(bench, "rotor-scored").slight);
}

TEST_CASE("a piston goes back where it came from, or the record says why not") {
  Bench bench(whole_engine());
  CHECK(bench.refused(R"({"do":"part","part":"piston","position":"2","state":"reused","from":"3"})") == "wrong-place");
  bench.ok(R"({"do":"part","part":"piston","position":"2","state":"reused","from":"2"})");
  bench.ok(R"({"do":"part","part":"piston","position":"3","state":"new","from":"stock, shelf 4"})");
  bench.ok(
      R"({"do":"part","part":"piston","position":"4","state":"reused","from":"1","text":"Bore 1 sleeved; weights matched again"})");
}
