#include "drawing/train.h"

#include "drawing/shapes.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <numbers>
#include <numeric>

namespace drawing {

namespace {

constexpr double whole_turn = 2 * std::numbers::pi;

struct Placed {
  Point centre;
  double radius = 0;
};

Point toward(Point from, double distance, double degrees) {
  const double angle = degrees * std::numbers::pi / 180;
  return {from.x + distance * std::cos(angle), from.y - distance * std::sin(angle)};
}

// Centres and pitch radii in teeth: gears in mesh have one pitch, so their radii go as their teeth.
std::vector<Placed> in_teeth(const Train& train) {
  std::vector<Placed> out;
  for (std::size_t i = 0; i < train.gears.size(); ++i) {
    const auto& gear = train.gears[i];
    Placed it{{0, 0}, static_cast<double>(gear.teeth) / 2};
    if (i > 0) {
      const auto& driver = out[gear.meshes];
      it.centre = toward(driver.centre, driver.radius + it.radius, gear.direction);
    }
    out.push_back(it);
  }
  return out;
}

std::vector<Placed> placed(const Train& train, Room room, double margin) {
  auto out = in_teeth(train);
  double left = std::numeric_limits<double>::max(), top = left, right = -left, bottom = -left;
  for (const auto& it : out) {
    left = std::min(left, it.centre.x - it.radius);
    right = std::max(right, it.centre.x + it.radius);
    top = std::min(top, it.centre.y - it.radius);
    bottom = std::max(bottom, it.centre.y + it.radius);
  }
  const double scale =
      std::min((room.width - 2 * margin) / (right - left), (room.height - 2 * margin) / (bottom - top));
  const Point shift{(room.width - (right - left) * scale) / 2 - left * scale,
                    (room.height - (bottom - top) * scale) / 2 - top * scale};
  for (auto& it : out) {
    it.centre = {it.centre.x * scale + shift.x, it.centre.y * scale + shift.y};
    it.radius *= scale;
  }
  return out;
}

// Where a gear's own mark stands when it has not been turned: at its mesh with the gear before it; of the first gear at
// its mesh with the second.
double mark_direction(const Train& train, std::size_t gear) {
  if (gear > 0) return train.gears[gear].direction + 180;
  return train.gears.size() > 1 ? train.gears[1].direction : 90;
}

// Neighbours in mesh turn opposite ways.
int sense(const Train& train, std::size_t gear) {
  return gear == 0 ? 1 : -sense(train, train.gears[gear].meshes);
}

} // namespace

Train train_of(const procedure::Procedure& procedure) {
  Train out;
  const auto& gears = procedure.gear_train;
  for (const auto& gear : gears) {
    const auto meshes = std::find_if(gears.begin(), gears.end(), [&](const auto& it) { return it.id == gear.meshes; });
    const bool driven = meshes != gears.end();
    out.gears.push_back(
        {gear.title, gear.teeth, driven ? static_cast<std::size_t>(meshes - gears.begin()) : 0, gear.direction, 0});
  }
  return out;
}

std::string words_of(const Train& train, std::int64_t teeth) {
  if (train.gears.empty()) return "";
  const double tooth = 360.0 / train.gears.front().teeth; // of the first gear
  for (const auto& gear : train.gears)
    if (gear.off != 0)
      return fmt::format("{} is drawn {} out: {:.1f} degrees of the crank.", gear.name,
                         std::abs(gear.off) == 1 ? "one tooth" : fmt::format("{} teeth", std::abs(gear.off)),
                         std::abs(gear.off) * tooth);
  if (marks_meet(train, teeth)) return "All marks are together.";
  return fmt::format("{} turned {} {}, {:.1f} degrees; all marks are together again every {} turns.",
                     train.gears.front().name, std::abs(teeth), std::abs(teeth) == 1 ? "tooth" : "teeth",
                     static_cast<double>(std::abs(teeth)) * tooth, turns_until_marks_meet(train));
}

std::int64_t turns_until_marks_meet(const Train& train) {
  std::int64_t all = 1;
  for (const auto& gear : train.gears) {
    if (gear.teeth <= 0) return 0;
    all = std::lcm(all, static_cast<std::int64_t>(gear.teeth));
  }
  return train.gears.empty() ? 0 : all / train.gears.front().teeth;
}

std::vector<double> turned(const Train& train, std::int64_t teeth) {
  std::vector<double> out;
  for (const auto& gear : train.gears) {
    const std::int64_t passed = ((teeth + gear.off) % gear.teeth + gear.teeth) % gear.teeth;
    out.push_back(static_cast<double>(passed) / gear.teeth);
  }
  return out;
}

bool marks_meet(const Train& train, std::int64_t teeth) {
  return std::all_of(train.gears.begin(), train.gears.end(),
                     [&](const Gear& gear) { return (teeth + gear.off) % gear.teeth == 0; });
}

namespace {

// Where a gear is marked: at its mesh with every gear it runs with.
std::vector<double> marks_of(const Train& train, std::size_t gear) {
  std::vector<double> out;
  if (gear > 0) out.push_back(mark_direction(train, gear));
  for (std::size_t i = 1; i < train.gears.size(); ++i)
    if (train.gears[i].meshes == gear) out.push_back(train.gears[i].direction);
  if (out.empty()) out.push_back(mark_direction(train, gear));
  return out;
}

// Four corners a tooth, so that every tooth is there to count; the first is at `start`, in radians on the screen.
std::vector<Point> toothed(const Placed& it, int teeth, double start, double deep) {
  std::vector<Point> out;
  for (int tooth = 0; tooth < teeth; ++tooth)
    for (const auto& [at, radius] : {std::pair{-0.25, it.radius + deep / 2},
                                     {0.0, it.radius + deep / 2},
                                     {0.25, it.radius - deep / 2},
                                     {0.5, it.radius - deep / 2}}) {
      const double angle = start + whole_turn * (tooth + at + 0.125) / teeth;
      out.push_back({it.centre.x + radius * std::cos(angle), it.centre.y + radius * std::sin(angle)});
    }
  return out;
}

void mark(Figure& figure, const Placed& it, double angle, double text) {
  const auto on = [&](double radius) {
    return Point{it.centre.x + radius * std::cos(angle), it.centre.y + radius * std::sin(angle)};
  };
  figure.lines.push_back(straight(on(it.radius * 0.72), on(it.radius), Tone::paint, text * 0.5));
  figure.lines.push_back(straight(on(it.radius * 0.72), on(it.radius), Tone::ink, text * 0.12));
}

} // namespace

Figure gears(const Train& train, std::int64_t teeth, Room room) {
  Figure figure;
  figure.width = room.width;
  figure.height = room.height;
  if (train.gears.empty()) return figure;
  const auto circles = placed(train, room, room.text * 0.5);
  const auto part = turned(train, teeth);
  for (std::size_t i = 0; i < circles.size(); ++i) {
    const auto& it = circles[i];
    const auto& gear = train.gears[i];
    const double turn = -sense(train, i) * part[i] * whole_turn;
    const auto on_screen = [&](double degrees) { return turn - degrees * std::numbers::pi / 180; };
    const double deep = std::min(it.radius * 0.12, whole_turn * it.radius / gear.teeth * 0.35);
    figure.polygons.push_back({around(it.centre, it.radius - deep / 2, 64), Tone::metal});
    figure.lines.push_back(
        edge(toothed(it, gear.teeth, on_screen(mark_direction(train, i)), deep), Tone::ink, room.text * 0.08));
    for (const double degrees : marks_of(train, i)) mark(figure, it, on_screen(degrees), room.text);
    const auto written = [&](double down, const std::string& text, double wide, bool strong) {
      figure.texts.push_back(
          fitted({it.centre.x, it.centre.y + room.text * down}, text, room.text, it.radius * wide, strong));
    };
    written(-0.6, gear.name, 1.25, false);
    written(0.6, std::to_string(gear.teeth), 1, true);
  }
  return figure;
}

} // namespace drawing
