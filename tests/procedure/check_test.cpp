// What the checks let through, and what they only warn of. What they refuse stands in bad/.
#include "procedure/reading.h"

#include <catch2/catch.hpp>

using namespace procedure;
using reading::codes;
using reading::step;
using reading::text;

namespace {

using Codes = std::vector<std::string>;
const Codes none;

const std::string confirm = R"({"id": "x", "kind": "confirm", "title": "Done"})";
const std::string size_option =
    R"("options": [{"id": "size", "title": "Size", "choices": ["standard", "0.25"], "given": "standard"}],)";
const std::string shell_part = R"("parts": [{"id": "shell", "title": "Shell", "positions": ["1", "2"]}],)";

std::string one_limit(const std::string& limit) {
  return fmt::format(R"("limits": {{"gap": {}}},)", limit);
}

std::string judged(const std::string& members = "") {
  return fmt::format(R"({{"id": "r", "kind": "reading", "title": "Gap", "unit": "mm", "limit": "gap" {}}})", members);
}

std::string sizes(const std::string& id, const std::string& members = "") {
  return fmt::format(
      R"({{"id": "{}", "kind": "readings", "title": "Sizes", "unit": "mm", "rows": ["front", "rear"] {}}})", id,
      members);
}

std::string calculated(const std::string& computation, const std::string& inputs, const std::string& members = "") {
  return fmt::format(
      R"({{"id": "c", "kind": "calculated", "title": "Result", "computation": "{}", "inputs": {{{}}} {}}})",
      computation, inputs, members);
}

} // namespace

TEST_CASE("a limit that nothing uses is warned of") {
  CHECK(codes(text(one_limit(R"({"unit": "mm", "basis": "shop"})"), step("a", confirm))) == Codes{"W01"});
}

TEST_CASE("an option that changes nothing is warned of") {
  CHECK(codes(text(size_option, step("a", confirm))) == Codes{"W02"});
  CHECK(codes(text(size_option, step("a", R"({"id": "p", "kind": "choice", "title": "x", "option": "size"})"))) ==
        Codes{"W02"});
  CHECK(codes(text(size_option, step("a", confirm, R"("when": [{"option": "size", "is": "0.25"}],)"))) == none);
}

TEST_CASE("a part that nothing names is warned of") {
  CHECK(codes(text(shell_part, step("a", confirm))) == Codes{"W03"});
  CHECK(codes(text(shell_part, step("a", confirm, R"("part": "shell",)"))) == none);
}

TEST_CASE("numbers without any basis are warned of, a limit of basis none without numbers is not") {
  CHECK(codes(text(one_limit(R"({"unit": "mm", "standard": {"high": 1}, "basis": "none"})"), step("a", judged()))) ==
        Codes{"W04"});
  CHECK(codes(text(one_limit(R"({"unit": "mm", "basis": "none"})"), step("a", judged()))) == none);
}

TEST_CASE("service numbers that can never apply are warned of") {
  const std::string limit = one_limit(
      R"({"unit": "mm", "standard": {"low": 0.02, "high": 0.06}, "service": {"high": 0.1}, "basis": "shop"})");
  CHECK(codes(text(limit, step("a", judged()))) == Codes{"W05"});
  CHECK(codes(text(limit, step("a", judged(R"(, "judged-by": "service")")))) == none);
  CHECK(codes(text(shell_part + limit, step("a", judged(R"(, "parts": ["shell"])")))) == none);
}

TEST_CASE("a case that an earlier one hides is warned of") {
  const std::string limit = one_limit(R"({"unit": "mm", "basis": "shop", "when": [
    {"option": "size", "is": ["standard", "0.25"], "standard": {"high": 0.06}},
    {"option": "size", "is": "0.25", "standard": {"high": 0.05}}]})");
  CHECK(codes(text(size_option + limit, step("a", judged()))) == Codes{"W06"});
}

