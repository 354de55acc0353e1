#include "bench/lengths.h"

#include "build/limits.h"
#include "quantity/typed.h"

#include <fmt/format.h>

namespace bench {

using quantity::Exact;
using quantity::Unit;

namespace {

constexpr int places_of_an_inch = 5;
bool inches = false;

const Unit& inch() {
  static const Unit& its = *quantity::find_unit("in");
  return its;
}

} // namespace

void show_inches(bool on) {
  inches = on;
}

bool in_inches(const Unit& unit) {
  return inches && unit.name == "mm";
}

const Unit& shown_unit(const Unit& unit) {
  return in_inches(unit) ? inch() : unit;
}

std::string unit_words(const Unit& unit) {
  return in_inches(unit) ? "inches" : std::string(unit.name);
}

std::string shown_length(const Exact& value, const Unit& unit) {
  if (!in_inches(unit)) return quantity::text({value, &unit, std::nullopt});
  return fmt::format("{} {}", shown_number(value, unit), inch().name);
}

std::string shown_number(const Exact& value, const Unit& unit) {
  return in_inches(unit) ? quantity::convert(value, unit, inch()).fixed(places_of_an_inch) : value.text();
}

std::string shown_number(const Exact& value, const Unit& unit, int places) {
  return in_inches(unit) ? shown_number(value, unit) : value.fixed(places);
}

std::string shown_bounds(const calc::Bounds& bounds, const Unit& unit) {
  if (!in_inches(unit)) return build::text(bounds, unit);
  const auto end = [&](const Exact& value) { return shown_number(value, unit); };
  if (bounds.low && bounds.high) return fmt::format("{} to {} {}", end(*bounds.low), end(*bounds.high), inch().name);
  if (bounds.high) return fmt::format("up to {} {}", end(*bounds.high), inch().name);
  if (bounds.low) return fmt::format("{} {} or more", end(*bounds.low), inch().name);
  return build::text(bounds, unit);
}

std::string as_meant(const std::string& typed, const Unit& unit) {
  if (!in_inches(unit)) return typed;
  const auto first = typed.find_first_not_of(" \t");
  if (first == std::string::npos) return typed;
  const std::string number = typed.substr(first, typed.find_last_not_of(" \t") + 1 - first);
  return Exact::decimal(number) ? fmt::format("{} {}", number, inch().name) : typed;
}

} // namespace bench
