// Tightening entries as they are read: fasteners and their order, bolts, every kind of stage.
#include "procedure/reading.h"

#include "json/write.h"

#include <catch2/catch.hpp>

using namespace procedure;
using reading::step;
using reading::text;

namespace {

const std::string limits = R"("limits": {
  "tight": {"unit": "N.m", "target": 40, "basis": "shop"},
  "slot": {"unit": "N.m", "standard": {"low": 40, "high": 60}, "basis": "shop"},
  "turn": {"unit": "deg", "target": 90, "basis": "shop"},
  "grown": {"unit": "mm", "standard": {"low": 0.13, "high": 0.17}, "basis": "shop"},
  "length": {"unit": "mm", "service": {"high": 99.4}, "basis": "shop"}},)";

// Every member that a tightening can have.
const std::string full = R"({"id": "full", "kind": "tightening", "title": "All of it", "order": "listed",
  "fasteners": [{"id": "a", "at": [0, -12.5]}, {"id": "b", "position": "2", "at": [100, 80]}],
  "outline": [[-20, -20], [120, -20], [120, 100]],
  "bolt": {"diameter": 12, "pitch": 1.25, "class": "10.9", "lubrication": "paste", "head-diameter": 15, "uses": 3,
           "length": "length", "structural": true},
  "stages": [{"id": "1", "torque": "tight"}, {"id": "2", "torque": "slot", "by": "fastener", "prevailing": true, "slot": true},
             {"id": "3", "check": "slot"}, {"id": "4", "wait": {"value": 10, "unit": "min"}},
             {"id": "5", "loosen": "half a turn"}, {"id": "6", "torque": "tight"}, {"id": "7", "mark": "head and face"},
             {"id": "8", "angle": "turn"}, {"id": "9", "angle": "turn", "by": "stage", "beyond": "replace"},
             {"id": "10", "stretch": "grown"}, {"id": "11", "stretch": "grown", "beyond": "loosen"}]})";

std::string with(const std::string& entries) {
  return text(limits, step("a", entries, R"("positions": ["1", "2"],)"));
}

const std::string also_used = R"({"id": "also", "kind": "tightening", "title": "x", "fasteners": ["1"],
  "bolt": {"diameter": 12, "pitch": 1.25, "lubrication": "dry", "length": "length"},
  "stages": [{"id": "1", "torque": "tight"}, {"id": "2", "check": "slot"}, {"id": "3", "angle": "turn"},
             {"id": "4", "stretch": "grown"}]})";

std::shared_ptr<const Procedure> read(const std::string& document) {
  const Reading done = read_procedure(document);
  INFO(reading::all_lines(done));
  REQUIRE(done.procedure);
  return done.procedure;
}

std::string names(const Entry& entry) {
  std::string all;
  for (const Fastener& fastener : entry.fasteners) all += fastener.id + " ";
  return all;
}

// A joint of these places, in the order worked out.
std::string worked_out(const std::string& fasteners) {
  const auto procedure =
      read(text(R"("limits": {"tight": {"unit": "N.m", "target": 40, "basis": "shop"}},)",
                step("a", R"({"id": "t", "kind": "tightening", "title": "x", "order": "pattern", "fasteners": [)" +
                              fasteners + R"(], "stages": [{"id": "1", "torque": "tight"}]})")));
  const Entry& entry = *procedure->step("a")->find("t");
  CHECK(entry.worked_out_order);
  return names(entry);
}

} // namespace

TEST_CASE("places are read in mm, positions beside them") {
  const auto procedure = read(with(full));
  const Entry& entry = *procedure->step("a")->find("full");
  REQUIRE(entry.fasteners.size() == 2);
  CHECK(entry.fasteners[0].at->x == Exact(0));
  CHECK(entry.fasteners[0].at->y == Exact::ratio(-25, 2));
  CHECK(entry.fasteners[0].position.empty());
  CHECK(entry.fasteners[1].position == "2");
  CHECK(entry.outline.size() == 3);
  CHECK(entry.outline[2].y == Exact(100));
  CHECK_FALSE(entry.worked_out_order);
}

TEST_CASE("everything said of the bolts is read") {
  const auto procedure = read(with(full));
  const Bolt& bolt = *procedure->step("a")->find("full")->bolt;
  CHECK(thread_text(bolt) == "M12 x 1.25");
  CHECK(bolt.strength == "10.9");
  CHECK(bolt.lubrication == Lubrication::paste);
  CHECK(bolt.head_diameter == Exact(15));
  CHECK(bolt.uses == 3);
  CHECK(bolt.length == "length");
  CHECK(bolt.structural);
}

TEST_CASE("what is not said of the bolts stays unsaid") {
  const auto procedure = read(with(also_used));
  const Bolt& bolt = *procedure->step("a")->find("also")->bolt;
  CHECK(bolt.strength.empty());
  CHECK_FALSE(bolt.head_diameter);
  CHECK_FALSE(bolt.uses);
  CHECK_FALSE(bolt.structural);
}

