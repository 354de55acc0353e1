#include "bench/lengths.h"
#include "bench/look.h"
#include "bench/screen.h"
#include "json/read.h"
#include "json/write.h"

#include <catch2/catch.hpp>
#include <imgui.h>

#include <cmath>
#include <set>

namespace {

namespace key = bench::key;
using bench::Look;
using quantity::Exact;

// --- contrast: WCAG 2.1 (W3C Recommendation, 5 June 2018), "relative luminance" and "contrast ratio" -----------------

double linear(unsigned part) {
  const double value = part / 255.0;
  return value <= 0.03928 ? value / 12.92 : std::pow((value + 0.055) / 1.055, 2.4);
}

double luminance(ImU32 colour) {
  const auto part = [&](int shift) { return linear((colour >> shift) & 0xFF); };
  return 0.2126 * part(IM_COL32_R_SHIFT) + 0.7152 * part(IM_COL32_G_SHIFT) + 0.0722 * part(IM_COL32_B_SHIFT);
}

double contrast(ImU32 one, ImU32 other) {
  const auto [dark, light] = std::minmax({luminance(one), luminance(other)});
  return (light + 0.05) / (dark + 0.05);
}

const bench::Theme& named(const char* name) {
  const auto* found = bench::find_theme(name);
  REQUIRE(found);
  return *found;
}

std::set<ImU32> colours_drawn() {
  std::set<ImU32> out;
  const ImDrawData& drawn = *ImGui::GetDrawData();
  for (int i = 0; i < drawn.CmdListsCount; ++i)
    for (const ImDrawVert& corner : drawn.CmdLists[i]->VtxBuffer) out.insert(corner.col & ~IM_COL32_A_MASK);
  return out;
}

std::set<ImU32> colours_of(const bench::Theme& theme) {
  std::set<ImU32> out;
  for (const ImU32 colour : {theme.bench, theme.on_bench, theme.paper, theme.ink, theme.soft_ink, theme.faint,
                             theme.metal, theme.paint, theme.field, theme.shout})
    out.insert(colour & ~IM_COL32_A_MASK);
  return out;
}

void choose(Screen& screen, int digit) {
  screen.press_with_shift(key::f12);
  screen.press(key::digit_0 + digit);
}

constexpr int dark = 2, contrasting = 3, hundred = 4, two_hundred = 7, mm = 8, inches = 9;

const char* const screens[] = {"builds", "sheet", "strip-down", "findings", "parts", "sizes",
                               "log",    "shop",  "work",       "keys",     "look"};

// To the first bore of the main bearings.
void to_main_bore(Screen& screen) {
  constexpr int f5 = key::f1 + 4, f7 = key::f1 + 6;
  screen.sign_in();
  screen.press(f5);
  screen.press(f5);
  screen.press(key::digit_0 + 2);
  screen.enter("C-2206");
  screen.press(f7);
}

} // namespace

// The two ends of the scale, by the definition: white on black is 21 to 1.
TEST_CASE("white on black is twenty-one to one") {
  CHECK(contrast(IM_COL32(255, 255, 255, 255), IM_COL32(0, 0, 0, 255)) == Approx(21));
  CHECK(contrast(IM_COL32(119, 119, 119, 255), IM_COL32(255, 255, 255, 255)) ==
        Approx(4.48).epsilon(0.01)); // from memory
}

TEST_CASE("text stands out from what it is written on, in every theme") {
  for (const bench::Theme& theme : bench::themes()) {
    INFO(theme.name);
    const double least = theme.name == "contrast" ? 7.0 : 4.5; // success criteria 1.4.6 and 1.4.3
    for (const ImU32 text : {theme.ink, theme.soft_ink, theme.shout}) CHECK(contrast(text, theme.paper) >= least);
    CHECK(contrast(theme.ink, theme.field) >= least);
    CHECK(contrast(theme.ink, theme.metal) >= least); // a line that is closed, a button under the finger
    CHECK(contrast(theme.soft_ink, theme.metal) >= least);
    CHECK(contrast(theme.on_bench, theme.bench) >= least);
    for (const ImU32 under : {theme.paper, theme.metal}) CHECK(contrast(theme.paint, under) >= 3); // 1.4.11
    CHECK(contrast(theme.ink, theme.bench) + contrast(theme.paper, theme.bench) > 4); // a button is seen on the bench
  }
  CHECK(contrast(named("contrast").ink, named("contrast").paper) == Approx(21));
  CHECK(named("contrast").line > named("light").line);
}

