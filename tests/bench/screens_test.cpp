#include "bench/screen.h"

#include <catch2/catch.hpp>
#include <imgui.h>

#include <algorithm>
#include <map>
#include <random>

namespace {

const char* const screens[] = {"builds", "sheet",  "strip-down", "findings", "parts", "sizes", "limits",   "log",
                               "shop",   "people", "gauges",     "work",     "keys",  "look",  "procedure"};

void check_drawn(const Screen& screen) {
  std::map<unsigned, std::string> ids;
  for (const auto& one : screen.drawn) {
    if (one.full_id != 0) {
      const auto [there, fresh] = ids.emplace(one.full_id, one.id);
      INFO(one.id << " stands twice as " << there->second);
      CHECK(fresh);
    }
    const char* text = one.text.c_str();
    const char* end = text + one.text.size();
    while (text < end) {
      unsigned code = 0;
      const unsigned char lead = static_cast<unsigned char>(*text);
      const int more = lead < 0x80 ? 0 : lead < 0xE0 ? 1 : lead < 0xF0 ? 2 : 3;
      code = lead < 0x80 ? lead : lead & (0x3Fu >> more);
      for (int i = 1; i <= more && text + i < end; ++i)
        code = (code << 6) | (static_cast<unsigned char>(text[i]) & 0x3Fu);
      text += more + 1;
      INFO(one.text);
      if (code >= 32) CHECK(bench::is_usual(code));
      if (code >= 32) CHECK(bench::has_glyph(code));
    }
  }
}

} // namespace

TEST_CASE("every screen draws with all its glyphs and no id twice") {
  Screen screen;
  for (const char* name : screens) {
    INFO(name);
    screen.window->show(name);
    screen.frame();
    CHECK_FALSE(screen.drawn.empty());
    check_drawn(screen);
  }
}

TEST_CASE("every step of the procedure unfolds, small and at twice the size") {
  for (const auto& [scale, width, height] : {std::tuple{1.0f, 1024.0f, 600.0f}, std::tuple{2.0f, 2560.0f, 1440.0f}}) {
    Screen screen(scale, width, height);
    screen.sign_in();
    for (std::size_t s = 0; s < screen.build().plan->size(); ++s) {
      CHECK(screen.shows(screen.build().plan->step(s).title));
      check_drawn(screen);
      screen.press(bench::key::page_down);
    }
  }
}

TEST_CASE("every computation unfolds with its example, small and at twice the size") {
  for (const auto& [scale, width, height] : {std::tuple{1.5f, 1024.0f, 600.0f}, std::tuple{2.0f, 2560.0f, 1440.0f}}) {
    Screen screen(scale, width, height);
    for (const calc::Computation& each : calc::all_computations()) {
      INFO(each.name);
      screen.window->work_out(std::string(each.name));
      screen.frame();
      CHECK(screen.shows(std::string(each.source)));
      check_drawn(screen);
    }
  }
}

TEST_CASE("nothing on the top line is cut off, however little room there is") {
  for (const auto& [scale, width] : {std::pair{1.0f, 1024.0f}, std::pair{1.5f, 1024.0f}, std::pair{1.0f, 1280.0f}}) {
    Screen screen(scale, width, 600);
    screen.sign_in();
    for (const char* name : screens) {
      screen.window->show(name);
      screen.frame();
      for (const auto& one : screen.drawn) {
        if (one.id != "###work" && one.id != "###keys" && one.id != "###lock" && one.text != "Ivo Tarrant") continue;
        INFO(name << ": " << one.text);
        CHECK(one.low.x >= 0);
        CHECK(one.high.x <= width);
        CHECK(one.low.y >= 0);
      }
    }
  }
}

