#include "drawing/diameters.h"

#include "drawing/shapes.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numbers>

namespace drawing {

namespace {

using procedure::EntryKind;

struct Taken {
  std::string_view field;
  bool hole;
};
// The fields of computations that hold diameters in planes and directions.
constexpr std::array<Taken, 6> taken = {
    {{"bore", true}, {"outer", true}, {"housing", true}, {"journal", false}, {"inner", false}, {"part", false}}};

// Whether a computation takes the entry as a bore (true), as a journal (false), or not as diameters at all. `form`
// takes either and says which by its kind; readings that only it takes are a bore unless it says "journal".
std::optional<bool> taken_as_hole(const build::Build& build, build::EntryAt at) {
  std::optional<bool> by_form;
  const auto& step = build.plan->step(at.step);
  for (const auto& target : build.plan->calculated_from(at)) {
    const auto& entry = build.plan->entry(target);
    for (const auto& [name, source] : entry.inputs) {
      const auto* from = std::get_if<procedure::FromEntry>(&source);
      if (!from || from->step != step.id || from->entry != build.plan->entry(at).id) continue;
      for (const auto& one : taken)
        if (one.field == name) return one.hole;
      if (entry.computation->name != "form") continue;
      const auto kind =
          std::find_if(entry.inputs.begin(), entry.inputs.end(), [](const auto& it) { return it.first == "kind"; });
      const auto* said = kind == entry.inputs.end() ? nullptr : std::get_if<procedure::Constant>(&kind->second);
      by_form = !(said && said->value.is(json::Kind::text) && said->value.as_text() == "journal");
    }
  }
  return by_form;
}

bool starts_with(std::string_view text, std::string_view start) {
  return text.substr(0, start.size()) == start;
}

// "30 degrees left": 30 to the left of upright.
std::optional<double> angle_said(std::string_view name) {
  int degrees = 0;
  const auto read = std::from_chars(name.data(), name.data() + name.size(), degrees);
  const bool number = read.ec == std::errc() && read.ptr != name.data();
  if (number && name.find("degrees left") != std::string_view::npos) return 90.0 + degrees;
  if (number && name.find("degrees right") != std::string_view::npos) return 90.0 - degrees;
  if (starts_with(name, "square to") || name == "across") return 90;
  if (name == "in line" || name == "along" || name == "one way") return 0;
  return std::nullopt;
}

Point on_circle(Point middle, double radius, double degrees) {
  const double angle = degrees * std::numbers::pi / 180;
  return {middle.x + radius * std::cos(angle), middle.y - radius * std::sin(angle)};
}

class Drawer {
public:
  Drawer(const Diameters& what, Room room) : what_(what), room_(room) {
    figure_.width = room.width;
    figure_.height = room.height;
  }

  Figure draw() {
    const bool round = what_.directions.size() > 1;
    const double side = round ? room_.width * 0.52 : room_.width;
    if (what_.planes.size() > 1 || !round) along(side - room_.text, 0);
    if (round) end_view(what_.planes.size() > 1 ? side : 0);
    return std::move(figure_);
  }

private:
  double heavy() const { return room_.text * 0.3; }
  double thin() const { return room_.text * 0.09; }

  // Cut along the axis: walls with a gap between them for a bore, a solid bar for a journal.
  void along(double wide, double left) {
    const double top = room_.text * 0.5;
    const double bottom = room_.height - room_.text * 1.8;
    const double wall = what_.hole ? (bottom - top) * 0.22 : 0;
    const auto bar = [&](double from, double to) {
      const std::vector<Point> corners = {{left, from}, {left + wide, from}, {left + wide, to}, {left, to}};
      figure_.polygons.push_back({corners, Tone::metal});
      figure_.lines.push_back(edge(corners, Tone::ink, thin()));
    };
    if (what_.hole) {
      bar(top, top + wall);
      bar(bottom - wall, bottom);
    } else {
      bar(top + (bottom - top) * 0.14, bottom - (bottom - top) * 0.14);
    }
    const double from = what_.hole ? top + wall : top + (bottom - top) * 0.14;
    const double to = what_.hole ? bottom - wall : bottom - (bottom - top) * 0.14;
    const double pitch = wide / static_cast<double>(what_.planes.size());
    for (std::size_t i = 0; i < what_.planes.size(); ++i) {
      const double x = left + pitch * (static_cast<double>(i) + 0.5);
      line({x, from}, {x, to}, what_.plane == i);
      figure_.texts.push_back(fitted({x, room_.height - room_.text * 0.8}, what_.planes[i], room_.text, pitch * 0.95,
                                     what_.plane == i, what_.plane == i ? Tone::here : Tone::ink));
    }
  }

