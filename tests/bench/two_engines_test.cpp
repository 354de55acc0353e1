// Two engines at once. What would go wrong: a gauge in the hand of whoever works at one engine types into the other.
#include "bench/screen.h"

#include "json/read.h"

#include <catch2/catch.hpp>
#include <imgui.h>

using namespace bench;

namespace {

constexpr int f5 = key::f1 + 4;

void send(Screen& screen, const std::string& line) {
  screen.now.utc_ms += 60'000;
  screen.desk->post(*json::read_one(line));
  REQUIRE(screen.desk->take_answer()->ok());
}

// On both, the number of the crank is what is asked next. The second one is not open yet.
void two_engines(Screen& screen) {
  screen.sign_in();
  send(screen, R"({"do":"open-build","build":"teasel","procedure":")" + std::string(PROJECT_FOLDER) +
                   R"(/procedures/short-block.json","engine":{"model":"HX4-150","serial":"HX4-150-0898","hours":1040},)"
                   R"("customer":"Narrowboat Teasel"})");
  const auto& step = screen.build().plan->step(0);
  const std::string& clean = step.entries[*screen.build().plan->find_entry(0, "block-faces")].good.front();
  for (const char* build : {"marigold", "teasel"}) {
    const std::string at = R"(,"build":")" + std::string(build) + R"(","step":"wash-inspect")";
    send(screen, R"({"do":"acknowledge")" + at + "}");
    send(screen, R"({"do":"confirm")" + at + R"(,"entry":"galleries"})");
    send(screen, R"({"do":"pick")" + at + R"(,"entry":"block-faces","value":")" + clean + R"("})");
  }
  screen.frame();
}

void open_the_other(Screen& screen) {
  screen.press(key::f1);
  screen.type("teasel");
  screen.press(key::enter);
  REQUIRE(screen.build().id == "teasel");
}

std::int64_t events(Screen& screen) {
  return screen.build().seq;
}

} // namespace

TEST_CASE("a gauge that types into the wrong engine records nothing") {
  Screen screen;
  two_engines(screen);
  open_the_other(screen);
  const auto before = events(screen);
  for (const char* sheet : {"sheet", "strip-down", "parts", "sizes", "findings"}) {
    INFO(sheet);
    screen.window->show(sheet);
    screen.frame();
    screen.enter("48.012");
    screen.enter("1");
    screen.press(key::keypad_enter);
    screen.press(key::digit_0 + 1);
    screen.press(key::letter_a);
    screen.press(key::tab);
    CHECK(events(screen) == before);
    CHECK(screen.shows("HX4-150-0898"));
    CHECK(screen.shows("This is the engine on the bench   [F5]"));
  }
}

TEST_CASE("what was typed before an engine is on the bench is told, and taken from then on") {
  Screen screen;
  two_engines(screen);
  open_the_other(screen);
  screen.enter("48.012");
  CHECK(screen.shows("48.012 was typed before this engine was taken to the bench: not recorded"));
  screen.press(f5);
  CHECK(screen.shows("48.012 was typed before this engine was taken to the bench: not recorded"));
  CHECK(screen.entry("wash-inspect", "crank-number").text.empty());
  screen.enter("C-0898"); // the first thing that the step asks for
  CHECK(screen.entry("wash-inspect", "crank-number").text == "C-0898");
}

TEST_CASE("F5 in the middle of what a gauge types does not take the rest of it") {
  Screen screen;
  two_engines(screen);
  open_the_other(screen);
  const auto before = events(screen);
  screen.type("48.");
  screen.press(f5);
  CHECK(screen.shows("48. was typed before this engine was taken to the bench: not recorded"));
  screen.enter("012");
  CHECK(events(screen) == before);
  CHECK(screen.shows("This is the engine on the bench   [F5]"));
  screen.press(f5);
  CHECK_FALSE(screen.shows("This is the engine on the bench   [F5]"));
  CHECK(events(screen) == before);
}

TEST_CASE("what was half typed for one engine is not carried to the other, nor kept for the first") {
  Screen screen;
  two_engines(screen);
  screen.press(key::f1 + 1);
  screen.type("C-07");
  open_the_other(screen);
  screen.press(f5);
  screen.press(key::enter);
  CHECK(screen.entry("wash-inspect", "crank-number").text.empty());
  screen.enter("X");
  CHECK(screen.entry("wash-inspect", "crank-number").text == "X");
}

TEST_CASE("the engine last worked on is opened as it was left on the bench, another after it is not") {
  Screen screen;
  two_engines(screen);
  open_the_other(screen);
  screen.press(key::f1);
  screen.type("marigold");
  screen.press(key::enter);
  REQUIRE(screen.build().id == "marigold");
  CHECK_FALSE(screen.shows("This is the engine on the bench   [F5]")); // it is there still
  screen.enter("C-0731");
  CHECK(screen.entry("wash-inspect", "crank-number").text == "C-0731");
}

TEST_CASE("the only engine of a shop is on the bench from the start") {
  Screen screen;
  CHECK_FALSE(screen.shows("This is the engine on the bench"));
  screen.sign_in();
  for (int i = 0; i < 2; ++i) screen.press(f5); // notices, galleries
  screen.press(key::digit_0 + 2);
  screen.enter("C-0731");
  CHECK(screen.entry("wash-inspect", "crank-number").text == "C-0731");
}

TEST_CASE("log and limits of an engine that is not on the bench may be read") {
  Screen screen;
  two_engines(screen);
  open_the_other(screen);
  screen.press(key::f1 + 2);
  CHECK(screen.shows("HX4-150-0898"));
  CHECK_FALSE(screen.shows("This is the engine on the bench   [F5]"));
  screen.press_with_shift(key::f9);
  CHECK_FALSE(screen.shows("This is the engine on the bench   [F5]"));
}

TEST_CASE("a photograph dropped on an engine that is not on the bench is not laid anywhere") {
  Screen screen;
  two_engines(screen);
  open_the_other(screen);
  const auto before = events(screen);
  screen.window->dropped({std::string(PROJECT_FOLDER) + "/assets/screens/sheet.png"});
  screen.frame();
  CHECK(events(screen) == before);
}
