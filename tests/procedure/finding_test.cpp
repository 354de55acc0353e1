// Findings and what steps fit. What is refused stands in bad/.
#include "procedure/reading.h"

#include "json/write.h"

#include <catch2/catch.hpp>

using namespace procedure;
using reading::codes;
using reading::step;
using reading::text;

namespace {

using Codes = std::vector<std::string>;

const std::string confirm = R"({"id": "x", "kind": "confirm", "title": "Done"})";
const std::string parts = R"("parts": [{"id": "crank", "title": "Crank"},
  {"id": "valve", "title": "Valve", "positions": ["1i", "1e", "2i", "2e"]}],)";

std::string finding(const std::string& part, const std::string& members = "") {
  return fmt::format(R"("findings": [{{"id": "worn", "parts": ["{}"], "text": "Worn" {}}}],)", part, members);
}

std::string fits(const std::string& id, const std::string& part, const std::string& members = "") {
  return step(id, confirm, fmt::format(R"("fits": ["{}"], {})", part, members));
}

} // namespace

TEST_CASE("a finding is read with all that it says, and what it leaves out") {
  const Reading read = read_procedure(text(parts + R"("findings": [
      {"id": "groove", "parts": ["crank", "valve"], "text": "Groove", "usually": "Sleeve", "cause": true, "proof": "a/x"},
      {"id": "mark", "parts": ["valve"], "text": "Mark", "severity": "slight"}],)",
                                           step("a", confirm, R"("fits": ["crank", "valve"],)")));
  INFO(reading::all_lines(read));
  REQUIRE(read.procedure);
  CHECK(read.remarks.empty());
  CHECK(read.procedure->step("a")->fits == std::vector<std::string>{"crank", "valve"});
  REQUIRE(read.procedure->findings.size() == 2);
  const OfferedFinding* groove = read.procedure->finding("groove");
  REQUIRE(groove);
  CHECK(groove->parts == std::vector<std::string>{"crank", "valve"});
  CHECK(groove->text == "Groove");
  CHECK(groove->usually == "Sleeve");
  CHECK_FALSE(groove->slight);
  CHECK(groove->cause);
  CHECK(groove->proof_step == "a");
  CHECK(groove->proof_entry == "x");
  const OfferedFinding* mark = read.procedure->finding("mark");
  REQUIRE(mark);
  CHECK(mark->slight);
  CHECK_FALSE(mark->cause);
  CHECK(mark->usually.empty());
  CHECK(mark->proof_step.empty());
  CHECK(mark->proof_entry.empty());
  CHECK_FALSE(read.procedure->finding("scratch"));
}

TEST_CASE("a fault that no step would wait for is warned of, a slight one is not") {
  CHECK(codes(text(parts + finding("crank"), fits("a", "valve"))) == Codes{"W15"});
  CHECK(codes(text(parts + finding("crank"), fits("a", "valve") + "," + fits("b", "crank"))).empty());
  CHECK(codes(text(parts + finding("crank", R"(, "severity": "slight")"), fits("a", "valve"))).empty());
}

TEST_CASE("a fault at a position that no step fits is warned of") {
  const std::string inlet = fits("a", "valve", R"("part": "valve", "positions": ["1i", "2i"],)");
  const std::string exhaust = fits("b", "valve", R"("positions": ["1e", "2e"],)");
  const std::string crank = fits("c", "crank");
  const Reading read = read_procedure(text(parts + finding("valve"), inlet + "," + crank));
  REQUIRE(read.remarks.size() == 1);
  CHECK(read.remarks.front().code == "W15");
  CHECK(read.remarks.front().fault.message == R"(finding "worn": on the part "valve" at "1e" it holds up no step)");
  CHECK(read.remarks.front().fault.pointer == "/findings/0/parts/0");
  CHECK(codes(text(parts + finding("valve"), inlet + "," + exhaust + "," + crank)).empty());
  // A step without positions, or with some of its own, waits for the fault wherever it is.
  CHECK(codes(text(parts + finding("valve"), fits("a", "valve") + "," + crank)).empty());
  CHECK(codes(text(parts + finding("valve"), fits("a", "valve", R"("positions": ["left", "right"],)") + "," + crank))
            .empty());
}

TEST_CASE("a part that a step fits or a finding names is not warned of as named by nothing") {
  CHECK(codes(text(R"("parts": [{"id": "crank", "title": "Crank"}],)", fits("a", "crank"))).empty());
  CHECK(codes(text(R"("parts": [{"id": "crank", "title": "Crank"}],)" + finding("crank"), step("a", confirm))) ==
        Codes{"W15"});
}

