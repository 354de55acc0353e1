#include "drawing/shapes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace drawing {

namespace {

constexpr double letter = 0.62; // of the height of the writing
constexpr double strong_letter = 0.70;

// Code points, not bytes.
std::size_t letters_in(std::string_view text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; }));
}

Polygon head(Point tip, Point along, double length, double half) {
  const Point back{tip.x - along.x * length, tip.y - along.y * length};
  return {{tip, {back.x - along.y * half, back.y + along.x * half}, {back.x + along.y * half, back.y - along.x * half}},
          Tone::ink};
}

Point direction(Point from, Point to) {
  const double length = std::hypot(to.x - from.x, to.y - from.y);
  if (length <= 0) return {0, 1};
  return {(to.x - from.x) / length, (to.y - from.y) / length};
}

} // namespace

std::vector<Point> around(Point middle, double radius, int corners, double turn) {
  std::vector<Point> out;
  for (int i = 0; i < corners; ++i) {
    const double angle = turn + 2 * std::numbers::pi * i / corners;
    out.push_back({middle.x + radius * std::cos(angle), middle.y + radius * std::sin(angle)});
  }
  return out;
}

Line edge(std::vector<Point> points, Tone tone, double width) {
  points.push_back(points.front());
  return {std::move(points), tone, width};
}

Line straight(Point from, Point to, Tone tone, double width) {
  return {{from, to}, tone, width};
}

Polygon strip(Point from, Point to, Tone tone, double width) {
  const Point along = direction(from, to);
  const Point side{-along.y * width / 2, along.x * width / 2};
  return {{{from.x + side.x, from.y + side.y},
           {to.x + side.x, to.y + side.y},
           {to.x - side.x, to.y - side.y},
           {from.x - side.x, from.y - side.y}},
          tone};
}

void cover_for(Figure& figure, const Text& text) {
  const double half = width_of(text.text, text.size, text.strong) / 2;
  figure.polygons.push_back(
      strip({text.at.x - half, text.at.y}, {text.at.x + half, text.at.y}, Tone::paper, text.size));
}

void dashed(Figure& figure, Point from, Point to, Tone tone, double width, double dash) {
  const Point along = direction(from, to);
  const double length = std::hypot(to.x - from.x, to.y - from.y);
  for (double done = 0; done < length; done += 2 * dash) {
    const double end = std::min(done + dash, length);
    figure.lines.push_back(straight({from.x + along.x * done, from.y + along.y * done},
                                    {from.x + along.x * end, from.y + along.y * end}, tone, width));
  }
}

void arrow(Figure& figure, Point from, Point to, double size, Tone tone) {
  const Point along = direction(from, to);
  Polygon point = head(to, along, size, size * 0.6);
  point.fill = tone;
  figure.polygons.push_back(std::move(point));
  figure.lines.push_back(straight(from, {to.x - along.x * size * 0.9, to.y - along.y * size * 0.9}, tone, size * 0.42));
}

void measure(Figure& figure, Point from, Point to, double size, Tone tone) {
  const Point along = direction(from, to);
  for (const auto& [tip, way] : {std::pair{to, along}, std::pair{from, Point{-along.x, -along.y}}}) {
    Polygon point = head(tip, way, size, size * 0.3);
    point.fill = tone;
    figure.polygons.push_back(std::move(point));
  }
  figure.lines.push_back(straight(from, to, tone, size * 0.12));
}

double width_of(std::string_view text, double size, bool strong) {
  return static_cast<double>(letters_in(text)) * size * (strong ? strong_letter : letter);
}

Text fitted(Point middle, std::string text, double size, double room, bool strong, Tone tone) {
  const double wide = width_of(text, size, strong);
  return {middle, std::move(text), wide > room ? size * room / wide : size, tone, strong, false};
}

Text beside(Point left_end, std::string text, double size, bool strong, Tone tone) {
  const double half = width_of(text, size, strong) / 2;
  return {{left_end.x + half, left_end.y}, std::move(text), size, tone, strong, false};
}

void list(Figure& figure, Point first, const std::vector<Written>& lines, double size, double line, double room) {
  double fits = size;
  for (const auto& its : lines) fits = std::min(fits, fitted({}, its.text, size, room, its.strong).size);
  for (const auto& its : lines) {
    figure.texts.push_back({first, its.text, fits, its.tone, its.strong, true});
    first.y += line;
  }
}

void same_places(const std::vector<std::string*>& numbers) {
  const auto places = [](const std::string& number) {
    const auto dot = number.find('.');
    return dot == std::string::npos ? 0 : number.size() - dot - 1;
  };
  std::size_t most = 0;
  for (const auto* number : numbers) most = std::max(most, places(*number));
  for (auto* number : numbers) {
    const std::size_t has = places(*number);
    if (number->empty() || has == most) continue;
    if (has == 0) *number += '.';
    number->append(most - has, '0');
  }
}

std::string in_words(std::size_t number) {
  static constexpr std::array<const char*, 20> small = {
      "none", "one",    "two",    "three",    "four",     "five",    "six",     "seven",     "eight",    "nine",
      "ten",  "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"};
  static constexpr std::array<const char*, 10> tens = {"",      "",      "twenty",  "thirty", "forty",
                                                       "fifty", "sixty", "seventy", "eighty", "ninety"};
  if (number < small.size()) return small[number];
  if (number < 100) {
    const std::string out = tens[number / 10];
    return number % 10 ? out + "-" + small[number % 10] : out;
  }
  return number == 100 ? "one hundred" : std::to_string(number);
}

} // namespace drawing
