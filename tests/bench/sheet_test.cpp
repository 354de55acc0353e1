#include "bench/screen.h"
#include "handover/check.h"
#include "handover/fontconfig_keeps.h"
#include "json/read.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>

namespace {

constexpr int f5 = bench::key::f1 + 4;
constexpr int f7 = bench::key::f1 + 6;
constexpr int f8 = bench::key::f1 + 7;
constexpr int f10 = bench::key::f1 + 9;
constexpr int f11 = bench::key::f1 + 10;

void first_step(Screen& screen) {
  screen.sign_in();
  screen.press(f5); // notices read
  screen.press(f5); // galleries done
  screen.press(bench::key::digit_0 + 2);
  screen.enter("C-2206");
  screen.press(f7);
}

} // namespace

TEST_CASE("one build opens on its sheet, with engine and serial in sight") {
  Screen screen;
  CHECK(screen.shows("HX4-150  HX4-150-0731"));
  CHECK(screen.shows("PRACTICE, NOT A RECORD"));
  CHECK(screen.shows("Who is working?"));
}

TEST_CASE("a whole step is done by keyboard alone") {
  Screen screen;
  first_step(screen);
  CHECK(screen.state("wash-inspect") == "signed");
  CHECK(screen.entry("wash-inspect", "crank-number").text == "C-2206");
  CHECK(screen.shows("Main bearing bore"));
}

TEST_CASE("a wrong passphrase signs nobody in and is never shown") {
  Screen screen;
  screen.enter("ivo");
  screen.type("not the one");
  CHECK_FALSE(screen.shows("not the one"));
  screen.press(bench::key::enter);
  CHECK_FALSE(screen.desk->signed_in());
  CHECK(screen.shows("That is not the passphrase"));
}

TEST_CASE("entries stay shut until the notices are read") {
  Screen screen;
  screen.sign_in();
  CHECK(screen.shows("I have read these notices"));
  screen.press(f7);
  CHECK(screen.state("wash-inspect") == "open");
  CHECK_FALSE(screen.entry("wash-inspect", "galleries").done);
}

TEST_CASE("Enter records and goes to the next point, hands free for a gauge that types") {
  Screen screen;
  first_step(screen);
  for (const char* reading : {"48.012", "48.013", "48.011", "48.012"}) screen.enter(reading);
  const auto& cells = screen.entry("mains", "main-bore").cells;
  for (int c = 0; c < 4; ++c) CHECK(cells[static_cast<std::size_t>(c)].filled());
  CHECK_FALSE(cells[4].filled());
  CHECK(cells[1].value.text() == "48.013");
  CHECK(screen.shows("At 2, front, in line"));
}

TEST_CASE("the value is judged while it is typed and recorded only with Enter") {
  Screen screen;
  first_step(screen);
  screen.type("48.112");
  CHECK(screen.shows("outside: 48.112 mm"));
  CHECK_FALSE(screen.entry("mains", "main-bore").cells[0].filled());
  screen.press(bench::key::enter);
  CHECK(screen.entry("mains", "main-bore").cells[0].judged.standing == build::Standing::outside);
  CHECK(screen.shows("48.112 outside"));
}

TEST_CASE("a comma is refused where it is typed, and what was typed stays to be mended") {
  Screen screen;
  first_step(screen);
  screen.type("48,012");
  CHECK(screen.shows("comma"));
  screen.press(bench::key::enter);
  CHECK_FALSE(screen.entry("mains", "main-bore").cells[0].filled());
  CHECK(screen.shows("48,012"));
}

TEST_CASE("a number over a reading asks what it means, and corrects it") {
  Screen screen;
  first_step(screen);
  screen.enter("48.112");
  screen.enter("48.012");
  CHECK(screen.shows("There is a reading already"));
  screen.press(bench::key::digit_0 + 1);
  CHECK(screen.entry("mains", "main-bore").cells[0].value.text() == "48.012");
  CHECK(screen.desk->log().back().kind == "correct");
}

