#include "drawing/face.h"

#include "drawing/shapes.h"

#include <algorithm>
#include <array>

namespace drawing {

namespace {

struct Known {
  std::string_view name;
  Point from, to;
};
constexpr std::array<Known, 12> known = {{{"left edge", {0.08, 0.05}, {0.08, 0.95}},
                                          {"right edge", {0.92, 0.05}, {0.92, 0.95}},
                                          {"front edge", {0.05, 0.92}, {0.95, 0.92}},
                                          {"rear edge", {0.05, 0.08}, {0.95, 0.08}},
                                          {"edge", {0.05, 0.08}, {0.95, 0.08}},
                                          {"opposite edge", {0.05, 0.92}, {0.95, 0.92}},
                                          {"along", {0.05, 0.5}, {0.95, 0.5}},
                                          {"across", {0.5, 0.05}, {0.5, 0.95}},
                                          {"diagonal from front left", {0.06, 0.94}, {0.94, 0.06}},
                                          {"diagonal from front right", {0.94, 0.94}, {0.06, 0.06}},
                                          {"diagonal one way", {0.06, 0.94}, {0.94, 0.06}},
                                          {"diagonal other way", {0.94, 0.94}, {0.06, 0.06}}}};

const Known* known_line(std::string_view name) {
  const auto it = std::find_if(known.begin(), known.end(), [&](const Known& one) { return one.name == name; });
  return it == known.end() ? nullptr : &*it;
}

} // namespace

std::optional<Face> face(const build::Build& build, build::EntryAt at, std::size_t position,
                         std::optional<std::size_t> cell) {
  const auto& entry = build.plan->entry(at);
  if (entry.kind != procedure::EntryKind::readings || !entry.columns.empty() || entry.rows.size() < 2)
    return std::nullopt;
  Face out;
  const auto& cells = build.entry(at).cells;
  const build::Cell* largest = nullptr;
  std::size_t measured = 0;
  for (std::size_t r = 0; r < entry.rows.size(); ++r) {
    const auto* line = known_line(entry.rows[r]);
    if (!line) return std::nullopt;
    FaceLine its{entry.rows[r], line->from, line->to, "", ""};
    const auto& one = cells[position * entry.rows.size() + r];
    if (!one.tries.empty()) {
      ++measured;
      its.text = one.value.text();
      if (one.judged.blocks()) its.trouble = build::name_of(one.judged.standing);
      if (!largest || largest->value < one.value) {
        largest = &one;
        out.worst = r;
      }
    }
    out.lines.push_back(std::move(its));
  }
  if (measured < 2) out.worst.reset();
  std::vector<std::string*> texts;
  for (auto& line : out.lines) texts.push_back(&line.text);
  same_places(texts);
  if (cell && *cell / entry.rows.size() == position) out.asked = *cell % entry.rows.size();
  return out;
}

Figure lines_on(const Face& face, Room room) {
  Figure figure;
  figure.width = room.width;
  figure.height = room.height;
  const double line = room.text * 1.4;
  const double tall = room.height - line;
  const auto place = [&](Point p) { return Point{p.x * room.width, p.y * tall}; };
  const std::vector<Point> corners = {{0, 0}, {room.width, 0}, {room.width, tall}, {0, tall}};
  figure.polygons.push_back({corners, Tone::metal});
  figure.lines.push_back(edge(corners, Tone::ink, room.text * 0.12));
  for (std::size_t i = 0; i < face.lines.size(); ++i) {
    const auto& its = face.lines[i];
    const bool asked = face.asked == i;
    if (asked || !its.text.empty())
      figure.polygons.push_back(
          strip(place(its.from), place(its.to), asked ? Tone::here : Tone::ink, room.text * (asked ? 0.3 : 0.1)));
    else
      dashed(figure, place(its.from), place(its.to), Tone::ink, room.text * 0.1, room.text * 0.5);
  }
  // A third of the way along, where diagonals and the lines through the middle do not meet.
  for (std::size_t i = 0; i < face.lines.size(); ++i) {
    const auto& its = face.lines[i];
    if (its.text.empty()) continue;
    const Point from = place(its.from);
    const Point to = place(its.to);
    Text text = fitted({from.x + (to.x - from.x) * 0.3, from.y + (to.y - from.y) * 0.3}, its.text, room.text,
                       room.width * 0.3, face.worst == i || !its.trouble.empty());
    const double half = width_of(text.text, text.size, text.strong) / 2;
    text.at.x = std::clamp(text.at.x, half, room.width - half);
    text.at.y = std::clamp(text.at.y, text.size / 2, tall - text.size / 2);
    figure.polygons.push_back(
        strip({text.at.x - half, text.at.y}, {text.at.x + half, text.at.y}, Tone::paper, text.size));
    figure.texts.push_back(std::move(text));
  }
  const std::string said = face.asked   ? "Lay the straightedge along: " + face.lines[*face.asked].name
                           : face.worst ? "Largest gap: " + face.lines[*face.worst].name
                                        : "";
  if (!said.empty())
    figure.texts.push_back(fitted({room.width / 2, room.height - line / 2}, said, room.text, room.width, true,
                                  face.asked ? Tone::here : Tone::ink));
  return figure;
}

} // namespace drawing
