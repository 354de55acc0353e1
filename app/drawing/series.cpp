#include "drawing/series.h"

#include "build/limits.h"
#include "drawing/shapes.h"

#include <fmt/format.h>

#include <algorithm>

namespace drawing {

using procedure::EntryKind;

namespace {

// Positions of the step, as its fasteners come to them.
std::vector<std::size_t> order_of_caps(const procedure::Step& step) {
  std::vector<std::size_t> out;
  const auto take = [&](std::size_t position) {
    if (std::find(out.begin(), out.end(), position) == out.end()) out.push_back(position);
  };
  for (const auto& entry : step.entries)
    for (const auto& fastener : entry.fasteners) {
      const auto found = std::find(step.positions.begin(), step.positions.end(), fastener.position);
      if (found != step.positions.end()) take(static_cast<std::size_t>(found - step.positions.begin()));
    }
  for (std::size_t p = 0; p < step.positions.size(); ++p) take(p);
  return out;
}

// The cells in the order of the caps: of a step without positions, the rows and columns as they are listed.
std::vector<std::size_t> order_of_cells(const procedure::Step& step, const procedure::Entry& entry) {
  const auto shape = procedure::cells_of(step, entry);
  std::vector<std::size_t> out;
  const auto take_all_at = [&](std::size_t position) {
    for (std::size_t c = 0; c < shape.per_position(); ++c) out.push_back(position * shape.per_position() + c);
  };
  if (step.positions.empty())
    take_all_at(0);
  else
    for (const std::size_t position : order_of_caps(step)) take_all_at(position);
  return out;
}

std::string trouble_of(const build::Judged& judged) {
  switch (judged.standing) {
  case build::Standing::outside: return judged.conceded ? "conceded" : "outside";
  case build::Standing::undecided: return judged.accepted ? "accepted" : "undecided";
  default: return "";
  }
}

void judged_by(Series& series, const build::Build& build, build::EntryAt at, const procedure::Entry& entry) {
  if (entry.limit.empty()) return;
  const auto by = build::applied(build, at, entry.limit, 0);
  if (!by.bounds) return;
  const auto bound = [&](const auto& value) {
    return value ? std::optional(quantity::convert(*value, *by.limit->unit, *entry.unit).to_double()) : std::nullopt;
  };
  series.low = bound(by.bounds->low);
  series.high = bound(by.bounds->high);
  series.limit = build::text(*by.bounds, *by.limit->unit);
}

} // namespace

std::optional<Series> series(const build::Build& build, build::EntryAt at) {
  const auto& step = build.plan->step(at.step);
  const auto& entry = build.plan->entry(at);
  if (entry.kind != EntryKind::reading && entry.kind != EntryKind::readings) return std::nullopt;
  if (entry.unit->dimension != quantity::Dimension::torque) return std::nullopt;
  Series out;
  out.unit = entry.unit->name;
  std::vector<const build::Cell*> cells;
  for (const std::size_t c : order_of_cells(step, entry)) {
    const auto& cell = build.entry(at).cells[c];
    if (cell.tries.empty()) continue;
    out.bars.push_back(
        {procedure::name_of_cell(step, entry, c), cell.value.text(), cell.value.to_double(), trouble_of(cell.judged)});
    cells.push_back(&cell);
  }
  if (out.bars.size() < 2) return std::nullopt;
  judged_by(out, build, at, entry);
  if (const auto jump = build::jump_in(cells)) {
    out.jump = jump->at;
    out.jump_words = fmt::format("Turns much harder after {}: look there.", out.bars[jump->at].name);
  }
  return out;
}

namespace {

class BarDrawer {
public:
  BarDrawer(const Series& series, Room room) : series_(series), room_(room) {}

  Figure draw() {
    const double line = room_.text * 1.35;
    const double under = line * (series_.jump ? 2 : 1);
    figure_.width = room_.width;
    figure_.height = room_.height;
    base_ = room_.height - under;
    top_ = line * 2.4;
    double most = 0;
    for (const Bar& bar : series_.bars) most = std::max(most, bar.value);
    if (series_.high && *series_.high < most * 2) most = std::max(most, *series_.high);
    scale_ = most > 0 ? (base_ - top_) / most : 0;
    pitch_ = room_.width / static_cast<double>(series_.bars.size());
    for (std::size_t i = 0; i < series_.bars.size(); ++i) bar(i);
    figure_.lines.push_back(straight({0, base_}, {room_.width, base_}, Tone::ink, room_.text * 0.1));
    limit();
    if (series_.jump) {
      jump();
      figure_.texts.push_back(
          fitted({room_.width / 2, base_ + line * 1.5}, series_.jump_words, room_.text, room_.width, true, Tone::here));
    }
    return std::move(figure_);
  }

private:
  double height_of(double value) const { return base_ - value * scale_; }
  double middle(std::size_t i) const { return pitch_ * (static_cast<double>(i) + 0.5); }

  void bar(std::size_t i) {
    const Bar& it = series_.bars[i];
    const double half = std::min(pitch_ * 0.3, room_.text * 1.6);
    const double x = middle(i);
    const double y = height_of(std::max(it.value, 0.0));
    const std::vector<Point> corners = {{x - half, base_}, {x - half, y}, {x + half, y}, {x + half, base_}};
    figure_.polygons.push_back({corners, Tone::metal});
    const bool heavy = series_.jump == i || !it.trouble.empty();
    figure_.lines.push_back(edge(corners, Tone::ink, room_.text * (heavy ? 0.2 : 0.08)));
    double up = y - room_.text * 0.75;
    const auto above = [&](const std::string& text, bool strong) {
      figure_.texts.push_back(fitted({x, up}, text, room_.text, pitch_ * 0.95, strong));
      up -= room_.text * 1.1;
    };
    above(it.text, true);
    if (!it.trouble.empty()) above(it.trouble, true);
    figure_.texts.push_back(fitted({x, base_ + room_.text * 0.7}, it.name, room_.text, pitch_ * 0.95));
  }

  // Behind the values: dashed, its words in the corner that the bars leave free.
  void limit() {
    const double dash = room_.text * 0.5;
    for (const auto& bound : {series_.low, series_.high})
      if (bound && height_of(*bound) >= top_ * 0.5)
        dashed(figure_, {0, height_of(*bound)}, {room_.width, height_of(*bound)}, Tone::ink, room_.text * 0.12, dash);
    const std::string words =
        series_.limit.empty() ? "in " + series_.unit : fmt::format("{}; good: {}", series_.unit, series_.limit);
    figure_.texts.push_back(fitted({room_.width / 2, room_.text * 0.7}, words, room_.text, room_.width));
  }

  // From the height of the bar before up to that of the one that jumped.
  void jump() {
    const std::size_t i = *series_.jump;
    const double x = (middle(i - 1) + middle(i)) / 2;
    arrow(figure_, {x, height_of(series_.bars[i - 1].value)}, {x, height_of(series_.bars[i].value)},
          std::min(room_.text, pitch_ * 0.3), Tone::here);
  }

  const Series& series_;
  Room room_;
  Figure figure_;
  double base_ = 0;
  double top_ = 0;
  double scale_ = 0;
  double pitch_ = 0;
};

} // namespace

Figure bars(const Series& series, Room room) {
  return BarDrawer(series, room).draw();
}

} // namespace drawing
