// The order in which a pattern of fasteners is tightened.
#include "calc/combine.h"
#include "calc/groups.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <numeric>

namespace calc {

namespace {

constexpr std::size_t most_positions = 200;

struct Place {
  Exact x;
  Exact y;
  auto operator<=>(const Place&) const = default;
};

Exact squared_distance(const Place& a, const Place& b) {
  const Exact x = a.x - b.x;
  const Exact y = a.y - b.y;
  return x * x + y * y;
}

Place centroid(const std::vector<Place>& places) {
  Place sum;
  for (const Place& place : places) {
    sum.x += place.x;
    sum.y += place.y;
  }
  return {sum.x / whole(places.size()), sum.y / whole(places.size())};
}

using Ring = std::vector<std::size_t>; // indices of its places, rising

// A ring holds the places no further from the centroid than 1 per cent more than its innermost.
std::vector<Ring> rings(const std::vector<Place>& places) {
  const Place centre = centroid(places);
  std::vector<Exact> distances;
  for (const Place& place : places) distances.push_back(squared_distance(place, centre));
  Ring outward(places.size());
  std::iota(outward.begin(), outward.end(), 0);
  std::ranges::stable_sort(outward, {}, [&](std::size_t i) { return distances[i]; });

  const Exact wider = Exact::ratio(10'201, 10'000); // 1.01 squared
  std::vector<Ring> found;
  Exact reach;
  for (const std::size_t i : outward) {
    if (found.empty() || distances[i] > reach) {
      found.emplace_back();
      reach = distances[i] * wider;
    }
    found.back().push_back(i);
  }
  for (Ring& ring : found) std::ranges::sort(ring);
  return found;
}

// From the lowest on, always to the one farthest from the last.
Ring across(Ring left, const std::vector<Place>& places) {
  Ring order;
  auto next = left.begin();
  while (true) {
    order.push_back(*next);
    left.erase(next);
    if (left.empty()) return order;
    const Place& last = places[order.back()];
    std::vector<Exact> distances;
    for (const std::size_t i : left) distances.push_back(squared_distance(places[i], last));
    next = left.begin() + (std::ranges::max_element(distances) - distances.begin());
  }
}

Result<Answer> pattern_order(const Given& given) {
  std::vector<Place> places;
  std::map<Place, std::size_t> numbers;
  for (const auto& row : given.readings("positions").rows) {
    places.push_back({*row[0], *row[1]});
    const auto [twin, is_new] = numbers.try_emplace(places.back(), places.size());
    if (!is_new)
      return bad_input("positions", fmt::format("numbers {} and {} are one place", twin->second, places.size()));
  }
  Outcomes order;
  for (const Ring& ring : rings(places))
    for (const std::size_t i : across(ring, places)) order.emplace_back(whole(i + 1));
  Answer answer;
  answer.results = {{"order", order}};
  return answer;
}

} // namespace

std::vector<Computation> pattern_computations() {
  return {{
      .name = "pattern-order",
      .group = "pattern",
      .purpose = "Order in which a pattern of fasteners is tightened: from the middle outwards, and across.",
      .inputs = {{.name = "positions",
                  .shape = Shape::points,
                  .dimension = Dimension::length,
                  .meaning = "x and y of each fastener, 200 at most",
                  .sign = Sign::any,
                  .most = most_positions,
                  .columns = 2}},
      .results = {{"order", ResultKind::quantities, {}, "numbers of the positions as given, from 1, first to last"}},
      .formula =
          "rings of one distance from the centroid (within 1 %), inner first; in a ring first the lowest number, "
          "then always the one farthest from the last, of equals the lowest",
      .source = "common practice, no source",
      .example = {R"({"positions":{"points":[[0,0],[100,0],[200,0],[0,80],[100,80],[200,80]],"unit":"mm"}})",
                  R"({"calculation":"pattern-order","results":{"order":[2,5,1,6,4,3]},"notes":[]})"},
      .work = pattern_order,
  }};
}

} // namespace calc
