// What the machine shop did, as the pages tell it.
#include "build/bench.h"
#include "handover/content.h"

#include <catch2/catch.hpp>

#include <algorithm>

namespace {

handover::Content content_of(const Bench& bench) {
  return handover::content_of(bench.build, bench.shop, bench.events);
}

bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

} // namespace

TEST_CASE("an order is told with its work, and positions that had the same done stand together") {
  Bench bench;
  bench.ok(R"({"do":"finding","part":"shell","position":"3","text":"Spun in its bore"})");
  bench.ok(
      R"({"do":"send","to":"Brook Lane Machining","text":"Wanted by Friday","lines":[{"part":"shell","text":"Housings honed","finish":"Ra 0.8"},{"part":"crank","text":"Polished"}]})");
  auto content = content_of(bench);
  REQUIRE(content.machine_work.size() == 1);
  REQUIRE(content.machine_work[0].lines.size() == 3); // the remark, the shells, the crank
  CHECK(has(content.machine_work[0].what, "Brook Lane Machining (m1), sent by Anna Reed"));
  CHECK(has(content.machine_work[0].lines[2], "Crankshaft: Polished; STILL AWAY"));
  CHECK(content.repairs.empty());
  bench.ok(R"({"do":"back","order":"m1","part":"shell","text":"Two had to be sleeved"})");
  bench.ok(R"({"do":"back","order":"m1","state":"reused"})");
  content = content_of(bench);
  const auto& lines = content.machine_work[0].lines;
  CHECK(has(lines[1], "Shells 1, 2, 3: Housings honed; Ra 0.8; for f1; back remade, "));
  CHECK(has(lines[1], ": Two had to be sleeved"));
  CHECK(has(lines[2], "Crankshaft: Polished; back as it went, "));
  REQUIRE(content.repairs.size() == 1); // what came back as it went was not repaired
  CHECK(content.repairs[0] == "Shells 1, 2, 3: Housings honed (Brook Lane Machining)");
}
