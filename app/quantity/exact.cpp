#include "quantity/exact.h"

#include "quantity/decimal.h"
#include "quantity/quoted.h"

#include <algorithm>
#include <array>
#include <bit>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <fmt/format.h>
#include <gmpxx.h>
#include <limits>
#include <numeric>
#include <optional>
#include <stdexcept>

namespace quantity {

struct Exact::Number {
  mpq_class value;
};

namespace {

constexpr std::size_t most_characters = 40;
constexpr std::size_t most_written_characters = 400;
constexpr std::size_t most_digits = 30;
constexpr int largest_exponent = 12;
constexpr int rounded_digits = 12;
constexpr std::size_t exact_bits = std::numeric_limits<double>::digits; // whole numbers a double holds

Error bad(std::string message) {
  return {"bad-value", std::move(message)};
}

// Nearly all numbers at a bench are this small, numerator and denominator each. Without GMP they are written in a fifth
// of the instructions and read in three fifths.
using Small = std::uint64_t;
constexpr std::size_t most_small_digits = std::numeric_limits<Small>::digits10;
constexpr auto small_powers_of_ten = [] {
  std::array<Small, most_small_digits + 1> powers{1};
  for (std::size_t i = 1; i < powers.size(); ++i) powers[i] = 10 * powers[i - 1];
  return powers;
}();
static_assert(sizeof(unsigned long) == sizeof(Small)); // what GMP takes and gives

std::optional<Small> small(const mpz_class& whole) {
  if (!whole.fits_ulong_p()) return std::nullopt;
  return whole.get_ui();
}

mpz_class power_of_ten(unsigned long exponent) {
  mpz_class power;
  mpz_ui_pow_ui(power.get_mpz_t(), 10, exponent);
  return power;
}

mpq_class scaled_by_ten(const mpz_class& digits, long exponent) {
  mpq_class value = exponent >= 0 ? mpq_class(digits * power_of_ten(static_cast<unsigned long>(exponent)))
                                  : mpq_class(digits, power_of_ten(static_cast<unsigned long>(-exponent)));
  value.canonicalize();
  return value;
}

std::optional<mpq_class> small_value_of(const Decimal& decimal) {
  const long places = decimal.places - decimal.exponent;
  if (decimal.digits.size() > most_small_digits || places < 0 || places > static_cast<long>(most_small_digits))
    return std::nullopt;
  Small numerator = 0;
  for (const char digit : decimal.digits) numerator = 10 * numerator + static_cast<Small>(digit - '0');
  Small denominator = small_powers_of_ten[static_cast<std::size_t>(places)];
  const Small common = std::gcd(numerator, denominator);
  mpq_class value(mpz_class(numerator / common), mpz_class(denominator / common));
  if (decimal.negative) value = -value;
  return value;
}

mpq_class value_of(const Decimal& decimal) {
  if (auto value = small_value_of(decimal)) return *std::move(value);
  const mpz_class digits(decimal.digits, 10);
  return scaled_by_ten(decimal.negative ? mpz_class(-digits) : digits, decimal.exponent - decimal.places);
}

// The integer nearest to numerator / denominator, neither of them negative; a half goes up.
mpz_class nearest(const mpz_class& numerator, const mpz_class& denominator) {
  return (2 * numerator + denominator) / (2 * denominator);
}

// Digits with the dot put in so that `places` of them stand behind it.
std::string with_dot(std::string digits, std::size_t places) {
  if (digits.size() <= places) digits.insert(0, places + 1 - digits.size(), '0');
  if (places > 0) digits.insert(digits.size() - places, 1, '.');
  return digits;
}

std::string with_sign(bool negative, std::string digits) {
  if (negative) digits.insert(digits.begin(), '-');
  return digits;
}

std::string without_trailing_zeros(std::string text) {
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

std::optional<std::string> small_whole_text(Small numerator, Small denominator) {
  Small rest = denominator;
  const auto twos = static_cast<std::size_t>(std::countr_zero(rest));
  rest >>= twos;
  std::size_t fives = 0;
  for (; rest % 5 == 0; rest /= 5) ++fives;
  const std::size_t places = std::max(twos, fives);
  Small digits = 0;
  if (rest != 1 || places > most_small_digits ||
      __builtin_mul_overflow(numerator, small_powers_of_ten[places] / denominator, &digits))
    return std::nullopt;
  return with_dot(std::to_string(digits), places);
}

// Places behind the dot of a fraction in lowest terms, none when its decimals never end.
std::optional<std::size_t> ending_places(const mpz_class& denominator) {
  const mpz_class two(2), five(5);
  mpz_class rest;
  const std::size_t twos = mpz_remove(rest.get_mpz_t(), denominator.get_mpz_t(), two.get_mpz_t());
  const std::size_t fives = mpz_remove(rest.get_mpz_t(), rest.get_mpz_t(), five.get_mpz_t());
  if (rest != 1) return std::nullopt;
  return std::max(twos, fives);
}

// A positive value in full, none when that takes more than 30 significant digits.
std::optional<std::string> whole_text(const mpq_class& value) {
  const auto numerator = small(value.get_num());
  const auto denominator = small(value.get_den());
  if (numerator && denominator)
    if (auto text = small_whole_text(*numerator, *denominator)) return text;
  const auto places = ending_places(value.get_den());
  if (!places) return std::nullopt;
  std::string digits = mpz_class(value.get_num() * power_of_ten(*places) / value.get_den()).get_str();
  if (digits.find_last_not_of('0') + 1 > most_digits) return std::nullopt;
  return with_dot(std::move(digits), *places);
}

// A positive value rounded half up to 12 significant digits.
std::string rounded_text(const mpq_class& value) {
  const auto digits_in = [](const mpz_class& whole) { return static_cast<long>(whole.get_str().size()); };
  long exponent = digits_in(value.get_num()) - digits_in(value.get_den()); // of the first digit, or one too high
  if (value < scaled_by_ten(1, exponent)) --exponent;
  const long places = rounded_digits - 1 - exponent;
  const mpq_class scaled = value * scaled_by_ten(1, places);
  std::string digits = nearest(scaled.get_num(), scaled.get_den()).get_str();
  if (places <= 0) return digits + std::string(static_cast<std::size_t>(-places), '0');
  return without_trailing_zeros(with_dot(std::move(digits), static_cast<std::size_t>(places)));
}

} // namespace

Exact Exact::of(Number number) {
  return Exact(std::make_shared<const Number>(std::move(number)));
}

const Exact::Number& Exact::number_of(const Exact& value) {
  static const Number zero;
  return value.number_ ? *value.number_ : zero;
}

Exact::Exact(long long whole) {
  if (whole != 0) number_ = std::make_shared<const Number>(Number{mpq_class(std::to_string(whole))});
}

Exact Exact::ratio(long long numerator, long long denominator) {
  return Exact(numerator) / Exact(denominator);
}

Result<Exact> Exact::decimal(std::string_view text) {
  if (text.size() > most_characters) {
    return bad(
        fmt::format("{} has {} characters; a number has at most {}", quoted(text), text.size(), most_characters));
  }
  const Result<Decimal> read = read_decimal(text);
  if (!read) return read.error();
  if (read->significant() > most_digits) {
    return bad(fmt::format("{} has {} significant digits; a number has at most {}", quoted(text), read->significant(),
                           most_digits));
  }
  if (std::abs(read->exponent) > largest_exponent) {
    return bad(fmt::format("the exponent of {} is out of range; it goes from -{} to {}", quoted(text), largest_exponent,
                           largest_exponent));
  }
  return of({value_of(*read)});
}

Result<Exact> Exact::written(std::string_view text) {
  if (text.size() > most_written_characters) {
    return bad(fmt::format("{} has {} characters; a written number has at most {}", quoted(text), text.size(),
                           most_written_characters));
  }
  const Result<Decimal> read = read_decimal(text);
  if (!read) return read.error();
  if (read->has_exponent) return bad(quoted(text) + " has an exponent; a written number has none");
  return of({value_of(*read)});
}

Exact Exact::rounded(double value) {
  if (!std::isfinite(value)) throw std::domain_error("a result that is not finite was not refused");
  std::array<char, 32> buffer{};
  const auto written = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::scientific,
                                     rounded_digits - 1);
  return of({value_of(read_decimal(std::string_view(buffer.data(), written.ptr)).value())});
}

Exact Exact::operator+(const Exact& other) const {
  return of({number_of(*this).value + number_of(other).value});
}
Exact Exact::operator-(const Exact& other) const {
  return of({number_of(*this).value - number_of(other).value});
}
Exact Exact::operator*(const Exact& other) const {
  return of({number_of(*this).value * number_of(other).value});
}
Exact Exact::operator/(const Exact& other) const {
  if (other.sign() == 0) throw std::domain_error("division by zero");
  return of({number_of(*this).value / number_of(other).value});
}
Exact Exact::operator-() const {
  return of({-number_of(*this).value});
}

bool Exact::operator==(const Exact& other) const {
  return number_of(*this).value == number_of(other).value;
}

std::strong_ordering Exact::operator<=>(const Exact& other) const {
  return cmp(number_of(*this).value, number_of(other).value) <=> 0;
}

int Exact::sign() const {
  return sgn(number_of(*this).value);
}

bool Exact::is_whole() const {
  return number_of(*this).value.get_den() == 1;
}

Exact Exact::floor() const {
  const mpq_class& value = number_of(*this).value;
  mpz_class whole;
  mpz_fdiv_q(whole.get_mpz_t(), value.get_num_mpz_t(), value.get_den_mpz_t());
  return of({mpq_class(whole)});
}

// GMP's own conversion cuts off, so that 1/10 would not become 0.1. Here the quotient is taken to more bits than a
// double holds, its last bit stands for everything cut off, and the conversion of that integer rounds to nearest.
double Exact::to_double() const {
  const mpq_class& value = number_of(*this).value;
  if (sgn(value) == 0) return 0;
  if (mpz_sizeinbase(value.get_num_mpz_t(), 2) <= exact_bits && mpz_sizeinbase(value.get_den_mpz_t(), 2) <= exact_bits)
    return value.get_num().get_d() / value.get_den().get_d(); // both exact, so that their quotient is the nearest
  mpz_class numerator = ::abs(value.get_num());
  mpz_class denominator = value.get_den();
  const long bits = static_cast<long>(mpz_sizeinbase(numerator.get_mpz_t(), 2)) -
                    static_cast<long>(mpz_sizeinbase(denominator.get_mpz_t(), 2));
  const long shift = 62 - bits; // gives the quotient 62 or 63 bits
  if (shift >= 0)
    numerator <<= static_cast<unsigned long>(shift);
  else
    denominator <<= static_cast<unsigned long>(-shift);
  mpz_class quotient = numerator / denominator;
  if (quotient * denominator != numerator) mpz_setbit(quotient.get_mpz_t(), 0);
  const auto magnitude = static_cast<double>(std::stoull(quotient.get_str()));
  return std::copysign(std::ldexp(magnitude, static_cast<int>(-shift)), sgn(value));
}

std::string Exact::text() const {
  const mpq_class& value = number_of(*this).value;
  if (sgn(value) == 0) return "0";
  const mpq_class magnitude = ::abs(value);
  const auto whole = whole_text(magnitude);
  return with_sign(sgn(value) < 0, whole ? *whole : rounded_text(magnitude));
}

std::string Exact::fixed(int places) const {
  if (places < 0) throw std::domain_error("a number of places cannot be negative");
  const mpq_class& value = number_of(*this).value;
  const auto behind = static_cast<unsigned long>(places);
  const mpz_class rounded = nearest(::abs(value.get_num()) * power_of_ten(behind), value.get_den());
  return with_sign(sgn(value) < 0 && rounded != 0, with_dot(rounded.get_str(), behind));
}

Exact root_sum_of_squares(std::initializer_list<Exact> parts) {
  Exact sum;
  for (const Exact& part : parts) sum += part * part;
  return Exact::rounded(std::sqrt(sum.to_double()));
}

} // namespace quantity
