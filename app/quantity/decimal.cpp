#include "quantity/decimal.h"

#include "quantity/quoted.h"

#include <algorithm>
#include <optional>

namespace quantity {

namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

Error bad(std::string message) {
  return {"bad-value", std::move(message)};
}

bool contains(std::string_view text, std::string_view part) {
  return text.find(part) != std::string_view::npos;
}

bool has_fraction(std::string_view text) {
  const auto slash = text.find('/');
  return slash != std::string_view::npos && slash > 0 && slash + 1 < text.size() && is_digit(text[slash - 1]) &&
         is_digit(text[slash + 1]);
}

std::string lower_case(std::string_view text) {
  std::string lower(text);
  for (char& c : lower) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return lower;
}

// Habits and slips in what is no number that deserve their own reason, before the character it stops at.
std::optional<Error> known_slip(std::string_view text) {
  const std::string shown = quoted(text);
  if (contains(text, "\u2212") || contains(text, "\u2013") || contains(text, "\u2014")) {
    return bad(shown + " has a long dash for a minus; type \"-\"");
  }
  if (contains(text, ",")) {
    return bad(shown + " has a comma; write the decimal point as a dot and put nothing between thousands");
  }
  if (has_fraction(text)) return bad(shown + " is a fraction; write it as a decimal");
  if (contains(text, " ") || contains(text, "\t")) return bad(shown + " has a space; write the number without one");
  std::string bare = lower_case(text);
  if (bare.front() == '+' || bare.front() == '-') bare.erase(0, 1);
  if (bare.empty()) return bad(shown + " is a sign without a number behind it");
  if (bare.starts_with("nan") || bare.starts_with("inf")) return bad(shown + " is no finite number; type digits");
  if (bare.starts_with("0x")) return bad(shown + " is hexadecimal; write the number in decimal digits");
  return std::nullopt;
}

// Stops with the reason at the first character that does not belong.
class Scan {
public:
  explicit Scan(std::string_view text) : text_(text) {}

  Result<Decimal> decimal() {
    if (at('-') || at('+')) read_.negative = text_[next_++] == '-';
    read_digits();
    if (at('.')) {
      ++next_;
      const std::size_t before = read_.digits.size();
      read_digits();
      read_.places = static_cast<long>(read_.digits.size() - before);
    }
    if (read_.digits.empty()) return no_digits();
    if (at('e') || at('E')) {
      if (auto error = read_exponent()) return *error;
    }
    if (next_ < text_.size()) return left_over();
    return read_;
  }

private:
  bool at(char c) const { return next_ < text_.size() && text_[next_] == c; }
  bool at_digit() const { return next_ < text_.size() && is_digit(text_[next_]); }
  std::string shown() const { return quoted(text_); }

  void read_digits() {
    while (at_digit()) read_.digits += text_[next_++];
  }

  std::optional<Error> read_exponent() {
    const std::size_t start = next_++;
    bool negative = false;
    if (at('-') || at('+')) negative = text_[next_++] == '-';
    if (next_ == text_.size()) return bad(shown() + " has an exponent without digits");
    if (!at_digit()) {
      next_ = start;
      return left_over();
    }
    for (; at_digit(); ++next_) read_.exponent = std::min(9999L, read_.exponent * 10 + (text_[next_] - '0'));
    if (negative) read_.exponent = -read_.exponent;
    read_.has_exponent = true;
    return std::nullopt;
  }

  Error no_digits() const {
    if (next_ > 0 && next_ == text_.size()) return bad(shown() + " is a dot without digits");
    if (at('-') || at('+')) return bad(shown() + " has two signs; type one");
    if (at('.')) return bad(shown() + " has two dots; type one");
    return bad(shown() + " is not a number; type digits");
  }

  Error left_over() const {
    if (at('.') && read_.has_exponent) return bad(shown() + " has a dot in its exponent; write a whole one");
    if (at('.')) return bad(shown() + " has two dots; type one");
    if (at('-') || at('+')) return bad(shown() + " has a sign inside; type one number, not a range or a sum");
    return bad(shown() + " has " + quoted(text_.substr(next_)) + " behind the number");
  }

  std::string_view text_;
  std::size_t next_ = 0;
  Decimal read_;
};

} // namespace

std::size_t Decimal::significant() const {
  const auto first = digits.find_first_not_of('0');
  return first == std::string::npos ? 0 : digits.size() - first;
}

Result<Decimal> read_decimal(std::string_view text) {
  if (text.empty()) return bad("no number stands here; type one");
  auto read = Scan(text).decimal();
  if (read) return read;
  if (auto slip = known_slip(text)) return *slip;
  return read;
}

} // namespace quantity