TEST_CASE("every screen is drawn in the colours of the theme alone") {
  for (const int theme : {1, dark, contrasting}) {
    Screen screen;
    to_main_bore(screen);
    choose(screen, theme);
    for (const char* name : screens) {
      INFO(bench::theme().name << ", " << name);
      screen.window->show(name);
      screen.frame();
      const auto own = colours_of(bench::theme());
      for (const ImU32 colour : colours_drawn()) {
        INFO(std::hex << colour);
        CHECK(own.count(colour) == 1);
      }
    }
  }
}

TEST_CASE("every step is drawn in the colours of the theme alone") {
  Screen screen;
  screen.sign_in();
  choose(screen, dark);
  screen.window->show("sheet");
  screen.frame();
  const auto own = colours_of(named("dark"));
  for (std::size_t s = 0; s < screen.build().plan->size(); ++s) {
    for (const ImU32 colour : colours_drawn()) CHECK(own.count(colour) == 1);
    screen.press(key::page_down);
  }
}

TEST_CASE("a theme chosen by its number is there at once, and the choice says so") {
  Screen screen;
  screen.press_with_shift(key::f12);
  CHECK(screen.shows("Light: now"));
  screen.press(key::digit_0 + dark);
  CHECK(bench::theme().name == "dark");
  CHECK(screen.shows("Dark: now"));
  CHECK_FALSE(screen.shows("Light: now"));
  screen.click("contrast");
  CHECK(bench::theme().name == "contrast");
}

TEST_CASE("larger text is there at once, and what was half typed still stands") {
  Screen screen(1, 1600, 1000);
  screen.enter("ivo");
  screen.type("copper");
  const float before = bench::fonts().text->FontSize;
  choose(screen, two_hundred);
  CHECK(bench::fonts().text->FontSize == 2 * before);
  screen.press(key::f1 + 1);
  screen.enter(" and brass");
  CHECK(screen.desk->signed_in());
  choose(screen, hundred);
  CHECK(bench::fonts().text->FontSize == before);
}

TEST_CASE("text is no larger than the window has room for, and the screen says so") {
  Look large;
  large.text = 200;
  CHECK(bench::scale_for(large, 1, 1600, 1000) == 2);
  CHECK(bench::scale_for(large, 1, 1024, 600) == 1.5f);
  CHECK(bench::scale_for(large, 2, 2560, 1440) == 3);
  CHECK(bench::scale_for(Look(), 1, 1024, 600) == 1);
  CHECK(bench::scale_for(large, 1, 300, 200) == 1); // never smaller than at first
  Screen screen(1, 1024, 600);
  choose(screen, two_hundred);
  CHECK(screen.shows("There is no room for more than 150 % here"));
  CHECK(bench::fonts().text->FontSize == 30);
}

TEST_CASE("Escape leads back from the look to where one was") {
  Screen screen;
  screen.sign_in();
  screen.press(key::f1 + 3);
  screen.press_with_shift(key::f12);
  screen.press(key::escape);
  CHECK(screen.shows("Gauges and wrenches"));
}

TEST_CASE("the look is kept when it is chosen, and says so when it cannot be") {
  Screen screen;
  Look kept;
  bench::Mirror mirror;
  mirror.now.theme = "dark"; // for this session
  mirror.place = "look.json";
  mirror.keep = [&](const Look& look) -> quantity::Result<void> {
    kept = look;
    if (look.text == 150) return quantity::Error{"look-not-kept", "The look is not kept: the disk is full."};
    return {};
  };
  screen.window->begin_with(mirror);
  choose(screen, 5);
  CHECK(bench::theme().name == "dark");
  CHECK(kept.text == 125);
  CHECK(kept.theme == "light"); // what the session was begun with is not kept along
  CHECK(screen.shows("Kept for you in look.json"));
  choose(screen, 6);
  CHECK(screen.shows("The look is not kept: the disk is full."));
  CHECK(bench::fonts().text->FontSize == 30);
}

TEST_CASE("a look is read as it was written") {
  for (const bench::Theme& theme : bench::themes())
    for (const int text : bench::text_sizes)
      for (const bool inch : {false, true}) {
        Look look;
        look.theme = theme.name;
        look.text = text;
        look.inches = inch;
        const auto read = bench::read_look(bench::written(look));
        REQUIRE(read);
        CHECK(*read == look);
      }
  CHECK(bench::written(Look()) == "{\"text\":100,\"theme\":\"light\",\"units\":\"mm\"}\n");
}

