#include "quantity/exact.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <random>

using quantity::Exact;

namespace {

Exact dec(std::string_view text) {
  return Exact::decimal(text).value();
}

std::string reason(std::string_view text) {
  const auto read = Exact::decimal(text);
  REQUIRE_FALSE(read.ok());
  CHECK(read.error().code == "bad-value");
  return read.error().message;
}

bool says(const std::string& message, const std::string& part) {
  return message.find(part) != std::string::npos;
}

// Small fractions with a known numerator and denominator, the same on every run.
struct Fraction {
  long long numerator, denominator;
  Exact exact() const { return Exact::ratio(numerator, denominator); }
};

class Fractions {
public:
  Fraction next() { return {top_(engine_), bottom_(engine_)}; }

private:
  std::mt19937 engine_{20240501};
  std::uniform_int_distribution<long long> top_{-100000, 100000};
  std::uniform_int_distribution<long long> bottom_{1, 10000};
};

// A decimal in its plain form: no needless zeros, no exponent; at most `digits` digits.
std::string random_plain_decimal(std::mt19937& engine, int digits) {
  std::uniform_int_distribution<int> digit(0, 9), count(1, digits);
  std::string text;
  for (int i = count(engine); i > 0; --i) text += static_cast<char>('0' + digit(engine));
  const auto places = std::uniform_int_distribution<std::size_t>(0, text.size())(engine);
  std::string whole = text.substr(0, text.size() - places), behind = text.substr(text.size() - places);
  whole.erase(0, whole.find_first_not_of('0'));
  while (!behind.empty() && behind.back() == '0') behind.pop_back();
  if (whole.empty()) whole = "0";
  text = behind.empty() ? whole : whole + "." + behind;
  return text != "0" && engine() % 2 == 0 ? "-" + text : text;
}

} // namespace

TEST_CASE("sums and means do not flip on binary rounding") {
  CHECK(dec("0.1") + dec("0.2") == dec("0.3"));
  CHECK((dec("0.66") + dec("0.70")) / 2 == dec("0.68"));
  CHECK_FALSE((dec("0.66") + dec("0.70")) / 2 < dec("0.68"));
  CHECK(dec("1.10") - dec("1.00") == dec("0.1"));
  CHECK(dec("61.962") - dec("61.900") == dec("0.062"));
}

TEST_CASE("inches and millimetres compare at the last digit") {
  // 1 in = 25.4 mm exactly, so 2.4395 in is 61.9633 mm and not a hair less.
  const Exact in_mm = dec("2.4395") * dec("25.4");
  CHECK(in_mm == dec("61.9633"));
  CHECK(in_mm < dec("61.96330000001"));
  CHECK(in_mm > dec("61.96329999999"));
  CHECK(in_mm.text() == "61.9633");
}

TEST_CASE("fractions obey the laws of arithmetic") {
  Fractions fractions;
  for (int i = 0; i < 500; ++i) {
    const Exact a = fractions.next().exact(), b = fractions.next().exact(), c = fractions.next().exact();
    REQUIRE(a + b == b + a);
    REQUIRE((a + b) + c == a + (b + c));
    REQUIRE(a * b == b * a);
    REQUIRE((a * b) * c == a * (b * c));
    REQUIRE(a * (b + c) == a * b + a * c);
    REQUIRE(a - a == Exact());
    REQUIRE(a + (-b) == a - b);
    REQUIRE(a + Exact() == a);
    REQUIRE(a * 1 == a);
    if (b.sign() != 0) REQUIRE(a / b * b == a);
  }
}

TEST_CASE("order is that of the cross products") {
  Fractions fractions;
  for (int i = 0; i < 2000; ++i) {
    const Fraction a = fractions.next(), b = fractions.next();
    const long long left = a.numerator * b.denominator, right = b.numerator * a.denominator;
    REQUIRE((a.exact() < b.exact()) == (left < right));
    REQUIRE((a.exact() == b.exact()) == (left == right));
    REQUIRE((a.exact() > b.exact()) == (left > right));
    REQUIRE(quantity::min(a.exact(), b.exact()) == (left < right ? a : b).exact());
    REQUIRE(quantity::max(a.exact(), b.exact()) == (left < right ? b : a).exact());
  }
}