  void end_view(double left) {
    const double wide = room_.width - left;
    const double radius = std::min(wide * (what_.direction ? 0.34 : 0.22),
                                   (room_.height / 2 - room_.text * 1.4) / (what_.hole ? 1.3 : 1));
    const double under = what_.direction ? room_.text * 1.8 : 0; // where the one asked for is named
    const Point middle{left + wide / 2, (room_.height - under) / 2};
    if (what_.direction)
      figure_.texts.push_back(fitted({middle.x, room_.height - room_.text * 0.8},
                                     what_.directions[*what_.direction].name, room_.text, wide, true, Tone::here));
    if (what_.hole) figure_.polygons.push_back({around(middle, radius * 1.3, 48), Tone::metal});
    figure_.polygons.push_back({around(middle, radius, 48), what_.hole ? Tone::paper : Tone::metal});
    if (what_.hole) figure_.lines.push_back(edge(around(middle, radius * 1.3, 48), Tone::ink, thin()));
    figure_.lines.push_back(edge(around(middle, radius, 48), Tone::ink, thin() * 1.6));
    for (std::size_t i = 0; i < what_.directions.size(); ++i) {
      const auto& its = what_.directions[i];
      const bool asked = what_.direction == i;
      line(on_circle(middle, radius, its.angle + 180), on_circle(middle, radius, its.angle), asked);
      if (!what_.direction) name(on_circle(middle, radius * (what_.hole ? 1.3 : 1), its.angle), its, left);
    }
  }

  // Beside the end of its line, on the side away from the circle.
  void name(Point end, const Direction& its, double left) {
    const double cosine = std::cos(its.angle * std::numbers::pi / 180);
    if (std::abs(cosine) < 0.2) {
      figure_.texts.push_back(fitted({end.x, end.y - room_.text * 0.8}, its.name, room_.text, room_.width - left));
      return;
    }
    const double gap = room_.text * 0.4;
    const double free = cosine > 0 ? room_.width - end.x - gap : end.x - left - gap;
    const double wide = std::min(width_of(its.name, room_.text), free);
    const double x = cosine > 0 ? end.x + gap + wide / 2 : end.x - gap - wide / 2;
    const double rise = std::abs(cosine) > 0.9 ? 0 : room_.text * 0.5;
    figure_.texts.push_back(fitted({x, end.y - rise}, its.name, room_.text, wide));
  }

  void line(Point from, Point to, bool asked) {
    if (asked)
      measure(figure_, from, to, room_.text * 0.9, Tone::here);
    else
      figure_.lines.push_back(straight(from, to, Tone::ink, thin()));
    if (asked) figure_.lines.push_back(straight(from, to, Tone::here, heavy() * 0.6));
  }

  const Diameters& what_;
  Room room_;
  Figure figure_;
};

} // namespace

std::vector<Direction> directions_of(const std::vector<std::string>& names) {
  std::vector<Direction> out;
  bool all_said = true;
  for (const auto& name : names) {
    const auto said = angle_said(name);
    all_said = all_said && said.has_value();
    out.push_back({name, said.value_or(0)});
  }
  if (all_said) return out;
  for (std::size_t i = 0; i < out.size(); ++i)
    out[i].angle = 180.0 * static_cast<double>(i) / static_cast<double>(out.size());
  return out;
}

std::optional<Diameters> diameters(const build::Build& build, build::EntryAt at, std::optional<std::size_t> cell) {
  const auto& entry = build.plan->entry(at);
  if (entry.kind != EntryKind::readings || entry.unit->dimension != quantity::Dimension::length) return std::nullopt;
  const auto hole = taken_as_hole(build, at);
  if (!hole) return std::nullopt;
  Diameters out;
  out.hole = *hole;
  out.planes = entry.rows;
  out.directions = directions_of(entry.columns);
  // Rows alone may be directions in one plane: "one way", "square to it".
  if (entry.columns.empty() &&
      std::all_of(entry.rows.begin(), entry.rows.end(), [](const auto& it) { return angle_said(it).has_value(); })) {
    out.directions = directions_of(entry.rows);
    out.planes = {""};
    if (cell) out.direction = *cell % entry.rows.size();
    return out;
  }
  if (!cell) return out;
  const std::size_t columns = std::max<std::size_t>(1, entry.columns.size());
  const std::size_t here = *cell % (entry.rows.size() * columns);
  out.plane = here / columns;
  if (!entry.columns.empty()) out.direction = here % columns;
  return out;
}

Figure places(const Diameters& diameters, Room room) {
  return Drawer(diameters, room).draw();
}

} // namespace drawing
