#include "calc/zone.h"

#include "calculating.h"

#include <cstdint>
#include <numeric>
#include <random>

using calc::Contact;
using calc::Datum;
using calc::Exact;
using calc::Spot;

namespace {

// Whole numbers: places and a height. Small enough for products of four of them.
using Row = std::vector<long long>;

std::vector<Spot> spots_of(const std::vector<Row>& rows, const Exact& unit = 1) {
  std::vector<Spot> spots;
  for (const Row& row : rows) {
    Spot spot;
    for (std::size_t k = 0; k + 1 < row.size(); ++k) spot.place.push_back(Exact(row[k]) * unit);
    spot.height = Exact(row.back()) * unit;
    spots.push_back(spot);
  }
  return spots;
}

class Draw {
public:
  explicit Draw(std::uint64_t seed) : random_(seed) {}
  long long whole(long long low, long long high) {
    return std::uniform_int_distribution<long long>(low, high)(random_);
  }

private:
  std::mt19937_64 random_;
};

Exact above(const Datum& datum, const Spot& spot) {
  Exact height = spot.height - datum.at_origin;
  for (std::size_t k = 0; k < spot.place.size(); ++k) height = height - datum.slopes[k] * spot.place[k];
  return height;
}

// Whether the zone is the smallest, shown without knowing how it was found: it holds every spot, and the contacts'
// weighted heights, which no tilt alters, are as far apart as its planes.
bool is_proved(const std::vector<Spot>& spots, const calc::Zone& zone) {
  for (const Spot& spot : spots) {
    const Exact height = above(zone.lower, spot);
    if (height.sign() < 0 || height > zone.range) return false;
  }
  Exact high_weight;
  Exact low_weight;
  Exact apart;
  std::vector<Exact> moments(spots.front().place.size());
  for (const Contact& contact : zone.contacts) {
    const Spot& spot = spots[contact.spot];
    const Exact signed_weight = contact.high ? contact.weight : -contact.weight;
    if (contact.weight.sign() <= 0) return false;
    (contact.high ? high_weight : low_weight) += contact.weight;
    apart += signed_weight * spot.height;
    for (std::size_t k = 0; k < moments.size(); ++k) moments[k] += signed_weight * spot.place[k];
  }
  for (const Exact& moment : moments)
    if (moment.sign() != 0) return false;
  return high_weight == Exact(1) && low_weight == Exact(1) && apart == zone.range;
}

void check_proof(const std::vector<Spot>& spots) {
  const calc::Zone zone = calc::minimum_zone(spots);
  CHECK(is_proved(spots, zone));
  CHECK(calc::extremes(spots, zone.lower.slopes).range == zone.range);
}

// Range of det z - a x - b y over det: the room between two planes of the slopes a / det and b / det.
Exact room(const std::vector<Row>& rows, long long a, long long b, long long det) {
  long long low = 0;
  long long high = 0;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const long long height = det * rows[i].back() - a * rows[i][0] - (rows[i].size() > 2 ? b * rows[i][1] : 0);
    low = i == 0 ? height : std::min(low, height);
    high = i == 0 ? height : std::max(high, height);
  }
  return Exact(high - low) / Exact(std::abs(det));
}

// Keeps the smallest room of the planes whose slopes two steps between points fix, each step level in it.
void try_steps(const std::vector<Row>& rows, const Row& step, const Row& other, std::optional<Exact>& least) {
  const long long det = step[0] * other[1] - step[1] * other[0];
  if (det == 0) return;
  const Exact here = room(rows, step[2] * other[1] - step[1] * other[2], step[0] * other[2] - step[2] * other[0], det);
  if (!least || here < *least) least = here;
}

Row minus(const Row& a, const Row& b) {
  Row step(a.size());
  for (std::size_t k = 0; k < a.size(); ++k) step[k] = a[k] - b[k];
  return step;
}

// Every set of contacts there is: planes through three points (three against one) and planes along two pairs (two
// against two); the least room is at one of them, as it is convex in the slopes and bends only there.
std::optional<Exact> smallest_of_all_contacts(const std::vector<Row>& rows) {
  std::vector<Row> steps;
  for (std::size_t i = 0; i < rows.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) steps.push_back(minus(rows[i], rows[j]));
  std::optional<Exact> least;
  for (std::size_t s = 0; s < steps.size(); ++s)
    for (std::size_t t = 0; t < s; ++t) try_steps(rows, steps[s], steps[t], least);
  return least;
}

std::optional<Exact> smallest_of_all_pairs(const std::vector<Row>& rows) {
  std::optional<Exact> least;
  for (std::size_t i = 0; i < rows.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) {
      const Row step = minus(rows[i], rows[j]);
      if (step[0] == 0) continue;
      const Exact here = room(rows, step[1], 0, step[0]);
      if (!least || here < *least) least = here;
    }
  return least;
}