TEST_CASE("a result that hangs on a reading that may be left empty is warned of") {
  const std::string reading = sizes("r", R"(, "optional": true)");
  const std::string inputs = R"("readings": {"entry": "r"})";
  CHECK(codes(text("", step("a", reading + "," + calculated("form", inputs)))) == Codes{"W07"});
  CHECK(codes(text("", step("a", reading + "," + calculated("form", inputs, R"(, "optional": true)")))) == none);
}

TEST_CASE("a calculation from values as found, which nothing asks for, may be left empty itself") {
  const std::string reading = sizes("r", R"(, "as-found": true)");
  const std::string inputs = R"("readings": {"entry": "r", "as-found": true})";
  CHECK(codes(text("", step("a", reading + "," + calculated("form", inputs)))) == Codes{"W07"});
  CHECK(codes(text("", step("a", reading + "," + calculated("form", inputs, R"(, "optional": true)")))) == none);
}

TEST_CASE("what is decided from values as found may come before they are measured again") {
  const std::string found = step(
      "found", calculated("form", R"("readings": {"entry": "bores/r", "as-found": true})", R"(, "optional": true)"));
  CHECK(codes(text("", found + "," + step("bores", sizes("r", R"(, "as-found": true)"), R"("after": ["found"],)"))) ==
        none);
}

TEST_CASE("a part that is used up or goes out of date is warned of when no step fits it") {
  const auto part = [](const std::string& member) {
    return R"("parts": [{"id": "seal", "title": "Seal", )" + member + "}],";
  };
  for (const char* member : {R"("once": true)", R"("dated": true)"}) {
    CAPTURE(member);
    CHECK(codes(text(part(member), step("a", confirm, R"("part": "seal",)"))) == Codes{"W16"});
    CHECK(codes(text(part(member), step("a", confirm, R"("fits": ["seal"],)"))) == none);
  }
  CHECK(codes(text(part(R"("once": false)"), step("a", confirm, R"("part": "seal",)"))) == none);
}

TEST_CASE("parts and limits that only machine work names are not warned of as named by nothing") {
  const std::string limits = one_limit(R"({"unit": "mm", "standard": {"high": 1}, "basis": "shop"})");
  const std::string work =
      R"("machine-work": [{"id": "grind", "parts": ["shell"], "text": "Ground", "limits": ["gap"]}],)";
  CHECK(codes(text(shell_part + limits + work, step("a", confirm))) == none);
}

TEST_CASE("a step that waits for one that may be left open at release is warned of") {
  const std::string later = R"(]}, {"id": "later", "title": "Later", "deferrable": true, "steps": [)";
  const std::string waits = R"("after": ["run-in"],)";
  CHECK(codes(text("", step("a", confirm, waits) + later + step("run-in", confirm))) == Codes{"W08"});
  CHECK(codes(text("", step("a", confirm) + later + step("run-in", confirm) + "," + step("b", confirm, waits))) ==
        none);
}

TEST_CASE("every warning is explained and listed on the page on procedures, others are not") {
  const std::string page = reading::file("procedures/README.md");
  for (int i = 0; i < 100; ++i) {
    const std::string code = fmt::format("W{:02}", i);
    CAPTURE(code);
    const bool known = (i >= 1 && i <= 18) || (i >= 20 && i <= 33);
    CHECK(explain(code).empty() != known);
    CHECK((page.find(fmt::format("| {} |", code)) != std::string::npos) == known);
  }
  CHECK(explain("").empty());
}

TEST_CASE("a warning is told with its code") {
  const auto lines =
      reading::lines(read_procedure(text(one_limit(R"({"unit": "mm", "basis": "shop"})"), step("a", confirm))));
  REQUIRE(lines.size() == 1);
  CHECK(lines[0] == "f:2:21: warning: W01 limit \"gap\": nothing uses it (/limits/gap)");
}

