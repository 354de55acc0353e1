#include "drawing/depths.h"

#include "drawing/shapes.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace drawing {

namespace {

std::optional<double> result(const build::Build& build, build::EntryAt at, const char* name) {
  const auto& all = build.entry(at).calculated;
  if (all.empty() || !all.front().filled()) return std::nullopt;
  const auto* found = all.front().results.find(name);
  if (!found || !found->is(json::Kind::object)) return std::nullopt;
  const auto value = quantity::Exact::written(found->at("value").as_text());
  return value ? std::optional(value->to_double()) : std::nullopt;
}

const Depth& nearest(const Depths& depths) {
  const double step = 360.0 / static_cast<double>(depths.places.size());
  return depths.places[static_cast<std::size_t>(std::lround(*depths.deepest / step)) % depths.places.size()];
}

} // namespace

std::optional<Depths> depths(const build::Build& build, build::EntryAt at, std::optional<std::size_t> cell) {
  const auto& step = build.plan->step(at.step);
  const auto& entry = build.plan->entry(at);
  if (entry.kind != procedure::EntryKind::readings || !step.positions.empty() || entry.rows.size() < 3)
    return std::nullopt;
  const auto& from = build.plan->calculated_from(at);
  const auto square = std::find_if(from.begin(), from.end(), [&](build::EntryAt target) {
    return build.plan->entry(target).computation->name == "seal-squareness";
  });
  if (square == from.end()) return std::nullopt;
  Depths out;
  out.unit = entry.unit->name;
  out.asked = cell;
  for (std::size_t r = 0; r < entry.rows.size(); ++r) {
    const auto& one = build.entry(at).cells[r];
    out.places.push_back({entry.rows[r], one.tries.empty() ? "" : one.value.text(), one.value.to_double()});
  }
  std::vector<std::string*> texts;
  for (auto& place : out.places) texts.push_back(&place.text);
  same_places(texts);
  const auto runout = result(build, *square, "runout");
  const auto deepest = result(build, *square, "deepest_at");
  if (runout && deepest && *runout > 0) {
    out.deepest = *deepest;
    out.lean = fmt::format("leans by {:.2g} {}", *runout, out.unit);
  }
  return out;
}

Figure depths_round(const Depths& depths, Room room) {
  Figure figure;
  figure.width = room.width;
  figure.height = room.height;
  const double line = room.text * 1.3;
  const double radius =
      std::min(room.width / 2 - room.text * 4, ((room.height - line) / 2 - room.text * 1.9 - line) / 1.12);
  const Point middle{room.width / 2, (room.height - line) / 2};
  figure.polygons.push_back({around(middle, radius * 1.12, 48), Tone::metal});
  figure.polygons.push_back({around(middle, radius * 0.7, 48), Tone::paper});
  for (const double r : {radius * 1.12, radius, radius * 0.7})
    figure.lines.push_back(edge(around(middle, r, 48), Tone::ink, room.text * 0.1));
  const auto at = [&](double degrees, double r) {
    const double angle = (degrees - 90) * std::numbers::pi / 180;
    return Point{middle.x + r * std::cos(angle), middle.y + r * std::sin(angle)};
  };
  for (std::size_t i = 0; i < depths.places.size(); ++i) {
    const auto& its = depths.places[i];
    const bool asked = depths.asked == i;
    const double degrees = 360.0 * static_cast<double>(i) / static_cast<double>(depths.places.size());
    figure.polygons.push_back(
        {around(at(degrees, radius * 0.85), room.text * (asked ? 0.5 : 0.25), 16), asked ? Tone::here : Tone::ink});
    Point out = at(degrees, radius * 1.12 + room.text);
    const double sideways = std::sin(degrees * std::numbers::pi / 180);
    const double up = -std::cos(degrees * std::numbers::pi / 180);
    const double wide = std::max(width_of(its.name, room.text, asked), width_of(its.text, room.text, true));
    out.x += sideways * wide / 2;
    out.y += up * line * 0.5;
    out.x = std::clamp(out.x, wide / 2, room.width - wide / 2);
    figure.texts.push_back(
        fitted({out.x, out.y - line / 2}, its.name, room.text, room.width / 2, asked, asked ? Tone::here : Tone::ink));
    if (!its.text.empty())
      figure.texts.push_back(fitted({out.x, out.y + line / 2}, its.text, room.text, room.width / 2, true));
  }
  if (!depths.deepest) return figure;
  arrow(figure, middle, at(*depths.deepest, radius * 0.6), room.text, Tone::here);
  figure.texts.push_back(fitted({room.width / 2, room.height - line / 2},
                                fmt::format("Deepest at {}; {}", nearest(depths).name, depths.lean), room.text,
                                room.width, true));
  return figure;
}

} // namespace drawing
