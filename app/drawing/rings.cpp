#include "drawing/rings.h"

#include "drawing/shapes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace drawing {

namespace {

// Common practice, no source.
constexpr double off_its_place = 20; // degrees
constexpr double in_line = 20;

std::string number_of(const std::vector<procedure::RingGap>& rings, std::size_t i) {
  const auto its = [&](const procedure::RingGap& one) { return one.groove == rings[i].groove; };
  if (std::count_if(rings.begin(), rings.end(), its) == 1) return std::to_string(rings[i].groove);
  const auto before = std::count_if(rings.begin(), rings.begin() + static_cast<std::ptrdiff_t>(i), its);
  return std::to_string(rings[i].groove) + static_cast<char>('a' + before);
}

} // namespace

std::optional<Crown> crown(const build::Build& build, build::EntryAt at, std::size_t position,
                           std::optional<std::size_t> cell) {
  const auto& entry = build.plan->entry(at);
  if (!entry.ring_gaps) return std::nullopt;
  const auto& gaps = *entry.ring_gaps;
  Crown out{gaps.mark, gaps.pin, gaps.thrust, gaps.thrust_side, {}, std::nullopt};
  const auto& cells = build.entry(at).cells;
  for (std::size_t i = 0; i < gaps.rings.size(); ++i) {
    const auto& ring = gaps.rings[i];
    Ring its{number_of(gaps.rings, i), ring.title, ring.groove, ring.angle, std::nullopt, ""};
    if (entry.kind == procedure::EntryKind::readings) {
      const auto& one = cells[position * gaps.rings.size() + i];
      const auto* degrees = quantity::find_unit("deg");
      if (!one.tries.empty() && !one.skipped) {
        const auto found = quantity::convert(one.value, *entry.unit, *degrees);
        its.found = found.to_double();
        its.found_text = found.text();
      }
    }
    out.rings.push_back(std::move(its));
  }
  if (cell && entry.kind == procedure::EntryKind::readings && *cell / gaps.rings.size() == position)
    out.asked = *cell % gaps.rings.size();
  return out;
}

std::vector<std::string> troubles(const Crown& crown) {
  std::vector<std::string> out;
  for (std::size_t i = 0; i < crown.rings.size(); ++i) {
    const auto& ring = crown.rings[i];
    if (!ring.found) continue;
    const double off = procedure::between_angles(*ring.found, ring.angle);
    if (off > off_its_place) out.push_back(fmt::format("{} is {:.0f} degrees off its place.", ring.title, off));
    for (std::size_t j = 0; j < i; ++j) {
      const auto& above = crown.rings[j];
      if (above.found && ring.groove - above.groove <= 1 &&
          procedure::between_angles(*ring.found, *above.found) < in_line)
        out.push_back(fmt::format("{} and {} stand in line.", above.title, ring.title));
    }
  }
  return out;
}

namespace {

class CrownDrawer {
public:
  CrownDrawer(const Crown& crown, Room room) : crown_(crown), room_(room), line_(room.text * 1.3) {}

  Figure draw() {
    figure_.width = room_.width;
    figure_.height = room_.height;
    const auto words = troubles(crown_);
    const double bottom = room_.height - line_ * static_cast<double>(words.size());
    const double side = std::min(bottom, room_.width * 0.42);
    radius_ = side / 2 - room_.text * 1.4;
    middle_ = {side / 2, bottom / 2};
    piston();
    for (std::size_t i = 0; i < crown_.rings.size(); ++i) ring(i);
    numbers();
    words_beside(side + room_.text * 0.6, bottom);
    for (std::size_t i = 0; i < words.size(); ++i)
      figure_.texts.push_back(fitted({room_.width / 2, bottom + line_ * (static_cast<double>(i) + 0.5)}, words[i],
                                     room_.text, room_.width, true, Tone::here));
    return std::move(figure_);
  }

private:
  Point on(double degrees, double radius) const {
    const double angle = (degrees - 90) * std::numbers::pi / 180;
    return {middle_.x + radius * std::cos(angle), middle_.y + radius * std::sin(angle)};
  }
  std::vector<Point> arc(double from, double to, double radius) const {
    std::vector<Point> out;
    const int steps = std::max(2, static_cast<int>((to - from) / 5));
    for (int i = 0; i <= steps; ++i) out.push_back(on(from + (to - from) * i / steps, radius));
    return out;
  }
  double ring_radius(std::size_t i) const { return radius_ - pitch() * (static_cast<double>(i) + 0.8); }
  double pitch() const { return std::min(room_.text * 0.7, radius_ * 0.55 / static_cast<double>(crown_.rings.size())); }