TEST_CASE("limits on the edge of what is allowed are allowed") {
  const std::string parts = R"(, "parts": ["shell"])";
  const auto good = [&](const std::string& limit) {
    return codes(text(shell_part + one_limit(limit), step("a", judged(parts))));
  };
  CHECK(good(R"({"unit": "mm", "standard": {"low": 0.02, "high": 0.02}, "basis": "shop"})") == none);
  CHECK(good(R"({"unit": "mm", "service": {"high": 0.1}, "basis": "shop"})") == none);
  CHECK(
      good(R"({"unit": "mm", "standard": {"low": 1, "high": 2}, "service": {"low": 1, "high": 2}, "basis": "shop"})") ==
      none);
  CHECK(good(R"({"unit": "mm", "standard": {"low": 1, "high": 2}, "target": 1.5, "basis": "shop"})") == none);
  CHECK(good(R"({"unit": "mm", "standard": {"low": -0.015, "high": 0.015}, "basis": "shop"})") == none);
}

TEST_CASE("cases that cover every combination need no numbers beside them") {
  const std::string options = R"("options": [{"id": "size", "title": "Size", "choices": ["standard", "0.25"]},
                                             {"id": "grade", "title": "Grade", "choices": ["1", "2"]}],)";
  const auto limit = [](const std::string& last) {
    return one_limit(R"({"unit": "mm", "basis": "shop", "when": [
      {"option": "size", "is": "0.25", "standard": {"high": 1}},
      {"option": "size", "is": "standard", "and": [{"option": "grade", "is": "1"}], "standard": {"high": 2}})" +
                     last + "]}");
  };
  CHECK(codes(text(options + limit(R"(, {"option": "grade", "is": "2"})"), step("a", judged()))) == none);
  CHECK(codes(text(options + limit(""), step("a", judged())))
            .front()
            .find("no limits for size is \"standard\", grade is "
                  "\"2\"") != std::string::npos);
}

TEST_CASE("options with too many combinations to look at are refused") {
  std::string options;
  std::string conditions;
  for (int i = 0; i < 12; ++i) {
    options += fmt::format(R"({}{{"id": "o{}", "title": "x", "choices": ["a", "b"]}})", i ? "," : "", i);
    if (i > 0) conditions += fmt::format(R"({}{{"option": "o{}", "is": "a"}})", i > 1 ? "," : "", i);
  }
  const std::string limit = one_limit(fmt::format(
      R"({{"unit": "mm", "basis": "shop", "when": [{{"option": "o0", "is": "b", "and": [{}]}}]}})", conditions));
  const auto told = codes(text("\"options\": [" + options + "]," + limit, step("a", judged())));
  REQUIRE(told.size() == 1);
  CHECK(told.front().find("combinations or more") != std::string::npos);
}

TEST_CASE("at each position an input may come from the same positions or from a step without any") {
  const std::string five = R"("positions": ["1", "2"],)";
  const std::string inputs = R"("bore": {"entry": "bores/r"}, "piston": {"entry": "skirts/s"})";
  const std::string skirt = R"({"id": "s", "kind": "reading", "title": "Skirt", "unit": "mm"})";
  CHECK(codes(text("", step("bores", sizes("r"), five) + "," + step("skirts", skirt) + "," +
                           step("a", calculated("piston-clearance", inputs), five))) == none);
  CHECK(codes(text("", step("bores", sizes("r"), five) + "," + step("skirts", skirt, five) + "," +
                           step("a", calculated("piston-clearance", inputs), five))) == none);
}

TEST_CASE("over all positions one reading each becomes a list, two each become pairs") {
  const std::string four = R"("positions": ["1", "2", "3", "4"],)";
  const std::string depth = R"({"id": "r", "kind": "reading", "title": "Depth", "unit": "mm"})";
  const std::string seal = R"("depths": {"entry": "m/r"}, "diameter": {"constant": "92 mm"})";
  CHECK(codes(text("", step("m", depth, four) + "," + step("a", calculated("seal-squareness", seal)))) == none);
  CHECK(codes(text("", step("m", depth + "," + calculated("seal-squareness", seal, R"(, "over": "all")"), four))) ==
        none);
  CHECK(codes(text("", step("m", sizes("r"), four) + "," +
                           step("a", calculated("end-play", R"("readings": {"entry": "m/r"})")))) == none);
  CHECK(codes(text("",
                   step("m", depth, four) + "," + step("a", calculated("end-play", R"("readings": {"entry": "m/r"})"))))
            .front()
            .find("needs pairs of quantities, not 4 by 1 readings") != std::string::npos);
}

