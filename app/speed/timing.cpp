#include "speed/timing.h"

#include "record/stopwatch.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

namespace speed {

double median(std::vector<double> values) {
  if (values.empty()) throw std::logic_error("there is no median of nothing");
  std::ranges::sort(values);
  const std::size_t half = values.size() / 2;
  return values.size() % 2 != 0 ? values[half] : (values[half - 1] + values[half]) / 2;
}

double below(std::vector<double> values, double share) {
  if (values.empty()) throw std::logic_error("there is no share of nothing");
  std::ranges::sort(values);
  const auto wanted = static_cast<std::size_t>(std::ceil(share * static_cast<double>(values.size())));
  return values[std::clamp<std::size_t>(wanted, 1, values.size()) - 1];
}

double exponent(const std::vector<double>& sizes, const std::vector<double>& seconds) {
  if (sizes.size() != seconds.size() || sizes.size() < 2) throw std::logic_error("a slope wants two points at least");
  const auto mean_log = [](const std::vector<double>& of) {
    return std::accumulate(of.begin(), of.end(), 0.0, [](double sum, double one) { return sum + std::log(one); }) /
           static_cast<double>(of.size());
  };
  const double middle_size = mean_log(sizes);
  const double middle_time = mean_log(seconds);
  double across = 0;
  double up = 0;
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    const double aside = std::log(sizes[i]) - middle_size;
    across += aside * aside;
    up += aside * (std::log(seconds[i]) - middle_time);
  }
  return up / across;
}

double seconds_of(const std::function<void()>& work) {
  const record::Stopwatch watch;
  work();
  return watch.seconds();
}

double median_of(int rounds, const std::function<void()>& work) {
  std::vector<double> seconds;
  for (int round = 0; round < rounds; ++round) seconds.push_back(seconds_of(work));
  return median(seconds);
}

Pairs of_pairs(const std::vector<double>& ours, const std::vector<double>& floor) {
  if (ours.size() != floor.size()) throw std::logic_error("pairs have two sides");
  std::vector<double> times;
  std::vector<double> more;
  for (std::size_t i = 0; i < ours.size(); ++i) {
    times.push_back(ours[i] / floor[i]);
    more.push_back(ours[i] - floor[i]);
  }
  return {median(ours), median(floor), median(times), median(more)};
}

Pairs in_turn(int rounds, const std::function<void()>& ours, const std::function<void()>& floor) {
  std::vector<double> our_times;
  std::vector<double> floor_times;
  for (int round = 0; round < rounds; ++round) {
    const bool first = round % 2 == 0;
    if (first) our_times.push_back(seconds_of(ours));
    floor_times.push_back(seconds_of(floor));
    if (!first) our_times.push_back(seconds_of(ours));
  }
  return of_pairs(our_times, floor_times);
}

} // namespace speed