TEST_CASE("any entry that can come out bad is a proof, before the step that is held up or after it") {
  const std::string limits = R"("limits": {"gap": {"unit": "mm", "standard": {"high": 1}, "basis": "shop"},
                                            "open": {"unit": "mm", "basis": "maker", "source": "p. 1"},
                                            "tight": {"unit": "N.m", "target": 60, "basis": "shop"}},)";
  const std::string entries = R"({"id": "reading", "kind": "reading", "title": "x", "limit": "gap"},
    {"id": "unfilled", "kind": "reading", "title": "x", "limit": "open"},
    {"id": "readings", "kind": "readings", "title": "x", "limit": "gap", "rows": ["1", "2"]},
    {"id": "confirm", "kind": "confirm", "title": "x"},
    {"id": "choice", "kind": "choice", "title": "x", "choices": ["good", "bad"], "good": ["good"]},
    {"id": "tightening", "kind": "tightening", "title": "x", "fasteners": ["1"], "stages": [{"id": "1", "torque": "tight"}]},
    {"id": "calculated", "kind": "calculated", "title": "x", "computation": "mean-of",
     "inputs": {"values": {"entry": "readings"}}, "judge": {"mean": "gap"}})";
  for (const char* id : {"reading", "unfilled", "readings", "confirm", "choice", "tightening", "calculated"}) {
    const std::string members = parts + limits + finding("crank", fmt::format(R"(, "proof": "proof/{}")", id));
    const std::string fit = step("fit", confirm, R"("fits": ["crank", "valve"],)");
    CAPTURE(id);
    CHECK(codes(text(members, step("proof", entries) + "," + fit)).empty());
    CHECK(codes(text(members, fit + "," + step("proof", entries))).empty());
  }
}

TEST_CASE("a proof has all positions of the part, or goes by others") {
  const auto with = [](const std::string& positions) {
    return codes(text(parts + finding("valve", R"(, "proof": "b/x")"),
                      step("a", confirm, R"("fits": ["valve", "crank"],)") + "," + step("b", confirm, positions)));
  };
  CHECK(with("").empty());
  CHECK(with(R"("part": "valve",)").empty());
  CHECK(with(R"("positions": ["left", "right"],)").empty());
  CHECK(with(R"("positions": ["1i", "2i"],)").front().find("has not all positions of the part \"valve\"") !=
        std::string::npos);
}

TEST_CASE("the resolved form keeps findings and fits") {
  const Reading read =
      read_procedure(text(parts + finding("crank", R"(, "usually": "New", "cause": true, "proof": "a/x")"),
                          step("a", confirm, R"("fits": ["crank", "valve"],)")));
  REQUIRE(read.procedure);
  const json::Value root = resolved(*read.procedure);
  CHECK(
      json::compact(root.at("findings")) ==
      R"([{"id":"worn","parts":["crank"],"text":"Worn","usually":"New","severity":"fault","cause":true,"proof":"a/x"}])");
  const Reading again = read_procedure(json::pretty(root));
  REQUIRE(again.procedure);
  CHECK(json::compact(resolved(*again.procedure)) == json::compact(root));
}

TEST_CASE(
    "a proof that waits for the step it holds up is warned of, however far back, unless it may be measured ahead") {
  const auto with = [](const std::string& entry) {
    return codes(text(parts + finding("crank", R"(, "proof": "proof/x")"),
                      step("fit", confirm, R"("fits": ["crank", "valve"],)") + "," +
                          step("between", confirm, R"("after": ["fit"],)") + "," +
                          step("proof", entry, R"("after": ["between"],)")));
  };
  CHECK(with(R"({"id": "x", "kind": "confirm", "title": "Smooth"})") == Codes{"W32"});
  CHECK(
      with(
          R"({"id": "x", "kind": "choice", "title": "Smooth", "choices": ["yes", "no"], "good": ["yes"], "loose": true})")
          .empty());
}

// Common practice, no source: a rebuilder asks what caused each of these, else the new part goes the same way.
TEST_CASE("the whole engine asks for the cause of what comes back when its cause stays") {
  const auto procedure = read_procedure(reading::file("procedures/hx4-150.json")).procedure;
  REQUIRE(procedure);
  for (const char* id : {"bore-scored", "skirt-scored", "main-shell-marked", "rod-shell-marked", "rotor-scored"}) {
    CAPTURE(id);
    REQUIRE(procedure->finding(id));
    CHECK(procedure->finding(id)->cause);
  }
}