TEST_CASE("results calculated at each position come as a list over all of them") {
  const std::string each =
      step("m", sizes("r") + "," + calculated("form", R"("readings": {"entry": "r"})"), R"("positions": ["1", "2"],)");
  const std::string from = R"({"entry": "m/c", "result": "mean"})";
  CHECK(codes(text("", each + "," + step("a", calculated("mean-of", "\"values\": " + from)))) == none);
  const auto told = codes(
      text("", each + "," +
                   step("a", calculated("ring-gap",
                                        fmt::format(R"("gap": {0}, "gauge_bore": {0}, "working_bore": {0})", from)))));
  REQUIRE(told.size() == 1);
  CHECK(told.front().find("needs a quantity, not 2 by 1 readings") != std::string::npos);
}

TEST_CASE("an option or a choice can be the word a computation wants") {
  const std::string kind = R"("options": [{"id": "kind", "title": "Kind", "choices": ["bore", "journal"]}],)";
  const auto inputs = [](const std::string& source) {
    return R"("readings": {"entry": "r"}, "nominal": {"constant": {"value": 48, "unit": "mm"}}, "kind": )" + source;
  };
  CHECK(codes(text(kind, step("a", sizes("r") + "," + calculated("form", inputs(R"({"option": "kind"})"))))) == none);
  const std::string pick = R"({"id": "p", "kind": "choice", "title": "x", "choices": ["bore", "journal"]},)";
  CHECK(codes(text("", step("a", pick + sizes("r") + "," + calculated("form", inputs(R"({"entry": "p"})"))))) == none);
}

TEST_CASE("an option can be a size when each of its choices is one") {
  const auto with = [](const std::string& choices) {
    return text(
        fmt::format(R"("options": [{{"id": "over", "title": "Nominal", "choices": [{}]}}],)", choices),
        step("a", sizes("r") + "," + calculated("form", R"("readings": {"entry": "r"}, "nominal": {"option": "over"},
                                                    "kind": {"constant": "bore"})")));
  };
  CHECK(codes(with(R"("78 mm", "78.5 mm")")) == none);
  CHECK(codes(with(R"("78 mm", "large")")).front().find("can be \"large\"") != std::string::npos);
  CHECK(codes(with(R"("78 mm", "3 N.m")")).front().find("measure different things") != std::string::npos);
  CHECK(codes(with(R"("78 N.m", "3 N.m")")).front().find("needs a length, not a torque") != std::string::npos);
}

TEST_CASE("the size of a result follows from what it is calculated from") {
  const std::string limits = R"("limits": {"t": {"unit": "N.m", "standard": {"high": 5}, "basis": "shop"}},)";
  const auto mean_of = [&](const std::string& unit) {
    return text(limits,
                step("a", fmt::format(R"({{"id": "r", "kind": "reading", "title": "x", "unit": "{}"}},)", unit) +
                              calculated("mean-of", R"("values": {"entry": "r"})", R"(, "judge": {"mean": "t"})")));
  };
  CHECK(codes(mean_of("lbf.ft")) == none);
  CHECK(codes(mean_of("mm")).front().find("a length is judged by limit \"t\", which is in N.m") != std::string::npos);
}

TEST_CASE("what is calculated under a condition may use what is there under the same or a wider one") {
  const auto with = [](const std::string& source, const std::string& own) {
    return text(size_option,
                step("m", sizes("r"), fmt::format(R"("when": [{{"option": "size", "is": {}}}],)", source)) + "," +
                    step("a", calculated("form", R"("readings": {"entry": "m/r"})"),
                         fmt::format(R"("when": [{{"option": "size", "is": {}}}],)", own)));
  };
  CHECK(codes(with(R"("0.25")", R"("0.25")")) == none);
  CHECK(codes(with(R"(["0.25", "standard"])", R"("0.25")")) == none);
  CHECK(codes(with(R"("0.25")", R"(["0.25", "standard"])")).front().find("not on every engine") != std::string::npos);
}
