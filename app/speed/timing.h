// What becomes of measured times: medians, shares, how two that were measured in turn compare, how a time grows with
// a size. Times in seconds; nothing here is zero or less.
#pragma once

#include <functional>
#include <vector>

namespace speed {

double median(std::vector<double> values);              // std::logic_error without values
double below(std::vector<double> values, double share); // what this share of them does not exceed

// The slope of the least-squares line through (log size, log time): 1 when twice the size takes twice as long.
double exponent(const std::vector<double>& sizes, const std::vector<double>& seconds);

double seconds_of(const std::function<void()>& work);
double median_of(int rounds, const std::function<void()>& work);

// Two that were measured one right after the other, again and again, so that what the machine does meanwhile meets
// both. `times` and `more` are medians over the pairs.
struct Pairs {
  double ours = 0; // medians
  double floor = 0;
  double times = 0; // ours / floor
  double more = 0;  // ours - floor
};
Pairs of_pairs(const std::vector<double>& ours, const std::vector<double>& floor);
Pairs in_turn(int rounds, const std::function<void()>& ours, const std::function<void()>& floor);

} // namespace speed
