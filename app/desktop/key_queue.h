// Keys and characters in the order they arrived, given to the screens at the pace these can take them. Dear ImGui looks
// at the state of the keys once a frame, so a press and its release within one frame would be lost; and it takes all
// characters of a frame before any key, so what is typed behind an Enter would land in front of it. A gauge that types
// its readings, or quick fingers on a slow machine, do both.
#pragma once

#include <cstddef>
#include <functional>
#include <vector>

namespace desktop {

struct Stroke {
  enum class Kind { press, release, character };
  Kind kind = Kind::press;
  int key = -1; // GLFW's number; -1 for a character
  int scancode = 0;
  int modifiers = 0;      // GLFW's bits
  unsigned character = 0; // code point
  double time = 0;        // s, when it arrived
  bool at_once = false;   // an Enter behind characters that came in faster than fingers type; the queue finds out
};

// Fingers take longer for a key, one with another, over as many keys; a gauge or a scanner that types takes 1 to 30 ms
// for one, by cable or by radio (common practice, no source).
constexpr double fastest_fingers = 0.035; // s
constexpr int fewest_at_once = 3;         // characters before the Enter

// A field asked to take the keys in one frame has them in the next, sometimes the one after.
constexpr int frames_to_settle = 3;

class KeyQueue {
public:
  void add(Stroke stroke); // in the order in which they arrive

  // Once a frame, before the screens look. Each key changes at most once a frame. What follows a key that edits text
  // waits for the next frame; what follows any other key that does something waits until the screens have done it:
  // while they are not `ready`, and a few frames more, in which the keys move to another field. Releases do not wait,
  // so that no key seems to be held down.
  void feed(bool ready, const std::function<void(const Stroke&)>& give);

  bool empty() const { return strokes_.empty(); }

  // Takes a press of that key out of its turn; true when one waited.
  bool take_press(int key);

private:
  std::vector<Stroke> strokes_;
  int characters_ = 0;              // in a row, since any other key
  double began_ = 0;                // the first of them
  int settling_ = frames_to_settle; // frames until a press may be given; no field has the keys at the start
};

} // namespace desktop
