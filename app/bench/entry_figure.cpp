#include "bench/entry_figure.h"

#include "drawing/depths.h"
#include "drawing/diameters.h"
#include "drawing/face.h"
#include "drawing/profile.h"
#include "drawing/series.h"

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
    if (const auto profile = drawing::profile(build, at, position))
      return Pictured{drawing::profile_of(*profile, beside(0.5f, low)), 0.5f};
  if (const auto where = drawing::diameters(build, at, cell); where && cell)
    return Pictured{drawing::places(*where, beside(0.4f, low)), 0.4f};
  if (const auto face = drawing::face(build, at, position, waits(build, at, cell) ? cell : std::nullopt))
    return Pictured{drawing::lines_on(*face, beside(0.4f, room.text * 11)), 0.4f};
  if (const auto depths = drawing::depths(build, at, waits(build, at, cell) ? cell : std::nullopt))
    return Pictured{drawing::depths_round(*depths, beside(0.4f, room.text * 13)), 0.4f};
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
  if (by.bounds->low) out.low_text = by.bounds->low->text() + (by.bounds->high ? "" : fmt::format(" {}", unit.name));
  if (by.bounds->high) out.high_text = fmt::format("{} {}", by.bounds->high->text(), unit.name);
  out.value = quantity::convert(value, *entry.unit, unit).to_double();
  out.u = quantity::convert_difference(u, *entry.unit, unit).to_double();
  const auto& found = build.entry(at).as_found;
  if (cell < found.size() && !found[cell].tries.empty())
    out.as_found = quantity::convert(found[cell].value, *entry.unit, unit).to_double();
  out.good = standing == build::Standing::within || standing == build::Standing::worn;
  return out;
}

} // namespace bench