// A face of so many points a side.
template <typename Height>
std::vector<Spot> face(long long side, Height height) {
  std::vector<Row> rows;
  for (long long y = 0; y < side; ++y)
    for (long long x = 0; x < side; ++x) rows.push_back({x, y, height(x, y)});
  return spots_of(rows);
}

} // namespace

TEST_CASE("the smallest zone of a face is that of the best of all sets of contacts") {
  Draw draw(1);
  int tried = 0;
  for (int trial = 0; trial < 240; ++trial) {
    // Small grids repeat, line up and tie; wide ones do not.
    const long long wide = trial % 4 == 0 ? 1000 : draw.whole(1, 4);
    const long long high = trial % 4 == 1 ? 1 : trial % 4 == 0 ? 1000 : 4;
    std::vector<Row> rows;
    for (long long count = draw.whole(4, 8); count > 0; --count)
      rows.push_back({draw.whole(0, wide), draw.whole(0, wide), draw.whole(-high, high)});
    const auto expected = smallest_of_all_contacts(rows);
    const std::vector<Spot> spots = spots_of(rows);
    REQUIRE(calc::least_squares(spots).has_value() == expected.has_value());
    if (!expected) continue;
    ++tried;
    CHECK(calc::minimum_zone(spots).range == *expected);
  }
  CHECK(tried > 180);
}

TEST_CASE("the smallest zone of a line is that of the best of all pairs") {
  Draw draw(2);
  int tried = 0;
  for (int trial = 0; trial < 240; ++trial) {
    const long long wide = trial % 2 ? 100'000 : 6;
    std::vector<Row> rows;
    for (long long count = draw.whole(3, 14); count > 0; --count)
      rows.push_back({draw.whole(-wide, wide), draw.whole(-wide, wide)});
    const auto expected = smallest_of_all_pairs(rows);
    const std::vector<Spot> spots = spots_of(rows);
    REQUIRE(calc::least_squares(spots).has_value() == expected.has_value());
    if (!expected) continue;
    ++tried;
    const calc::Zone zone = calc::minimum_zone(spots);
    CHECK(zone.range == *expected);
    CHECK(is_proved(spots, zone));
  }
  CHECK(tried > 230);
}

TEST_CASE("every zone comes with the proof that it is the smallest") {
  Draw draw(3);
  for (int trial = 0; trial < 150; ++trial) {
    std::vector<Row> rows = {{0, 0, 1}, {5, 0, 2}, {0, 5, 3}};
    const long long side = draw.whole(1, 6);
    for (long long count = draw.whole(1, 40); count > 0; --count) {
      const long long x = draw.whole(0, side);
      const long long y = draw.whole(0, side);
      rows.push_back({x, y, trial % 3 == 0 ? draw.whole(0, 1) : trial % 3 == 1 ? x * x - y * y : (x + y) * (x % 2)});
    }
    check_proof(spots_of(rows, Exact::ratio(1, 1 + trial % 7)));
  }
}

TEST_CASE("grids with countless ties find their zone") {
  check_proof(face(30, [](long long, long long) { return 0LL; }));
  check_proof(face(30, [](long long x, long long y) { return 3 * x - 7 * y; }));
  check_proof(face(30, [](long long x, long long y) { return x * y; }));
  check_proof(face(30, [](long long x, long long y) { return (x - 15) * (x - 15) + (y - 15) * (y - 15); }));
  check_proof(face(30, [](long long x, long long y) { return (x - 15) * (x - 15) - (y - 15) * (y - 15); }));
  check_proof(face(30, [](long long x, long long y) { return (x + y) % 2; }));
  check_proof(face(30, [](long long x, long long y) { return (x * 31 + y * 17) % 5; }));
}

TEST_CASE("a plane that is a plane needs no room") {
  const auto spots = spots_of({{0, 0, 0}, {7, 0, 21}, {0, 7, -7}, {7, 7, 14}, {3, 2, 7}, {3, 2, 7}});
  const calc::Zone zone = calc::minimum_zone(spots);
  CHECK(zone.range == Exact(0));
  CHECK(zone.lower.slopes == std::vector<Exact>{3, -1});
}

TEST_CASE("contacts are three against one, two against two, or two against one") {
  const auto contacts = [](const std::vector<Row>& rows) {
    std::pair<int, int> count;
    for (const Contact& contact : calc::minimum_zone(spots_of(rows)).contacts)
      ++(contact.high ? count.first : count.second);
    return count;
  };
  CHECK(contacts({{0, 0, 0}, {9, 0, 0}, {0, 9, 0}, {3, 3, 5}}) == std::pair(1, 3));
  CHECK(contacts({{0, 0, 0}, {9, 0, 0}, {0, 9, 0}, {3, 3, -5}}) == std::pair(3, 1));
  CHECK(contacts({{0, 0, 10}, {9, 0, 0}, {0, 9, 0}, {9, 9, 10}}) == std::pair(2, 2));
  CHECK(contacts({{0, 0, 0}, {4, 0, 7}, {8, 0, 0}, {4, 9, 3}}) == std::pair(1, 2));
  CHECK(contacts({{0, 0}, {4, 7}, {8, 0}}) == std::pair(1, 2));
}

