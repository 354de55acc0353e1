// Exact rational numbers, so that sums, means, unit factors and comparisons never flip on binary rounding.
// A value is immutable and cheap to copy. GMP does the arithmetic and stays behind the .cpp.
#pragma once

#include "quantity/result.h"

#include <compare>
#include <initializer_list>
#include <memory>
#include <string>
#include <string_view>

namespace quantity {

class Exact {
public:
  Exact() = default; // zero
  Exact(long long whole);
  Exact(int whole) : Exact(static_cast<long long>(whole)) {}
  Exact(long whole) : Exact(static_cast<long long>(whole)) {}
  static Exact ratio(long long numerator, long long denominator); // denominator != 0, else std::domain_error

  // A decimal: optional sign, digits with at most one dot (".5" and "5." are good), optional exponent. At most 40
  // characters, 30 significant digits (leading zeros not counted), exponent -12..12. No blanks: parse_typed trims.
  // Errors say what is wrong with the text (code "bad-value").
  static Result<Exact> decimal(std::string_view text);

  // Reads back what text() wrote, which may be longer than a person may type: no exponent, at most 400 characters.
  static Result<Exact> written(std::string_view text);

  // A double rounded to 12 significant digits: the way every result through pi, a root or trigonometry comes back.
  // Throws std::domain_error when not finite: a computation must have refused before.
  static Exact rounded(double value);

  Exact operator+(const Exact& other) const;
  Exact operator-(const Exact& other) const;
  Exact operator*(const Exact& other) const;
  Exact operator/(const Exact& other) const; // std::domain_error on zero
  Exact operator-() const;
  Exact& operator+=(const Exact& other) { return *this = *this + other; }

  bool operator==(const Exact& other) const;
  std::strong_ordering operator<=>(const Exact& other) const;

  int sign() const;
  Exact abs() const { return sign() < 0 ? -*this : *this; }
  bool is_whole() const;
  Exact floor() const;
  double to_double() const; // the nearest double

  // Plain decimal text without exponent. A value that ends within 30 significant digits is written whole;
  // any other is rounded to 12 significant digits, a half away from zero.
  std::string text() const;
  // Rounded half away from zero to this many places after the dot, trailing zeros kept, no sign on a zero: for
  // showing, never for judging. std::domain_error when places < 0.
  std::string fixed(int places) const;

private:
  struct Number;
  explicit Exact(std::shared_ptr<const Number> number) : number_(std::move(number)) {}
  static Exact of(Number number);
  static const Number& number_of(const Exact& value);
  std::shared_ptr<const Number> number_; // null: zero
};

// sqrt(a^2 + b^2 + ...), rounded to 12 significant digits; std::domain_error beyond the range of a double.
Exact root_sum_of_squares(std::initializer_list<Exact> parts);

inline Exact min(const Exact& a, const Exact& b) {
  return b < a ? b : a;
}
inline Exact max(const Exact& a, const Exact& b) {
  return a < b ? b : a;
}

} // namespace quantity
