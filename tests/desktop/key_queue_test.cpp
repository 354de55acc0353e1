#include "desktop/key_queue.h"

#include <GLFW/glfw3.h>
#include <catch2/catch.hpp>
#include <imgui.h>
#include <imgui_internal.h>
#include <imgui_stdlib.h>

#include <map>
#include <random>
#include <set>

using desktop::KeyQueue;
using desktop::Stroke;

namespace {

Stroke press(int key, int modifiers = 0) {
  return {.kind = Stroke::Kind::press, .key = key, .modifiers = modifiers};
}

Stroke release(int key) {
  return {.kind = Stroke::Kind::release, .key = key};
}

Stroke character(char c) {
  return {.kind = Stroke::Kind::character, .character = static_cast<unsigned char>(c)};
}

// As the display tells it: the key, its character, the key let go of.
void type(KeyQueue& queue, std::string_view text) {
  for (const char c : text) {
    queue.add(press(c));
    queue.add(character(c));
    queue.add(release(c));
  }
}

void strike(KeyQueue& queue, int key) {
  queue.add(press(key));
  queue.add(release(key));
}

std::vector<Stroke> fed(KeyQueue& queue, bool ready = true) {
  std::vector<Stroke> given;
  queue.feed(ready, [&given](const Stroke& stroke) { given.push_back(stroke); });
  return given;
}

// Dear ImGui without anything to draw on, and one text field that notes its text at every Enter and is empty again in
// the next frame, as the field of a reading is.
class Screen {
public:
  Screen() {
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.DisplaySize = ImVec2(800, 600);
    io.KeyMap[ImGuiKey_Enter] = GLFW_KEY_ENTER;
    io.KeyMap[ImGuiKey_Backspace] = GLFW_KEY_BACKSPACE;
    io.KeyMap[ImGuiKey_A] = GLFW_KEY_A;
    unsigned char* pixels = nullptr;
    io.Fonts->GetTexDataAsAlpha8(&pixels, nullptr, nullptr);
  }
  ~Screen() { ImGui::DestroyContext(); }
  Screen(const Screen&) = delete;
  Screen& operator=(const Screen&) = delete;

  void frame(KeyQueue& queue, bool ready = true) {
    ImGuiIO& io = ImGui::GetIO();
    io.DeltaTime = 1.0F / 60;
    queue.feed(ready, [&io](const Stroke& stroke) {
      if (stroke.kind == Stroke::Kind::character) return io.AddInputCharacter(stroke.character);
      io.KeysDown[stroke.key] = stroke.kind == Stroke::Kind::press;
      io.KeyCtrl = io.KeysDown[GLFW_KEY_LEFT_CONTROL];
    });
    ImGui::NewFrame();
    ImGui::Begin("sheet");
    const bool enter = ImGui::IsKeyPressed(GLFW_KEY_ENTER, false);
    if (focus_) ImGui::SetKeyboardFocusHere();
    focus_ = false;
    ImGui::InputText("##reading", &text);
    if (enter) {
      noted.push_back(text);
      text.clear();
      ImGui::ClearActiveID();
      focus_ = true;
    }
    ImGui::End();
    ImGui::Render();
  }

  void frames(KeyQueue& queue) {
    for (int quiet = 0; quiet < 4; quiet = queue.empty() ? quiet + 1 : 0) frame(queue);
  }

  std::string text;
  std::vector<std::string> noted;

private:
  bool focus_ = true;
};

} // namespace

TEST_CASE("twenty quick strokes of Enter between two frames are twenty") {
  Screen screen;
  KeyQueue queue;
  screen.frames(queue);
  for (int i = 0; i < 20; ++i) strike(queue, GLFW_KEY_ENTER);
  screen.frames(queue);
  CHECK(screen.noted.size() == 20);
}

TEST_CASE("readings that a gauge types in one go stay apart") {
  Screen screen;
  KeyQueue queue;
  screen.frames(queue);
  for (const char* reading : {"47.968", "47.969", "47.967"}) {
    type(queue, reading);
    strike(queue, GLFW_KEY_ENTER);
  }
  screen.frames(queue);
  CHECK(screen.noted == std::vector<std::string>{"47.968", "47.969", "47.967"});
}

