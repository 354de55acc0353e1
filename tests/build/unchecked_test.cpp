// Numbers that nobody read a second time judge as any others do, and are told of.
#include "build/bench.h"

#include "build/limits.h"

#include <catch2/catch.hpp>

namespace {

const std::string unread = "numbers not checked by a second person";

// The small engine, one text of its limits exchanged for another.
std::string small_engine(const std::string& from, const std::string& to) {
  std::string text(Bench::small_engine());
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

const std::string face = R"("standard":{"high":0.05},"basis":"invented example")";
const std::string checked = R"("checked":{"by":"B","on":"2026-01-04","unit":"mm","standard":{"high":)";

} // namespace

TEST_CASE("numbers of an example are not called unchecked, those of a manual are until a second person read them") {
  CHECK(doubt_of(Bench().build, "face").empty());
  const std::string maker = R"("standard":{"high":0.05},"basis":"maker","source":"p. 4")";
  CHECK(doubt_of(Bench(small_engine(face, maker)).build, "face") == unread);
  CHECK(doubt_of(Bench(small_engine(face, maker + "," + checked + "0.05}}")).build, "face").empty());
  CHECK(doubt_of(Bench(small_engine(face, maker + "," + checked + "0.5}}")).build, "face") ==
        "numbers entered and checked differ");
}

TEST_CASE("a limit filled in on a build was read once, by whoever filled it in") {
  Bench bench;
  CHECK(doubt_of(bench.build, "lift").empty());
  bench.signed_in("ben");
  bench.ok(
      R"({"do":"fill-limit","limit":"lift","unit":"mm","standard":{"low":2,"high":3},"basis":"maker","source":"p. 12"})");
  CHECK(doubt_of(bench.build, "lift") == unread);
  CHECK(bench.build.limit("lift")->values.entered->by == "Ben Holt");
  CHECK(bench.build.limit("lift")->values.entered->on == "2026-01-05");
}

TEST_CASE("the numbers that hold under the options picked count, not those beside them") {
  const std::string cases = R"("when":[{"option":"undersize","is":"0.25","standard":{"low":47.714,"high":47.730}}])";
  Bench bench(small_engine(
      R"("basis":"invented example",
   )" + cases,
      R"("basis":"maker","source":"p. 3",)"
      R"("checked":{"by":"B","on":"2026-01-04","unit":"mm","standard":{"low":47.964,"high":47.980},"service":{"low":47.940}},)" +
          cases));
  CHECK(doubt_of(bench.build, "journal").empty());
  bench.ok(R"({"do":"pick","option":"undersize","value":"0.25"})");
  CHECK(doubt_of(bench.build, "journal") == unread);
}

TEST_CASE("where somebody looked and the maker gives none, the reading is recorded and holds nothing up") {
  Bench bench(small_engine(R"("basis":"maker","source":"to be filled in")",
                           R"("basis":"none","entered":{"by":"A","on":"2026-01-04"})"));
  bench.ok(R"({"do":"record","step":"relief","entry":"lift","gauge":"mic","value":2.5})");
  CHECK(bench.blocking("relief").empty());
  CHECK(doubt_of(bench.build, "lift").empty());
}
