#include "quantity/unit.h"

#include <algorithm>
#include <stdexcept>
#include <utility>

namespace quantity {

namespace {

Exact exact(std::string_view decimal) {
  return Exact::decimal(decimal).value();
}

std::vector<Unit> make_units() {
  using enum Dimension;
  const Exact inch = exact("25.4");                          // mm, SP 811 B.8: exact
  const Exact gravity = exact("9.80665");                    // m/s2, SP 811 B.8: exact
  const Exact pound = exact("453.59237");                    // g, SP 811 B.8: exact
  const Exact lbf = exact("4.4482216152605");                // N: pound times gravity
  const Exact foot = exact("0.3048");                        // m
  const Exact psi = lbf / (inch * inch);                     // N/mm2
  const Exact fahrenheit = Exact::ratio(5, 9);               // K
  const Exact pi = exact("3.14159265358979323846264338328"); // 30 digits; a conversion through it keeps 12
  const auto thousandth = Exact::ratio(1, 1000);
  return {
      {"mm", length, 1, 0},
      {"um", length, thousandth, 0},
      {"m", length, 1000, 0},
      {"in", length, inch, 0},
      {"thou", length, inch * thousandth, 0},
      {"mm2", area, 1, 0},
      {"in2", area, inch * inch, 0},
      {"mm3", volume, 1, 0},
      {"cm3", volume, 1000, 0},
      {"ml", volume, 1000, 0},
      {"l", volume, 1000000, 0},
      {"N.m", torque, 1, 0},
      {"kgf.m", torque, gravity, 0},
      {"kgf.cm", torque, gravity / Exact(100), 0},
      {"lbf.ft", torque, lbf * foot, 0},
      {"lbf.in", torque, lbf * inch * thousandth, 0},
      {"N", force, 1, 0},
      {"kN", force, 1000, 0},
      {"kgf", force, gravity, 0},
      {"lbf", force, lbf, 0},
      {"MPa", pressure, 1, 0},
      {"GPa", pressure, 1000, 0},
      {"kPa", pressure, thousandth, 0},
      {"bar", pressure, Exact::ratio(1, 10), 0},
      {"kgf/cm2", pressure, gravity / Exact(100), 0},
      {"psi", pressure, psi, 0},
      {"g", mass, 1, 0},
      {"kg", mass, 1000, 0},
      {"oz", mass, pound / Exact(16), 0},
      {"lb", mass, pound, 0},
      {"deg", angle, 1, 0},
      {"rad", angle, Exact(180) / pi, 0, true},
      {"N/mm", stiffness, 1, 0},
      {"m/s", speed, 1, 0},
      {"rpm", rotation, 1, 0},
      {"degC", temperature, 1, exact("273.15")},
      {"degF", temperature, fahrenheit, exact("459.67") * fahrenheit},
      {"K", temperature, 1, 0},
      {"1/K", expansion, 1, 0},
      {"s", time, 1, 0},
      {"min", time, 60, 0},
      {"h", time, 3600, 0},
      {"1", number, 1, 0},
  };
}

// What a person types for a unit, beside its name. "kg" for a force is not among them, and "kg/cm2" can only mean kgf.
struct Alias {
  std::string_view typed, name;
};
constexpr Alias aliases[] = {
    {"\u00B5m", "um"}, // micro sign
    {"\u03BCm", "um"}, // Greek letter
    {"inch", "in"},
    {"\"", "in"},
    {"mm\u00B2", "mm2"},
    {"mm^2", "mm2"},
    {"in\u00B2", "in2"},
    {"in^2", "in2"},
    {"mm\u00B3", "mm3"},
    {"mm^3", "mm3"},
    {"cc", "cm3"},
    {"cm\u00B3", "cm3"},
    {"cm^3", "cm3"},
    {"mL", "ml"},
    {"L", "l"},
    {"Nm", "N.m"},
    {"N m", "N.m"},
    {"N\u00B7m", "N.m"}, // middle dot
    {"N\u22C5m", "N.m"}, // multiplication dot
    {"kgf\u00B7m", "kgf.m"},
    {"kgf-m", "kgf.m"},
    {"kgf\u00B7cm", "kgf.cm"},
    {"kgf-cm", "kgf.cm"},
    {"ft-lb", "lbf.ft"},
    {"lb-ft", "lbf.ft"},
    {"ft lb", "lbf.ft"},
    {"lb ft", "lbf.ft"},
    {"ft.lb", "lbf.ft"},
    {"lb.ft", "lbf.ft"},
    {"ft-lbf", "lbf.ft"},
    {"lbf-ft", "lbf.ft"},
    {"lbf ft", "lbf.ft"},
    {"ft.lbf", "lbf.ft"},
    {"lbf\u00B7ft", "lbf.ft"},
    {"in-lb", "lbf.in"},
    {"lb-in", "lbf.in"},
    {"in lb", "lbf.in"},
    {"lb in", "lbf.in"},
    {"in.lb", "lbf.in"},
    {"lb.in", "lbf.in"},
    {"in-lbf", "lbf.in"},
    {"lbf-in", "lbf.in"},
    {"lbf in", "lbf.in"},
    {"in.lbf", "lbf.in"},
    {"lbf\u00B7in", "lbf.in"},
    {"N/mm2", "MPa"},
    {"N/mm\u00B2", "MPa"},
    {"kgf/cm\u00B2", "kgf/cm2"},
    {"kg/cm2", "kgf/cm2"},
    {"kg/cm\u00B2", "kgf/cm2"},
    {"lbf/in2", "psi"},
    {"lb/in2", "psi"},
    {"\u00B0", "deg"},
    {"r/min", "rpm"},
    {"1/min", "rpm"},
    {"\u00B0C", "degC"},
    {"\u2103", "degC"},
    {"\u00B0F", "degF"},
    {"\u2109", "degF"},
    {"/K", "1/K"},
    {"1/degC", "1/K"},
    {"1/\u00B0C", "1/K"},
    {"/\u00B0C", "1/K"},
};

const Unit* named(std::string_view name) {
  const auto& units = all_units();
  const auto found = std::find_if(units.begin(), units.end(), [&](const Unit& unit) { return unit.name == name; });
  return found == units.end() ? nullptr : &*found;
}

void demand_same_dimension(const Unit& from, const Unit& to) {
  if (!same_dimension(from, to)) throw std::invalid_argument("a conversion between two dimensions was not refused");
}

Exact settled(const Exact& value, const Unit& from, const Unit& to) {
  return from.through_pi || to.through_pi ? Exact::rounded(value.to_double()) : value;
}

} // namespace

std::string_view name_of(Dimension dimension) {
  switch (dimension) {
  case Dimension::number: return "a plain number";
  case Dimension::length: return "a length";
  case Dimension::area: return "an area";
  case Dimension::volume: return "a volume";
  case Dimension::torque: return "a torque";
  case Dimension::force: return "a force";
  case Dimension::pressure: return "a pressure";
  case Dimension::mass: return "a mass";
  case Dimension::angle: return "an angle";
  case Dimension::stiffness: return "a stiffness";
  case Dimension::speed: return "a speed";
  case Dimension::rotation: return "a rotational speed";
  case Dimension::temperature: return "a temperature";
  case Dimension::expansion: return "a thermal expansion";
  case Dimension::time: return "a time";
  }
  throw std::invalid_argument("an unknown dimension");
}

const std::vector<Unit>& all_units() {
  static const std::vector<Unit> units = make_units();
  return units;
}

const Unit* find_unit(std::string_view name) {
  if (const Unit* unit = named(name)) return unit;
  const auto* alias = std::find_if(std::begin(aliases), std::end(aliases),
                                   [&](const Alias& candidate) { return candidate.typed == name; });
  return alias == std::end(aliases) ? nullptr : named(alias->name);
}

bool same_dimension(const Unit& a, const Unit& b) {
  return a.dimension == b.dimension;
}

Exact convert(const Exact& value, const Unit& from, const Unit& to) {
  demand_same_dimension(from, to);
  if (&from == &to) return value;
  return settled((value * from.factor + from.offset - to.offset) / to.factor, from, to);
}

Exact convert_difference(const Exact& value, const Unit& from, const Unit& to) {
  demand_same_dimension(from, to);
  if (&from == &to) return value;
  return settled(value * from.factor / to.factor, from, to);
}

} // namespace quantity
