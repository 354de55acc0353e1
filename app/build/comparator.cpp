#include "build/comparator.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

namespace {

int places_of(const Exact& value) {
  const std::string text = value.text();
  const auto dot = text.find('.');
  return dot == std::string::npos ? 0 : static_cast<int>(text.size() - dot - 1);
}

bool holds(const std::vector<Cell>& cells, int set) {
  return !cells_of_set(cells, set).empty();
}

} // namespace

std::vector<std::size_t> cells_of_set(const std::vector<Cell>& cells, int set) {
  std::vector<std::size_t> out;
  for (std::size_t c = 0; c < cells.size(); ++c)
    if (std::any_of(cells[c].tries.begin(), cells[c].tries.end(),
                    [&](const Try& one) { return one.set == set && !one.set_aside; }))
      out.push_back(c);
  return out;
}

const ComparatorSet* open_set(const EntryState& entry, int but) {
  for (std::size_t s = entry.sets.size(); s-- > 0;) {
    const int number = static_cast<int>(s) + 1;
    if (entry.sets[s].drift || number == but) continue;
    if (holds(entry.cells, number) || holds(entry.as_found, number) || holds(entry.second_look, number))
      return &entry.sets[s];
  }
  return nullptr;
}

int number_of(const EntryState& entry, const ComparatorSet& set) {
  return static_cast<int>(&set - entry.sets.data()) + 1;
}

bool only_in_second_look(const EntryState& entry, int set) {
  return holds(entry.second_look, set) && !holds(entry.cells, set) && !holds(entry.as_found, set);
}

std::string size_text(const ComparatorSet& set) {
  return set.at.fixed(std::max(places_of(set.at), places_of(set.division)));
}

std::string setting_text(const ComparatorSet& set, const Unit& unit) {
  return fmt::format("{} {}{}", size_text(set), unit.name, set.with.empty() ? "" : " on " + set.with);
}

std::string signed_text(const Exact& drift) {
  return (drift.sign() > 0 ? "+" : "") + drift.text();
}

std::vector<std::string> how_read(const EntryState& entry, const Try& one) {
  std::vector<std::string> out;
  if (one.set > 0) {
    const ComparatorSet& set = entry.sets.at(static_cast<std::size_t>(one.set) - 1);
    out.push_back(fmt::format("set at {}{}, {}", size_text(set), set.with.empty() ? "" : " on " + set.with,
                              set.drift ? "back at zero: " + signed_text(*set.drift) : "not yet put back"));
  }
  if (one.warmth)
    out.push_back(
        fmt::format("at {} degC, taken to 20 degC{}", one.warmth->part_at.text(),
                    one.warmth->gauge_assumed ? "" : fmt::format(" (gauge at {} degC)", one.warmth->gauge_at.text())));
  return out;
}

bool beyond_a_dial(const Exact& shown, const Exact& set_at) {
  return shown.abs() * 10 > set_at;
}

} // namespace build
