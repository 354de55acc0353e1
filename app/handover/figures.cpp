#include "handover/figures.h"

#include "drawing/between.h"
#include "drawing/depths.h"
#include "drawing/face.h"
#include "drawing/heights.h"
#include "drawing/profile.h"
#include "drawing/rings.h"
#include "drawing/series.h"
#include "drawing/stack.h"
#include "drawing/train.h"
#include "handover/values.h"
#include "handover/words.h"

#include <fmt/format.h>

#include <algorithm>

namespace handover {

using build::Build;
using build::EntryAt;
using procedure::EntryKind;

namespace {

constexpr double letters = 2.4;  // mm
constexpr double half_page = 80; // two in a row
constexpr double third_of_page = 52;
constexpr double between_two = 4;
constexpr std::size_t planes_of_a_profile = 3; // of two, or without limits, the numbers say as much

using Figures = std::vector<OnPage>;

std::size_t positions_of(const Build& build, EntryAt at) {
  return procedure::cells_of(build.plan->step(at.step), build.plan->entry(at)).positions;
}

std::string position_name(const Build& build, EntryAt at, std::size_t position) {
  const auto& positions = build.plan->step(at.step).positions;
  return position < positions.size() ? positions[position] : "";
}

bool any_filled(const Build& build, EntryAt at, std::size_t position) {
  const auto& cells = build.entry(at).cells;
  const auto each = procedure::cells_of(build.plan->step(at.step), build.plan->entry(at)).per_position();
  for (std::size_t c = position * each; c < (position + 1) * each && c < cells.size(); ++c)
    if (!cells[c].tries.empty()) return true;
  return false;
}

void of_readings(const Build& build, EntryAt at, std::size_t position, Figures& out) {
  const auto add = [&](drawing::Figure figure) {
    out.push_back({position_name(build, at, position), std::move(figure)});
  };
  if (const auto profile = drawing::profile(build, at, position)) {
    const auto planes = profile->planes.size();
    if (planes >= planes_of_a_profile && (profile->low || profile->high))
      add(drawing::profile_of(*profile, {half_page, letters * 1.3 * (static_cast<double>(planes) + 2.2), letters}));
  } else if (const auto face = drawing::face(build, at, position, std::nullopt)) {
    add(drawing::lines_on(*face, {third_of_page, 27, letters}));
  } else if (const auto heights = drawing::heights(build, at, position, std::nullopt)) {
    if (heights->high) add(drawing::map(*heights, {half_page, 44, letters}));
  } else if (const auto crown = drawing::crown(build, at, position, std::nullopt)) {
    add(drawing::gaps_on(*crown, {half_page, 36, letters}));
  } else if (positions_of(build, at) == 1) {
    if (const auto depths = drawing::depths(build, at, std::nullopt))
      add(drawing::depths_round(*depths, {third_of_page, 34, letters}));
  }
}

// Not plainly within: where the value stands is worth more than its number.
void between_limits(const Build& build, EntryAt at, Figures& out) {
  for (const auto& value : values_of(build, at)) {
    if (value.left_out || !value.by.bounds || remark(value.judged).empty()) continue;
    const auto& [low, high] = *value.by.bounds;
    if ((!low && !high) || (low && high && *low == *high)) continue;
    const int places = places_of(*value.by.limit);
    const auto& unit = *value.by.limit->unit;
    drawing::Between between;
    if (low) between.low = low->to_double(), between.low_text = low->fixed(places);
    if (high) between.high = high->to_double(), between.high_text = high->fixed(places);
    between.value = value.in_limit_unit().to_double();
    between.u = value.u_in_limit_unit().to_double();
    if (const auto found = build::Exact::written(value.as_found))
      between.as_found = quantity::convert(*found, *value.unit, unit).to_double();
    between.good = !value.judged.blocks();
    out.push_back(
        {fmt::format("{}{}{}, {}", value.where, value.where.empty() ? "" : ": ", value.number(), remark(value.judged)),
         drawing::band(between, {half_page, 8, letters})});
  }
}

// At the last choice of the step that has them as its figure, when each of its choices is good.
bool marks_together(const Build& build, EntryAt at) {
  const auto& step = build.plan->step(at.step);
  if (step.figure != "gear-train" || build.plan->procedure().gear_train.empty()) return false;
  std::optional<std::size_t> last;
  for (std::size_t e = 0; e < step.entries.size(); ++e) {
    if (step.entries[e].kind != EntryKind::choice || build::entry_on(build, {at.step, e}) == build::Holds::no) continue;
    const auto& state = build.entry({at.step, e});
    if (!state.done || state.judged.blocks() || state.asked) return false;
    last = e;
  }
  return last == at.entry;
}

} // namespace

std::vector<OnPage> figures_of(const Build& build, EntryAt at) {
  const auto& entry = build.plan->entry(at);
  Figures out;
  switch (entry.kind) {
  case EntryKind::reading:
  case EntryKind::readings:
    if (const auto series = drawing::series(build, at)) {
      out.push_back({"", drawing::bars(*series, {half_page * 1.4, 34, letters})});
      break;
    }
    if (entry.kind == EntryKind::reading) {
      between_limits(build, at, out);
      break;
    }
    for (std::size_t p = 0; p < positions_of(build, at); ++p)
      if (any_filled(build, at, p)) of_readings(build, at, p, out);
    break;
  case EntryKind::calculated:
    for (std::size_t p = 0; p < build.entry(at).calculated.size(); ++p)
      if (const auto stack = drawing::stack(build, at, p))
        out.push_back({build.entry(at).calculated.size() > 1 ? position_name(build, at, p) : "",
                       drawing::layers(*stack, {half_page, 16, letters})});
    break;
  case EntryKind::confirm:
  case EntryKind::choice:
    if (marks_together(build, at)) {
      const auto train = drawing::train_of(build.plan->procedure());
      out.push_back({drawing::words_of(train, 0), drawing::gears(train, 0, {half_page, 46, letters})});
    }
    if (const auto crown = drawing::crown(build, at, 0, std::nullopt);
        crown && build.entry(at).done && !build.entry(at).judged.blocks())
      out.push_back({"", drawing::gaps_on(*crown, {half_page * 1.2, 36, letters})});
    break;
  default: break;
  }
  return out;
}

namespace {

double title_room(const OnPage& one) {
  return one.title.empty() ? 0 : small_text * 1.4;
}

// How many from `first` on stand in one row.
std::size_t row_from(const std::vector<OnPage>& list, std::size_t first, double room) {
  double wide = 0;
  std::size_t last = first;
  while (last < list.size() && (last == first || wide + list[last].figure.width <= room))
    wide += list[last++].figure.width + between_two;
  return last;
}

double tallest(const std::vector<OnPage>& list, std::size_t first, std::size_t last) {
  double tall = 0;
  for (std::size_t i = first; i < last; ++i) tall = std::max(tall, title_room(list[i]) + list[i].figure.height);
  return tall;
}

} // namespace

double first_row(const std::vector<OnPage>& list) {
  return list.empty() ? 0 : tallest(list, 0, row_from(list, 0, text_width));
}

void put_figures(Flow& flow, const std::vector<OnPage>& list, double indent) {
  for (std::size_t first = 0; first < list.size();) {
    const std::size_t last = row_from(list, first, text_width - indent);
    const double tall = tallest(list, first, last);
    flow.room_for(tall + 2);
    double x = margin + indent;
    for (std::size_t i = first; i < last; ++i) {
      const auto& its = list[i];
      if (!its.title.empty())
        flow.paper().paragraph(x, flow.y(), its.figure.width, its.title, small_text, Weight::strong);
      flow.paper().figure(its.figure, x, flow.y() + title_room(its), its.figure.width, its.figure.height);
      x += its.figure.width + between_two;
    }
    flow.down(tall + 2);
    first = last;
  }
}

} // namespace handover
