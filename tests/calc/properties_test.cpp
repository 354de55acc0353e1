// What must hold for any input, tried on many drawn with a fixed seed.
#include "calc/judging.h"

#include "calculating.h"

#include <fmt/format.h>

#include <random>

using namespace calculating;
using calc::Exact;

namespace {

// Decimals as a person writes them, kept as whole numbers of their last digit.
class Draw {
public:
  long long whole(long long low, long long high) {
    return std::uniform_int_distribution<long long>(low, high)(random_);
  }
  static std::string decimal(long long digits, int places) {
    std::string text = std::to_string(digits < 0 ? -digits : digits);
    if (text.size() <= static_cast<std::size_t>(places))
      text.insert(0, static_cast<std::size_t>(places) + 1 - text.size(), '0');
    return (digits < 0 ? "-" : "") + text.insert(text.size() - static_cast<std::size_t>(places), ".");
  }

private:
  std::mt19937_64 random_{7};
};

// A number of 0.00001 in, written in a unit: exact, as 0.00001 in is 0.000254 mm.
std::string in_unit(long long hundred_thousandths, std::string_view unit) {
  if (unit == "in") return Draw::decimal(hundred_thousandths, 5) + " in";
  if (unit == "thou") return Draw::decimal(hundred_thousandths, 2) + " thou";
  if (unit == "um") return Draw::decimal(hundred_thousandths * 254, 3) + " um";
  return Draw::decimal(hundred_thousandths * 254, 6) + " mm";
}

std::string verdict_of(const std::string& value, const std::string& u, const std::string& low, const std::string& high,
                       std::string_view rule) {
  const auto found =
      answer("verdict", fmt::format(R"({{"value":{{"value":"{}","u":"{}"}},"low":"{}","high":"{}","rule":"{}"}})",
                                    value, u, low, high, rule));
  return written(found, "verdict");
}

} // namespace

TEST_CASE("a verdict never flips with the units it is asked in") {
  Draw draw;
  constexpr std::array<std::string_view, 4> units = {"in", "thou", "mm", "um"};
  const auto any = [&] { return units[static_cast<std::size_t>(draw.whole(0, 3))]; };
  for (int trial = 0; trial < 600; ++trial) {
    const long long low = draw.whole(-2000, 2000);
    const long long high = low + draw.whole(0, 500);
    const long long u = draw.whole(0, 60);
    // Mostly on an edge or one last digit beside it, where a rounding would show.
    const long long edges[] = {low, high, low - u, low + u, high - u, high + u, draw.whole(low - 100, high + 100)};
    const long long value = edges[draw.whole(0, 6)] + draw.whole(-1, 1);
    for (const std::string_view rule : {"simple", "guarded"}) {
      const std::string plain =
          verdict_of(in_unit(value, "in"), in_unit(u, "in"), in_unit(low, "in"), in_unit(high, "in"), rule);
      INFO(value << " " << u << " " << low << " " << high << " " << rule);
      CHECK(verdict_of(in_unit(value, any()), in_unit(u, any()), in_unit(low, any()), in_unit(high, any()), rule) ==
            plain);
      const long long guard = rule == "guarded" ? u : 0;
      const bool within = low + guard <= value && value <= high - guard;
      const bool outside = value < low - guard || value > high + guard;
      CHECK(plain == (outside ? "\"outside\"" : within ? "\"within\"" : "\"undecided\""));
    }
  }
}

TEST_CASE("a guarded verdict is never kinder than a simple one") {
  Draw draw;
  for (int trial = 0; trial < 2000; ++trial) {
    const calc::Bounds bounds{Exact(draw.whole(-50, 0)), Exact(draw.whole(0, 50))};
    const Exact value = Exact(draw.whole(-70, 70));
    const Exact u = Exact(draw.whole(0, 20));
    const auto simple = calc::judge(value, u, bounds, calc::Rule::simple);
    const auto guarded = calc::judge(value, u, bounds, calc::Rule::guarded);
    if (guarded == calc::Verdict::within) CHECK(simple == calc::Verdict::within);
    if (guarded == calc::Verdict::outside) CHECK(simple == calc::Verdict::outside);
    if (u.sign() == 0) CHECK(guarded == simple);
    if (u.sign() > 0 && guarded == calc::Verdict::within) CHECK(calc::conformance_probability(value, u, bounds) > 0.95);
  }
}

TEST_CASE("a mean on the edge of a grade falls the same way whatever readings make it") {
  Draw draw;
  for (int trial = 0; trial < 500; ++trial) {
    const long long edge = draw.whole(500, 900); // 0.001 mm
    const long long apart = draw.whole(0, 400'000'000);
    const auto grade_of = [&](long long first, long long second) {
      const auto found =
          answer("protrusion", fmt::format(R"({{"readings":{{"values":[[{},{}]],"unit":"mm"}},"grades":[)"
                                           R"({{"name":"below","from":"0 mm","to":"{} mm"}},)"
                                           R"({{"name":"above","from":"{} mm","to":"2 mm"}}]}})",
                                           Draw::decimal(first, 9), Draw::decimal(second, 9), Draw::decimal(edge, 3),
                                           Draw::decimal(edge, 3)));
      return written(found, "grade");
    };
    const long long middle = edge * 1'000'000;
    CHECK(grade_of(middle - apart, middle + apart) == "\"above\"");
    CHECK(grade_of(middle - apart - 1, middle + apart) == "\"below\"");
  }
}

TEST_CASE("a mean of decimals is the decimal it should be") {
  CHECK(quantity_in(answer("mean-of", R"({"values":)" + mm("[0.66,0.70]") + "}"), "mean").value.text() == "0.68");
  Draw draw;
  for (int trial = 0; trial < 500; ++trial) {
    const long long middle = draw.whole(-100'000, 100'000);
    const long long apart = draw.whole(0, 100'000);
    const auto found = answer(
        "mean-of", R"({"values":)" +
                       mm(fmt::format("[{},{}]", Draw::decimal(middle - apart, 3), Draw::decimal(middle + apart, 3))) +
                       "}");
    CHECK(quantity_in(found, "mean").value == Exact::decimal(Draw::decimal(middle, 3)).value());
  }
}

TEST_CASE("a clearance is the same in inches as in millimetres") {
  Draw draw;
  for (int trial = 0; trial < 300; ++trial) {
    const long long outer = draw.whole(100'000, 400'000);
    const long long inner = outer - draw.whole(-100, 300);
    const auto inches = answer(
        "clearance", fmt::format(R"({{"outer":"{}","inner":"{}"}})", in_unit(outer, "in"), in_unit(inner, "mm")));
    const auto millimetres = answer(
        "clearance", fmt::format(R"({{"outer":"{}","inner":"{}"}})", in_unit(outer, "mm"), in_unit(inner, "in")));
    CHECK(quantity::convert(quantity_in(inches, "min").value, *quantity_in(inches, "min").unit,
                            *quantity_in(millimetres, "min").unit) == quantity_in(millimetres, "min").value);
  }
}
