// The procedures there are, a new one begun from another, and its numbers typed from an invented manual by two people.
#include "bench/screen.h"

#include "procedure/reader.h"
#include "procedure/transcribed.h"
#include "json/read.h"

#include <catch2/catch.hpp>

#include <filesystem>

using namespace bench;
using procedure::Transcribed;

namespace {

constexpr int f5 = key::f1 + 4;
constexpr int f11 = key::f1 + 10;

struct Procedures : Screen {
  using Screen::Screen;
  Procedures() : Screen() {
    in_the_shop(
        R"({"do":"enrol","person":"tom","name":"Tom Bell","roles":["builder"],"passphrase":"second pair of eyes"})");
  }

  std::filesystem::path file() const { return desk->shop_file().parent_path() / "procedures" / "mine.json"; }
  std::shared_ptr<const procedure::Procedure> read() const {
    return procedure::read_procedure(json::read_file(file()).value()).procedure;
  }
  Transcribed standing(const std::string& limit) const {
    const auto procedure = read();
    REQUIRE(procedure);
    return transcribed(*procedure->limit(limit), procedure->limit(limit)->values);
  }

  void open_list() { press_with_shift(f11); }
  void begin_mine() {
    open_list();
    type("short block");
    press(key::insert);
    enter("mine");
    press(key::enter); // the title stays
    type("HX2-75");
    press(f5);
  }
  void sign_in_as(const std::string& person, const std::string& passphrase) {
    enter(person);
    enter(passphrase);
    REQUIRE(desk->signed_in());
  }
  void ivo() { sign_in_as("ivo", "copper and brass"); }
  void tom() { sign_in_as("tom", "second pair of eyes"); }

  // The form is open at its unit.
  void type_standard(const std::string& low, const std::string& high) {
    press(key::enter);
    enter(low);
    type(high);
  }
  void enter_journal() {
    begin_mine();
    type("journal diameter");
    press(key::enter);
    ivo();
    type_standard("47.964", "47.980");
    for (int field = 0; field < 5; ++field) press(key::enter);
    type("Workshop manual, page 3-12");
    press(f5);
  }
};

} // namespace

TEST_CASE("the procedures shipped are listed, and their numbers can be looked at and not filled in") {
  Procedures screen;
  screen.open_list();
  CHECK(screen.shows("Shipped with the program"));
  screen.type("short block");
  screen.press(key::enter);
  screen.type("oil clearance");
  CHECK(screen.shows("Main bearing oil clearance   standard 0.020 to 0.062 mm; service 0.02 to 0.10 mm"));
  CHECK(screen.shows("begin a new procedure from it"));
  CHECK_FALSE(screen.shows("Enter the numbers"));
  screen.press(key::escape);
  CHECK(screen.shows("A new one from it   [Insert]"));
}

TEST_CASE("the screen of the shop leads to the procedures, and Escape back") {
  Procedures screen;
  screen.press(key::f1 + 3);
  screen.click("to-procedures");
  CHECK(screen.shows("Shipped with the program"));
  screen.press(key::escape);
  CHECK(screen.shows("Gauges and wrenches"));
}

TEST_CASE("a procedure is begun from another, empty, in the folder beside the shop file, and is the shop's own") {
  Procedures screen;
  screen.begin_mine();
  CHECK(screen.shows("27 sets of numbers to fill in"));
  CHECK(screen.shows("27 empty"));
  REQUIRE(screen.read());
  CHECK(screen.read()->model == "HX2-75");
  screen.press(key::escape);
  CHECK(screen.shows("The shop's own: 27 empty"));
  screen.press(key::f1);
  screen.press(key::insert);
  screen.ivo();
  CHECK(screen.shows("(mine.json)")); // an engine may be opened with it
}

TEST_CASE("a procedure of that name is not written over") {
  Procedures screen;
  screen.begin_mine();
  const auto before = json::read_file(screen.file()).value();
  screen.press(key::escape);
  screen.begin_mine();
  CHECK(screen.shows("is there already"));
  CHECK(json::read_file(screen.file()).value() == before);
}