TEST_CASE("the newest reading is taken back with one key") {
  Screen screen;
  first_step(screen);
  screen.enter("48.112");
  screen.type("4");
  screen.press(bench::key::remove); // edits what is typed
  CHECK(screen.entry("mains", "main-bore").cells[0].filled());
  screen.press(bench::key::backspace);
  screen.press(bench::key::remove);
  CHECK_FALSE(screen.entry("mains", "main-bore").cells[0].filled());
}

TEST_CASE("a reading outside is reworked with a key and a sentence") {
  Screen screen;
  first_step(screen);
  screen.enter("48.112");
  screen.press(f8);
  screen.press(bench::key::digit_0 + 3);
  screen.enter("other shells");
  CHECK_FALSE(screen.entry("mains", "main-bore").cells[0].filled());
  CHECK(screen.entry("mains", "main-bore").pass == 2);
}

TEST_CASE("Escape leaves a question without an answer") {
  Screen screen;
  first_step(screen);
  screen.enter("48.112");
  screen.press(f8);
  CHECK(screen.shows("What is done about it?"));
  screen.press(bench::key::escape);
  CHECK_FALSE(screen.shows("What is done about it?"));
  CHECK(screen.entry("mains", "main-bore").cells[0].filled());
}

TEST_CASE("a gauge is added from an entry with one key and three fields") {
  Screen screen;
  first_step(screen);
  screen.press(f10);
  screen.enter("bore-9");
  screen.enter("0.001");
  screen.enter("0.004");
  REQUIRE(screen.desk->shop().gauge("bore-9"));
  screen.enter("48.012");
  CHECK(screen.entry("mains", "main-bore").cells[0].tries.front().gauge == "bore-9");
}

TEST_CASE("signing too early says how much is in the way and leaves it in its places") {
  Screen screen;
  first_step(screen);
  screen.press(f7);
  CHECK(screen.state("mains") != "signed");
  CHECK(screen.shows("things are in the way"));
  CHECK(screen.shows("Main bearing bore is not measured yet."));
}

TEST_CASE("the lock key ends the work period and an idle half hour does too") {
  Screen screen;
  screen.sign_in();
  screen.press(f11);
  CHECK_FALSE(screen.desk->signed_in());
  screen.sign_in();
  screen.now.utc_ms += 31 * 60'000;
  screen.press(f5);
  CHECK_FALSE(screen.desk->signed_in());
}

TEST_CASE("a page key goes to another step and what was half typed does not follow it") {
  Screen screen;
  first_step(screen);
  screen.type("48.0");
  screen.press(bench::key::page_down);
  screen.press(bench::key::page_up);
  CHECK_FALSE(screen.shows("within: 48"));
  CHECK_FALSE(screen.shows("outside: 48"));
}

TEST_CASE("a disabled step cannot be forced: the gate answers, not the button") {
  Screen screen;
  screen.sign_in();
  screen.press(bench::key::page_down);
  screen.press(bench::key::page_down);
  screen.press(bench::key::page_down);
  const auto seq = screen.build().seq;
  screen.press(f5);
  screen.press(f7);
  screen.enter("1");
  CHECK(screen.state("strip-check") == "not yet");
  CHECK(screen.build().seq <= seq + 1); // at most its notices read
}

TEST_CASE("a signed step is opened again after a look at what goes with it") {
  Screen screen;
  first_step(screen);
  screen.press(bench::key::page_up); // a step that is not on this engine
  screen.press(bench::key::page_up);
  screen.press(f8);
  CHECK(screen.shows("Opens again: "));
  CHECK(screen.shows("1 entries are lost"));
  screen.press(bench::key::escape);
  CHECK(screen.state("wash-inspect") == "signed");
  screen.press(f8);
  screen.enter("a rag is missing");
  CHECK(screen.state("wash-inspect") == "reopened");
  CHECK_FALSE(screen.entry("wash-inspect", "galleries").done);
}

