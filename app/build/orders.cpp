#include "build/orders.h"

#include "build/fitting.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

namespace {

template <typename Is>
std::optional<Away> first_away(const Build& build, Is is) {
  for (const auto& order : build.orders)
    for (const auto& line : order.lines)
      if (line.away() && is(line)) return Away{&order, &line};
  return std::nullopt;
}

bool concerns(const Build& build, std::size_t step, const Sent& line) {
  if (fits_there(build, step, line.part, line.position)) return true;
  for (std::size_t e = 0; e < build.plan->step(step).entries.size(); ++e)
    if (!tells_of(build, {step, e}, line.part, line.position).empty()) return true;
  return false;
}

Blocker blocker(const Build& build, const Away& away, std::string step) {
  return {"part-away", fmt::format("{}: enter it as back first.", away_text(build, away)), "", std::move(step)};
}

} // namespace

const Order* find_order(const Build& build, std::string_view id) {
  const auto it =
      std::find_if(build.orders.begin(), build.orders.end(), [&](const Order& one) { return one.id == id; });
  return it == build.orders.end() ? nullptr : &*it;
}

std::optional<Away> away_at(const Build& build, std::string_view part, std::string_view position) {
  return first_away(build, [&](const Sent& line) {
    return line.part == part && (line.position == position || line.position.empty() || position.empty());
  });
}

std::optional<Away> away_of(const Build& build, std::size_t step) {
  return first_away(build, [&](const Sent& line) { return concerns(build, step, line); });
}

std::optional<Away> away_of(const Build& build, EntryAt at, const std::set<std::size_t>& positions) {
  return first_away(build, [&](const Sent& line) {
    const auto its = tells_of(build, at, line.part, line.position);
    return std::any_of(its.begin(), its.end(), [&](std::size_t p) { return positions.count(p) > 0; });
  });
}

std::string away_text(const Build& build, const Away& away) {
  const auto& lines = away.order->lines;
  std::set<std::pair<std::string, std::string>> others; // a part may be sent for two kinds of work
  for (const auto& line : lines)
    if (line.away() && (line.part != away.line->part || line.position != away.line->position))
      others.insert({line.part, line.position});
  const std::string name = part_text(build, away.line->part, away.line->position);
  const std::string parts = others.empty() ? name + " is" : fmt::format("{} and {} more are", name, others.size());
  return fmt::format("{} at {} ({})", parts, away.order->to, away.order->id);
}

void add_away_blockers(const Build& build, std::size_t step, std::vector<Blocker>& out) {
  for (const auto& order : build.orders) {
    const auto line = std::find_if(order.lines.begin(), order.lines.end(),
                                   [&](const Sent& one) { return one.away() && concerns(build, step, one); });
    if (line != order.lines.end()) out.push_back(blocker(build, {&order, &*line}, build.plan->step(step).id));
  }
}

void add_away_blockers_of_release(const Build& build, std::vector<Blocker>& out) {
  for (const auto& order : build.orders) {
    const auto line = std::find_if(order.lines.begin(), order.lines.end(), [](const Sent& one) { return one.away(); });
    const std::string of_order = fmt::format(" ({})", order.id);
    const bool told = std::any_of(out.begin(), out.end(), [&](const Blocker& it) {
      return it.code == "part-away" && it.message.find(of_order) != std::string::npos;
    });
    if (line != order.lines.end() && !told) out.push_back(blocker(build, {&order, &*line}, ""));
  }
}

} // namespace build
