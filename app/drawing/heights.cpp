#include "drawing/heights.h"

#include "calc/zone.h"
#include "drawing/shapes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace drawing {

using quantity::Exact;

namespace {

std::size_t places_in(const std::string& number) {
  const auto dot = number.find('.');
  return dot == std::string::npos ? 0 : number.size() - dot - 1;
}

} // namespace

bool map_of(Heights& heights, const std::vector<Exact>& measured, int places) {
  std::vector<calc::Spot> spots;
  for (std::size_t i = 0; i < heights.points.size(); ++i) {
    const auto& at = heights.points[i].at;
    spots.push_back({{Exact::rounded(at.x), Exact::rounded(at.y)}, measured[i]});
  }
  if (!calc::least_squares(spots)) return false;
  const auto zone = calc::minimum_zone(spots);
  heights.zone = zone.range.to_double();
  heights.words = fmt::format("Flat within {} {}", zone.range.fixed(places), heights.unit);
  for (std::size_t i = 0; i < spots.size(); ++i) {
    const auto& place = spots[i].place;
    const Exact above =
        spots[i].height - zone.lower.at_origin - zone.lower.slopes[0] * place[0] - zone.lower.slopes[1] * place[1];
    heights.points[i].above = above.to_double();
    heights.points[i].text = above.fixed(places);
    if (!heights.low && above.sign() == 0) heights.low = i;
    if (!heights.high && above == zone.range) heights.high = i;
  }
  return true;
}

std::optional<Heights> heights(const build::Build& build, build::EntryAt at, std::size_t position,
                               std::optional<std::size_t> cell) {
  const auto& entry = build.plan->entry(at);
  if (entry.places.empty()) return std::nullopt;
  const auto& from = build.plan->calculated_from(at);
  const auto flat = [&](build::EntryAt target) { return build.plan->entry(target).computation->name == "flatness"; };
  if (std::none_of(from.begin(), from.end(), flat)) return std::nullopt;
  Heights out;
  out.unit = entry.unit->name;
  std::vector<Exact> measured;
  std::size_t places = 0;
  for (std::size_t r = 0; r < entry.rows.size(); ++r) {
    const auto& one = build.entry(at).cells[position * entry.rows.size() + r];
    const bool read = !one.tries.empty() && !one.skipped;
    out.points.push_back({entry.rows[r], {entry.places[r].x.to_double(), entry.places[r].y.to_double()}, read, 0, ""});
    if (!read) continue;
    measured.push_back(one.value);
    places = std::max(places, places_in(one.value.text()));
  }
  if (cell && *cell / entry.rows.size() == position) out.asked = *cell % entry.rows.size();
  if (measured.size() == out.points.size())
    map_of(out, measured, static_cast<int>(std::min<std::size_t>(places, 6)) + 1);
  return out;
}

namespace {

class MapDrawer {
public:
  MapDrawer(const Heights& heights, Room room) : heights_(heights), room_(room), line_(room.text * 1.3) {}

  Figure draw() {
    lay_out();
    figure_.width = room_.width;
    figure_.height = tall_ + line_;
    const std::vector<Point> corners = {
        {face_.x, face_.y}, {face_.x + wide_, face_.y}, {face_.x + wide_, face_.y + tall_}, {face_.x, face_.y + tall_}};
    figure_.lines.push_back(edge(corners, Tone::ink, room_.text * 0.14));
    for (std::size_t i = 0; i < heights_.points.size(); ++i) point(i);
    if (heights_.high && heights_.zone > 0) hatch();
    const bool whole = heights_.high.has_value();
    const std::string below = whole            ? heights_.words + (heights_.zone > 0 ? "; the denser, the higher" : "")
                              : heights_.asked ? "Read at: " + heights_.points[*heights_.asked].name
                                               : "";
    if (!below.empty())
      figure_.texts.push_back(fitted({room_.width / 2, tall_ + line_ / 2}, below, room_.text, room_.width, true,
                                     whole ? Tone::ink : Tone::here));
    return std::move(figure_);
  }

private:
  // The rectangle round the points, with a margin as the face goes on beyond them.
  void lay_out() {
    double left = std::numeric_limits<double>::max(), low = left, right = -left, high = -left;
    for (const auto& point : heights_.points) {
      left = std::min(left, point.at.x);
      right = std::max(right, point.at.x);
      low = std::min(low, point.at.y);
      high = std::max(high, point.at.y);
    }
    const double margin_x = room_.text * 2.6;
    const double margin_y = room_.text * 1.5;
    const double room_x = room_.width - 2 * margin_x;
    const double room_y = room_.height - line_ - 2 * margin_y;
    const double across = std::max(right - left, 1e-9);
    const double up = std::max(high - low, 1e-9);
    scale_ = std::min(room_x / across, room_y / up);
    wide_ = across * scale_ + 2 * margin_x;
    tall_ = up * scale_ + 2 * margin_y;
    face_ = {(room_.width - wide_) / 2, 0};
    origin_ = {face_.x + margin_x - left * scale_, face_.y + margin_y + high * scale_};
  }

