#include "bench/screen.h"
#include "bench/shop_screens.h"

#include "json/read.h"

#include <catch2/catch.hpp>
#include <imgui.h>

using namespace bench;

namespace {

constexpr int f5 = key::f1 + 4;
constexpr int f6 = key::f1 + 5;
constexpr int f8 = key::f1 + 7;
constexpr int f10 = key::f1 + 9;

void gauges(Screen& screen) {
  screen.press(key::f1 + 3);
  screen.press(f6);
  REQUIRE(screen.shows("Gauges and wrenches"));
}

const build::Gauge& gauge(const Screen& screen, const std::string& id) {
  return *screen.desk->shop().gauge(id);
}

build::Gauge due(const std::string& id, const std::string& date) {
  build::Gauge out;
  out.id = id;
  out.unit = quantity::find_unit("mm");
  if (!date.empty()) out.due = *calc::parse_date(date);
  return out;
}

} // namespace

TEST_CASE("gauges not to be used stand first, then those due next, those without a date last") {
  build::Shop shop;
  for (const auto& [id, date] : {std::pair{"a", ""}, {"b", "2026-12-01"}, {"c", "2026-01-10"}, {"d", "2025-12-31"}})
    shop.gauges[id] = due(id, date);
  shop.gauges["e"] = due("e", "2027-01-01");
  shop.gauges["e"].unfit = "it was found out";
  std::string order;
  for (const auto* one : in_order_of_need(shop, *calc::parse_date("2026-01-05"))) order += one->id;
  CHECK(order == "decba");
}

TEST_CASE("when a gauge is due is said in days; on the day itself it is still good") {
  const auto words = [](const char* date, const char* today) {
    return due_words(due("a", date), *calc::parse_date(today));
  };
  CHECK(words("2026-01-17", "2026-01-05") == "due in 12 days (2026-01-17)");
  CHECK(words("2026-01-06", "2026-01-05") == "due in 1 day (2026-01-06)");
  CHECK(words("2026-01-05", "2026-01-05") == "due today");
  CHECK(words("2026-01-04", "2026-01-05") == "OVERDUE by 1 day (2026-01-04): not to be used");
  CHECK(words("2026-03-01", "2024-02-29") == "due in 731 days (2026-03-01)"); // 306 + 365 + 60: a leap day in between
  CHECK(words("", "2026-01-05") == "calibration not stated");
}

TEST_CASE("a gauge is added by keys alone, its kind narrowed by letters") {
  Screen screen;
  screen.sign_in();
  gauges(screen);
  screen.press(f10);
  screen.type("depth m");
  screen.press(key::enter);
  screen.enter("dm-1");
  screen.press(key::enter); // mm, as is usual
  screen.enter("0.01");
  screen.enter("0.008");
  screen.press(key::enter); // no repeatability stated
  screen.enter("0");
  screen.enter("25");
  screen.enter("2025-11-03");
  screen.enter("2026-11-03");
  CHECK(screen.shows("dm-1 is added."));
  const auto& its = gauge(screen, "dm-1");
  CHECK(its.kind == "depth micrometer");
  CHECK(its.unit->name == "mm");
  CHECK(its.u->text() == "0.008");
  CHECK(its.high->text() == "25");
  CHECK(calc::text(*its.due) == "2026-11-03");
}

TEST_CASE("a wrench is added with its sort and class") {
  Screen screen;
  screen.sign_in();
  gauges(screen);
  screen.press(f10);
  screen.type("torque");
  screen.press(key::enter);
  screen.enter("tw-2");
  screen.press(key::enter); // N.m
  screen.enter("0.5");
  screen.press(key::down); // it shows the peak
  screen.press(key::enter);
  screen.enter("0.04");
  screen.press(f5);
  const auto& its = gauge(screen, "tw-2");
  CHECK(its.tool == build::Tool::indicating);
  CHECK(its.unit->name == "N.m");
  CHECK(its.class_error->text() == "0.04");
}

TEST_CASE("what is wrong about a new gauge stands under its field and the rest stays as typed") {
  Screen screen;
  screen.sign_in();
  gauges(screen);
  screen.press(f10);
  screen.type("caliper");
  screen.press(key::enter);
  screen.enter("Cal 1");
  screen.press(key::enter);
  screen.enter("0.02");
  screen.press(f5);
  CHECK(screen.shows("\"Its mark\" must be at most 64 of a-z"));
  CHECK(screen.shows("0.02"));
  for (int i = 0; i < 5; ++i) screen.press(key::backspace);
  screen.type("cal-1");
  screen.press(f5);
  CHECK(gauge(screen, "cal-1").resolution.text() == "0.02");
}

TEST_CASE("numbers typed with an exponent or a unit leave the shop readable") {
  Screen screen;
  screen.sign_in();
  gauges(screen);
  screen.press(f10);
  screen.type("depth m");
  screen.press(key::enter);
  screen.enter("dm-1");
  screen.press(key::enter);
  screen.enter("1e-2");
  screen.enter("8e-3");
  screen.press(key::enter);
  screen.enter("0");
  screen.enter("1 in");
  screen.press(f5);
  CHECK(gauge(screen, "dm-1").resolution.text() == "0.01");
  CHECK(gauge(screen, "dm-1").high->text() == "25.4"); // 1 in is 25.4 mm exactly, ISO 31-1
}

TEST_CASE("a gauge back from calibration has its new dates; found out it is not to be used") {
  Screen screen;
  screen.sign_in();
  gauges(screen);
  screen.type("bore");
  screen.press(f5);
  screen.enter("2026-01-02");
  screen.enter("2027-01-02");
  screen.enter("0.003");
  CHECK(calc::text(*gauge(screen, "bore-1").due) == "2027-01-02");
  CHECK(gauge(screen, "bore-1").u->text() == "0.003");
  CHECK(screen.shows("due in 362 days")); // from 2026-01-05
  screen.press(f8);
  screen.press(key::enter);
  CHECK_FALSE(gauge(screen, "bore-1").unfit.empty());
  CHECK(screen.shows("NOT TO BE USED: it was found out"));
  CHECK(screen.shows("nothing has to be measured again"));
}

TEST_CASE("a gauge checked on a standard beyond its U is not to be used, within it is good for the day") {
  Screen screen;
  screen.sign_in();
  gauges(screen);
  screen.type("mic-1");
  for (const auto& [reading, unfit] : {std::pair{"50.004", true}, {"50.003", false}}) { // U is 0.003 mm
    screen.press(f6);
    screen.enter("setting rod 50");
    screen.enter("50");
    screen.enter(reading);
    CHECK(gauge(screen, "mic-1").unfit.empty() != unfit);
  }
}

TEST_CASE("letters narrow the gauges down; the chosen one says what it may measure on the open engine") {
  Screen screen;
  screen.sign_in();
  gauges(screen);
  screen.type("BORE g");
  CHECK(screen.shows("bore-1"));
  CHECK_FALSE(screen.shows("tw-1"));
  CHECK(screen.shows("On HX4-150-0731: Main bearing bore"));
}