TEST_CASE("each kind of stage is read with what it says") {
  const auto procedure = read(with(full));
  const auto& stages = procedure->step("a")->find("full")->stages;
  REQUIRE(stages.size() == 11);
  CHECK(
      (stages[0].kind == StageKind::torque && stages[0].limit == "tight" && !stages[0].prevailing && !stages[0].slot));
  CHECK((stages[1].prevailing && stages[1].slot && stages[1].by == By::fastener));
  CHECK((stages[2].kind == StageKind::check && stages[2].limit == "slot"));
  CHECK((stages[3].kind == StageKind::wait && stages[3].seconds == Exact(600)));
  CHECK((stages[4].kind == StageKind::loosen && stages[4].text == "half a turn"));
  CHECK((stages[6].kind == StageKind::mark && stages[6].text == "head and face"));
  CHECK((stages[7].kind == StageKind::angle && stages[7].limit == "turn"));
  CHECK((stages[9].kind == StageKind::stretch && stages[9].limit == "grown"));
}

TEST_CASE("torque goes by stage and may begin again, angle and stretch go by fastener, unless said") {
  const auto procedure = read(with(full));
  const auto& stages = procedure->step("a")->find("full")->stages;
  CHECK(stages[0].by == By::stage);
  CHECK(stages[2].by == By::fastener);
  CHECK((stages[7].by == By::fastener && stages[7].beyond == Beyond::loosen));
  CHECK((stages[8].by == By::stage && stages[8].beyond == Beyond::replace));
  CHECK((stages[9].by == By::fastener && stages[9].beyond == Beyond::replace));
  CHECK(stages[10].beyond == Beyond::loosen);
}

// TM 5-3805-298-23-2, WP 0176: nine in a row, from one end to the other, are numbered 9 7 5 3 1 2 4 6 8.
TEST_CASE("nine in a row are worked out as a printed sequence numbers them") {
  const std::string printed[] = {"9", "7", "5", "3", "1", "2", "4", "6", "8"};
  std::string row;
  for (int i = 0; i < 9; ++i)
    row += fmt::format(R"({}{{"id": "{}", "at": [0, {}]}})", i ? ", " : "", printed[8 - i], -40 * i);
  CHECK(worked_out(row) == "1 2 3 4 5 6 7 8 9 ");
}

TEST_CASE("a worked-out order begins in the middle and ends at the corners") {
  std::string head;
  for (int i = 0; i < 10; ++i)
    head += fmt::format(R"({}{{"id": "{}", "at": [{}, {}]}})", i ? ", " : "", i, 92 * (i / 2), 84 * (i % 2));
  const std::string order = worked_out(head);
  CHECK(order.substr(0, 4) == "4 5 ");
  for (const char* corner : {"0 ", "1 ", "8 ", "9 "}) CHECK(order.find(corner) >= 12);
}

TEST_CASE("a single fastener needs no order and stays as it is") {
  CHECK(worked_out(R"({"id": "x", "at": [5, 5]})") == "x ");
}

TEST_CASE("fasteners, order, outline and bolts are taken over from the other entry") {
  const std::string first = R"({"id": "t", "kind": "tightening", "title": "x", "order": "pattern",
    "fasteners": [{"id": "l", "at": [0, 0]}, {"id": "m", "at": [50, 0]}, {"id": "r", "at": [100, 0]}],
    "outline": [[-20, -20], [120, -20], [50, 40]], "bolt": {"diameter": 10, "pitch": 1.25, "lubrication": "oiled", "uses": 4},
    "stages": [{"id": "1", "torque": "tight"}]})";
  const std::string second = R"({"id": "f", "kind": "tightening", "title": "x", "fasteners-of": "b/t",
    "stages": [{"id": "1", "torque": "tight"}]})";
  const std::string limit = R"("limits": {"tight": {"unit": "N.m", "target": 40, "basis": "shop"}},)";
  // Whichever stands first in the file.
  for (const std::string& steps :
       {step("b", first) + "," + step("c", second), step("c", second) + "," + step("b", first)}) {
    const auto procedure = read(text(limit, steps));
    const Entry& entry = *procedure->step("c")->find("f");
    CHECK(names(entry) == "m l r ");
    CHECK(entry.worked_out_order);
    CHECK(entry.outline.size() == 3);
    REQUIRE(entry.bolt);
    CHECK(entry.bolt->uses == 4);
    CHECK_FALSE(entry.retorque);
  }
}

TEST_CASE("an outline and bolts of its own stand before those taken over") {
  const auto procedure =
      read(with(full + R"(, {"id": "own", "kind": "tightening", "title": "x", "fasteners-of": "a/full",
    "retorque": true, "outline": [[0, 0], [1, 0], [1, 1], [0, 1]],
    "bolt": {"diameter": 12, "pitch": 1.75, "lubrication": "dry"}, "stages": [{"id": "1", "torque": "tight"}]})"));
  const Entry& entry = *procedure->step("a")->find("own");
  CHECK(names(entry) == "a b ");
  CHECK(entry.retorque);
  CHECK(entry.outline.size() == 4);
  CHECK(thread_text(*entry.bolt) == "M12 x 1.75");
}