TEST_CASE("sign, size and floor follow the numerator") {
  Fractions fractions;
  for (int i = 0; i < 1000; ++i) {
    const Fraction f = fractions.next();
    const Exact value = f.exact();
    REQUIRE(value.sign() == (f.numerator > 0) - (f.numerator < 0));
    REQUIRE(value.abs() == Exact::ratio(std::abs(f.numerator), f.denominator));
    REQUIRE(value.is_whole() == (f.numerator % f.denominator == 0));
    const Exact floor = value.floor();
    REQUIRE(floor.is_whole());
    REQUIRE(floor <= value);
    REQUIRE(value < floor + 1);
  }
}

TEST_CASE("equal values are equal however they came about") {
  CHECK(Exact() == Exact(0));
  CHECK(Exact() == dec("-0.000"));
  CHECK(dec("-0").sign() == 0);
  CHECK(dec("0.50") == Exact::ratio(-3, -6));
  CHECK(dec("1e3") == Exact(1000));
  Exact sum;
  sum += dec("0.05");
  sum += dec("0.05");
  CHECK(sum == dec("0.1"));
  CHECK(Exact(std::numeric_limits<long long>::min()).text() == "-9223372036854775808");
}

TEST_CASE("division by zero is a programming error") {
  CHECK_THROWS_AS(Exact(1) / Exact(), std::domain_error);
  CHECK_THROWS_AS(Exact::ratio(1, 0), std::domain_error);
}

TEST_CASE("plain decimals come back letter by letter") {
  std::mt19937 engine(7);
  for (int i = 0; i < 2000; ++i) {
    const std::string text = random_plain_decimal(engine, 30);
    REQUIRE(dec(text).text() == text);
    REQUIRE(Exact::written(text).value() == dec(text));
  }
}

TEST_CASE("numbers on both sides of 64 bits come back and are worked with alike") {
  for (const std::string text :
       {"9223372036854775807", "9223372036854775808", "18446744073709551615", "18446744073709551616",
        "1844674407370955161.5", "1844674407370955161.6", "-18446744073709551615.5", "0.0000000000000000001",
        "0.00000000000000000001", "-0.9999999999999999999", "1000000000000000000.1", "0.18446744073709551616",
        "99999999999999999999", "4611686018427387904.25"}) {
    INFO(text);
    const Exact value = Exact::written(text).value();
    CHECK(value.text() == text);
    CHECK((value * Exact(1LL << 62) * Exact(1LL << 62) / Exact(1LL << 62) / Exact(1LL << 62)).text() == text);
    CHECK(-(-value) == value);
    CHECK((value + dec("0.5") - dec("0.5")) == value);
  }
}

TEST_CASE("numbers a person may type") {
  CHECK(dec("+5") == Exact(5));
  CHECK(dec(".5") == Exact::ratio(1, 2));
  CHECK(dec("5.") == Exact(5));
  CHECK(dec("-.05") == Exact::ratio(-1, 20));
  CHECK(dec("007") == Exact(7));
  CHECK(dec("11.5e-6") == Exact::ratio(115, 10000000));
  CHECK(dec("2E+05") == Exact(200000));
  CHECK(dec("1e12").text() == "1000000000000");
  CHECK(dec("1e-12").text() == "0.000000000001");
  CHECK(dec("0.00000000000000000000000000000000000001").sign() == 1); // 40 characters, one significant digit
  CHECK(dec("123456789012345678901234567890").text() == "123456789012345678901234567890");
}

