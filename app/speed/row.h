// One line of the table: our figure, the least that it could be on this machine (the floor, measured in the same run),
// how the two compare, and what is wanted of that.
#pragma once

#include "speed/timing.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace speed {

enum class Unit { seconds, bytes, share };
enum class Against { nothing, ratio, difference }; // how a figure is held against its floor

struct Row {
  std::string what;
  Unit unit = Unit::seconds;
  std::optional<double> ours = {}; // none: it could not be measured, and the note says why
  std::optional<double> floor = {};
  Against against = Against::nothing;
  std::optional<double> figure = {}; // what is wanted to be small: ours, or ours against the floor
  std::optional<double> wanted = {}; // at most
  std::string note = {};             // why there is no verdict, or what else is to be known
  bool judged = true;                // false: the note says why not
};

Row alone(std::string what, double ours, std::optional<double> wanted = std::nullopt, Unit unit = Unit::seconds);
Row ratio(std::string what, const Pairs& pairs, double wanted);
Row difference(std::string what, const Pairs& pairs, double wanted);
Row not_measured(std::string what, std::string why);

enum class Verdict { none, within, over };
Verdict verdict_of(const Row& row);
// Beyond twice what is wanted. Not a difference beside a floor of milliseconds: such a disk swings by more than that.
bool far_over(const Row& row);

// Of one row measured several times: the one whose figure is in the middle.
Row middle_of(std::vector<Row> rows);

// "1.24 ms", "83 us", "12.4 MB", "0.4 %"; three digits that count.
std::string text(double value, Unit unit);

std::string grouped(int count); // "5,000"

enum class Form { plain, markdown };
std::string table(const std::vector<Row>& rows, Form form);

// How a time grows: measured at 1, 4 and 16 times a size.
struct Growth {
  std::string what; // "open a build", measured over "events"
  std::string size;
  std::vector<double> sizes;
  std::vector<double> seconds;
  double grows() const { return exponent(sizes, seconds); }
};
constexpr double steepest = 1.15; // exponent
Growth middle_of(std::vector<Growth> measured);
std::string table(const std::vector<Growth>& all, Form form);

} // namespace speed
