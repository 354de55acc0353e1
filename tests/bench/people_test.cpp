#include "bench/screen.h"

#include "json/read.h"

#include <catch2/catch.hpp>
#include <imgui.h>

using namespace bench;

namespace {

constexpr int f5 = key::f1 + 4;
constexpr int f7 = key::f1 + 6;
constexpr int f8 = key::f1 + 7;

void people(Screen& screen) {
  screen.press(key::f1 + 3);
  screen.press(f5);
  REQUIRE(screen.shows("People"));
}

std::string roles(const Screen& screen, const std::string& id) {
  std::string out;
  for (const auto role : screen.desk->shop().person(id)->roles) out += std::string(build::name_of(role)) + " ";
  return out;
}

bool signs_in(Screen& screen, const std::string& id, const std::string& passphrase) {
  screen.desk->post(
      *json::read_one(R"({"do":"sign-in","person":")" + id + R"(","passphrase":")" + passphrase + R"("})"));
  return screen.desk->take_answer()->ok();
}

} // namespace

TEST_CASE("somebody is enrolled by keys alone, with the roles chosen, and may sign in") {
  Screen screen;
  screen.sign_in();
  people(screen);
  screen.press(key::insert);
  screen.enter("nell");
  screen.enter("Nell Ashby");
  screen.press(key::digit_0 + 2); // inspector too
  screen.press(key::enter);
  screen.enter("seven grey geese");
  screen.enter("seven grey geese");
  screen.enter("copper and brass");
  CHECK(screen.shows("Nell Ashby is enrolled."));
  CHECK(roles(screen, "nell") == "builder inspector ");
  CHECK(signs_in(screen, "nell", "seven grey geese"));
}

TEST_CASE("passphrases of people are never drawn") {
  Screen screen;
  screen.sign_in();
  people(screen);
  screen.press(key::insert);
  screen.enter("nell");
  screen.enter("Nell Ashby");
  screen.press(key::enter);
  screen.type("seven grey geese");
  CHECK_FALSE(screen.shows("seven"));
  screen.press(key::enter);
  CHECK_FALSE(screen.shows("seven"));
  screen.type("other");
  CHECK_FALSE(screen.shows("other"));
}

TEST_CASE("a new passphrase typed differently the second time enrols nobody") {
  Screen screen;
  screen.sign_in();
  people(screen);
  screen.press(key::insert);
  screen.enter("nell");
  screen.enter("Nell Ashby");
  screen.press(key::enter);
  screen.enter("seven grey geese");
  screen.enter("seven grey gulls");
  screen.enter("copper and brass");
  CHECK(screen.shows("The two passphrases differ"));
  CHECK_FALSE(screen.desk->shop().person("nell"));
}

TEST_CASE("whoever does not know the owner's passphrase enrols nobody at a window that was left open") {
  Screen screen;
  screen.sign_in();
  people(screen);
  screen.press(key::insert);
  screen.enter("nell");
  screen.enter("Nell Ashby");
  screen.press(key::enter);
  screen.enter("seven grey geese");
  screen.enter("seven grey geese");
  screen.enter("not the one");
  CHECK(screen.shows("That is not the passphrase"));
  CHECK_FALSE(screen.desk->shop().person("nell"));
}

TEST_CASE("one who is retired is marked, stands last and signs nothing more") {
  Screen screen;
  screen.sign_in();
  people(screen);
  screen.press(key::down); // Maud
  screen.press(key::remove);
  screen.enter("moved away");
  screen.enter("copper and brass");
  CHECK(screen.desk->shop().person("maud")->retired);
  CHECK(screen.shows("RETIRED; was inspector, owner"));
  CHECK_FALSE(signs_in(screen, "maud", "nine blue herons"));
}

TEST_CASE("the only owner is not retired, and why not stands on the screen") {
  Screen screen;
  screen.sign_in();
  people(screen);
  screen.press(key::down);
  screen.press(key::remove);
  screen.enter("moved away");
  screen.enter("copper and brass");
  screen.press(key::up); // Ivo himself, the only owner now
  screen.press(key::remove);
  screen.enter("tired");
  screen.enter("copper and brass");
  CHECK(screen.shows("Ivo Tarrant is the only owner"));
  CHECK_FALSE(screen.desk->shop().person("ivo")->retired);
}

TEST_CASE("one's passphrase is changed, and the one before opens nothing any more") {
  Screen screen;
  screen.sign_in();
  people(screen);
  screen.press(f7);
  screen.enter("copper and brass");
  screen.enter("iron and tin 3");
  screen.enter("iron and tin 3");
  CHECK(screen.shows("Ivo Tarrant has another passphrase."));
  CHECK_FALSE(signs_in(screen, "ivo", "copper and brass"));
  CHECK(signs_in(screen, "ivo", "iron and tin 3"));
}

TEST_CASE("a forgotten passphrase: an owner gives a new key with the reason") {
  Screen screen;
  screen.sign_in();
  people(screen);
  screen.press(key::down);
  const std::string before = screen.desk->shop().person("maud")->certificate;
  screen.press(f8);
  screen.enter("forgotten over the winter");
  screen.enter("ten white herons");
  screen.enter("ten white herons");
  screen.enter("copper and brass");
  CHECK(screen.desk->shop().person("maud")->certificate != before);
  CHECK(signs_in(screen, "maud", "ten white herons"));
}

TEST_CASE("without anybody signed in people are seen but not changed") {
  Screen screen;
  people(screen);
  CHECK(screen.shows("Maud Fenwick"));
  CHECK_FALSE(screen.shows("Enrol somebody"));
  screen.press(key::insert);
  screen.press(key::remove);
  CHECK_FALSE(screen.shows("Short name"));
  CHECK_FALSE(screen.shows("retire"));
}

TEST_CASE("the shop's settings are changed by an owner alone and signed") {
  Screen screen;
  screen.sign_in();
  screen.press(key::f1 + 3);
  screen.press(f8);
  screen.press(key::enter);
  screen.enter("The Old Forge, Heronsgate Wharf");
  screen.press(key::digit_0 + 1);
  screen.press(key::enter);
  screen.enter("not the one");
  CHECK_FALSE(screen.desk->shop().one_person);
  screen.enter("copper and brass");
  CHECK(screen.desk->shop().one_person);
  CHECK(screen.desk->shop().address == "The Old Forge, Heronsgate Wharf");
  CHECK(screen.desk->shop().name == "Heronsgate Engine Works");
}