TEST_CASE("a damaged look is told, one from later on is read as far as it is known") {
  for (const char* text :
       {"", "{", "[]", "7", "{\"theme\":\"pink\"}", "{\"theme\":2}", "{\"text\":110}", "{\"text\":\"125\"}",
        "{\"text\":1e2}", "{\"units\":\"furlong\"}", "{\"theme\":\"dark\",\"theme\":\"dark\"}"}) {
    INFO(text);
    const auto read = bench::read_look(text);
    REQUIRE_FALSE(read.ok());
    CHECK(read.error().code == "bad-look");
  }
  const auto later = bench::read_look("{\"theme\":\"dark\",\"sound\":true}");
  REQUIRE(later);
  CHECK(later->theme == "dark");
  CHECK(later->text == 100);
}

// --- inches ---------------------------------------------------------------------------------------------------------

// 1 in = 25.4 mm exactly: NIST SP 811 (2008), appendix B.8.
TEST_CASE("what is shown in inches loses nothing of a thousandth of a millimetre") {
  const auto& unit = *quantity::find_unit("mm");
  bench::show_inches(true);
  CHECK(bench::shown_length(*Exact::decimal("25.4"), unit) == "1.00000 in");
  CHECK(bench::shown_length(*Exact::decimal("61.962"), unit) == "2.43945 in");
  CHECK(bench::shown_bounds({*Exact::decimal("0.020"), *Exact::decimal("0.062")}, unit) == "0.00079 to 0.00244 in");
  for (int micrometres = 1; micrometres < 200'000; micrometres += 37) {
    const Exact value = Exact::ratio(micrometres, 1000);
    const Exact back = *Exact::decimal(bench::shown_number(value, unit)) * *Exact::decimal("25.4");
    CHECK(back.fixed(3) == value.fixed(3));
  }
  CHECK(bench::shown_length(*Exact::decimal("45"), *quantity::find_unit("N.m")) == "45 N.m");
  bench::show_inches(false);
  CHECK(bench::shown_length(*Exact::decimal("61.962"), unit) == "61.962 mm");
}

TEST_CASE("a bare number counts as inches only while they are shown") {
  const auto& unit = *quantity::find_unit("mm");
  CHECK(bench::as_meant("3.0712", unit) == "3.0712");
  bench::show_inches(true);
  CHECK(bench::as_meant("3.0712", unit) == "3.0712 in");
  CHECK(bench::as_meant(" -0.0005 ", unit) == "-0.0005 in");
  CHECK(bench::as_meant("78.01 mm", unit) == "78.01 mm");
  CHECK(bench::as_meant("3,07", unit) == "3,07"); // refused with its reason, as ever
  CHECK(bench::as_meant("45", *quantity::find_unit("N.m")) == "45");
  bench::show_inches(false);
}

TEST_CASE("typed in inches: the record holds what was typed with its unit, and is judged in the procedure's own") {
  Screen screen;
  to_main_bore(screen);
  choose(screen, inches);
  screen.press(key::f1 + 1);
  CHECK(screen.shows("in inches, with bore-1"));
  CHECK(screen.shows("1.88976 to 1.89079 in")); // 48.000 to 48.026 mm
  screen.type("1.8902");
  CHECK(screen.shows("within: 1.89020 in (48.01108 mm)"));
  const std::int64_t before = screen.build().seq;
  screen.press(key::enter);
  REQUIRE(screen.build().seq == before + 1);
  const auto& body = screen.desk->log().back().body;
  CHECK(body.at("unit").as_text() == "mm");
  CHECK(body.at("cells").items().front().at("typed").as_text() == "1.8902 in");
  CHECK(json::canonical(body).find("48.01108") != std::string::npos);
  CHECK(screen.shows("1.89020"));
}

TEST_CASE("the display switched there and back changes no event") {
  Screen screen;
  to_main_bore(screen);
  screen.enter("48.012");
  const auto told = [&] {
    std::string all;
    for (const auto& event : screen.desk->log()) all += json::canonical(event.body) + event.hash;
    return all;
  };
  const std::string before = told();
  for (const int unit : {inches, mm, inches}) {
    choose(screen, unit);
    for (const char* name : screens) {
      screen.window->show(name);
      screen.frame();
    }
  }
  screen.window->show("sheet");
  screen.frame();
  CHECK(screen.shows("1.89024")); // 48.012 mm
  choose(screen, mm);
  screen.window->show("sheet");
  screen.frame();
  CHECK(screen.shows("48.012"));
  CHECK(told() == before);
}