TEST_CASE("what is typed behind a Backspace stays behind it") {
  Screen screen;
  KeyQueue queue;
  screen.frames(queue);
  type(queue, "47.99");
  strike(queue, GLFW_KEY_BACKSPACE);
  strike(queue, GLFW_KEY_BACKSPACE);
  type(queue, "68");
  screen.frames(queue);
  CHECK(screen.text == "47.68");
}

TEST_CASE("the same digit twice between two frames is typed twice") {
  Screen screen;
  KeyQueue queue;
  screen.frames(queue);
  type(queue, "4777.0");
  screen.frames(queue);
  CHECK(screen.text == "4777.0");
}

TEST_CASE("Control stays down for the key it was pressed with") {
  Screen screen;
  KeyQueue queue;
  screen.frames(queue);
  type(queue, "12345");
  strike(queue, GLFW_KEY_BACKSPACE);
  queue.add(press(GLFW_KEY_LEFT_CONTROL, GLFW_MOD_CONTROL));
  queue.add(press(GLFW_KEY_A, GLFW_MOD_CONTROL));
  queue.add(release(GLFW_KEY_A));
  queue.add(release(GLFW_KEY_LEFT_CONTROL));
  type(queue, "9");
  screen.frames(queue);
  CHECK(screen.text == "9"); // Control and A mark everything, which the 9 replaces
}

TEST_CASE("keys wait while an action is under way") {
  KeyQueue queue;
  type(queue, "7");
  strike(queue, GLFW_KEY_ENTER);
  for (int frame = 0; frame < 100; ++frame) CHECK(fed(queue, false).empty());
  std::vector<Stroke::Kind> order;
  for (int frame = 0; frame < 20; ++frame)
    for (const Stroke& stroke : fed(queue)) order.push_back(stroke.kind);
  using enum Stroke::Kind;
  CHECK(order == std::vector{press, character, press, release, release});
  CHECK(queue.empty());
}

TEST_CASE("a key let go of while an action is under way is not held down until its end") {
  KeyQueue queue;
  queue.add(press(GLFW_KEY_ENTER));
  std::size_t given_before = 0;
  for (int frame = 0; frame < 10; ++frame) given_before += fed(queue).size();
  REQUIRE(given_before == 1);
  type(queue, "4");
  queue.add(release(GLFW_KEY_ENTER));
  const auto given = fed(queue, false);
  REQUIRE(given.size() == 1);
  CHECK(given.front().kind == Stroke::Kind::release);
  CHECK(given.front().key == GLFW_KEY_ENTER);
}

TEST_CASE("what is struck before the first field has the keys waits for it") {
  Screen screen;
  KeyQueue queue;
  type(queue, "47.968");
  screen.frames(queue);
  CHECK(screen.text == "47.968");
}

TEST_CASE("keys without a number do no harm") {
  KeyQueue queue;
  for (const int key : {GLFW_KEY_UNKNOWN, -2, GLFW_KEY_LAST, GLFW_KEY_LAST + 1, 1'000'000}) strike(queue, key);
  std::size_t given = 0;
  for (int frame = 0; frame < 100; ++frame) given += fed(queue).size();
  CHECK(given == 10);
  CHECK(queue.empty());
}

TEST_CASE("whatever is struck arrives once, in order, and no key changes twice in a frame") {
  std::mt19937 random(1);
  const std::vector<int> keys = {GLFW_KEY_1,          GLFW_KEY_2,         GLFW_KEY_KP_3,
                                 GLFW_KEY_ENTER,      GLFW_KEY_TAB,       GLFW_KEY_BACKSPACE,
                                 GLFW_KEY_LEFT_SHIFT, GLFW_KEY_RIGHT_ALT, GLFW_KEY_F7};
  KeyQueue queue;
  std::map<int, bool> down;
  std::vector<int> turns_struck, turns_given; // of what must keep its turn
  std::map<int, std::vector<bool>> struck, given;
  const auto has_turn = [](const Stroke& s) {
    return s.kind != Stroke::Kind::release || s.key == GLFW_KEY_LEFT_SHIFT || s.key == GLFW_KEY_RIGHT_ALT;
  };
  const auto mark = [](const Stroke& s) {
    return s.kind == Stroke::Kind::character ? 10'000 + static_cast<int>(s.character) : s.key;
  };
  for (int frame = 0; frame < 20'000; ++frame) {
    for (auto more = frame < 10'000 ? random() % 4 : 0; more > 0; --more) {
      const int key = keys[random() % keys.size()];
      down[key] = !down[key];
      Stroke stroke = down[key] ? press(key) : release(key);
      if (random() % 5 == 0) stroke = character(static_cast<char>('a' + random() % 26));
      if (stroke.kind == Stroke::Kind::character) down[key] = !down[key];
      queue.add(stroke);
      if (has_turn(stroke)) turns_struck.push_back(mark(stroke));
      if (stroke.key >= 0) struck[stroke.key].push_back(stroke.kind == Stroke::Kind::press);
    }
    std::set<int> changed;
    for (const Stroke& stroke : fed(queue, random() % 3 != 0)) {
      if (stroke.key >= 0) CHECK(changed.insert(stroke.key).second);
      if (has_turn(stroke)) turns_given.push_back(mark(stroke));
      if (stroke.key >= 0) given[stroke.key].push_back(stroke.kind == Stroke::Kind::press);
    }
  }
  while (!queue.empty())
    for (const Stroke& stroke : fed(queue)) {
      if (has_turn(stroke)) turns_given.push_back(mark(stroke));
      if (stroke.key >= 0) given[stroke.key].push_back(stroke.kind == Stroke::Kind::press);
    }
  CHECK(turns_given == turns_struck);
  CHECK(given == struck);
}

