// The order of the steps, and procedures of many thousand of them.
#include "procedure/reading.h"

#include <catch2/catch.hpp>

using namespace procedure;
using reading::step;
using reading::text;

namespace {

const std::string confirm = R"({"id": "x", "kind": "confirm", "title": "Done"})";

// `count` steps, each after the one before, the first after the last.
std::string circle_of(int count) {
  std::string steps;
  for (int i = 0; i < count; ++i)
    steps += (i == 0 ? "" : ",\n") +
             step(fmt::format("s{}", i), confirm, fmt::format(R"("after": ["s{}"],)", (i + count - 1) % count));
  return steps;
}

// As a real one of that length would be: a limit each, three entries, one of them calculated, a caution.
std::string long_procedure(int count) {
  std::string limits;
  std::string steps;
  for (int i = 0; i < count; ++i) {
    const std::string separator = i == 0 ? "" : ",\n";
    limits +=
        separator + fmt::format(R"("l{}": {{"unit": "mm", "standard": {{"low": 1, "high": 2}}, "basis": "shop"}})", i);
    const std::string entries = fmt::format(
        R"({{"id": "r", "kind": "readings", "title": "Size", "limit": "l{0}", "rows": ["front", "rear"]}},
           {{"id": "c", "kind": "calculated", "title": "Form", "computation": "form",
             "inputs": {{"readings": {{"entry": "r"}}}}, "judge": {{"max": "l{0}"}}}},)",
        i);
    const std::string after = i == 0   ? ""
                              : i == 2 ? R"("after": ["s0", "s1"],)"
                                       : fmt::format(R"("after": ["s{}"],)", i - 1);
    steps += separator +
             step(fmt::format("s{}", i), entries + confirm,
                  after + R"("cautions": [{"word": "NOTICE", "hazard": "a", "consequence": "b", "avoid": "c"}],)");
  }
  return text("\"limits\": {" + limits + "},", steps);
}

} // namespace

TEST_CASE("steps need not stand in the order they rest on one another") {
  const Reading read = read_procedure(text("", step("b", confirm, R"("after": ["a"],)") + "," + step("a", confirm)));
  CHECK(read.procedure);
}

TEST_CASE("two ways to one step are no circle") {
  const Reading read = read_procedure(text("", step("a", confirm) + "," + step("b", confirm, R"("after": ["a"],)") +
                                                   "," + step("c", confirm, R"("after": ["a"],)") + "," +
                                                   step("d", confirm, R"("after": ["b", "c"],)")));
  CHECK(read.procedure);
}

TEST_CASE("every circle is told once") {
  const Reading read = read_procedure(text("", step("a", confirm, R"("after": ["b"],)") + "," +
                                                   step("b", confirm, R"("after": ["a"],)") + "," +
                                                   step("c", confirm, R"("after": ["c"],)")));
  REQUIRE(read.remarks.size() == 2);
  CHECK(read.remarks[0].fault.message == "steps rest on one another in a circle: \"a\" on \"b\" on \"a\"");
  CHECK(read.remarks[1].fault.message == "steps rest on one another in a circle: \"c\" on \"c\"");
}

TEST_CASE("a circle of ten thousand steps is told in one line, without running out of stack") {
  const Reading read = read_procedure(text("", circle_of(10000)));
  REQUIRE(read.remarks.size() == 1);
  const std::string& message = read.remarks.front().fault.message;
  CHECK(message.find("\"s0\" on \"s9999\" on \"s9998\"") != std::string::npos);
  CHECK(message.find("9992 more") != std::string::npos);
  CHECK(message.size() < 200);
}

TEST_CASE("three thousand steps are read without a remark") {
  const Reading read = read_procedure(long_procedure(3000));
  REQUIRE(read.procedure);
  CHECK(read.remarks.empty());
}

TEST_CASE("as many faults as steps are all told") {
  std::string steps;
  for (int i = 0; i < 2000; ++i)
    steps += (i == 0 ? "" : ",\n") + step(fmt::format("s{}", i), confirm, R"("after": ["nowhere"],)");
  CHECK(read_procedure(text("", steps)).remarks.size() == 2000);
}
