// What is asked as found, proposed, used up, out of date one day, grown with warmth, or sent to a machine shop. What is
// refused stands in bad/.
#include "procedure/reading.h"

#include "json/write.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace procedure;
using reading::step;
using reading::text;

namespace {

using Texts = std::vector<std::string>;

const std::string document = text(
    R"("options": [{"id": "size", "title": "Over size", "choices": ["standard", "0.50"], "given": "standard"}],
       "parts": [{"id": "cylinder", "title": "Cylinder", "positions": ["1", "2"], "alpha": 0.000011},
                 {"id": "gasket", "title": "Gasket", "once": true}, {"id": "glue", "title": "Sealant", "dated": true}],
       "limits": {"bore": {"unit": "mm", "basis": "shop", "when": [
         {"option": "size", "is": "standard", "standard": {"low": 78, "high": 78.02}},
         {"option": "size", "is": "0.50", "standard": {"low": 78.5, "high": 78.52}}]},
         "aim": {"unit": "mm", "basis": "shop", "standard": {"low": 0.045, "high": 0.06}}},
       "machine-work": [
         {"id": "bore", "parts": ["cylinder"], "text": "Bored", "limits": ["bore"],
          "sizes": {"entry": "bores/target", "low": "low", "high": "high"}, "finish": "Honed"},
         {"id": "own", "parts": ["gasket", "glue"], "text": "Looked over"}],)",
    step("decide",
         R"({"id": "over", "kind": "calculated", "title": "x", "optional": true, "computation": "oversize-selection",
             "inputs": {"nominal": {"constant": "78 mm"}, "largest": {"entry": "worn/wear", "result": "max"},
                        "cleanup": {"constant": "0.05 mm"}, "available": {"constant": ["0.5 mm"]}}},
            {"id": "size", "kind": "choice", "title": "x", "option": "size",
             "proposed-by": {"entry": "over", "result": "choice"}})") +
        "," +
        step("worn",
             R"({"id": "wear", "kind": "calculated", "title": "x", "optional": true, "computation": "form",
                 "inputs": {"readings": {"entry": "bores/bore", "as-found": true}}})",
             R"("positions": ["1", "2"],)") +
        "," +
        step("bores",
             R"({"id": "bore", "kind": "readings", "title": "x", "limit": "bore", "rows": ["top", "bottom"],
                 "as-found": true, "parts": ["cylinder"]},
                {"id": "skirt", "kind": "reading", "title": "x", "unit": "mm"},
                {"id": "look", "kind": "choice", "title": "x", "choices": ["clean", "scored"], "good": ["clean"],
                 "parts": ["cylinder"]},
                {"id": "target", "kind": "calculated", "title": "x", "computation": "bore-target",
                 "inputs": {"piston": {"entry": "skirt"}, "low": {"limit": "aim", "bound": "low"},
                            "high": {"limit": "aim", "bound": "high"}}})",
             R"("part": "cylinder", "after": ["decide"], "fits": ["gasket", "glue"],)"));

std::shared_ptr<const Procedure> read() {
  const Reading reading = read_procedure(document);
  INFO(reading::all_lines(reading));
  REQUIRE(reading.procedure);
  CHECK(reading.remarks.empty());
  return reading.procedure;
}

} // namespace

TEST_CASE("machine work is read with its sizes and its finish, or without") {
  const auto procedure = read();
  REQUIRE(procedure->machine_work.size() == 2);
  const OfferedWork* bore = procedure->work("bore");
  REQUIRE(bore);
  CHECK(bore->parts == Texts{"cylinder"});
  CHECK(bore->text == "Bored");
  CHECK(bore->limits == Texts{"bore"});
  CHECK(bore->sizes_step == "bores");
  CHECK(bore->sizes_entry == "target");
  CHECK(bore->low == "low");
  CHECK(bore->high == "high");
  CHECK(bore->finish == "Honed");
  const OfferedWork* own = procedure->work("own");
  REQUIRE(own);
  CHECK(own->limits.empty());
  CHECK(own->sizes_entry.empty());
  CHECK(own->finish.empty());
  CHECK_FALSE(procedure->work("plane"));
}

TEST_CASE("parts say whether they are used up, go out of date and grow with warmth") {
  const auto procedure = read();
  CHECK(procedure->part("cylinder")->alpha == *Exact::written("0.000011"));
  CHECK_FALSE(procedure->part("cylinder")->once);
  CHECK_FALSE(procedure->part("cylinder")->dated);
  CHECK(procedure->part("gasket")->once);
  CHECK_FALSE(procedure->part("gasket")->alpha);
  CHECK(procedure->part("glue")->dated);
}

