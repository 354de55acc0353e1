// The order of the steps, and procedures of many thousand of them.
#include "procedure/reading.h"

#include <catch2/catch.hpp>

#include <chrono>

using namespace procedure;
using reading::step;
using reading::text;

namespace {

const std::string confirm = R"({"id": "x", "kind": "confirm", "title": "Done"})";

// `count` steps, each after the one before; the first after `first_after`.
std::string chain_of(int count, const std::string& first_after) {
  std::string steps;
  for (int i = 0; i < count; ++i) {
    const std::string before = i == 0 ? first_after : fmt::format("s{}", i - 1);
    const std::string after = before.empty() ? "" : fmt::format(R"("after": ["{}"],)", before);
    steps += (i == 0 ? "" : ",\n") + step(fmt::format("s{}", i), confirm, after);
  }
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
    const std::string after = i == 0 ? "" : fmt::format(R"("after": ["s{}"],)", i - 1);
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

TEST_CASE("a circle of ten thousand steps is told in one line of readable length") {
  const Reading read = read_procedure(text("", chain_of(10000, "s9999")));
  REQUIRE(read.remarks.size() == 1);
  const std::string& message = read.remarks.front().fault.message;
  CHECK(message.find("\"s0\" on \"s9999\" on \"s9998\"") != std::string::npos);
  CHECK(message.find("9992 more") != std::string::npos);
  CHECK(message.size() < 200);
}

TEST_CASE("a chain of ten thousand steps is read without running out of stack") {
  CHECK(read_procedure(text("", chain_of(10000, ""))).procedure);
}

TEST_CASE("ten times the steps take about ten times as long, not a hundred times") {
  const auto seconds = [](int count) {
    const std::string document = long_procedure(count);
    const auto start = std::chrono::steady_clock::now();
    const Reading read = read_procedure(document);
    const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
    REQUIRE(read.procedure);
    CHECK(read.remarks.empty());
    return taken.count();
  };
  const double small = seconds(1000);
  const double large = seconds(10000);
  CHECK(large < 40 * small); // a quadratic reader needs about 100 times as long
}

TEST_CASE("ten thousand faults are told as quickly as they are found") {
  std::string steps;
  for (int i = 0; i < 10000; ++i)
    steps += (i == 0 ? "" : ",\n") + step(fmt::format("s{}", i), confirm, R"("after": ["nowhere"],)");
  CHECK(read_procedure(text("", steps)).remarks.size() == 10000);
}
