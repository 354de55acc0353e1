// U by drawing: the inputs of a computation scattered normally with U/2, twice the standard deviation of what comes out
// (JCGM 101:2008). 100 000 draws know it to about 0.2 per cent. The formula drawn is written out in the test once more,
// in doubles, so that it shares nothing with the program.
#pragma once

#include "calculating.h"

#include <cmath>
#include <random>

namespace outside {

constexpr int draws = 100'000;
constexpr double drawn_tolerance = 0.02; // where the formula is smooth

class Scatter {
public:
  double operator()(double value, double u) { return value + u / 2 * normal_(random_); }

private:
  std::mt19937_64 random_{20241231};
  std::normal_distribution<double> normal_;
};

// `result`: double(Scatter&), which draws each of its inputs once.
template <typename Result>
double drawn_u(const Result& result) {
  Scatter scatter;
  double mean = 0;
  double squares = 0;
  for (int i = 1; i <= draws; ++i) {
    const double value = result(scatter);
    const double from_mean = value - mean;
    mean += from_mean / i;
    squares += from_mean * (value - mean);
  }
  return 2 * std::sqrt(squares / (draws - 1));
}

} // namespace outside
