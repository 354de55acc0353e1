#include "calc/combine.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace calc {

namespace {

const std::vector<Exact>& not_empty(const std::vector<Exact>& values) {
  if (values.empty()) throw std::logic_error("a mean or an extreme of no values");
  return values;
}

} // namespace

std::optional<Exact> combined(const std::vector<Part>& parts) {
  std::optional<Exact> only;
  double sum = 0;
  std::size_t counting = 0;
  for (const Part& part : parts) {
    if (!part.u) continue;
    const Exact share = (part.sensitivity * *part.u).abs();
    if (!only || share.sign() > 0) only = share;
    if (share.sign() == 0) continue;
    counting += part.mean_of == 1 ? 1 : 2;
    sum = std::hypot(sum, share.to_double() / std::sqrt(static_cast<double>(part.mean_of)));
  }
  return counting < 2 ? only : Exact::rounded(sum);
}

Exact mean(const std::vector<Exact>& values) {
  Exact sum;
  for (const Exact& value : not_empty(values)) sum += value;
  return sum / whole(values.size());
}

Exact smallest(const std::vector<Exact>& values) {
  return *std::ranges::min_element(not_empty(values));
}
Exact largest(const std::vector<Exact>& values) {
  return *std::ranges::max_element(not_empty(values));
}
Exact range(const std::vector<Exact>& values) {
  return largest(values) - smallest(values);
}

Exact whole(std::size_t count) {
  return Exact(static_cast<long long>(count));
}

Exact times_pi(const Exact& value) {
  return Exact::rounded(value.to_double() * std::numbers::pi);
}
Exact degrees(double radians) {
  return Exact::rounded(radians * 180 / std::numbers::pi);
}

} // namespace calc
