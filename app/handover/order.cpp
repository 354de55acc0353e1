#include "handover/order.h"

#include "build/findings.h"
#include "build/fitting.h"
#include "handover/values.h"
#include "handover/words.h"

#include <fmt/format.h>

#include <algorithm>

namespace handover {

namespace {

using build::Cell;
using build::EntryAt;
using build::Exact;

constexpr std::size_t most_points = 24; // of one reading that are written down one by one

// Point by point, the columns of a row together: "top: in line 78.091, across 78.064; bottom: in line 78.052, ...". Of
// several positions each has its line, with its name before it.
std::string points_text(const Build& build, EntryAt at, const std::vector<Cell>& cells,
                        const std::vector<std::size_t>& read, int places) {
  const auto& step = build.plan->step(at.step);
  const auto& entry = build.plan->entry(at);
  const auto shape = procedure::cells_of(step, entry);
  const auto position_of = [&](std::size_t c) { return c / shape.per_position(); };
  const bool several = position_of(read.front()) != position_of(read.back());
  std::string out;
  for (std::size_t i = 0; i < read.size(); ++i) {
    const std::size_t c = read[i];
    const bool another = i == 0 || position_of(c) != position_of(read[i - 1]);
    const bool row_begins = another || entry.columns.empty() || c / shape.columns != read[i - 1] / shape.columns;
    if (i > 0) out += several && another ? "\n" : row_begins ? "; " : ", ";
    if (several && another) out += step.positions[position_of(c)] + "  ";
    if (row_begins && !entry.rows.empty())
      out += entry.rows[c % shape.per_position() / shape.columns] + (entry.columns.empty() ? " " : ": ");
    if (!entry.columns.empty()) out += entry.columns[c % shape.columns] + " ";
    out += cells[c].value.fixed(places);
  }
  return out;
}

struct Reading {
  std::string line, points;
};

// The points of an entry at these positions in one line, and one by one.
std::optional<Reading> reading_of(const Build& build, EntryAt at, const std::vector<Cell>& cells,
                                  const std::set<std::size_t>& positions, std::string_view when) {
  const auto& entry = build.plan->entry(at);
  const std::size_t per = procedure::cells_of(build.plan->step(at.step), entry).per_position();
  std::vector<std::size_t> read;
  int places = 0;
  for (std::size_t c = 0; c < cells.size(); ++c) {
    if (!positions.count(c / per) || !cells[c].filled() || cells[c].skipped) continue;
    read.push_back(c);
    places = std::max(places, places_of(shown(cells[c].value, cells[c].u, std::nullopt)));
  }
  if (read.empty()) return std::nullopt;
  Exact low = cells[read.front()].value, high = low, sum;
  for (const std::size_t c : read) {
    const Exact& value = cells[c].value;
    low = value < low ? value : low;
    high = quantity::max(high, value);
    sum += value;
  }
  const std::string what = when.empty() ? entry.title : fmt::format("{}, {}", entry.title, when);
  if (read.size() == 1) return Reading{fmt::format("{}: {}", what, with_unit(low.fixed(places), *entry.unit)), ""};
  const Exact mean = sum / Exact(static_cast<long long>(read.size()));
  return Reading{fmt::format("{}: {} to {}, mean {}", what, low.fixed(places),
                             with_unit(high.fixed(places), *entry.unit), mean.fixed(places)),
                 read.size() > most_points ? "" : points_text(build, at, cells, read, places)};
}

void measured_there(const Build& build, const build::Sent& line, PlaceOrdered& out) {
  for (const EntryAt at : build.plan->entries_of_part(line.part)) {
    const auto positions = build::tells_of(build, at, line.part, line.position);
    const auto& state = build.entry(at);
    if (positions.empty() || build::entry_on(build, at) == build::Holds::no) continue;
    const bool both = !state.as_found.empty();
    for (const auto& reading : {reading_of(build, at, state.as_found, positions, "as found"),
                                reading_of(build, at, state.cells, positions, both ? "now" : "")}) {
      if (!reading) continue;
      out.measured.push_back(reading->line);
      out.points.push_back(reading->points);
    }
  }
}

PlaceOrdered place_of(const Build& build, const build::Sent& line) {
  PlaceOrdered out;
  out.name = line.position;
  out.sizes = line.sizes;
  out.remark = line.text;
  measured_there(build, line, out);
  for (const auto& id : line.findings) {
    const auto* finding = build::find_finding(build, id);
    if (!finding) continue;
    std::string text = finding->text;
    for (const auto& more : {finding->place, finding->value})
      if (!more.empty()) text += ", " + more;
    out.found.push_back(fmt::format("{} ({})", text, id));
  }
  return out;
}

} // namespace

OrderSheet order_sheet_of(const Build& build, const Shop& shop, const build::Order& order) {
  OrderSheet out;
  out.head.draft = false;
  out.head.practice = build.practice;
  out.head.build = build.id;
  out.head.shop = shop.name;
  out.head.engine = build.serial.empty() ? build.model : build.model + ", " + build.serial;
  out.head.procedure_notice = build.plan->procedure().notice;
  out.head.written_at = calc::offset_text(order.sent);
  out.title = fmt::format("Order {} to the machine shop", order.id);
  const std::string from = shop.address.empty() ? shop.name : shop.name + ", " + shop.address;
  out.facts = {
      {"To", order.to},
      {"From", from},
      {"Sent", fmt::format("{} by {}", calc::text(calc::local_date(order.sent)), order.sent_name)},
      {"Engine", build.serial.empty() ? build.model : fmt::format("{}, number {}", build.model, build.serial)}};
  if (!order.text.empty()) out.facts.push_back({"Remark", order.text});
  for (const auto& line : order.lines) {
    const std::string title = fmt::format("{}: {}", build::part_text(build, line.part, ""), line.work);
    if (out.works.empty() || out.works.back().title != title || out.works.back().finish != line.finish)
      out.works.push_back({title, line.finish, {}});
    out.works.back().places.push_back(place_of(build, line));
  }
  return out;
}

} // namespace handover
