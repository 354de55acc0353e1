// What the characters of a decimal say, read front to back without arithmetic; the one place that knows why a text is
// no number. Exact turns it into a value and sets the limits.
#pragma once

#include "quantity/result.h"

#include <string>
#include <string_view>

namespace quantity {

struct Decimal {
  bool negative = false;
  bool has_exponent = false;
  std::string digits; // dot left out, at least one
  long places = 0;    // of them behind the dot
  long exponent = 0;  // held at +/-9999, far out of every range

  std::size_t significant() const; // digits behind the leading zeros
};

// Optional sign, digits with at most one dot (".5" and "5." are good), optional exponent; nothing before or behind.
// Errors: "bad-value" with the reason.
Result<Decimal> read_decimal(std::string_view text);

} // namespace quantity