TEST_CASE("what is no number is refused with its own reason") {
  CHECK(reason("") == "no number stands here; type one");
  CHECK(reason("1,5") == "\"1,5\" has a comma; write the decimal point as a dot and put nothing between thousands");
  CHECK(says(reason("1,234.5"), "comma"));
  CHECK(reason("1.2.3") == "\"1.2.3\" has two dots; type one");
  CHECK(reason("..5") == "\"..5\" has two dots; type one");
  CHECK(reason("5abc") == "\"5abc\" has \"abc\" behind the number");
  CHECK(reason("abc") == "\"abc\" is not a number; type digits");
  CHECK(reason("e5") == "\"e5\" is not a number; type digits");
  for (const auto* text : {"nan", "NaN", "inf", "-inf", "+Infinity"}) CHECK(says(reason(text), "no finite number"));
  for (const auto* text : {"0x1F", "-0X2", "0x"}) CHECK(says(reason(text), "hexadecimal"));
  for (const auto* text : {"+", "-"}) CHECK(says(reason(text), "a sign without a number"));
  for (const auto* text : {".", "-.", "+."}) CHECK(says(reason(text), "a dot without digits"));
  CHECK(reason("--5") == "\"--5\" has two signs; type one");
  CHECK(says(reason("0.020-0.062"), "not a range or a sum"));
  CHECK(reason("1/64") == "\"1/64\" is a fraction; write it as a decimal");
  CHECK(reason("2 1/64") == "\"2 1/64\" is a fraction; write it as a decimal");
  for (const auto* text : {" 5", "5 ", "1 000", "\t5"}) CHECK(says(reason(text), "has a space"));
  CHECK(says(reason("\u22125"), "type \"-\"")); // minus sign
  CHECK(says(reason("\u20135"), "type \"-\"")); // en dash
  for (const auto* text : {"5e", "5e-"}) CHECK(says(reason(text), "exponent without digits"));
  CHECK(says(reason("5e1.5"), "dot in its exponent"));
  CHECK(reason("5ex") == "\"5ex\" has \"ex\" behind the number");
  CHECK(reason("5/") == "\"5/\" has \"/\" behind the number");
  CHECK(says(reason(std::string_view("5\0", 2)), "behind the number"));
}

TEST_CASE("numbers beyond the limits are refused") {
  CHECK(reason("1e13") == "the exponent of \"1e13\" is out of range; it goes from -12 to 12");
  CHECK(says(reason("1e-13"), "out of range"));
  CHECK(says(reason("1e99999999999999999999"), "out of range"));
  CHECK(says(reason("1234567890123456789012345678901"), "31 significant digits"));
  CHECK(says(reason("1.000000000000000000000000000000"), "31 significant digits"));
  CHECK(says(reason("0.000000000000000000000000000000000000001"), "41 characters"));
  const std::string long_text(100000, '9');
  CHECK(says(reason(long_text), "100000 characters"));
  CHECK(reason(long_text).size() < 160);
}

TEST_CASE("a refusal shows no control character and cuts no letter in two") {
  CHECK(reason("5\x1b[2J") == "\"5?[2J\" has \"?[2J\" behind the number");
  std::string micro = "5";
  for (int i = 0; i < 60; ++i) micro += "\u00B5";
  CHECK(says(reason(micro), "\u00B5...\"")); // 48 bytes would end inside a two-byte letter
}

TEST_CASE("values that never end are written to 12 significant digits, a half away from zero") {
  CHECK(Exact::ratio(1, 3).text() == "0.333333333333");
  CHECK(Exact::ratio(2, 3).text() == "0.666666666667");
  CHECK(Exact::ratio(-2, 3).text() == "-0.666666666667");
  CHECK(Exact::ratio(200, 3).text() == "66.6666666667");
  CHECK(Exact::ratio(1, 3000000).text() == "0.000000333333333333");
  CHECK((Exact::ratio(1, 3) * dec("1e12") * 1000).text() == "333333333333000");
  CHECK((Exact(1) - Exact::ratio(1, 3) * dec("1e-12") * dec("0.001")).text() == "1");
  CHECK((Exact(10) - Exact::ratio(1, 3) * dec("1e-12")).text() == "10");
  // 31 significant digits end, but beyond the 30 that are written whole: ...2345 rounds up, away from zero.
  const Exact tail = dec("1e-12") * dec("1e-12") * dec("1e-6");
  CHECK((dec("1.234567890125") + tail).text() == "1.23456789013");
  CHECK((dec("-1.234567890125") - tail).text() == "-1.23456789013");
  CHECK((dec("1.234567890125") - tail).text() == "1.23456789012");
}

TEST_CASE("a value ends within 30 digits or is rounded, on the very digit") {
  const Exact step = dec("1e-12") * dec("1e-12") * dec("1e-5"); // 10^-29
  CHECK((Exact(1) + step).text() == "1.00000000000000000000000000001");
  CHECK((Exact(1) + step / 10).text() == "1");
  CHECK((Exact(1) / 1024).text() == "0.0009765625");
  CHECK((dec("1e12") * dec("1e12") * dec("1e12")).text() == "1" + std::string(36, '0'));
}

