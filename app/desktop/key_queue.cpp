#include "desktop/key_queue.h"

#include <GLFW/glfw3.h>

#include <algorithm>
#include <bitset>

namespace desktop {

namespace {

constexpr std::size_t key_count = GLFW_KEY_LAST + 1;
using Keys = std::bitset<key_count>;

bool is_modifier(int key) {
  return key >= GLFW_KEY_LEFT_SHIFT && key <= GLFW_KEY_RIGHT_SUPER;
}

bool types_a_character(const Stroke& press) {
  if ((press.modifiers & (GLFW_MOD_CONTROL | GLFW_MOD_ALT | GLFW_MOD_SUPER)) != 0) return false;
  const bool on_keypad = press.key >= GLFW_KEY_KP_0 && press.key <= GLFW_KEY_KP_EQUAL;
  return press.key < GLFW_KEY_ESCAPE || (on_keypad && press.key != GLFW_KEY_KP_ENTER);
}

bool edits_text(int key) {
  switch (key) {
  case GLFW_KEY_BACKSPACE:
  case GLFW_KEY_DELETE:
  case GLFW_KEY_LEFT:
  case GLFW_KEY_RIGHT:
  case GLFW_KEY_HOME:
  case GLFW_KEY_END: return true;
  default: return false;
  }
}

// Presses, characters and modifiers keep their order among each other.
bool keeps_its_turn(const Stroke& stroke) {
  return stroke.kind != Stroke::Kind::release || is_modifier(stroke.key);
}

} // namespace

void KeyQueue::add(Stroke stroke) {
  if (stroke.kind == Stroke::Kind::character) {
    if (characters_ == 0) began_ = stroke.time;
    ++characters_;
  } else if (stroke.kind == Stroke::Kind::press && !is_modifier(stroke.key) && !types_a_character(stroke)) {
    const bool enter = stroke.key == GLFW_KEY_ENTER || stroke.key == GLFW_KEY_KP_ENTER;
    stroke.at_once = enter && characters_ >= fewest_at_once && stroke.time - began_ <= fastest_fingers * characters_;
    characters_ = 0;
  }
  strokes_.push_back(stroke);
}

bool KeyQueue::take_press(int key) {
  const auto at = std::ranges::find_if(
      strokes_, [key](const Stroke& one) { return one.kind == Stroke::Kind::press && one.key == key; });
  if (at == strokes_.end()) return false;
  strokes_.erase(at);
  return true;
}

void KeyQueue::feed(bool ready, const std::function<void(const Stroke&)>& give) {
  if (!ready) {
    settling_ = frames_to_settle;
  } else if (settling_ > 0) {
    --settling_;
  }
  bool turn_over = settling_ > 0;
  Keys changed; // in this frame, or in a stroke that waits
  std::vector<Stroke> waiting;
  for (const Stroke& stroke : strokes_) {
    const bool is_key = stroke.key >= 0 && stroke.key <= GLFW_KEY_LAST;
    const auto number = is_key ? static_cast<std::size_t>(stroke.key) : 0;
    const bool in_turn = keeps_its_turn(stroke);
    const bool waits = (in_turn && turn_over) || (is_key && changed.test(number));
    if (is_key) changed.set(number);
    if (waits) {
      waiting.push_back(stroke);
      turn_over = turn_over || in_turn;
      continue;
    }
    give(stroke);
    if (stroke.kind != Stroke::Kind::press || is_modifier(stroke.key) || types_a_character(stroke)) continue;
    turn_over = true;
    if (!edits_text(stroke.key)) settling_ = frames_to_settle;
  }
  strokes_ = std::move(waiting);
}

} // namespace desktop