namespace {

// A button or field: tall enough for a finger, whole across, and seen, or brought into sight by scrolling.
void check_within_reach(const Screen& screen) {
  const ImVec2 window = ImGui::GetIO().DisplaySize;
  const float text = bench::fonts().text->FontSize;
  for (const auto& one : screen.drawn) {
    if (one.id.empty()) continue;
    INFO(one.id << " " << one.text << ", x " << one.low.x << " to " << one.high.x << " in " << one.room_low.x << " to "
                << one.room_high.x << ", y " << one.low.y << " to " << one.high.y << " in " << one.room_low.y << " to "
                << one.room_high.y << ", scrolls " << one.above << " and " << one.below);
    if (one.id.rfind("###", 0) == 0) CHECK(one.high.y - one.low.y >= 2.2f * text - 0.5f);
    CHECK(one.low.x >= one.room_low.x - 0.5f);
    CHECK(one.high.x <= one.room_high.x + 0.5f);
    CHECK(one.low.y + one.above >= one.room_low.y - 0.5f);
    CHECK(one.high.y - one.below <= one.room_high.y + 0.5f);
    CHECK(one.room_low.x >= -0.5f);
    CHECK(one.room_high.x <= window.x + 0.5f);
    CHECK(one.room_low.y >= -0.5f);
    CHECK(std::min(one.room_high.y, window.y) - one.room_low.y >= 2.2f * text);
  }
}

struct Room {
  float scale, width, height;
};
constexpr Room rooms[] = {{1, 1024, 600}, {2, 1024, 600},  {1, 1280, 800},
                          {2, 1280, 800}, {1, 2560, 1440}, {2, 2560, 1440}};

void set_text(Screen& screen, int size) {
  bench::Mirror mirror;
  mirror.now.text = size;
  screen.window->begin_with(mirror);
  screen.frame();
}

} // namespace

TEST_CASE(
    "every button is two finger heights tall and within reach, on every screen, in every window and size of text") {
  for (const auto& [scale, width, height] : rooms)
    for (const int text : {bench::text_sizes.front(), bench::text_sizes.back()}) {
      Screen screen(scale, width, height);
      set_text(screen, text);
      for (const bool signed_in : {false, true}) {
        if (signed_in) screen.sign_in();
        for (const char* name : screens) {
          INFO(name << ", " << width << "x" << height << ", scale " << scale << ", text " << text << " %");
          screen.window->show(name);
          screen.frame();
          check_within_reach(screen);
        }
        screen.window->show("sheet");
        screen.frame();
      }
    }
}

TEST_CASE("every key of every step is within reach in the smallest window, at every size of text") {
  for (const int text : bench::text_sizes) {
    Screen screen(1, 1024, 600);
    screen.sign_in();
    set_text(screen, text);
    for (std::size_t s = 0; s < screen.build().plan->size(); ++s) {
      INFO("step " << s << ", text " << text << " %");
      check_within_reach(screen);
      screen.press(294); // notices read
      check_within_reach(screen);
      screen.press(bench::key::page_down);
    }
  }
}

TEST_CASE("a thousand random keys, words and clicks never bring the screens down") {
  Screen screen;
  std::mt19937 chance(3);
  const std::vector<int> keys = {256, 257, 258, 259, 260, 261, 262, 263, 264, 265, 266, 267, 290, 291, 292,
                                 293, 294, 295, 296, 297, 298, 299, 301, 49,  50,  51,  52,  53,  54,  335};
  const std::vector<std::string> words = {
      "ivo", "copper and brass",  "48.012", "1,5", "-", "C 12", "\xC2\xB5m", "0.001", "2 thou",
      "oil", "0.1 0.2 mm u 0.01", "; - u"};
  screen.sign_in();
  screen.press(294); // notices read
  for (int event = 0; event < 1000; ++event) {
    screen.now.utc_ms += 1000;
    if (event % 10 == 0) {
      screen.press(256); // out of any question
      screen.press(291); // the sheet
      screen.press(294); // done
    }
    switch (chance() % 4) {
    case 0:
    case 1: {
      const int key = keys[chance() % keys.size()];
      chance() % 4 == 0 ? screen.press_with_shift(key) : screen.press(key);
      break;
    }
    case 2: screen.type(words[chance() % words.size()]); break;
    default:
      ImGui::GetIO().MousePos = ImVec2(static_cast<float>(chance() % 1280), static_cast<float>(chance() % 800));
      ImGui::GetIO().MouseDown[0] = true;
      screen.frame();
      ImGui::GetIO().MouseDown[0] = false;
      screen.frame();
    }
    if (event % 100 == 0) check_drawn(screen);
  }
  CHECK(screen.build().seq > 3);
}
