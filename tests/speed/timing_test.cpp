#include "speed/timing.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace speed;

TEST_CASE("the middle of several times is their median, whatever the order") {
  CHECK(median({3, 1, 2}) == 2);
  CHECK(median({4, 1, 3, 2}) == 2.5);
  CHECK(median({7}) == 7);
  CHECK(median({1, 1, 1, 1, 1000}) == 1); // one that was disturbed changes nothing
  CHECK_THROWS_AS(median({}), std::logic_error);
}

TEST_CASE("of a hundred times the 99th does not go beyond what all but the slowest do not exceed") {
  std::vector<double> times;
  for (int i = 100; i >= 1; --i) times.push_back(i);
  CHECK(below(times, 0.99) == 99);
  CHECK(below(times, 1) == 100);
  CHECK(below(times, 0.5) == 50);
  CHECK(below({5}, 0.99) == 5);
}

// y = c x^k has the slope k on paper with logarithms both ways (any text on regression).
TEST_CASE("a time that grows by a power has that power for its exponent") {
  const std::vector<double> sizes = {100, 400, 1600};
  for (const double power : {0.0, 0.5, 1.0, 1.15, 2.0}) {
    std::vector<double> seconds;
    for (const double size : sizes) seconds.push_back(3e-6 * std::pow(size, power));
    CHECK(exponent(sizes, seconds) == Approx(power).margin(1e-12));
  }
  CHECK(exponent({1, 4, 16}, {1, 8, 16}) == Approx(1)); // the middle one weighs nothing against the ends
  CHECK_THROWS_AS(exponent({1}, {1}), std::logic_error);
  CHECK_THROWS_AS(exponent({1, 2}, {1}), std::logic_error);
}

TEST_CASE("pairs are compared each by itself, so that a slow spell that meets both changes nothing") {
  const Pairs quiet = of_pairs({3, 3, 3}, {2, 2, 2});
  CHECK(quiet.times == 1.5);
  CHECK(quiet.more == 1);
  const Pairs spell = of_pairs({3, 300, 3}, {2, 200, 2});
  CHECK(spell.times == 1.5);
  CHECK(spell.more == 1);
  CHECK(spell.ours == 3);
  CHECK(spell.floor == 2);
  CHECK_THROWS_AS(of_pairs({1, 2}, {1}), std::logic_error);
}

TEST_CASE("in turn each side is done once a round, now one first and now the other") {
  std::string order;
  const Pairs pairs = in_turn(
      3, [&] { order += 'o'; }, [&] { order += 'f'; });
  CHECK(order == "offoof");
  CHECK(pairs.ours >= 0);
}
