#include "calc/zone.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace calc {

namespace {

// The spots once more in doubles, from the first one on and no larger than 1, for comparisons that need no more.
class Rough {
public:
  explicit Rough(const std::vector<Spot>& spots) : spots_(spots) {
    const Spot& first = spots.front();
    heights_ = scaled([&](const Spot& spot) { return spot.height - first.height; }, height_scale_);
    places_.resize(first.place.size());
    scales_.resize(first.place.size());
    for (std::size_t k = 0; k < places_.size(); ++k)
      places_[k] = scaled([&](const Spot& spot) { return spot.place[k] - first.place[k]; }, scales_[k]);
  }

  const std::vector<Spot>& spots() const { return spots_; }

  // Heights above a datum of these slopes, and what rounding may have done to each of them at most: some 6 roundings,
  // held to be 40. Beyond the range of doubles it is infinite or no number, which decides nothing.
  std::vector<double> above(const std::vector<Exact>& slopes, double& error) const {
    std::vector<double> result = heights_;
    error = 1;
    for (std::size_t k = 0; k < places_.size(); ++k) {
      const double slope = slopes[k].to_double() * scales_[k] / height_scale_;
      error += std::abs(slope);
      for (std::size_t i = 0; i < result.size(); ++i) result[i] -= slope * places_[k][i];
    }
    error *= 1e-14;
    return result;
  }

private:
  template <typename Difference>
  std::vector<double> scaled(Difference difference, double& scale) const {
    std::vector<double> values;
    for (const Spot& spot : spots_) values.push_back(difference(spot).to_double());
    scale = 0;
    for (const double value : values) scale = std::max(scale, std::abs(value));
    if (scale == 0) scale = 1;
    for (double& value : values) value /= scale;
    return values;
  }

  const std::vector<Spot>& spots_;
  std::vector<double> heights_;
  std::vector<std::vector<double>> places_; // by coordinate
  std::vector<double> scales_;
  double height_scale_ = 1;
};

// The spots seen from a datum of some slopes. Comparisons are exact; doubles only answer what they can answer.
class Levelled {
public:
  Levelled(const Rough& rough, const std::vector<Exact>& slopes)
      : spots_(rough.spots()), slopes_(slopes), rough_(rough.above(slopes, error_)), exact_(spots_.size()) {}

  bool is_above(std::size_t i, std::size_t j) {
    const double difference = rough_[i] - rough_[j];
    if (difference > 2 * error_) return true;
    if (difference < -2 * error_) return false;
    return i != j && height(i) > height(j);
  }

  const Exact& height(std::size_t i) {
    if (!exact_[i]) {
      Exact above = spots_[i].height;
      for (std::size_t k = 0; k < slopes_.size(); ++k) above = above - slopes_[k] * spots_[i].place[k];
      exact_[i] = above;
    }
    return *exact_[i];
  }

  std::size_t highest() {
    std::size_t found = 0;
    for (std::size_t i = 1; i < spots_.size(); ++i)
      if (is_above(i, found)) found = i;
    return found;
  }
  std::size_t lowest() {
    std::size_t found = 0;
    for (std::size_t i = 1; i < spots_.size(); ++i)
      if (is_above(found, i)) found = i;
    return found;
  }

private:
  const std::vector<Spot>& spots_;
  const std::vector<Exact>& slopes_;
  double error_ = 0;
  std::vector<double> rough_;
  std::vector<std::optional<Exact>> exact_;
};

// The minimum zone as a linear programme: of all pairs of weighted means, one of high spots and one of low ones, that
// lie at the same place, the pair farthest apart in height. The simplex method, exact: one spot more than there are
// slopes, and one more, carry weight (a basis); a spot outside the zone they span takes the place of one of them; none
// left outside is the proof that the zone is the smallest.
class Exchange {
public:
  explicit Exchange(const std::vector<Spot>& spots)
      : spots_(spots), rough_(spots), size_(spots.front().place.size() + 2), inverse_(size_, std::vector<Exact>(size_)),
        basis_(size_) {
    for (std::size_t row = 0; row < size_; ++row) inverse_[row][row] = 1;
    start();
  }