  void piston() {
    figure_.polygons.push_back({around(middle_, radius_, 64), Tone::metal});
    figure_.lines.push_back(edge(around(middle_, radius_, 64), Tone::ink, room_.text * 0.1));
    const double head = std::min(room_.text, radius_ * 0.2);
    const Point tip = on(0, radius_ - pitch() * (static_cast<double>(crown_.rings.size()) + 0.8));
    figure_.polygons.push_back(
        {{tip, {tip.x - head * 0.6, tip.y + head}, {tip.x + head * 0.6, tip.y + head}}, Tone::ink});
    dashed(figure_, on(crown_.pin, radius_), on(crown_.pin + 180, radius_), Tone::ink, room_.text * 0.1,
           room_.text * 0.4);
    figure_.lines.push_back({arc(crown_.thrust - 30, crown_.thrust + 30, radius_), Tone::ink, room_.text * 0.4});
  }

  // A circle left open at its gap, and a bar across it where the gap was found.
  void ring(std::size_t i) {
    const auto& its = crown_.rings[i];
    const double radius = ring_radius(i);
    const double half = std::min(30.0, pitch() * 0.45 / radius * 180 / std::numbers::pi);
    figure_.lines.push_back({arc(its.angle + half, its.angle + 360 - half, radius), Tone::ink, room_.text * 0.14});
    if (its.found)
      figure_.lines.push_back(straight(on(*its.found, radius - pitch() * 0.45), on(*its.found, radius + pitch() * 0.45),
                                       Tone::here, room_.text * 0.32));
  }

  // Round the crown, each on a line to its gap; kept apart where gaps are close.
  void numbers() {
    std::vector<std::size_t> order(crown_.rings.size());
    std::iota(order.begin(), order.end(), 0);
    std::sort(order.begin(), order.end(),
              [&](std::size_t a, std::size_t b) { return crown_.rings[a].angle < crown_.rings[b].angle; });
    const double out = radius_ + room_.text * 0.75;
    const double apart = room_.text * 1.5 / out * 180 / std::numbers::pi;
    double last = -360;
    for (const std::size_t i : order) {
      const auto& its = crown_.rings[i];
      last = std::max(its.angle, last + apart);
      figure_.lines.push_back(
          straight(on(its.angle, ring_radius(i)), on(last, radius_ + room_.text * 0.15), Tone::ink, room_.text * 0.07));
      figure_.texts.push_back(
          {on(last, out), its.number, room_.text, crown_.asked == i ? Tone::here : Tone::ink, true, false});
    }
  }

  void words_beside(double left, double bottom) {
    std::vector<Written> lines;
    bool found = false;
    for (std::size_t i = 0; i < crown_.rings.size(); ++i) {
      const auto& its = crown_.rings[i];
      std::string text = fmt::format("{} {}: {:g} deg", its.number, its.title, its.angle);
      if (its.found) text += ", found " + its.found_text;
      found = found || its.found;
      lines.push_back({std::move(text), true, crown_.asked == i ? Tone::here : Tone::ink});
    }
    for (const std::string& words : {std::string("from above, clockwise from the"), crown_.mark,
                                     std::string("dashed: pin; heavy: thrust side,"), crown_.thrust_side})
      lines.push_back({words});
    if (found) lines.push_back({"heavy bar: where it was found"});
    const double line = std::min(line_, bottom / static_cast<double>(lines.size()));
    const double first = (bottom - line * static_cast<double>(lines.size() - 1)) / 2;
    list(figure_, {left, first}, lines, room_.text, line, room_.width - left);
  }

  const Crown& crown_;
  Room room_;
  double line_;
  Figure figure_;
  Point middle_;
  double radius_ = 0;
};

} // namespace

Figure gaps_on(const Crown& crown, Room room) {
  return CrownDrawer(crown, room).draw();
}

} // namespace drawing
