#include "drawing/profile.h"

#include "build/limits.h"
#include "drawing/diameters.h"
#include "drawing/shapes.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

namespace drawing {

namespace {

struct Ends {
  double low = std::numeric_limits<double>::max();
  double high = std::numeric_limits<double>::lowest();
  void take(const std::optional<double>& value) {
    if (!value) return;
    low = std::min(low, *value);
    high = std::max(high, *value);
  }
};

std::optional<double> bound(const std::optional<quantity::Exact>& exact) {
  return exact ? std::optional(exact->to_double()) : std::nullopt;
}

} // namespace

std::optional<Profile> profile(const build::Build& build, build::EntryAt at, std::size_t position) {
  const auto where = diameters(build, at, std::nullopt);
  if (!where || where->planes.size() < 2) return std::nullopt;
  const auto& entry = build.plan->entry(at);
  const auto& cells = build.entry(at).cells;
  const std::size_t columns = std::max<std::size_t>(1, entry.columns.size());
  Profile out;
  out.planes = where->planes;
  std::size_t planes_measured = 0;
  for (std::size_t c = 0; c < columns; ++c) {
    Profile::Side side{entry.columns.empty() ? "" : entry.columns[c], {}, {}};
    for (std::size_t r = 0; r < out.planes.size(); ++r) {
      const auto& cell = cells[(position * out.planes.size() + r) * columns + c];
      const bool there = !cell.tries.empty();
      side.values.push_back(there ? std::optional(cell.value.to_double()) : std::nullopt);
      side.texts.push_back(there ? cell.value.text() : "");
    }
    const auto measured =
        std::count_if(side.values.begin(), side.values.end(), [](const auto& it) { return it.has_value(); });
    planes_measured = std::max(planes_measured, static_cast<std::size_t>(measured));
    out.sides.push_back(std::move(side));
  }
  if (planes_measured < 2) return std::nullopt;
  std::vector<std::string*> texts;
  for (auto& side : out.sides)
    for (auto& text : side.texts) texts.push_back(&text);
  same_places(texts);
  std::optional<quantity::Exact> smallest, largest;
  for (std::size_t c = position * out.planes.size() * columns; c < (position + 1) * out.planes.size() * columns; ++c) {
    if (cells[c].tries.empty()) continue;
    smallest = smallest ? quantity::min(*smallest, cells[c].value) : cells[c].value;
    largest = largest ? quantity::max(*largest, cells[c].value) : cells[c].value;
  }
  out.spread = fmt::format("{} {} from smallest to largest", (*largest - *smallest).text(), entry.unit->name);
  const auto by = build::applied(build, at, entry.limit, position);
  if (by.bounds && by.limit->unit == entry.unit) {
    out.low = bound(by.bounds->low);
    out.high = bound(by.bounds->high);
    out.limit = build::text(*by.bounds, *by.limit->unit);
  }
  return out;
}

Figure profile_of(const Profile& profile, Room room) {
  Figure figure;
  figure.width = room.width;
  figure.height = room.height;
  const double line = room.text * 1.3;
  double names = 0;
  for (const auto& plane : profile.planes) names = std::max(names, width_of(plane, room.text));
  names = std::min(names + room.text * 0.6, room.width * 0.3);
  const double top = line;
  const double bottom = room.height - line;
  Ends ends;
  for (const auto& side : profile.sides)
    for (const auto& value : side.values) ends.take(value);
  ends.take(profile.low);
  ends.take(profile.high);
  const double wide = (room.width - names) / static_cast<double>(profile.sides.size());
  const double span = ends.high > ends.low ? ends.high - ends.low : 1;
  const double pitch = (bottom - top) / static_cast<double>(profile.planes.size());
  const auto level = [&](std::size_t r) { return top + pitch * (static_cast<double>(r) + 0.5); };
  for (std::size_t r = 0; r < profile.planes.size(); ++r)
    figure.texts.push_back(fitted({names / 2, level(r)}, profile.planes[r], room.text, names));
  for (std::size_t s = 0; s < profile.sides.size(); ++s) {
    const auto& side = profile.sides[s];
    const double left = names + wide * static_cast<double>(s);
    // The last half is for the numbers.
    const auto across = [&](double value) { return left + wide * (0.06 + 0.4 * (value - ends.low) / span); };
    if (!side.name.empty())
      figure.texts.push_back(fitted({left + wide / 2, line / 2}, side.name, room.text, wide * 0.95, true));
    if (profile.low && profile.high)
      figure.polygons.push_back({{{across(*profile.low), top},
                                  {across(*profile.high), top},
                                  {across(*profile.high), bottom},
                                  {across(*profile.low), bottom}},
                                 Tone::metal});
    for (const auto& end : {profile.low, profile.high})
      if (end)
        figure.lines.push_back(straight({across(*end), top}, {across(*end), bottom}, Tone::ink, room.text * 0.1));
    Line way{{}, Tone::here, room.text * 0.22};
    for (std::size_t r = 0; r < profile.planes.size(); ++r) {
      if (!side.values[r]) continue;
      const Point here{across(*side.values[r]), level(r)};
      way.points.push_back(here);
      figure.polygons.push_back({around(here, room.text * 0.28, 12), Tone::here});
      const bool outside =
          (profile.low && *side.values[r] < *profile.low) || (profile.high && *side.values[r] > *profile.high);
      figure.texts.push_back(fitted({left + wide * 0.75, level(r)}, side.texts[r], room.text, wide * 0.46, outside));
    }
    if (way.points.size() > 1) figure.lines.push_back(std::move(way));
  }
  const std::string words = profile.limit.empty() ? profile.spread : "good: " + profile.limit;
  if (!words.empty())
    figure.texts.push_back(fitted({room.width / 2, room.height - line / 2}, words, room.text, room.width));
  return figure;
}

} // namespace drawing