  Zone run() {
    for (std::size_t stalled = 0;;) {
      const Exact before = value();
      const std::vector<Exact> now = slopes();
      Levelled levelled(rough_, now);
      // A stall may go round in circles for ever, but not when the first spot outside is taken (Bland's rule).
      const auto entering = stalled < patience ? farthest_outside(levelled) : first_outside(levelled);
      if (!entering) return zone();
      enter(*entering);
      stalled = value() > before ? 0 : stalled + 1;
    }
  }

private:
  static constexpr std::size_t patience = 3;

  struct Member {
    std::size_t spot = 0;
    bool high = false;
    bool operator<(const Member& other) const { return high != other.high ? high : spot < other.spot; }
  };

  // The first spot alone, high and low at once, and spots of no weight beside it that fill the basis.
  void start() {
    std::vector<bool> filled(size_);
    const auto fill = [&](const Member& member) {
      const std::vector<Exact> direction = weights_for(member);
      for (std::size_t row = 0; row < size_; ++row) {
        if (filled[row] || direction[row].sign() == 0) continue;
        filled[row] = true;
        return pivot(row, direction, member);
      }
    };
    fill({0, true});
    fill({0, false});
    for (std::size_t i = 1; i < spots_.size() && std::ranges::count(filled, true) < std::ssize(filled); ++i)
      fill({i, true});
    if (!std::ranges::all_of(filled, [](bool each) { return each; }))
      throw std::logic_error("a zone wants places that are not all in one line");
  }

  // What the weights of the basis lose for each unit of weight the member gets.
  std::vector<Exact> weights_for(const Member& member) const {
    std::vector<Exact> weights(size_);
    for (std::size_t row = 0; row < size_; ++row) {
      Exact sum = inverse_[row][member.high ? 0 : 1];
      for (std::size_t k = 2; k < size_; ++k) {
        const Exact moment = inverse_[row][k] * spots_[member.spot].place[k - 2];
        sum = member.high ? sum + moment : sum - moment;
      }
      weights[row] = sum;
    }
    return weights;
  }

  void pivot(std::size_t leaving, const std::vector<Exact>& direction, const Member& member) {
    for (Exact& each : inverse_[leaving]) each = each / direction[leaving];
    for (std::size_t row = 0; row < size_; ++row) {
      if (row == leaving || direction[row].sign() == 0) continue;
      for (std::size_t k = 0; k < size_; ++k)
        inverse_[row][k] = inverse_[row][k] - direction[row] * inverse_[leaving][k];
    }
    basis_[leaving] = member;
  }

  // The first to run out of weight makes room; of several the first in order, as Bland's rule wants it.
  void enter(const Member& member) {
    const std::vector<Exact> direction = weights_for(member);
    std::optional<std::size_t> leaving;
    Exact least;
    for (std::size_t row = 0; row < size_; ++row) {
      if (direction[row].sign() <= 0) continue;
      const Exact lasts = weight(row) / direction[row];
      if (leaving && (lasts > least || (lasts == least && basis_[*leaving] < basis_[row]))) continue;
      leaving = row;
      least = lasts;
    }
    pivot(leaving.value(), direction, member);
  }

  Exact weight(std::size_t row) const { return inverse_[row][0] + inverse_[row][1]; }
  Exact worth(std::size_t row) const {
    const Exact& height = spots_[basis_[row].spot].height;
    return basis_[row].high ? height : -height;
  }

  Exact value() const {
    Exact sum;
    for (std::size_t row = 0; row < size_; ++row) sum += worth(row) * weight(row);
    return sum;
  }

  // Of the constraints in their order: height of the upper plane at the origin, that of the lower one with its sign
  // turned, and the slopes.
  Exact multiplier(std::size_t k) const {
    Exact sum;
    for (std::size_t row = 0; row < size_; ++row) sum += worth(row) * inverse_[row][k];
    return sum;
  }

  std::vector<Exact> slopes() const {
    std::vector<Exact> found;
    for (std::size_t k = 2; k < size_; ++k) found.push_back(multiplier(k));
    return found;
  }

  std::size_t one_of(bool high) const {
    return std::ranges::find_if(basis_, [&](const Member& member) { return member.high == high; })->spot;
  }