TEST_CASE("bolts that are still tight may be let go or read before anything else") {
  const std::string joint = R"({"id": "t", "kind": "tightening", "title": "x", "fasteners": ["1"],
                                "stages": [{"id": "1", "torque": "tight"}]})";
  const auto first = [&](const std::string& stage, const std::string& members) {
    const Reading done =
        read_procedure(with(full + "," + joint + R"(, {"id": "again", "kind": "tightening", "title": "x",
      "fasteners-of": "a/t", )" +
                            members + R"( "stages": [)" + stage + R"(, {"id": "2", "torque": "tight"}]})"));
    return done.procedure != nullptr;
  };
  for (const char* stage : {R"({"id": "1", "loosen": "a quarter of a turn"})", R"({"id": "1", "check": "slot"})",
                            R"({"id": "1", "mark": "a line"})"}) {
    CAPTURE(stage);
    CHECK(first(stage, R"("retorque": true,)"));
    CHECK_FALSE(first(stage, ""));
  }
}

TEST_CASE("a stretched bolt is tight without any torque") {
  read(with(full + R"(, {"id": "rod", "kind": "tightening", "title": "x", "fasteners": ["1"],
    "stages": [{"id": "1", "stretch": "grown"}, {"id": "2", "loosen": "fully"}, {"id": "3", "stretch": "grown"},
               {"id": "4", "check": "slot"}]})"));
}

TEST_CASE("every member of a tightening is written out and reads back") {
  const auto procedure = read(with(full + R"(, {"id": "again", "kind": "tightening", "title": "x", "retorque": true,
    "fasteners-of": "a/full", "stages": [{"id": "1", "torque": "tight"}]})"));
  const json::Value once = resolved(*procedure);
  const auto& entries = once.at("sections").items()[0].at("steps").items()[0].at("entries").items();
  CHECK(json::compact(entries[0].at("fasteners")) ==
        R"([{"id":"a","at":[0,-12.5]},{"id":"b","position":"2","at":[100,80]}])");
  CHECK(entries[0].text_or_empty("order") == "listed");
  CHECK(json::compact(entries[0].at("outline")) == "[[-20,-20],[120,-20],[120,100]]");
  CHECK(json::compact(entries[0].at("bolt")) ==
        R"({"diameter":12,"pitch":1.25,"class":"10.9","lubrication":"paste","head-diameter":15,"uses":3,)"
        R"("length":"length","structural":true})");
  CHECK(json::compact(entries[0].at("stages")) ==
        R"([{"id":"1","torque":"tight","by":"stage"},)"
        R"({"id":"2","torque":"slot","by":"fastener","prevailing":true,"slot":true},{"id":"3","check":"slot"},)"
        R"({"id":"4","wait":{"value":600,"unit":"s"}},{"id":"5","loosen":"half a turn"},)"
        R"({"id":"6","torque":"tight","by":"stage"},{"id":"7","mark":"head and face"},)"
        R"({"id":"8","angle":"turn","by":"fastener","beyond":"loosen"},)"
        R"({"id":"9","angle":"turn","by":"stage","beyond":"replace"},{"id":"10","stretch":"grown","beyond":"replace"},)"
        R"({"id":"11","stretch":"grown","beyond":"loosen"}])");
  CHECK(entries[1].text_or_empty("fasteners-of") == "a/full");
  CHECK(entries[1].at("retorque").as_boolean());
  CHECK_FALSE(entries[1].find("fasteners"));
  CHECK(json::compact(resolved(*read(json::pretty(once)))) == json::compact(once));
}

TEST_CASE("an order worked out once stays the same when it is read back") {
  std::string around; // ten on a circle with two in the middle, and no two names in that order
  for (int i = 0; i < 10; ++i)
    around += fmt::format(R"({{"id": "{}", "at": [{}, {}]}}, )", (i * 7) % 10, i < 5 ? 100 - 40 * i : 40 * i - 260,
                          i < 5 ? 60 : -60);
  const std::string document = text(
      R"("limits": {"tight": {"unit": "N.m", "target": 40, "basis": "shop"}},)",
      step(
          "a",
          R"({"id": "t", "kind": "tightening", "title": "x", "order": "pattern", "fasteners": [)" + around +
              R"({"id": "in", "at": [5, 0]}, {"id": "side", "at": [-5, 0]}], "stages": [{"id": "1", "torque": "tight"}]})"));
  const auto first = read(document);
  const auto second = read(json::pretty(resolved(*first)));
  const std::string order = names(*first->step("a")->find("t"));
  CHECK(order.substr(0, 8) == "in side ");
  CHECK(names(*second->step("a")->find("t")) == order);
  CHECK(second->step("a")->find("t")->worked_out_order);
}
