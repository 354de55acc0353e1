// What stands on a figure, for tests.
#pragma once

#include "drawing/shapes.h"

#include <algorithm>

namespace looking {

inline bool all_inside(const drawing::Figure& figure) {
  const auto inside = [&](const drawing::Point& p) {
    return p.x >= -0.01 && p.y >= -0.01 && p.x <= figure.width + 0.01 && p.y <= figure.height + 0.01;
  };
  const auto text_inside = [&](const drawing::Text& text) {
    const double wide = drawing::width_of(text.text, text.size, text.strong);
    const double left = text.from_left ? text.at.x : text.at.x - wide / 2;
    return inside({left, text.at.y - text.size / 2}) && inside({left + wide, text.at.y + text.size / 2});
  };
  const auto points_inside = [&](const auto& shape) {
    return std::all_of(shape.points.begin(), shape.points.end(), inside);
  };
  return std::all_of(figure.texts.begin(), figure.texts.end(), text_inside) &&
         std::all_of(figure.lines.begin(), figure.lines.end(), points_inside) &&
         std::all_of(figure.polygons.begin(), figure.polygons.end(), points_inside);
}

inline std::vector<std::string> strong_here(const drawing::Figure& figure) {
  std::vector<std::string> out;
  for (const auto& text : figure.texts)
    if (text.tone == drawing::Tone::here) out.push_back(text.text);
  return out;
}

inline bool written(const drawing::Figure& figure, std::string_view wanted) {
  return std::any_of(figure.texts.begin(), figure.texts.end(), [&](const auto& it) { return it.text == wanted; });
}

// No two texts lie on one another.
inline bool texts_apart(const drawing::Figure& figure) {
  const auto left = [](const drawing::Text& text) {
    return text.from_left ? text.at.x : text.at.x - drawing::width_of(text.text, text.size, text.strong) / 2;
  };
  for (std::size_t i = 0; i < figure.texts.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) {
      const auto& a = figure.texts[i];
      const auto& b = figure.texts[j];
      const bool beside = left(a) + drawing::width_of(a.text, a.size, a.strong) <= left(b) + 0.01 ||
                          left(b) + drawing::width_of(b.text, b.size, b.strong) <= left(a) + 0.01;
      if (!beside && std::abs(a.at.y - b.at.y) < (a.size + b.size) / 2 * 0.8) return false;
    }
  return true;
}

} // namespace looking
