#include "drawing/lever.h"

#include "drawing/shapes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace drawing {

namespace {

std::string with_number(const char* sign, const quantity::Exact& value, const char* unit, bool measured) {
  return measured ? fmt::format("{} = {} {}", sign, value.text(), unit) : std::string(sign);
}

// Part of a circle, as a line of short pieces.
Line arc(Point middle, double radius, double from, double to, double width) {
  Line out{{}, Tone::ink, width};
  constexpr int pieces = 24;
  for (int i = 0; i <= pieces; ++i) {
    const double angle = from + (to - from) * i / pieces;
    out.points.push_back({middle.x + radius * std::cos(angle), middle.y + radius * std::sin(angle)});
  }
  return out;
}

} // namespace

Figure lever(const build::Lever& lever, Room room, bool measured) {
  const double t = room.text;
  const double length = lever.wrench_length.to_double();
  const double adapter = lever.extension.to_double();
  const double angle = lever.angle.to_double() * std::numbers::pi / 180;
  const Point way{std::cos(angle), -std::sin(angle)}; // the adapter swings upwards
  Figure figure;
  figure.width = room.width;

  // Grip at the left, drive, fastener: scaled so that all of it and its writing has room.
  const double left = std::min({0.0, length + adapter * way.x});
  const double right = std::max({length, length + adapter * way.x});
  const double up = std::max(0.0, -adapter * way.y);
  const double down = std::max(0.0, adapter * way.y);
  const double across = room.width - 8 * t;
  const double tall = room.height - 10.5 * t;
  double scale = across / std::max(right - left, 1e-9);
  if (up + down > 0) scale = std::min(scale, std::max(tall, t) / (up + down));
  const double x0 = (room.width - (right - left) * scale) / 2 - left * scale;
  const double y0 = 4.5 * t + up * scale;
  const Point grip{x0, y0};
  const Point drive{x0 + length * scale, y0};
  const Point fastener{drive.x + adapter * way.x * scale, drive.y + adapter * way.y * scale};

  figure.polygons.push_back(strip({grip.x - 1.8 * t, y0}, {grip.x + 1.8 * t, y0}, Tone::faint, 1.5 * t));
  figure.polygons.push_back(strip(grip, drive, Tone::metal, 0.8 * t));
  figure.polygons.push_back(strip(drive, fastener, Tone::metal, 0.6 * t));
  const auto outline = [&](const Polygon& shape) { figure.lines.push_back(edge(shape.points, Tone::ink, t * 0.1)); };
  for (const Polygon& shape : std::vector(figure.polygons)) outline(shape);
  figure.lines.push_back(edge(around(drive, 0.8 * t, 4, std::numbers::pi / 4), Tone::ink, t * 0.16));
  figure.lines.push_back(edge(around(fastener, 1.0 * t, 6), Tone::ink, t * 0.16));
  figure.lines.push_back(edge(around(fastener, 0.12 * t, 8), Tone::ink, t * 0.16));

  // L beneath, from the middle of the grip to the middle of the drive.
  const double low = y0 + down * scale + 2.4 * t;
  dashed(figure, grip, {grip.x, low + 0.4 * t}, Tone::ink, t * 0.08, t * 0.3);
  dashed(figure, drive, {drive.x, low + 0.4 * t}, Tone::ink, t * 0.08, t * 0.3);
  measure(figure, {grip.x, low}, {drive.x, low}, t * 0.8, Tone::ink);
  figure.texts.push_back(fitted({(grip.x + drive.x) / 2, low + 0.9 * t},
                                with_number("L", lever.wrench_length, "mm", measured), t * 1.15, room.width, true));

  // E alongside the adapter.
  const double above = way.x >= 0 ? 1 : -1; // the upper side
  const Point off{way.y * above, -way.x * above};
  const double out = 2.0 * t;
  const Point from{drive.x + off.x * out, drive.y + off.y * out};
  const Point to{fastener.x + off.x * out, fastener.y + off.y * out};
  dashed(figure, drive, from, Tone::ink, t * 0.08, t * 0.3);
  dashed(figure, fastener, to, Tone::ink, t * 0.08, t * 0.3);
  measure(figure, from, to, t * 0.8, Tone::ink);
  const std::string e = with_number("E", lever.extension, "mm", measured);
  const double wide = width_of(e, t * 1.15, true);
  const double beyond = 0.9 * t + std::abs(off.x) * wide / 2;
  Point at{(from.x + to.x) / 2 + off.x * beyond, (from.y + to.y) / 2 + off.y * beyond};
  at.x = std::clamp(at.x, wide / 2, std::max(wide / 2, room.width - wide / 2));
  figure.texts.push_back({at, e, t * 1.15, Tone::ink, true});

  // The angle, from the line of the wrench carried on.
  if (lever.angle.sign() != 0) {
    const double radius = std::clamp(adapter * scale * 0.45, 1.6 * t, 4 * t);
    dashed(figure, drive, {drive.x + radius * 1.4, drive.y}, Tone::ink, t * 0.08, t * 0.3);
    figure.lines.push_back(arc(drive, radius, 0, -angle, t * 0.1));
  }
  const std::string turn =
      measured ? fmt::format("angle {} deg{}", lever.angle.text(), lever.angle.sign() == 0 ? ", in line" : "")
               : "angle: 0 in line";
  figure.texts.push_back(fitted({room.width / 2, low + 2.3 * t}, turn, t * 1.15, room.width, true));
  figure.texts.push_back(fitted({room.width / 2, low + 3.5 * t},
                                "L: square drive to middle of grip.  E: square drive to fastener.", t, room.width));
  figure.height = low + 4.2 * t;
  return figure;
}

} // namespace drawing
