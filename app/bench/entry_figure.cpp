#include "bench/entry_figure.h"

#include "bench/lengths.h"
#include "drawing/depths.h"
#include "drawing/diameters.h"
#include "drawing/face.h"
#include "drawing/heights.h"
#include "drawing/profile.h"
#include "drawing/rings.h"
#include "drawing/series.h"
#include "drawing/stack.h"

#include <fmt/format.h>

#include <algorithm>

namespace bench {

namespace {

std::size_t position_of(const build::Build& build, build::EntryAt at, std::optional<std::size_t> cell) {
  const auto shape = procedure::cells_of(build.plan->step(at.step), build.plan->entry(at));
  return cell.value_or(0) / shape.per_position();
}

// The point asked for is not read yet.
bool waits(const build::Build& build, build::EntryAt at, std::optional<std::size_t> cell) {
  return cell && *cell < build.entry(at).cells.size() && !build.entry(at).cells[*cell].filled();
}

// A figure's words in the unit of the screen.
class Words {
public:
  Words(const build::Build& build, build::EntryAt at, std::size_t position)
      : cells_(build.entry(at).cells), unit_(*build.plan->entry(at).unit) {
    const auto shape = procedure::cells_of(build.plan->step(at.step), build.plan->entry(at));
    first_ = position * shape.per_position();
    columns_ = shape.columns;
    const auto& limit = build.plan->entry(at).limit;
    if (!limit.empty()) by_ = build::applied(build, at, limit, position);
  }

  void put(drawing::Profile& profile) const {
    for (std::size_t side = 0; side < profile.sides.size(); ++side)
      for (std::size_t plane = 0; plane < profile.sides[side].texts.size(); ++plane)
        put(profile.sides[side].texts[plane], plane * columns_ + side);
    if (!profile.limit.empty() && by_ && by_->bounds) profile.limit = shown_bounds(*by_->bounds, *by_->limit->unit);
  }

  void put(drawing::Face& face) const {
    for (std::size_t line = 0; line < face.lines.size(); ++line) put(face.lines[line].text, line);
  }

  void put(drawing::Depths& depths) const {
    for (std::size_t place = 0; place < depths.places.size(); ++place) put(depths.places[place].text, place);
    depths.unit = shown_unit(unit_).name;
  }

private:
  void put(std::string& text, std::size_t cell) const {
    if (!text.empty()) text = shown_number(cells_.at(first_ + cell).value, unit_);
  }

  const std::vector<build::Cell>& cells_;
  const quantity::Unit& unit_;
  std::size_t first_ = 0, columns_ = 1;
  std::optional<build::Applied> by_;
};

template <typename Shown>
std::optional<Shown> in_shown_unit(std::optional<Shown> shown, const build::Build& build, build::EntryAt at,
                                   std::size_t position) {
  if (shown && in_inches(*build.plan->entry(at).unit)) Words(build, at, position).put(*shown);
  return shown;
}

} // namespace

std::optional<Pictured> pictured(const build::Build& build, build::EntryAt at, std::optional<std::size_t> cell,
                                 const FigureRoom& room) {
  const auto beside = [&](float share, double height) {
    return drawing::Room{room.width * static_cast<double>(share), std::min(height, room.height), room.text};
  };
  if (const auto series = drawing::series(build, at))
    return Pictured{drawing::bars(*series, beside(0.5f, room.height * (cell ? 1 : 0.75))), 0.5f};
  const auto positions = procedure::cells_of(build.plan->step(at.step), build.plan->entry(at)).positions;
  if (!cell && positions > 1) return std::nullopt; // not at work, and one figure would not tell of all
  const std::size_t position = position_of(build, at, cell);
  const double low = room.text * 9;
  if (!waits(build, at, cell))
    if (const auto profile = in_shown_unit(drawing::profile(build, at, position), build, at, position))
      return Pictured{drawing::profile_of(*profile, beside(0.5f, low)), 0.5f};
  if (const auto where = drawing::diameters(build, at, cell); where && cell)
    return Pictured{drawing::places(*where, beside(0.4f, low)), 0.4f};
  const auto asked = waits(build, at, cell) ? cell : std::nullopt;
  if (const auto face = in_shown_unit(drawing::face(build, at, position, asked), build, at, position))
    return Pictured{drawing::lines_on(*face, beside(0.4f, room.text * 11)), 0.4f};
  if (const auto heights = drawing::heights(build, at, position, asked))
    return Pictured{drawing::map(*heights, beside(0.5f, room.text * 13)), 0.5f};
  if (const auto crown = drawing::crown(build, at, position, asked))
    return Pictured{drawing::gaps_on(*crown, beside(0.6f, room.text * 15)), 0.6f};
  if (const auto depths = in_shown_unit(drawing::depths(build, at, asked), build, at, 0))
    return Pictured{drawing::depths_round(*depths, beside(0.4f, room.text * 13)), 0.4f};
  return std::nullopt;
}

std::optional<drawing::Figure> pictured_alone(const build::Build& build, build::EntryAt at, std::size_t position,
                                              const FigureRoom& room) {
  const drawing::Room here{std::min(room.width, room.text * 38), std::min(room.height, room.text * 12), room.text};
  if (const auto crown = drawing::crown(build, at, position, std::nullopt)) return drawing::gaps_on(*crown, here);
  if (const auto stack = drawing::stack(build, at, position))
    return drawing::layers(*stack, {std::min(room.width, room.text * 32), room.text * 7, room.text});
  return std::nullopt;
}

std::optional<drawing::Between> between(const build::Build& build, build::EntryAt at, std::size_t cell,
                                        const build::Applied& by, const quantity::Exact& value,
                                        const quantity::Exact& u, build::Standing standing) {
  if (!by.bounds || (!by.bounds->low && !by.bounds->high)) return std::nullopt;
  const auto& entry = build.plan->entry(at);
  const auto& unit = *by.limit->unit;
  drawing::Between out;
  if (by.bounds->low) out.low = by.bounds->low->to_double();
  if (by.bounds->high) out.high = by.bounds->high->to_double();
  if (by.bounds->low)
    out.low_text = by.bounds->high ? shown_number(*by.bounds->low, unit) : shown_length(*by.bounds->low, unit);
  if (by.bounds->high) out.high_text = shown_length(*by.bounds->high, unit);
  out.value = quantity::convert(value, *entry.unit, unit).to_double();
  out.u = quantity::convert_difference(u, *entry.unit, unit).to_double();
  const auto& found = build.entry(at).as_found;
  if (cell < found.size() && !found[cell].tries.empty())
    out.as_found = quantity::convert(found[cell].value, *entry.unit, unit).to_double();
  out.good = standing == build::Standing::within || standing == build::Standing::worn;
  return out;
}

} // namespace bench