TEST_CASE("a reused part is said so at the entry, and is held to its service limit") {
  Screen screen;
  first_step(screen);
  screen.press(bench::key::down); // the journals
  CHECK(screen.shows("47.964 to 47.980 mm, standard"));
  screen.press(bench::key::end);
  CHECK(screen.shows("new parts are held to the standard limit"));
  screen.press(bench::key::digit_0 + 2);
  CHECK(screen.build().parts.at({"crankshaft", ""}).state == "reused");
  CHECK(screen.shows("47.94 to 47.98 mm, service"));
}

TEST_CASE("an option is picked where the limits wait for it") {
  Screen screen;
  first_step(screen);
  screen.press(bench::key::insert);
  CHECK(screen.shows("Head gasket grade"));
  screen.press(bench::key::digit_0 + 2);
  CHECK(screen.build().option("gasket-grade") == "2");
}

TEST_CASE("the engine is released with a key once nothing is in the way, with the first start left open") {
  Screen screen(1, 1280, 800, R"({"format":1,"id":"tiny","title":"Tiny","revision":"1","engine":{"model":"HX4-150"},
    "sections":[{"id":"block","title":"Block","steps":[{"id":"clean","title":"Clean","entries":[
      {"id":"clean","kind":"confirm","title":"Clean"}]}]},
      {"id":"start","title":"First start","deferrable":true,"steps":[{"id":"run","title":"Run","after":["clean"],
      "entries":[{"id":"runs","kind":"confirm","title":"It runs"}]}]}]})");
  screen.sign_in();
  CHECK_FALSE(screen.shows("Release the engine"));
  screen.press(f5);
  screen.press(f7);
  CHECK(screen.shows("Release the engine, not yet run"));
  screen.press(bench::key::home);
  CHECK(screen.shows("NOT YET RUN"));
  screen.enter("started at the boat");
  screen.enter("ivo");
  screen.enter("copper and brass");
  CHECK(screen.build().released());
  CHECK(screen.build().outcome == "released");
  CHECK(screen.build().deferred == std::vector<std::string>{"start"});
}

TEST_CASE("a released engine is handed over with a key: a PDF beside the shop file that verifies") {
  Screen screen(1, 1280, 800, R"({"format":1,"id":"tiny","title":"Tiny","revision":"1","engine":{"model":"HX4-150"},
    "sections":[{"id":"block","title":"Block","steps":[{"id":"clean","title":"Clean","entries":[
      {"id":"clean","kind":"confirm","title":"Clean"}]}]}]})");
  screen.sign_in();
  screen.press(f5);
  screen.press(f7);
  screen.press(bench::key::home);
  screen.enter("ivo");
  screen.enter("copper and brass");
  REQUIRE(screen.build().released());
  screen.press(bench::key::home);
  CHECK(screen.shows("One PDF to go with the engine"));
  screen.press(bench::key::enter); // the name it proposes
  screen.enter("ivo");
  screen.enter("copper and glass");
  CHECK(screen.shows("That is not the passphrase of Ivo Tarrant."));
  screen.press(bench::key::home);
  screen.press(bench::key::enter);
  screen.enter("ivo");
  screen.enter("copper and brass");
  CHECK(screen.shows("Handed over, signed by Ivo Tarrant: "));
  const auto pdf = screen.desk->shop_file().parent_path() / "marigold.pdf";
  std::ifstream file(pdf, std::ios::binary);
  const auto report = handover::check_pdf({std::istreambuf_iterator<char>(file), {}}, {});
  REQUIRE(report);
  CHECK(report->fault == "");
  screen.press(bench::key::home); // once more: under another name
  CHECK(screen.shows("marigold-2.pdf"));
}

TEST_CASE("an overdue gauge is said to be so in words") {
  Screen screen;
  first_step(screen);
  screen.press(f10);
  screen.enter("bore-9");
  screen.enter("0.001");
  screen.enter("0.004");
  json::Value line = json::Value::object({{"do", json::Value::text("update-gauge")},
                                          {"gauge", json::Value::text("bore-9")},
                                          {"due", json::Value::text("2025-12-31")}});
  screen.desk->post(std::move(line));
  screen.press(bench::key::f1 + 3);
  screen.press(bench::key::f1 + 5); // from the shop to its gauges
  CHECK(screen.shows("OVERDUE by 5 days (2025-12-31): not to be used"));
}

