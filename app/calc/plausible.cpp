#include "calc/plausible.h"

#include "calc/combine.h"
#include "quantity/decimal.h"
#include "quantity/typed.h"

#include <fmt/format.h>

#include <algorithm>

namespace calc {

namespace {

using quantity::Error;
using quantity::Quantity;
using quantity::Result;
using quantity::Unit;

struct Printed {
  Quantity quantity;
  Exact half_digit; // half of its last printed digit
  int places = 0;   // behind the dot
};

Exact ten_to(long exponent) {
  Exact power = 1;
  for (long i = 0; i < exponent; ++i) power = power * Exact(10);
  for (long i = 0; i > exponent; --i) power = power / Exact(10);
  return power;
}

Result<Printed> read(std::string_view text) {
  const Result<Quantity> quantity = quantity::parse_with_unit(text);
  if (!quantity) return quantity.error();
  const auto start = text.find_first_not_of(" \t");
  const auto end = text.find_first_not_of("+-.0123456789eE", start);
  const quantity::Decimal number = quantity::read_decimal(text.substr(start, end - start)).value();
  const long last = number.places - number.exponent;
  return Printed{*quantity, ten_to(-last) / Exact(2), static_cast<int>(std::max(last, 0L))};
}

Result<Quantity> read_in(std::string_view text, std::string_view unit) {
  const Result<Quantity> quantity = quantity::parse_with_unit(text);
  if (!quantity) return quantity.error();
  return quantity::in_unit(*quantity, *quantity::find_unit(unit));
}

std::string text_of(const Printed& printed) {
  return fmt::format("{} {}", printed.quantity.value.fixed(printed.places), printed.quantity.unit->name);
}

// What `expected` would be with two digits more than `printed` has.
std::string shown_beside(const Exact& expected, const Printed& printed) {
  return fmt::format("{} {}", expected.fixed(printed.places + 2), printed.quantity.unit->name);
}

Error implausible(std::string message) {
  return {"implausible", std::move(message)};
}

// `factor` times the first is the second, but for rounding; `error` says it when not.
template <typename Message>
Result<void> follows(std::string_view cause, std::string_view effect, const Exact& factor, const Message& message) {
  const Result<Printed> one = read(cause);
  if (!one) return one.error();
  const Result<Printed> other = read(effect);
  if (!other) return other.error();
  const Unit& unit = *other->quantity.unit;
  const Result<Quantity> converted = quantity::in_unit(one->quantity, unit);
  if (!converted) return converted.error();
  const Exact expected = converted->value * factor;
  const Exact from_one = quantity::convert_difference(one->half_digit, *one->quantity.unit, unit) * factor;
  if ((expected - other->quantity.value).abs() <= quantity::max(from_one, other->half_digit)) return {};
  return implausible(message(text_of(*one), shown_beside(expected, *other), text_of(*other)));
}

} // namespace

Result<void> one_quantity(std::string_view printed, std::string_view beside) {
  return follows(printed, beside, 1, [](const auto& one, const auto& expected, const auto& other) {
    return fmt::format("{} is {}, not {}: one of the two is a misprint", one, expected, other);
  });
}

Result<void> stress_area_follows(std::string_view diameter, std::string_view pitch, std::string_view area) {
  const Result<Quantity> across = read_in(diameter, "mm");
  if (!across) return across.error();
  const Result<Quantity> along = read_in(pitch, "mm");
  if (!along) return along.error();
  const Result<Quantity> printed = read_in(area, "mm2");
  if (!printed) return printed.error();
  const Exact mean_diameter = across->value - along->value * Exact::ratio(938'194'187, 1'000'000'000);
  if (mean_diameter.sign() <= 0)
    return implausible(fmt::format("a pitch of {} leaves nothing of a diameter of {}", pitch, diameter));
  const Exact expected = times_pi(mean_diameter * mean_diameter / Exact(4));
  if ((expected - printed->value).abs() <= expected * Exact::ratio(6, 1000)) return {};
  return implausible(fmt::format("{} with a pitch of {} has a stress area of {} mm2, not {}", diameter, pitch,
                                 expected.fixed(2), area));
}

Result<void> gap_change_follows(std::string_view bore_change, std::string_view gap_change) {
  return follows(bore_change, gap_change, times_pi(1), [](const auto& bore, const auto& expected, const auto& gap) {
    return fmt::format("{} on the bore changes the gap by {}, not {}", bore, expected, gap);
  });
}

Result<void> low_to_high(std::string_view low, std::string_view high) {
  const Result<Printed> least = read(low);
  if (!least) return least.error();
  const Result<Printed> most = read(high);
  if (!most) return most.error();
  const Result<Quantity> converted = quantity::in_unit(least->quantity, *most->quantity.unit);
  if (!converted) return converted.error();
  if (converted->value <= most->quantity.value) return {};
  return implausible(fmt::format("the lower limit {} is above the upper limit {}", text_of(*least), text_of(*most)));
}

} // namespace calc