  Point place(Point at) const { return {origin_.x + at.x * scale_, origin_.y - at.y * scale_}; }

  // 0 at the lower plane to 1 at the upper: the points weighed by the square of how near they are.
  double level(Point here) const {
    double sum = 0, weights = 0;
    for (const auto& point : heights_.points) {
      const Point at = place(point.at);
      const double far = std::hypot(here.x - at.x, here.y - at.y);
      if (far < 1e-6) return point.above / heights_.zone;
      sum += point.above / heights_.zone / (far * far);
      weights += 1 / (far * far);
    }
    return sum / weights;
  }

  bool on_a_number(Point here) const {
    return std::any_of(figure_.texts.begin(), figure_.texts.end(), [&](const Text& text) {
      return std::abs(here.x - text.at.x) < width_of(text.text, text.size, text.strong) / 2 + room_.text * 0.12 &&
             std::abs(here.y - text.at.y) < text.size * 0.65;
    });
  }

  // Slanted lines, of which every eighth is drawn from a fifth of the zone on, every fourth from two fifths, every
  // second from three, each from four.
  void hatch() {
    const double pitch = room_.text * 0.3;
    const double step = room_.text * 0.35;
    const auto from = [](int number) {
      return number % 8 == 0 ? 0.2 : number % 4 == 0 ? 0.4 : number % 2 == 0 ? 0.6 : 0.8;
    };
    const int count = static_cast<int>((wide_ + tall_) / pitch);
    for (int i = 1; i < count; ++i) {
      // From the left or lower edge up to the right: x - y constant.
      const double offset = pitch * i - tall_;
      const double start = std::max(0.0, offset);
      const double end = std::min(wide_, offset + tall_);
      const auto on = [&](double x) { return Point{face_.x + x, face_.y + tall_ - (x - offset)}; };
      double begun = start;
      double last = start;
      bool drawing = false;
      for (double x = start; x <= end; x += step) {
        const bool dense = !on_a_number(on(x)) && level(on(x)) >= from(i);
        if (dense && !drawing) begun = x;
        if (dense) last = x;
        if (drawing && (!dense || x + step > end) && last > begun)
          figure_.lines.push_back(straight(on(begun), on(last), Tone::ink, room_.text * 0.05));
        drawing = dense;
      }
    }
  }

  void point(std::size_t i) {
    const auto& its = heights_.points[i];
    const bool asked = heights_.asked == i && !heights_.high;
    const Point at = place(its.at);
    const bool extreme = heights_.high == i || heights_.low == i;
    std::string text = its.text;
    if (extreme && heights_.zone > 0) text += heights_.high == i ? " high" : " low";
    if (!heights_.high) {
      const double radius = room_.text * (asked ? 0.5 : 0.3);
      figure_.polygons.push_back({around(at, radius, 16), asked ? Tone::here : its.read ? Tone::ink : Tone::paper});
      figure_.lines.push_back(edge(around(at, radius, 16), Tone::ink, room_.text * 0.1));
      return;
    }
    Text words{at, text, room_.text, Tone::ink, extreme, false};
    const double half = width_of(text, room_.text, extreme) / 2;
    words.at.x = std::clamp(words.at.x, face_.x + half, face_.x + wide_ - half);
    figure_.texts.push_back(std::move(words));
  }

  const Heights& heights_;
  Room room_;
  double line_;
  Figure figure_;
  Point face_, origin_;
  double wide_ = 0, tall_ = 0, scale_ = 1;
};

} // namespace

Figure map(const Heights& heights, Room room) {
  return MapDrawer(heights, room).draw();
}

} // namespace drawing