namespace {

// One hold point with a reading, one step without, in a one-person shop.
constexpr const char* hold_procedure = R"({"format":1,"id":"tiny","title":"Tiny","revision":"1",
  "engine":{"model":"HX4-150"},"notice":"Invented values.",
  "limits":{"face":{"title":"Face","unit":"mm","standard":{"low":47.0,"high":47.5},"basis":"invented example"}},
  "sections":[{"id":"block","title":"Block","steps":[
    {"id":"bore","title":"Measure the face","hold":true,"entries":[
      {"id":"face","kind":"reading","title":"Face","unit":"mm","limit":"face"}]},
    {"id":"clean","title":"Clean","entries":[{"id":"clean","kind":"confirm","title":"Clean"}]}]}]})";

} // namespace

TEST_CASE("a one-person shop: the first reading is hidden at the second look, typed again, and the hold point closes") {
  Screen screen(1, 1280, 800, hold_procedure);
  screen.sign_in();
  screen.desk->post(*json::read_one(R"({"do":"set-shop","one_person":true})"));
  screen.frame();
  screen.enter("47.123");
  screen.press(f7);
  CHECK(screen.state("bore") == "wants a second person");
  CHECK(screen.shows("47.123"));
  screen.press(bench::key::page_down);
  screen.press(f5);
  screen.press(f7);
  REQUIRE(screen.state("clean") == "signed");
  screen.now.utc_ms += 29 * 60'000;
  screen.press(bench::key::page_up);
  CHECK(screen.shows("47.123"));
  CHECK(screen.shows("The second look may begin at"));
  screen.now.utc_ms += 60'000;
  screen.press(bench::key::up);
  CHECK(screen.shows("Your second look"));
  CHECK_FALSE(screen.shows("47.123"));
  screen.enter("47.124");
  CHECK(screen.shows("47.124"));
  screen.press(f7);
  screen.enter("ivo");
  screen.enter("copper and brass");
  CHECK(screen.state("bore") == "signed");
  CHECK(screen.build().step(0).signatures.back().meaning == "checked again");
  CHECK(screen.entry("bore", "face").cells[0].value.text() == "47.123");
}

TEST_CASE("at a concession the window asks whether the customer agreed, and an empty answer is no agreement") {
  for (const char* customer : {"", "R. Finch"}) {
    Screen screen(1, 1280, 800, hold_procedure);
    screen.sign_in();
    screen.desk->post(*json::read_one(R"({"do":"set-shop","one_person":true})"));
    screen.frame();
    screen.enter("47.9");
    screen.press(f8);
    screen.press(bench::key::digit_0 + 5);
    screen.enter("the customer takes it as it is");
    screen.enter(customer);
    screen.enter("by telephone");
    screen.enter("ivo");
    screen.enter("copper and brass");
    CHECK(screen.entry("bore", "face").cells[0].judged.conceded);
    const auto& said = screen.desk->log().back().body.at("customer");
    CHECK(said.at("agreed").as_text() == (*customer ? "agreed" : "not asked"));
    CHECK(said.text_or_empty("name") == customer);
  }
}

TEST_CASE("a gauge found out is said under what it measured, which stands when that is signed with a reason") {
  Screen screen(1, 1280, 800, hold_procedure);
  screen.sign_in();
  screen.enter("47.1");
  screen.now.utc_ms += 60'000;
  const std::string gauge = screen.entry("bore", "face").cells[0].tries[0].gauge;
  screen.desk->post(
      *json::read_one(R"({"do":"update-gauge","found":"out","calibrated":"2026-01-05","gauge":")" + gauge + R"("})"));
  screen.frame();
  CHECK(screen.shows("Face: measured with " + gauge + ", found out on 2026-01-05"));
  screen.press(f8);
  screen.press(bench::key::digit_0 + 7);
  screen.enter("0.002 out, and 0.1 inside its limit");
  CHECK_FALSE(screen.shows("found out on"));
  CHECK(screen.desk->log().back().kind == "accept");
  screen.press(f7);
  CHECK(screen.state("bore") == "wants a second person");
}
