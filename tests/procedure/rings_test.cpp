// Ring gaps that a procedure places: close together, over the pin, on the thrust side. The angles are common practice,
// no source.
#include "procedure/reading.h"

#include "json/write.h"

#include <catch2/catch.hpp>

namespace {

using namespace reading;
using Codes = std::vector<std::string>;

struct Gap {
  int groove;
  int angle;
};

std::string gaps(const std::vector<Gap>& rings, int pin = 0, int thrust = 90) {
  std::string all;
  for (std::size_t i = 0; i < rings.size(); ++i)
    all += fmt::format(R"({}{{"groove": {}, "title": "ring {}", "angle": {}}})", i ? ", " : "", rings[i].groove, i,
                       rings[i].angle);
  return text("",
              step("a", fmt::format(R"({{"id": "g", "kind": "confirm", "title": "Gaps", "ring-gaps": {{"mark": "arrow",
    "pin": {}, "thrust": {}, "thrust-side": "left", "rings": [{}]}}}})",
                                    pin, thrust, all)));
}

} // namespace

TEST_CASE("gaps a third of a turn apart, clear of pin and thrust side, are not warned of") {
  CHECK(codes(gaps({{1, 40}, {2, 280}, {3, 160}})).empty());
  CHECK(codes(gaps({{1, 40}, {2, 280}, {3, 160}, {3, 340}})).empty()); // the spring's joint opposite its ring's gap
}

TEST_CASE("gaps of neighbouring rings in line are warned of, across the mark too") {
  CHECK(codes(gaps({{1, 40}, {2, 45}})) == Codes{"W17"});
  CHECK(codes(gaps({{1, 340}, {2, 20}})) == Codes{"W17"});
  CHECK(codes(gaps({{1, 40}, {3, 45}})).empty()); // a ring lies between
  CHECK(codes(gaps({{1, 220}, {2, 280}})).empty());
}

TEST_CASE("the parts of one oil ring may stand closer, but not in line") {
  CHECK(codes(gaps({{3, 200}, {3, 230}, {3, 260}})).empty());
  CHECK(codes(gaps({{3, 200}, {3, 215}})) == Codes{"W17"});
}

TEST_CASE("a gap at either end of the pin or on the thrust side is warned of") {
  for (const int angle : {0, 10, 350, 180, 170, 360}) CHECK(codes(gaps({{1, angle}})) == Codes{"W18"});
  for (const int angle : {90, 70, 110}) CHECK(codes(gaps({{1, angle}})) == Codes{"W18"});
  for (const int angle : {15, 60, 120, 165, 270}) CHECK(codes(gaps({{1, angle}})).empty());
  CHECK(codes(gaps({{1, 270}}, 90, 0)) == Codes{"W18"}); // the pin lies across
}

TEST_CASE("what was read of ring gaps and places is written again, with what was left out") {
  const auto read = procedure::read_procedure(
      text("", step("a", R"({"id": "g", "kind": "choice", "title": "Gaps", "choices": ["set", "not set"],
    "ring-gaps": {"mark": "arrow", "thrust": 90.5, "thrust-side": "left", "rings": [{"groove": 1, "title": "top", "angle": 40}]}},
    {"id": "h", "kind": "readings", "title": "Heights", "unit": "mm", "rows": ["a", "b"], "places": [[0, 1.5], [-2, 3]]})")));
  REQUIRE(read.procedure);
  const std::string written = json::compact(procedure::resolved(*read.procedure));
  CHECK(
      written.find(
          R"("ring-gaps":{"mark":"arrow","pin":0,"thrust":90.5,"thrust-side":"left","rings":[{"groove":1,"title":"top","angle":40}]})") !=
      std::string::npos);
  CHECK(written.find(R"("places":[[0,1.5],[-2,3]])") != std::string::npos);
}

TEST_CASE("the ring gaps and the heights on the page on procedures are read as they stand there") {
  const std::string page = file("procedures/README.md");
  for (const char* id : {"clocked", "heights"}) {
    CAPTURE(id);
    const std::size_t named = page.find(fmt::format("\"id\": \"{}\"", id));
    REQUIRE(named != std::string::npos);
    const std::size_t begin = page.rfind("\n    {\n", named);
    const std::size_t end = page.find("\n    }\n", begin) + 7;
    CHECK(codes(text("", step("a", page.substr(begin, end - begin)))).empty());
  }
}
