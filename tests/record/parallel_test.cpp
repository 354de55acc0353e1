#include "record/parallel.h"

#include <catch2/catch.hpp>

#include <atomic>
#include <stdexcept>
#include <vector>

using namespace record;

TEST_CASE("each piece of work is done once, however many there are") {
  for (const std::size_t count : {std::size_t{0}, std::size_t{1}, std::size_t{17}, std::size_t{1000}}) {
    std::vector<std::atomic<int>> done(count);
    in_parallel(count, [&](std::size_t i) { ++done[i]; });
    for (const auto& times : done) CHECK(times == 1);
  }
}

TEST_CASE("of several that throw, the first by number is told, after all the others were done") {
  std::atomic<int> done = 0;
  const auto work = [&](std::size_t i) {
    ++done;
    if (i == 777 || i == 42 || i == 900) throw std::runtime_error(std::to_string(i));
  };
  CHECK_THROWS_WITH(in_parallel(1000, work), "42");
  CHECK(done == 1000);
}

TEST_CASE("one that is not good among what was done aside is told") {
  for (const int bad : {-1, 0, 250, 499}) {
    std::atomic<int> done = 0;
    Aside aside;
    for (int i = 0; i < 500; ++i)
      aside.hand_in([&done, i, bad] {
        ++done;
        return i != bad;
      });
    CHECK(aside.all_good() == (bad < 0));
    CHECK(done == 500);
  }
  CHECK(Aside().all_good());
}

TEST_CASE("what was handed in and never asked for keeps nobody waiting") {
  Aside aside;
  for (int i = 0; i < 100; ++i) aside.hand_in([] { return true; });
}
