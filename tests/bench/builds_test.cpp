#include "bench/builds.h"
#include "bench/screen.h"

#include "json/read.h"

#include <catch2/catch.hpp>
#include <imgui.h>

#include <chrono>

using namespace bench;

namespace {

// Sends it as the command line would, by the desk: what the answers were is not looked at here.
void send(Screen& screen, const std::string& line) {
  screen.desk->post(*json::read_one(line));
  screen.frame();
}

void open(Screen& screen, const std::string& build, const std::string& model, const std::string& serial,
          const std::string& customer) {
  send(screen, R"({"do":"open-build","build":")" + build + R"(","procedure":")" + PROJECT_FOLDER +
                   R"(/procedures/short-block.json","engine":{"model":")" + model + R"(","serial":")" + serial +
                   R"(","hours":12},"customer":")" + customer + R"("})");
}

// The engines in the order in which they stand on the screen.
std::vector<std::string> listed(const Screen& screen) {
  std::vector<std::string> out;
  for (const auto& one : screen.drawn)
    if (one.text.find("  HX4-") != std::string::npos || one.text.find("  T-") != std::string::npos)
      out.push_back(one.text);
  return out;
}

} // namespace

TEST_CASE("builds stand with the newest work first and are narrowed by engine, serial, customer and name") {
  Screen screen;
  screen.sign_in();
  screen.now.utc_ms += 60'000;
  open(screen, "teasel", "TS2", "T-0898", "Narrowboat Teasel");
  screen.now.utc_ms += 60'000;
  send(screen, R"({"do":"note","build":"marigold","step":"wash-inspect","text":"washed"})");
  screen.press(key::f1);
  CHECK(listed(screen) == std::vector<std::string>{"HX4-150  HX4-150-0731", "TS2  T-0898"});
  for (const char* words : {"TEAS", "ts2", "0898 boat", "boat t-0"}) {
    INFO(words);
    screen.type(words);
    CHECK(listed(screen) == std::vector<std::string>{"TS2  T-0898"});
    for (std::size_t i = 0; i < std::string(words).size(); ++i) screen.press(key::backspace);
    CHECK(listed(screen).size() == 2);
  }
  screen.type("boat zz");
  CHECK(listed(screen).empty());
  CHECK(screen.shows("No engine is called that"));
}

TEST_CASE("a line says how many steps are signed, what was found, and when something was last written") {
  Screen screen;
  screen.sign_in();
  send(screen, R"({"do":"finding","build":"marigold","part":"crankshaft","text":"Pin 2 scored"})");
  screen.press(key::f1);
  CHECK(screen.shows("0 of "));
  CHECK(screen.shows("steps signed; 1 finding open; last entry 2026-01-05 09:00"));
  CHECK(screen.shows("Narrowboat Marigold"));
}

TEST_CASE("Enter opens the chosen engine") {
  Screen screen;
  screen.sign_in();
  screen.now.utc_ms += 60'000;
  open(screen, "teasel", "TS2", "T-0898", "Narrowboat Teasel");
  screen.press(key::f1);
  screen.press(key::down);
  screen.press(key::enter);
  CHECK(screen.build().id == "marigold");
  screen.press(key::f1);
  screen.press(key::up);
  screen.press(key::enter);
  CHECK(screen.build().id == "teasel");
}

TEST_CASE("five hundred engines are listed no slower than a few") {
  Screen screen;
  screen.sign_in();
  for (int i = 0; i < 500; ++i) {
    screen.desk->post(*json::read_one(
        R"({"do":"open-build","build":"b)" + std::to_string(i) + R"(","procedure":")" + PROJECT_FOLDER +
        R"(/procedures/short-block.json","engine":{"model":"HX4-150","serial":"HX4-)" + std::to_string(i) +
        R"(","hours":"unknown"},"customer":"Boat-)" + std::to_string(i % 50) + R"("})"));
    screen.desk->take_answer();
  }
  screen.press(key::f1);
  CHECK(screen.shows("501 of 501"));
  CHECK(listed(screen).size() < 12); // only those in sight
  const auto began = std::chrono::steady_clock::now();
  for (int i = 0; i < 20; ++i) screen.press(key::page_down);
  screen.type("boat-37");
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - began;
  CHECK(screen.shows("10 of 501")); // every fiftieth
  INFO(took.count());
  CHECK(took.count() < 10); // sanitized, on a busy machine; 60 frames and more
  for (int i = 0; i < 20; ++i) screen.press(key::page_down);
  CHECK(listed(screen).back() == "HX4-150  HX4-37"); // the oldest of them
}

TEST_CASE("a new engine is opened by keys alone, its name proposed from the serial number") {
  Screen screen;
  screen.sign_in();
  screen.press(key::f1);
  screen.press(key::insert);
  REQUIRE(screen.shows("A new engine"));
  screen.type("short"); // of the procedures beside the program
  CHECK(screen.shows("(short-block.json)"));
  screen.press(key::enter);
  screen.press(key::enter); // no other file
  screen.press(key::enter); // the model is the procedure's
  screen.enter("HX4-150 0898");
  CHECK(screen.shows("hx4-150-0898"));
  screen.press(key::enter);
  screen.enter("Narrowboat Teasel");
  screen.enter("1040");
  REQUIRE(screen.desk->build());
  CHECK(screen.build().id == "hx4-150-0898");
  CHECK(screen.build().model == "HX4-150");
  CHECK(screen.build().serial == "HX4-150 0898");
  CHECK(screen.build().customer == "Narrowboat Teasel");
  CHECK(screen.build().hours == "1040");
  CHECK(screen.build().plan->procedure().id == "hx4-150-short-block");
}

TEST_CASE("what the gate refuses about a new engine stands under the field it concerns, and nothing typed is lost") {
  Screen screen;
  screen.sign_in();
  screen.press(key::f1);
  screen.press(key::insert);
  screen.type("short");
  for (int i = 0; i < 3; ++i) screen.press(key::enter);
  screen.enter("T-1");
  screen.press(key::f1 + 4); // no customer yet
  CHECK(screen.shows("\"Customer\" is empty"));
  screen.enter("Narrowboat Teasel"); // the field that lacks it has the keys
  screen.enter("many");
  CHECK(screen.shows("\"Hours run\" must be the hours run"));
  CHECK(screen.desk->builds().size() == 1);
  for (int i = 0; i < 4; ++i) screen.press(key::backspace);
  screen.enter("unknown");
  CHECK(screen.build().serial == "T-1");
  CHECK(screen.build().customer == "Narrowboat Teasel");
}

TEST_CASE("a procedure dropped on the window is the one an engine is opened with") {
  Screen screen;
  screen.sign_in();
  screen.press(key::f1);
  screen.press(key::insert);
  screen.window->dropped({std::string(PROJECT_FOLDER) + "/procedures/hx4-150.json"});
  screen.frame();
  screen.press(key::enter);
  screen.press(key::enter);
  screen.enter("HX4-150-0898");
  screen.press(key::enter);
  screen.enter("Narrowboat Teasel");
  screen.enter("1040");
  CHECK(screen.build().plan->procedure().id == "hx4-150");
}

TEST_CASE("a name is proposed of what a name may hold, and never one that is taken") {
  build::Shop shop;
  shop.builds["t-1"] = {};
  CHECK(proposed_id(shop, "HX4-150 / 0731") == "hx4-150-0731");
  CHECK(proposed_id(shop, "T 1") == "t-1-2");
  CHECK(proposed_id(shop, " - ") == "");
}