TEST_CASE("numbers typed from the manual stand in the file with who typed them, and are hidden from whoever checks") {
  Procedures screen;
  screen.enter_journal();
  CHECK(screen.shows("Main journal diameter: saved."));
  CHECK(screen.standing("main-journal") == Transcribed::entered);
  CHECK(screen.read()->limit("main-journal")->values.entered->by == "Ivo Tarrant");
  CHECK(screen.shows("standard 47.964 to 47.980 mm"));
  screen.press(f11);
  CHECK_FALSE(screen.shows("47.98"));
  CHECK(screen.shows("entered, not shown until it is checked"));
}

TEST_CASE("the second reading agrees or differs, and both are shown when it differs") {
  Procedures screen;
  screen.enter_journal();
  screen.press(f11);
  screen.press(key::insert);
  screen.tom();
  CHECK_FALSE(screen.shows("47.98"));
  screen.type_standard("47.964", "47.984");
  CHECK_FALSE(screen.shows("47.980"));
  screen.press(f5);
  if (screen.standing("main-journal") == Transcribed::entered) screen.press(f5); // a slip was told first
  CHECK(screen.standing("main-journal") == Transcribed::differs);
  CHECK(screen.shows("standard high: 47.98 entered, 47.984 checked"));
  screen.press(key::insert);
  screen.type_standard("47.964", "47.980");
  screen.press(f5);
  CHECK(screen.shows("the second reading agrees"));
  CHECK(screen.standing("main-journal") == Transcribed::checked);
}

TEST_CASE("a slip is told under the field while it is typed, and saved only when F5 is struck again") {
  Procedures screen;
  screen.begin_mine();
  screen.type("oil clearance");
  screen.press(key::enter);
  screen.ivo();
  screen.type_standard("0.020", "0.062");
  CHECK_FALSE(screen.shows("slipped"));
  screen.press(key::backspace);
  screen.press(key::backspace);
  screen.press(key::backspace);
  screen.type("620");
  CHECK(screen.shows("one of them has slipped by a digit or unit"));
  for (int field = 0; field < 5; ++field) screen.press(key::enter);
  screen.type("page 3");
  screen.press(f5);
  CHECK(screen.shows("Strike F5 again if the numbers are meant so."));
  CHECK(screen.standing("main-clearance") == Transcribed::empty);
  screen.press(f5);
  CHECK(screen.standing("main-clearance") == Transcribed::entered);
}

TEST_CASE("one key says that the maker gives none, once it is known who looked") {
  Procedures screen;
  screen.begin_mine();
  screen.type("oil clearance");
  screen.press(key::end);
  CHECK(screen.shows("Sign in first"));
  CHECK(screen.standing("main-clearance") == Transcribed::empty);
  screen.press(key::enter);
  screen.ivo();
  screen.press(key::escape);
  screen.press(key::end);
  CHECK(screen.standing("main-clearance") == Transcribed::none);
  CHECK(screen.shows("maker gives none"));
}

TEST_CASE("what cannot be read is told under its field, and what was typed stays") {
  Procedures screen;
  screen.begin_mine();
  screen.type("oil clearance");
  screen.press(key::enter);
  screen.ivo();
  screen.type_standard("0,020", "0.062");
  screen.press(f5);
  CHECK(screen.shows("comma"));
  CHECK(screen.shows("0.062"));
  CHECK(screen.standing("main-clearance") == Transcribed::empty);
}

TEST_CASE("a file changed by something else meanwhile is told and not written over") {
  Procedures screen;
  screen.begin_mine();
  screen.type("oil clearance");
  screen.press(key::enter);
  screen.ivo();
  screen.type_standard("0.020", "0.062");
  for (int field = 0; field < 5; ++field) screen.press(key::enter);
  screen.type("page 3");
  const auto there = json::read_file(screen.file()).value();
  std::filesystem::resize_file(screen.file(), there.size() - 1);
  screen.press(f5);
  CHECK(screen.shows("was changed by something else"));
  CHECK(json::read_file(screen.file()).value() == there.substr(0, there.size() - 1));
}
