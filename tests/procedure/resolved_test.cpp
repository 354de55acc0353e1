#include "procedure/reading.h"

#include "json/write.h"

#include <catch2/catch.hpp>

using namespace procedure;
using reading::step;
using reading::text;

namespace {

json::Value resolved_of(const std::string& document) {
  const Reading read = read_procedure(document);
  INFO(reading::all_lines(read));
  REQUIRE(read.procedure);
  return resolved(*read.procedure);
}

// One of every object that the short block has no need of.
const std::string rare = text(
    R"("rule": "guarded", "notice": "Test.",
       "options": [{"id": "nominal", "title": "Nominal", "text": "On the block.", "choices": ["78 mm", "78.5 mm"]},
                   {"id": "kind", "title": "Kind", "choices": ["bore", "journal"], "given": "bore"}],
       "parts": [{"id": "liner", "title": "Liner", "positions": ["1", "2", "3"]}],
       "limits": {"size": {"unit": "mm", "basis": "standard", "source": "p. 4", "rule": "simple", "when": [
         {"option": "nominal", "is": "78 mm", "and": [{"option": "kind", "is": ["bore"]}], "standard": {"high": 78.02},
          "service": {"high": 78.1}}, {"option": "nominal", "is": ["78 mm", "78.5 mm"]}]},
         "lash": {"title": "Lash", "unit": "mm", "target": 0.25, "standard": {"low": 0.2, "high": 0.3}, "basis": "shop"},
         "tight": {"unit": "lbf.ft", "target": 45, "basis": "shop", "entered": {"by": "R", "on": "2026-11-26"},
           "checked": {"by": "T", "on": "2026-11-27", "unit": "lbf.ft", "standard": {"high": 50}, "service": {"low": 1}, "target": 45}}, "turn": {"unit": "deg", "target": 90, "basis": "shop"}},)",
    step("a",
         R"({"id": "r", "kind": "readings", "title": "x", "limit": "size", "rows": ["1", "2"], "columns": ["a", "b"],
           "may-skip": true, "judged-by": "standard", "parts": ["liner"], "gauges": ["bore gauge"], "optional": true,
           "when": [{"option": "kind", "is": "bore"}], "text": "Twice."},
         {"id": "c", "kind": "calculated", "title": "x", "computation": "form", "optional": true, "over": "each",
           "when": [{"option": "kind", "is": "bore"}], "judged-by": "service", "parts": ["liner"],
           "inputs": {"readings": {"entry": "a/r"}, "nominal": {"option": "nominal"}, "kind": {"constant": "bore"}}},
         {"id": "s", "kind": "calculated", "title": "x", "computation": "lash-shim",
           "inputs": {"measured": {"entry": "l"}, "target": {"limit": "lash", "bound": "target"},
                      "fitted": {"constant": {"value": 2.50, "unit": "mm"}}, "available": {"constant": ["2.45 mm", "2.55 mm"]}}},
         {"id": "l", "kind": "reading", "title": "x", "unit": "mm", "by-eye": true},
         {"id": "p", "kind": "choice", "title": "x", "choices": ["new", "worn"], "good": ["new"]},
         {"id": "t", "kind": "tightening", "title": "x", "fasteners": ["1", {"id": "2", "position": "3"}],
           "stages": [{"id": "1", "torque": "tight"}, {"id": "2", "angle": "turn"}]},
         {"id": "w", "kind": "wait", "title": "x", "most": {"value": 1.5, "unit": "h"}, "taken-apart": "keeps"})",
         R"("part": "liner", "positions": ["1", "3"], "figure": "liner", "hold": true, "text": "Slowly.",)"));

} // namespace

TEST_CASE("the resolved form reads back to the same procedure") {
  for (const std::string& document : {reading::file("procedures/short-block.json"), rare}) {
    const json::Value once = resolved_of(document);
    const json::Value twice = resolved_of(json::pretty(once));
    CHECK(json::compact(once) == json::compact(twice));
  }
}

TEST_CASE("the resolved form writes out what was left to its default") {
  const json::Value root = resolved_of(reading::file("procedures/short-block.json"));
  const json::Value& mains = root.at("sections").items()[0].at("steps").items()[2];
  CHECK(mains.at("positions").items().size() == 5);
  CHECK_FALSE(mains.at("hold").as_boolean());
  const json::Value& bore = mains.at("entries").items()[0];
  CHECK(bore.text_or_empty("taken-apart") == "asks");
  CHECK(bore.text_or_empty("judged-by") == "parts");
  const json::Value& oil = mains.at("entries").items()[3];
  CHECK(oil.at("inputs").at("bore").text_or_empty("entry") == "mains/main-bore");
  CHECK(oil.text_or_empty("over") == "each");
  CHECK(root.at("limits").at("main-bore").text_or_empty("rule") == "simple");
}

TEST_CASE("the resolved form keeps every number, condition and source") {
  const json::Value root = resolved_of(rare);
  const json::Value& size = root.at("limits").at("size");
  CHECK(json::compact(size.at("when")) ==
        R"([{"option":"nominal","is":["78 mm"],"and":[{"option":"kind","is":["bore"]}],"standard":{"high":78.02},)"
        R"("service":{"high":78.1}},{"option":"nominal","is":["78 mm","78.5 mm"]}])");
  CHECK(size.text_or_empty("source") == "p. 4");
  CHECK(json::compact(root.at("limits").at("lash").at("target")) == "0.25");
  const json::Value& entries = root.at("sections").items()[0].at("steps").items()[0].at("entries");
  CHECK(json::compact(entries.items()[2].at("inputs")) ==
        R"({"measured":{"entry":"a/l"},"target":{"limit":"lash","bound":"target"},)"
        R"("fitted":{"constant":{"value":2.50,"unit":"mm"}},"available":{"constant":["2.45 mm","2.55 mm"]}})");
  CHECK(json::compact(entries.items()[5].at("fasteners")) == R"(["1",{"id":"2","position":"3"}])");
  CHECK(json::compact(entries.items()[6].at("most")) == R"({"value":5400,"unit":"s"})");
}
