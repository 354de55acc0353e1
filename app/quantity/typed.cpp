#include "quantity/typed.h"

#include "quantity/quoted.h"

#include <fmt/format.h>

namespace quantity {

namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") + 1 - first);
}

// Characters up to here belong to the number, well formed or not: Exact::decimal tells what is wrong with them.
std::size_t end_of_number(std::string_view text) {
  std::size_t end = 0;
  const auto at = [&](std::size_t i) { return i < text.size() ? text[i] : '\0'; };
  while (is_digit(at(end)) || at(end) == '.' || at(end) == ',' || at(end) == '+' || at(end) == '-') ++end;
  if (end == 0 || (at(end) != 'e' && at(end) != 'E')) return end;
  std::size_t exponent = end + 1;
  if (at(exponent) == '+' || at(exponent) == '-') ++exponent;
  if (!is_digit(at(exponent))) return end;
  while (is_digit(at(exponent)) || at(exponent) == '.' || at(exponent) == ',') ++exponent;
  return exponent;
}

// Does what stands behind a number look like more of it: a second number, a range, a fraction?
bool continues_number(std::string_view rest) {
  if (rest.empty()) return false;
  const bool dash = rest.starts_with("\u2013") || rest.starts_with("\u2212");
  return dash || is_digit(rest[0]) || rest[0] == '+' || rest[0] == '-' || rest[0] == '/';
}

struct Split {
  std::string_view number, unit; // unit: empty when a number stands alone
};

// A text whose number does not end where its unit begins is left whole, for Exact::decimal to refuse.
Split split(std::string_view typed) {
  const std::string_view text = trimmed(typed);
  const std::size_t end = end_of_number(text);
  if (end == 0) return {text, {}};
  const std::string_view rest = trimmed(text.substr(end));
  const bool hexadecimal = text[end - 1] == '0' && (text.substr(end, 1) == "x" || text.substr(end, 1) == "X");
  const bool goes_on = continues_number(rest);
  const bool is_unit = rest != "1" && find_unit(rest) != nullptr; // "1/K" begins with a digit too
  if (hexadecimal || (goes_on && !is_unit)) return {text, {}};
  return {text.substr(0, end), rest};
}

// The units of a dimension as one would list them: "MPa, GPa, kPa, bar, kgf/cm2 or psi".
std::string units_of(Dimension dimension) {
  std::vector<std::string_view> names;
  for (const Unit& unit : all_units()) {
    if (unit.dimension == dimension) names.push_back(unit.name);
  }
  std::string list(names.front());
  for (std::size_t i = 1; i < names.size(); ++i) {
    list += i + 1 == names.size() ? " or " : ", ";
    list += names[i];
  }
  return list;
}

Error unknown_unit(std::string_view unit, const Unit& expected) {
  if (expected.dimension == Dimension::number) {
    return {"bad-unit", fmt::format("the unit {} is not known; here a plain number is wanted", quoted(unit))};
  }
  return {"bad-unit", fmt::format("the unit {} is not known; {} is written in {}", quoted(unit),
                                  name_of(expected.dimension), units_of(expected.dimension))};
}

} // namespace

Result<Quantity> parse_typed(std::string_view text, const Unit& expected) {
  const Split typed = split(text);
  const Result<Exact> value = Exact::decimal(typed.number);
  if (!value) return value.error();
  if (typed.unit.empty()) return Quantity{*value, &expected, std::nullopt};
  const Unit* unit = find_unit(typed.unit);
  if (!unit) return unknown_unit(typed.unit, expected);
  if (!same_dimension(*unit, expected)) return wrong_dimension(typed.unit, *unit, expected);
  return Quantity{*value, unit, std::nullopt};
}

Result<Quantity> parse_with_unit(std::string_view text) {
  const Split typed = split(text);
  const Result<Exact> value = Exact::decimal(typed.number);
  if (!value) return value.error();
  if (typed.unit.empty()) {
    return Error{"bad-unit",
                 fmt::format("{} has no unit; write it behind the number, as in \"61.962 mm\"", quoted(typed.number))};
  }
  const Unit* unit = find_unit(typed.unit);
  if (!unit) {
    return Error{"bad-unit",
                 fmt::format("the unit {} is not known; write one such as mm, N.m or kPa", quoted(typed.unit))};
  }
  return Quantity{*value, unit, std::nullopt};
}

} // namespace quantity
