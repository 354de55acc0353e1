// What must hold for any input, tried on many drawn with a fixed seed.
#include "calc/judging.h"

#include "calculating.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <numeric>
#include <random>

using namespace calculating;
using calc::Exact;

namespace {

// Decimals as a person writes them, kept as whole numbers of their last digit.
class Draw {
public:
  explicit Draw(unsigned seed = 7) : random_(seed) {}
  long long whole(long long low, long long high) {
    return std::uniform_int_distribution<long long>(low, high)(random_);
  }
  static std::string decimal(long long digits, int places) {
    std::string text = std::to_string(digits < 0 ? -digits : digits);
    if (text.size() <= static_cast<std::size_t>(places))
      text.insert(0, static_cast<std::size_t>(places) + 1 - text.size(), '0');
    return (digits < 0 ? "-" : "") + text.insert(text.size() - static_cast<std::size_t>(places), ".");
  }

  template <typename List>
  void shuffle(List& list) {
    std::shuffle(list.begin(), list.end(), random_);
  }
  template <typename List>
  const auto& pick(const List& list) {
    return list[static_cast<std::size_t>(whole(0, static_cast<long long>(list.size()) - 1))];
  }

private:
  std::mt19937_64 random_;
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

__extension__ using Wide = __int128;

std::string text(Wide digits) {
  std::string text;
  for (Wide left = digits < 0 ? -digits : digits; left > 0 || text.empty(); left /= 10)
    text.insert(text.begin(), static_cast<char>('0' + static_cast<int>(left % 10)));
  return (digits < 0 ? "-" : "") + text;
}

Wide common_divisor(Wide a, Wide b) {
  return b == 0 ? a : common_divisor(b, a % b);
}

// The units of each dimension once more, as fractions of its first in whole numbers.
struct Scale {
  const char* unit;
  long long over, under;
};

const std::vector<std::vector<Scale>>& dimensions() {
  constexpr long long lbf = 44'482'216'152'605; // of 10^-13 N
  static const std::vector<std::vector<Scale>> all = {
      {{"mm", 1, 1}, {"um", 1, 1000}, {"m", 1000, 1}, {"in", 254, 10}, {"thou", 254, 10'000}},
      {{"mm2", 1, 1}, {"in2", 64'516, 100}},
      {{"mm3", 1, 1}, {"cm3", 1000, 1}, {"ml", 1000, 1}, {"l", 1'000'000, 1}},
      {{"N.m", 1, 1},
       {"kgf.m", 980'665, 100'000},
       {"kgf.cm", 980'665, 10'000'000},
       {"lbf.ft", 13'558'179'483'314'004, 10'000'000'000'000'000},
       {"lbf.in", 1'129'848'290'276'167, 10'000'000'000'000'000}},
      {{"N", 1, 1}, {"kN", 1000, 1}, {"kgf", 980'665, 100'000}, {"lbf", lbf, 10'000'000'000'000}},
      {{"MPa", 1, 1},
       {"GPa", 1000, 1},
       {"kPa", 1, 1000},
       {"bar", 1, 10},
       {"kgf/cm2", 980'665, 10'000'000},
       {"psi", lbf, 6'451'600'000'000'000}},
      {{"g", 1, 1}, {"kg", 1000, 1}, {"oz", 45'359'237, 1'600'000}, {"lb", 45'359'237, 100'000}},
      {{"s", 1, 1}, {"min", 60, 1}, {"h", 3600, 1}}};
  return all;
}

// How many of `one` and how many of `other` are the same, in the smallest whole numbers.
std::pair<Wide, Wide> equal_counts(const Scale& one, const Scale& other) {
  const Wide of_one = Wide(other.over) * one.under;
  const Wide of_other = Wide(one.over) * other.under;
  const Wide divisor = common_divisor(of_one, of_other);
  return {of_one / divisor, of_other / divisor};
}

// A whole number of steps and a tenth of the last digit beside it: the order of two is that of the pairs.
using Beside = std::pair<long long, long long>;

std::string verdict_by_whole_numbers(const Beside& value, long long low, long long high, long long guard) {
  if (value < Beside{low - guard, 0} || value > Beside{high + guard, 0}) return "\"outside\"";
  const bool within = value >= Beside{low + guard, 0} && value <= Beside{high - guard, 0};
  return within ? "\"within\"" : "\"undecided\"";
}

} // namespace

TEST_CASE("numbers that binary floating point gets wrong") {
  CHECK(Exact::decimal("0.1").value() + Exact::decimal("0.2").value() == Exact::decimal("0.3").value());
  // 0.3 - 0.1 and 0.2, 61.9633 mm and 2.4395 in: on the limit is within, from either side
  const auto found = answer("clearance", R"({"outer":"0.3 mm","inner":"0.1 mm"})");
  CHECK(written(found, "min") == R"({"value":0.2,"unit":"mm"})");
  const auto on = [](std::string_view value, std::string_view limit) {
    for (const char* side : {"low", "high"})
      CHECK(written(answer("verdict", fmt::format(R"({{"value":{},"{}":"{}"}})", value, side, limit)), "verdict") ==
            "\"within\"");
  };
  on(written(found, "min"), "0.2 mm");
  on("\"2.4395 in\"", "61.9633 mm");
  on("\"61.9633 mm\"", "2.4395 in");
  on("\"2439.5 thou\"", "61963.3 um");
  // Dial readings 0.1 and -0.2 apart, and thirds that come together again
  CHECK(written(answer("end-play", R"({"readings":)" + mm("[[0.1,-0.2]]") + "}"), "play") ==
        R"({"value":0.3,"unit":"mm"})");
  CHECK(quantity_in(answer("mean-of", R"({"values":)" + mm("[0.1,0.1,0.1]") + "}"), "mean").value.text() == "0.1");
  CHECK(
      quantity_in(answer("mean-of", R"({"values":)" + mm("[0.1,0.2,0.3]") + "}"), "standard_deviation").value.text() ==
      "0.1");
}

TEST_CASE("a value in any unit against limits in any other is judged as whole numbers are") {
  Draw draw(11);
  for (const auto& units : dimensions()) {
    for (const Scale& one : units) {
      for (const Scale& other : units) {
        const auto [of_one, of_other] = equal_counts(one, other);
        for (int trial = 0; trial < 4; ++trial) {
          const long long low = draw.whole(1, 300);
          const long long high = low + draw.whole(0, 60);
          const long long u = draw.whole(0, 9);
          const std::array<long long, 7> steps = {low, high, low - u, low + u, high - u, high + u, draw.whole(-9, 400)};
          const Beside value = {draw.pick(steps), draw.whole(-1, 1)};
          for (const std::string_view rule : {"simple", "guarded"}) {
            // The value in tenths of its last digit, of either unit the U
            const std::string in_one = text(of_one * value.first * 10 + value.second) + "e-1 " + one.unit;
            const std::string with_u =
                draw.whole(0, 1) ? text(of_one * u) + " " + one.unit : text(of_other * u) + " " + other.unit;
            const std::string found = verdict_of(in_one, with_u, text(of_other * low) + " " + other.unit,
                                                 text(of_other * high) + " " + other.unit, rule);
            INFO(in_one << " U " << with_u << " from " << low << " to " << high << " times " << text(of_other) << " "
                        << other.unit << ", " << rule);
            CHECK(found == verdict_by_whole_numbers(value, low, high, rule == "guarded" ? u : 0));
          }
        }
      }
    }
  }
}

TEST_CASE("a temperature in any unit against limits in any other is judged as whole numbers are") {
  // 5 K are 9 degF; degC = K - 273.15, degF = 9/5 degC + 32.
  const auto at = [](std::string_view unit, long long steps, long long beside) {
    if (unit == "degF") return Draw::decimal((9 * steps + 32) * 1000 + beside, 3) + " degF";
    return Draw::decimal(5000 * steps + (unit == "K" ? 273'150 : 0) + beside, 3) + " " + std::string(unit);
  };
  const auto apart = [](std::string_view unit, long long steps) {
    return std::to_string((unit == "degF" ? 9 : 5) * steps) + " " + std::string(unit);
  };
  Draw draw(12);
  const std::array<std::string_view, 3> units = {"degC", "degF", "K"};
  for (int trial = 0; trial < 150; ++trial) {
    const long long low = draw.whole(-20, 20);
    const long long high = low + draw.whole(0, 20);
    const long long u = draw.whole(0, 4);
    const std::array<long long, 6> steps = {low, high, low - u, low + u, high - u, high + u};
    const Beside value = {draw.pick(steps), draw.whole(-1, 1)};
    const std::string reading = at(draw.pick(units), value.first, value.second);
    const std::string with_u = apart(draw.pick(units), u);
    const std::string from = at(draw.pick(units), low, 0);
    const std::string to = at(draw.pick(units), high, 0);
    INFO(reading << " U " << with_u << " from " << from << " to " << to);
    CHECK(verdict_of(reading, with_u, from, to, "simple") == verdict_by_whole_numbers(value, low, high, 0));
    CHECK(verdict_of(reading, with_u, from, to, "guarded") == verdict_by_whole_numbers(value, low, high, u));
  }
}

TEST_CASE("every unit there is takes part in these comparisons, or has none beside it to compare with") {
  std::map<quantity::Dimension, std::size_t> compared = {{quantity::Dimension::temperature, 3},
                                                         {quantity::Dimension::angle, 2}}; // deg and rad: through pi
  for (const auto& units : dimensions()) compared[quantity::find_unit(units.front().unit)->dimension] = units.size();
  std::map<quantity::Dimension, std::size_t> all;
  for (const quantity::Unit& unit : quantity::all_units()) ++all[unit.dimension];
  for (const auto& [dimension, count] : all) {
    INFO(quantity::name_of(dimension));
    CHECK((count == 1 || compared[dimension] == count));
  }
}

TEST_CASE("there and back between any two units is where it began") {
  Draw draw(13);
  for (const quantity::Unit& from : quantity::all_units()) {
    for (const quantity::Unit& to : quantity::all_units()) {
      if (!quantity::same_dimension(from, to)) continue;
      for (int trial = 0; trial < 5; ++trial) {
        const Exact value = Exact::decimal(Draw::decimal(draw.whole(-999'999'999, 999'999'999), 5)).value();
        const Exact back = quantity::convert(quantity::convert(value, from, to), to, from);
        const Exact apart = quantity::convert_difference(quantity::convert_difference(value, from, to), to, from);
        INFO(value.text() << " " << from.name << " to " << to.name);
        if (from.through_pi || to.through_pi) {
          CHECK(back.to_double() == Approx(value.to_double()).epsilon(1e-11));
          CHECK(apart.to_double() == Approx(value.to_double()).epsilon(1e-11));
        } else {
          CHECK(back == value);
          CHECK(apart == value);
        }
      }
    }
  }
}

TEST_CASE("readings in any order, limits in any order of the fields, grades in any order of the table") {
  Draw draw(14);
  for (int trial = 0; trial < 40; ++trial) {
    std::vector<std::string> outer;
    std::vector<std::string> inner;
    for (int i = 0; i < 5; ++i) outer.push_back(Draw::decimal(draw.whole(50'010, 50'090), 3));
    for (int i = 0; i < 4; ++i) inner.push_back(Draw::decimal(draw.whole(49'910, 49'990), 3));
    const auto results = [](const std::vector<std::string>& around, const std::vector<std::string>& inside) {
      const auto gap = answer("clearance", fmt::format(R"({{"outer":{},"inner":{}}})",
                                                       mm(fmt::format("[{}]", fmt::join(around, ","))),
                                                       mm(fmt::format("[{}]", fmt::join(inside, ",")))));
      const auto mean =
          answer("mean-of", fmt::format(R"({{"values":{}}})", mm(fmt::format("[{}]", fmt::join(around, ",")))));
      return written(gap, "min") + written(gap, "max") + written(gap, "mean") + written(mean, "mean") +
             written(mean, "standard_deviation");
    };
    const std::string before = results(outer, inner);
    draw.shuffle(outer);
    draw.shuffle(inner);
    CHECK(results(outer, inner) == before);

    std::vector<std::string> fields = {R"("value":{"u":0.004,"unit":"mm","value":0.04})", R"("low":"0.038 mm")",
                                       R"("high":"0.0035 in")", R"("rule":"guarded")"};
    draw.shuffle(fields);
    CHECK(written(answer("verdict", fmt::format("{{{}}}", fmt::join(fields, ","))), "verdict") == "\"undecided\"");

    std::vector<std::string> grades = {R"({"name":"a","from":"0.50 mm","to":"0.60 mm"})",
                                       R"({"name":"b","from":"0.60 mm","to":"0.68 mm"})",
                                       R"({"name":"c","from":"0.68 mm","to":"0.75 mm"})"};
    draw.shuffle(grades);
    const auto grade = [&](std::string_view readings) {
      return written(
          answer("protrusion", fmt::format(R"({{"readings":{},"grades":[{}]}})", mm(readings), fmt::join(grades, ","))),
          "grade");
    };
    CHECK(grade("[[0.66,0.70]]") == "\"c\""); // the mean, 0.68, on the edge
    CHECK(grade("[[0.66,0.699999]]") == "\"b\"");
    CHECK(grade("[[0.60]]") == "\"b\"");
    CHECK(grade("[[0.50]]") == "\"a\"");
    CHECK(grade("[[0.75]]") == "\"c\""); // the last `to` belongs to the table
    CHECK(grade("[[0.750001]]") == "null");
  }
}

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
