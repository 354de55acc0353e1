// Letters that are drawn into their texture only once a text has them.
#include "bench/screen.h"

#include <catch2/catch.hpp>
#include <imgui.h>

namespace {

constexpr unsigned circled_plus = 0x2295; // in no text of ours
constexpr unsigned hangul_ga = 0xAC00;    // the font has none

void type_only(const std::string& text) {
  ImGui::GetIO().AddInputCharactersUTF8(text.c_str());
}

} // namespace

TEST_CASE("a letter that no text had before is there before the frame that shows it counts") {
  Screen screen;
  REQUIRE_FALSE(bench::has_glyph(circled_plus));
  type_only("\u2295");
  screen.one_frame();
  CHECK(bench::letters_lacking());
  screen.one_frame();
  CHECK_FALSE(bench::letters_lacking());
  CHECK(screen.shows("\u2295"));
  CHECK(bench::has_glyph(circled_plus));
  CHECK(bench::has_glyph('x'));
}

TEST_CASE("letters once asked for stay when the letters become larger") {
  Screen screen;
  type_only("\u2296");
  screen.frame();
  screen.press_with_shift(bench::key::f12);
  screen.press(bench::key::digit_0 + 7); // 200 %
  CHECK(bench::fonts().scale > 1);
  CHECK(bench::has_glyph(0x2296));
}

TEST_CASE("a letter that the font has not, and bytes that are no letter, ask for nothing") {
  Screen screen;
  type_only("\uAC00");
  screen.one_frame();
  CHECK(screen.shows("\uAC00"));
  CHECK_FALSE(bench::letters_lacking());
  CHECK_FALSE(bench::has_glyph(hangul_ga));
  bench::ask_for_letters("\xFF\xC3");
  CHECK_FALSE(bench::letters_lacking());
}

TEST_CASE("a sign of every block of letters is loaded once it was asked for") {
  Screen screen;
  for (const unsigned code :
       {0x00E4U, 0x0151U, 0x03A9U, 0x2019U, 0x2082U, 0x2126U, 0x215BU, 0x2191U, 0x2264U, 0x2300U}) {
    INFO(std::hex << code);
    std::string letter;
    if (code >= 0x800)
      letter += {static_cast<char>(0xE0 | code >> 12), static_cast<char>(0x80 | (code >> 6 & 0x3F))};
    else
      letter += static_cast<char>(0xC0 | code >> 6);
    letter += static_cast<char>(0x80 | (code & 0x3F));
    bench::ask_for_letters(letter);
    screen.one_frame();
    CHECK(bench::has_glyph(code));
  }
}
