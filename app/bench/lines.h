// A list of lines, each as tall as its words. Up, Down and the Page keys choose one; only those in sight are drawn, so
// that thousands cost no more than a screenful.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bench {

class LineList {
public:
  std::size_t chosen = 0;

  // By the keys; true when another is chosen now. Of a text field that has the keys, none of them is taken.
  bool move(std::size_t count);
  // Into the room that is left, but for `foot` at its end. `draw` draws one, chosen or not. Gives the one clicked.
  std::optional<std::size_t> show(std::size_t count, float foot, const std::function<void(std::size_t, bool)>& draw);
  void begin_anew(std::size_t at = 0); // the lines are others now

private:
  float height_of(std::size_t line) const;
  std::vector<float> heights_; // 0: not drawn yet
  float width_ = 0, font_ = 0; // they were drawn for
  std::size_t page_ = 3;       // lines
  int bring_ = 2;              // frames in which the chosen one is brought into sight
};

// Every word typed is in the text, whatever the case of its letters.
bool narrows(std::string_view typed, std::string_view text);

// The field over a list, and under it in words what it narrows; true when something else stands in it than before.
bool narrowing_field(const char* id, std::string& typed, bool& focus, std::string_view about);

} // namespace bench
