// U by drawing: the inputs of a computation scattered normally with U/2, twice the standard deviation of what comes out
// (JCGM 101:2008). 100 000 draws know it to about 0.2 per cent. The formula drawn is written out in the test once more,
// in doubles, so that it shares nothing with the program.
#pragma once

#include "calculating.h"

#include <array>
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

// `results`: std::array<double, N>(Scatter&), which draws each of its inputs once.
template <typename Results>
auto drawn_together(const Results& results) {
  Scatter scatter;
  using Values = decltype(results(scatter));
  Values mean{};
  Values squares{};
  for (int i = 1; i <= draws; ++i) {
    const Values values = results(scatter);
    for (std::size_t k = 0; k < values.size(); ++k) {
      const double from_mean = values[k] - mean[k];
      mean[k] += from_mean / i;
      squares[k] += from_mean * (values[k] - mean[k]);
    }
  }
  for (double& each : squares) each = 2 * std::sqrt(each / (draws - 1));
  return squares;
}

// `result`: double(Scatter&), the same for one.
template <typename Result>
double drawn_u(const Result& result) {
  return drawn_together([&](Scatter& around) { return std::array<double, 1>{result(around)}; })[0];
}

} // namespace outside