TEST_CASE("two heights at one place are as far apart as they are, whatever the tilt") {
  CHECK(calc::minimum_zone(spots_of({{0, 0, 0}, {9, 0, 0}, {0, 9, 0}, {3, 3, 2}, {3, 3, -2}})).range == Exact(4));
  CHECK(calc::minimum_zone(spots_of({{0, 0}, {5, 50}, {5, 53}, {10, 100}})).range == Exact(3));
}

TEST_CASE("a tilt and a shift change no zone, not in the last digit") {
  Draw draw(4);
  for (int trial = 0; trial < 15; ++trial) {
    std::vector<Row> rows;
    for (int i = 0; i < 30; ++i) rows.push_back({draw.whole(0, 400'000), draw.whole(0, 160'000), draw.whole(-50, 50)});
    std::vector<Spot> spots = spots_of(rows);
    const calc::Zone plain = calc::minimum_zone(spots);
    const Exact a = Exact::ratio(draw.whole(-1000, 1000), 7);
    const Exact b = Exact::ratio(draw.whole(-1000, 1000), 1'000'003);
    for (Spot& spot : spots) {
      spot.height = spot.height + a * spot.place[0] + b * spot.place[1] + Exact(123'456);
      for (Exact& each : spot.place) each = each + Exact(9'876'543'210);
    }
    const calc::Zone tilted = calc::minimum_zone(spots);
    CHECK(tilted.range == plain.range);
    CHECK(is_proved(spots, tilted));
  }
}

TEST_CASE("points no double can tell apart still find their zone") {
  const auto number = [](std::string_view text) { return Exact::decimal(text).value(); };
  const std::vector<Spot> steep = {{{number("1e12"), number("1e-12")}, number("1e12")},
                                   {{number("1.00000000000000000000000000001e12"), 0}, number("-1e12")},
                                   {{0, number("2e-12")}, number("1e-12")},
                                   {{0, 0}, 0},
                                   {{number("5e11"), number("1e-12")}, number("0.123456789012345678901234567891")}};
  check_proof(steep);
  // All but in one line, and all but level.
  const std::vector<Spot> thin = {
      {{1, 1}, number("1.000000000000000000000000001")},
      {{2, 2}, 1},
      {{3, number("3.000000000000000000000000001")}, number("0.999999999999999999999999999")},
      {{4, 4}, 1},
      {{5, 5}, number("1.000000000000000000000000002")}};
  check_proof(thin);
}

TEST_CASE("no line or plane goes through places that do not span one") {
  for (const std::vector<Row>& rows :
       {std::vector<Row>{{1, 1, 0}, {1, 1, 5}, {1, 1, 3}, {1, 1, 3}},
        std::vector<Row>{{0, 0, 0}, {1, 2, 5}, {2, 4, 3}, {50, 100, 1}}, std::vector<Row>{{3, 0}, {3, 1}, {3, 7}}}) {
    CHECK(!calc::least_squares(spots_of(rows)));
    CHECK_THROWS_AS(calc::minimum_zone(spots_of(rows)), std::logic_error);
  }
}

TEST_CASE("what a least-squares plane leaves weighs nothing, at no place and in no direction") {
  Draw draw(5);
  for (int trial = 0; trial < 60; ++trial) {
    std::vector<Row> rows = {{0, 0, 3}, {9, 1, 4}, {2, 8, 5}};
    for (long long count = draw.whole(1, 30); count > 0; --count)
      rows.push_back({draw.whole(-50, 50), draw.whole(-50, 50), draw.whole(-90, 90)});
    const bool line = trial % 2;
    if (line)
      for (Row& row : rows) row.erase(row.begin());
    const std::vector<Spot> spots = spots_of(rows, Exact::ratio(1, 3));
    const auto datum = calc::least_squares(spots);
    REQUIRE(datum);
    Exact sum;
    std::vector<Exact> moments(datum->slopes.size());
    for (const Spot& spot : spots) {
      sum += above(*datum, spot);
      for (std::size_t k = 0; k < moments.size(); ++k) moments[k] += above(*datum, spot) * spot.place[k];
    }
    CHECK(sum == Exact(0));
    CHECK(std::ranges::all_of(moments, [](const Exact& moment) { return moment.sign() == 0; }));
    CHECK(calc::minimum_zone(spots).range <= calc::extremes(spots, datum->slopes).range);
  }
}

TEST_CASE("of equal extremes the first is named") {
  const auto found = calc::extremes(spots_of({{0, 0, 1}, {1, 0, 5}, {0, 1, 5}, {1, 1, -2}, {2, 2, -2}}), {0, 0});
  CHECK(found.high == 1);
  CHECK(found.low == 3);
  CHECK(found.range == Exact(7));
}