TEST_CASE("whatever text() writes can be read back") {
  Fractions fractions;
  for (int i = 0; i < 500; ++i) {
    const Exact value = fractions.next().exact() * dec(i % 2 == 0 ? "1e12" : "1e-12");
    const Exact back = Exact::written(value.text()).value();
    REQUIRE(back.text() == value.text());
    REQUIRE((back - value).abs() <= value.abs() * dec("5e-12"));
  }
  const Exact huge = dec("123456789012345678901234567890e12") * dec("1e12");
  CHECK(Exact::written(huge.text()).value() == huge);
  CHECK(Exact::written((Exact(1) / huge).text()).ok());
}

TEST_CASE("a written number holds no exponent and no endless digits") {
  CHECK_FALSE(Exact::written("1e3").ok());
  CHECK_FALSE(Exact::written("").ok());
  CHECK_FALSE(Exact::written("1,5").ok());
  CHECK(Exact::written(std::string(400, '9')).ok());
  CHECK_FALSE(Exact::written(std::string(401, '9')).ok());
}

TEST_CASE("shown with fixed places, rounded half away from zero") {
  CHECK(dec("61.962").fixed(4) == "61.9620");
  CHECK(dec("0.0605").fixed(3) == "0.061");
  CHECK(dec("-0.0605").fixed(3) == "-0.061");
  CHECK(dec("0.06049999").fixed(3) == "0.060");
  CHECK(dec("-0.0004").fixed(3) == "0.000");
  CHECK(dec("2.5").fixed(0) == "3");
  CHECK(dec("99.96").fixed(1) == "100.0");
  CHECK(Exact().fixed(2) == "0.00");
  CHECK(Exact::ratio(1, 3).fixed(15) == "0.333333333333333");
  CHECK_THROWS_AS(Exact(1).fixed(-1), std::domain_error);
}

TEST_CASE("decimals and doubles meet at the nearest double") {
  // The compiler's own reading of a literal is the outside check.
  CHECK(dec("0.1").to_double() == 0.1);
  CHECK(dec("61.9633").to_double() == 61.9633);
  CHECK(dec("-2.4395").to_double() == -2.4395);
  CHECK(dec("11.5e-6").to_double() == 11.5e-6);
  CHECK(dec("123456789012345678901234567890").to_double() == 123456789012345678901234567890.0);
  CHECK(Exact::ratio(1, 3).to_double() == 1.0 / 3.0);
  CHECK(Exact::ratio(9007199254740993, 1).to_double() == 9007199254740992.0); // a tie goes to even
  CHECK((Exact(9007199254740993) + dec("1e-12")).to_double() == 9007199254740994.0);
  std::mt19937 engine(11);
  for (int i = 0; i < 2000; ++i) {
    const std::string text = random_plain_decimal(engine, 25);
    REQUIRE(dec(text).to_double() == std::stod(text));
  }
}

TEST_CASE("a double comes back with 12 significant digits") {
  CHECK(Exact::rounded(0.1) == dec("0.1"));
  CHECK(Exact::rounded(std::acos(-1.0)) == dec("3.14159265359")); // pi = 3.14159265358979...
  CHECK(Exact::rounded(-1.0 / 3.0) == dec("-0.333333333333"));
  CHECK(Exact::rounded(0.0) == Exact());
  CHECK(Exact::rounded(1e20) == dec("1e12") * dec("1e8"));
  CHECK(Exact::rounded(1.5e-20) == dec("1.5e-12") * dec("1e-8"));
  CHECK(Exact::rounded(999999999999.9) == dec("1e12"));
  CHECK_THROWS_AS(Exact::rounded(std::nan("")), std::domain_error);
  CHECK_THROWS_AS(Exact::rounded(HUGE_VAL), std::domain_error);
}

TEST_CASE("a root sum of squares settles on what a person expects") {
  CHECK(quantity::root_sum_of_squares({dec("0.003"), dec("0.004")}) == dec("0.005"));
  CHECK(quantity::root_sum_of_squares({dec("-5"), dec("12")}) == Exact(13));
  CHECK(quantity::root_sum_of_squares({}) == Exact());
  CHECK(quantity::root_sum_of_squares({1, 1}) == dec("1.41421356237"));    // sqrt 2 = 1.41421356237309...
  CHECK(quantity::root_sum_of_squares({1, 1, 1}) == dec("1.73205080757")); // sqrt 3 = 1.73205080756887...
}
