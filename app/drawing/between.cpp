#include "drawing/between.h"

#include "drawing/shapes.h"

#include <algorithm>
#include <cmath>

namespace drawing {

namespace {

constexpr double low_end = 0.25;
constexpr double high_end = 0.75;

// How much one of the figure's widths is worth when only one limit is there: twice its size, or what the value needs.
double span(const Between& between) {
  const double limit = between.low ? *between.low : *between.high;
  double far = std::abs(limit);
  for (const auto& value : {between.value, between.as_found})
    if (value) far = std::max(far, std::abs(*value - limit));
  return far > 0 ? 2 * far : 1;
}

} // namespace

double along(const Between& between, double value) {
  double place = 0;
  if (between.low && between.high && *between.high > *between.low)
    place = low_end + (value - *between.low) / (*between.high - *between.low) * (high_end - low_end);
  else if (between.high)
    place = high_end + (value - *between.high) / span(between);
  else
    place = low_end + (value - *between.low) / span(between);
  return std::clamp(place, 0.0, 1.0);
}

Figure band(const Between& between, Room room) {
  Figure figure;
  figure.width = room.width;
  figure.height = room.height;
  const double line = room.text * 1.2;
  const double top = 0;
  const double bottom = room.height - line;
  const double left = between.low ? along(between, *between.low) * room.width : 0;
  const double right = between.high ? along(between, *between.high) * room.width : room.width;
  figure.polygons.push_back({{{left, top}, {right, top}, {right, bottom}, {left, bottom}}, Tone::metal});
  figure.lines.push_back(straight({0, bottom}, {room.width, bottom}, Tone::ink, room.text * 0.06));
  const auto end = [&](double x, const std::string& text) {
    figure.lines.push_back(straight({x, top}, {x, bottom}, Tone::ink, room.text * 0.16));
    Text its = fitted({x, room.height - line / 2}, text, room.text, room.width * 0.48);
    const double half = width_of(its.text, its.size) / 2;
    its.at.x = std::clamp(its.at.x, half, room.width - half);
    figure.texts.push_back(std::move(its));
  };
  if (between.low) end(left, between.low_text);
  if (between.high) end(right, between.high_text);
  const double middle = (top + bottom) / 2;
  if (between.as_found) {
    const double x = along(between, *between.as_found) * room.width;
    const double half = room.text * 0.28;
    figure.lines.push_back(edge({{x - half, middle}, {x, top + half}, {x + half, middle}, {x, bottom - half}},
                                Tone::ink, room.text * 0.1));
  }
  if (!between.value) return figure;
  const double x = along(between, *between.value) * room.width;
  if (between.u > 0) {
    const double from = along(between, *between.value - between.u) * room.width;
    const double to = along(between, *between.value + between.u) * room.width;
    figure.lines.push_back(straight({from, middle}, {to, middle}, Tone::ink, room.text * 0.22));
  }
  figure.lines.push_back(straight({x, top}, {x, bottom}, Tone::here, room.text * (between.good ? 0.3 : 0.5)));
  return figure;
}

} // namespace drawing