TEST_CASE("a reading asked as found, a choice of a part and a proposal are read") {
  const auto procedure = read();
  const auto& bores = procedure->step("bores")->entries;
  CHECK(bores[0].as_found);
  CHECK_FALSE(bores[1].as_found);
  CHECK(bores[2].parts == Texts{"cylinder"});
  const auto& from = std::get<FromEntry>(procedure->step("worn")->entries[0].inputs.front().second);
  CHECK(from.step == "bores");
  CHECK(from.as_found);
  const auto& proposal = procedure->step("decide")->entries[1].proposed_by;
  REQUIRE(proposal);
  CHECK(proposal->step == "decide");
  CHECK(proposal->entry == "over");
  CHECK(proposal->result == "choice");
  CHECK_FALSE(procedure->step("bores")->entries[2].proposed_by);
}

TEST_CASE("the resolved form keeps machine work, proposals, values as found and what parts say") {
  const json::Value root = resolved(*read());
  CHECK(json::compact(root.at("machine-work")) ==
        R"([{"id":"bore","parts":["cylinder"],"text":"Bored","limits":["bore"],)"
        R"("sizes":{"entry":"bores/target","low":"low","high":"high"},"finish":"Honed"},)"
        R"({"id":"own","parts":["gasket","glue"],"text":"Looked over"}])");
  const auto& parts = root.at("parts").items();
  CHECK(json::compact(parts[0].at("alpha")) == "0.000011");
  CHECK(parts[1].at("once").as_boolean());
  CHECK(parts[2].at("dated").as_boolean());
  const auto& steps = root.at("sections").items()[0].at("steps").items();
  CHECK(json::compact(steps[0].at("entries").items()[1].at("proposed-by")) ==
        R"({"entry":"decide/over","result":"choice"})");
  CHECK(json::compact(steps[1].at("entries").items()[0].at("inputs").at("readings")) ==
        R"({"entry":"bores/bore","as-found":true})");
  CHECK(steps[2].at("entries").items()[0].at("as-found").as_boolean());
  CHECK(json::compact(steps[2].at("entries").items()[2].at("parts")) == R"(["cylinder"])");
  const Reading again = read_procedure(json::pretty(root));
  REQUIRE(again.procedure);
  CHECK(json::compact(resolved(*again.procedure)) == json::compact(root));
}

// What a rebuilder sends away and what he decides from the worn engine. Common practice, no source.
TEST_CASE("the whole engine decides its sizes from what is worn and offers the work that follows") {
  const auto procedure = read_procedure(reading::file("procedures/hx4-150.json")).procedure;
  REQUIRE(procedure);
  for (const char* option : {"bore-oversize", "main-undersize", "rod-undersize", "gasket-grade"}) {
    CAPTURE(option);
    int proposed = 0;
    for (const Step* each : procedure->steps())
      for (const Entry& entry : each->entries) proposed += entry.option == option && entry.proposed_by != nullptr;
    CHECK(proposed == 1);
  }
  for (const char* id : {"bore", "sleeve", "deck", "mains", "pins", "rod-bush", "head", "guide", "seat", "pump-cover",
                         "cover-face", "adapter-face", "flywheel", "front-seal-bore", "rear-seal-bore"}) {
    CAPTURE(id);
    REQUIRE(procedure->work(id));
    CHECK_FALSE(procedure->work(id)->limits.empty());
  }
  // What comes back is measured again: some reading or choice tells of every part that can be sent.
  for (const OfferedWork& work : procedure->machine_work)
    for (const std::string& part : work.parts) {
      CAPTURE(work.id, part);
      bool told = false;
      for (const Step* each : procedure->steps())
        for (const Entry& entry : each->entries)
          told = told || (entry.kind != EntryKind::calculated &&
                          std::find(entry.parts.begin(), entry.parts.end(), part) != entry.parts.end());
      CHECK(told);
    }
}

// Common practice, no source: what is written down before anything is undone, as it cannot be had again.
TEST_CASE("the whole engine asks at strip-down for what taking apart destroys") {
  const auto procedure = read_procedure(reading::file("procedures/hx4-150.json")).procedure;
  REQUIRE(procedure);
  for (const auto& [of, id] :
       {std::pair("lash", "inlet"), std::pair("lash", "exhaust"), std::pair("crank-free", "float"),
        std::pair("cam-in", "float"), std::pair("gear-train", "end-play"), std::pair("backlash", "idler-dial"),
        std::pair("backlash", "cam-dial"), std::pair("backlash", "pump-dial"), std::pair("protrusion", "height"),
        std::pair("bores", "bore"), std::pair("mains", "main-journal"), std::pair("rod-bearings", "crankpin"),
        std::pair("rod-side", "side"), std::pair("rear-seal", "lip"), std::pair("rear-seal", "depth"),
        std::pair("front-seal", "depth"), std::pair("compression", "pressure")}) {
    CAPTURE(of, id);
    const auto& entries = procedure->step(of)->entries;
    const auto entry = std::find_if(entries.begin(), entries.end(),
                                    [wanted = std::string_view(id)](const Entry& one) { return one.id == wanted; });
    REQUIRE(entry != entries.end());
    CHECK(entry->as_found);
  }
}