  std::optional<Member> farthest_outside(Levelled& levelled) const {
    const std::size_t high = levelled.highest();
    const std::size_t low = levelled.lowest();
    const Exact over = levelled.height(high) - levelled.height(one_of(true));
    const Exact under = levelled.height(one_of(false)) - levelled.height(low);
    if (over.sign() <= 0 && under.sign() <= 0) return std::nullopt;
    return over >= under ? Member{high, true} : Member{low, false};
  }

  std::optional<Member> first_outside(Levelled& levelled) const {
    for (std::size_t i = 0; i < spots_.size(); ++i)
      if (levelled.is_above(i, one_of(true))) return Member{i, true};
    for (std::size_t i = 0; i < spots_.size(); ++i)
      if (levelled.is_above(one_of(false), i)) return Member{i, false};
    return std::nullopt;
  }

  Zone zone() const {
    Zone found{value(), {-multiplier(1), slopes()}, {}};
    for (std::size_t row = 0; row < size_; ++row)
      if (weight(row).sign() > 0) found.contacts.push_back({basis_[row].spot, basis_[row].high, weight(row)});
    return found;
  }

  const std::vector<Spot>& spots_;
  Rough rough_;
  std::size_t size_;
  std::vector<std::vector<Exact>> inverse_; // of the basis: a column for the high weights, the low ones, each slope
  std::vector<Member> basis_;
};

// n sum(ab) - sum(a) sum(b) of any two numbers of the spots: the coordinates of the place, then the height. Free of
// where the origin is.
class Moments {
public:
  explicit Moments(const std::vector<Spot>& spots)
      : count_(static_cast<long long>(spots.size())), sums_(spots.front().place.size() + 1),
        products_(sums_.size() - 1, std::vector<Exact>(sums_.size())) {
    for (const Spot& spot : spots) {
      std::vector<Exact> numbers = spot.place;
      numbers.push_back(spot.height);
      for (std::size_t j = 0; j < numbers.size(); ++j) {
        sums_[j] += numbers[j];
        for (std::size_t k = j; k < numbers.size() && j < products_.size(); ++k)
          products_[j][k] += numbers[j] * numbers[k];
      }
    }
  }

  // j <= k, and j no height.
  Exact operator()(std::size_t j, std::size_t k) const { return count_ * products_[j][k] - sums_[j] * sums_[k]; }
  Exact mean(std::size_t j) const { return sums_[j] / count_; }

private:
  Exact count_;
  std::vector<Exact> sums_;
  std::vector<std::vector<Exact>> products_;
};

std::optional<std::vector<Exact>> least_squares_slopes(const Moments& moment, std::size_t how_many) {
  const Exact xx = moment(0, 0);
  if (how_many == 1) {
    if (xx.sign() == 0) return std::nullopt;
    return std::vector<Exact>{moment(0, 1) / xx};
  }
  const Exact xy = moment(0, 1);
  const Exact yy = moment(1, 1);
  const Exact xz = moment(0, 2);
  const Exact yz = moment(1, 2);
  const Exact determinant = xx * yy - xy * xy;
  if (determinant.sign() == 0) return std::nullopt;
  return std::vector<Exact>{(xz * yy - yz * xy) / determinant, (yz * xx - xz * xy) / determinant};
}

} // namespace

std::optional<Datum> least_squares(const std::vector<Spot>& spots) {
  const Moments moment(spots);
  const std::size_t coordinates = spots.front().place.size();
  const auto slopes = least_squares_slopes(moment, coordinates);
  if (!slopes) return std::nullopt;
  Exact at_origin = moment.mean(coordinates);
  for (std::size_t k = 0; k < coordinates; ++k) at_origin = at_origin - (*slopes)[k] * moment.mean(k);
  return Datum{at_origin, *slopes};
}

Extremes extremes(const std::vector<Spot>& spots, const std::vector<Exact>& slopes) {
  const Rough rough(spots);
  Levelled levelled(rough, slopes);
  const std::size_t high = levelled.highest();
  const std::size_t low = levelled.lowest();
  return {high, low, levelled.height(high) - levelled.height(low)};
}

Zone minimum_zone(const std::vector<Spot>& spots) {
  return Exchange(spots).run();
}

} // namespace calc
