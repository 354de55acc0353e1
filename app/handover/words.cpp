#include "handover/words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

namespace handover {

using build::Exact;
using build::Standing;

namespace {

int places_of(const std::string& number) {
  const auto dot = number.find('.');
  return dot == std::string::npos ? 0 : static_cast<int>(number.size() - dot - 1);
}

// Places behind the dot for so many digits of a value.
int places_for(double value, int digits) {
  if (value == 0) return 0;
  return std::clamp(digits - 1 - static_cast<int>(std::floor(std::log10(std::fabs(value)))), 0, 9);
}

bool beyond(const Exact& value, const build::Bounds& bounds) {
  return (bounds.low && value < *bounds.low) || (bounds.high && value > *bounds.high);
}

} // namespace

std::string shown(const Exact& value, const Exact& u, const std::optional<build::Bounds>& bounds) {
  std::string whole = value.text();
  int places = u.sign() > 0 ? places_for(u.to_double(), 2) : places_for(value.to_double(), 5);
  if (places_of(whole) <= places) return whole;
  std::string out = value.fixed(places);
  while (bounds && places < places_of(whole) && beyond(*Exact::decimal(out), *bounds) != beyond(value, *bounds))
    out = value.fixed(++places);
  return out;
}

std::string shown_u(const Exact& u) {
  const std::string whole = u.text();
  const int places = places_for(u.to_double(), 2);
  return places_of(whole) <= places ? whole : u.fixed(places);
}

std::string remark(const build::Judged& judged) {
  switch (judged.standing) {
  case Standing::empty:
  case Standing::recorded:
  case Standing::within: return "";
  case Standing::worn: return judged.used_again ? "within, worn: used again" : "within, worn";
  case Standing::undecided:
    return judged.accepted   ? "undecided: accepted at the limit"
           : judged.conceded ? "undecided: concession"
                             : "undecided";
  case Standing::outside: return judged.conceded ? "outside: concession" : "outside";
  case Standing::limit_missing:
  case Standing::option_unset: break;
  }
  return std::string(build::name_of(judged.standing));
}

std::string unit_name(const build::Unit& unit) {
  return unit.dimension == quantity::Dimension::number && unit.name == "1" ? "" : std::string(unit.name);
}

std::string with_unit(const std::string& number, const build::Unit& unit) {
  const std::string name = unit_name(unit);
  return name.empty() ? number : number + " " + name;
}

std::string readable(std::string_view text) {
  std::string out;
  std::size_t places = 0;
  bool behind_dot = false;
  for (const char c : text) {
    const bool digit = std::isdigit(static_cast<unsigned char>(c)) != 0;
    if (c == '.') {
      behind_dot = !out.empty() && std::isdigit(static_cast<unsigned char>(out.back())) != 0;
      places = 0;
    } else if (!digit) {
      behind_dot = false;
    }
    if (behind_dot && digit && ++places > 6) continue;
    out.push_back(c == '_' ? ' ' : c);
  }
  return out;
}

std::string place_name(const build::Build& build, build::EntryAt at, std::size_t place) {
  const auto& step = build.plan->step(at.step);
  const auto& entry = build.plan->entry(at);
  const auto& state = build.entry(at);
  if (!state.cells.empty()) return procedure::name_of_cell(step, entry, place);
  if (!state.fasteners.empty()) return place < entry.fasteners.size() ? entry.fasteners[place].id : "";
  if (entry.over_all) return "";
  return place < step.positions.size() ? step.positions[place] : "";
}

std::string of_entry(const build::Build& build, build::EntryAt at) {
  return fmt::format("{}: {}", build.plan->step(at.step).title, build.plan->entry(at).title);
}

} // namespace handover