namespace {

// A text and Enter, a stroke every so many seconds; whether the Enter came at once behind it.
bool at_once(std::string_view text, double seconds, int enter = GLFW_KEY_ENTER) {
  KeyQueue queue;
  double now = 100;
  for (const char c : text) {
    queue.add({.kind = Stroke::Kind::press, .key = c, .time = now});
    queue.add({.kind = Stroke::Kind::character, .character = static_cast<unsigned char>(c), .time = now});
    queue.add({.kind = Stroke::Kind::release, .key = c, .time = now});
    now += seconds;
  }
  queue.add({.kind = Stroke::Kind::press, .key = enter, .time = now});
  bool found = false;
  for (int frame = 0; frame < 20; ++frame)
    for (const Stroke& stroke : fed(queue)) found = found || stroke.at_once;
  return found;
}

} // namespace

TEST_CASE("a gauge that types is told from fingers by its speed") {
  for (const double seconds : {0.0, 0.001, 0.016, 0.03}) {
    CHECK(at_once("78.012", seconds));
    CHECK(at_once("78.012", seconds, GLFW_KEY_KP_ENTER));
  }
  CHECK_FALSE(at_once("78.012", 0.05)); // quick fingers
  CHECK_FALSE(at_once("12", 0.001));    // too little to tell by
  CHECK_FALSE(at_once("78.012", 0.001, GLFW_KEY_TAB));
}

TEST_CASE("each reading is timed by itself, and a key between begins anew") {
  KeyQueue queue;
  const auto put = [&](char c, double time) {
    queue.add({.kind = Stroke::Kind::character, .character = static_cast<unsigned char>(c), .time = time});
  };
  for (const char c : std::string_view("78.0")) put(c, 1); // by a gauge, long ago
  queue.add({.kind = Stroke::Kind::press, .key = GLFW_KEY_BACKSPACE, .time = 2});
  for (int i = 0; i < 4; ++i) put('1', 3 + 0.1 * i);
  queue.add({.kind = Stroke::Kind::press, .key = GLFW_KEY_ENTER, .time = 3.4});
  int enters = 0;
  for (int frame = 0; frame < 20; ++frame)
    for (const Stroke& stroke : fed(queue))
      if (stroke.key == GLFW_KEY_ENTER) {
        ++enters;
        CHECK_FALSE(stroke.at_once);
      }
  CHECK(enters == 1);
}

TEST_CASE("Escape is taken out of its turn, once, and the others keep theirs") {
  KeyQueue queue;
  strike(queue, 'A');
  strike(queue, GLFW_KEY_ESCAPE);
  CHECK(queue.take_press(GLFW_KEY_ESCAPE));
  CHECK_FALSE(queue.take_press(GLFW_KEY_ESCAPE));
  bool seen = false;
  for (int frame = 0; frame < 20; ++frame)
    for (const Stroke& stroke : fed(queue)) {
      seen = seen || (stroke.kind == Stroke::Kind::press && stroke.key == 'A');
      CHECK_FALSE((stroke.kind == Stroke::Kind::press && stroke.key == GLFW_KEY_ESCAPE));
    }
  CHECK(seen);
}
