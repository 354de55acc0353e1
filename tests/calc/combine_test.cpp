#include "calc/combine.h"

#include <catch2/catch.hpp>

using calc::combined;
using calc::Exact;

TEST_CASE("uncertainties combine as a root sum of squares") {
  CHECK(combined({{1, Exact::ratio(3, 1000)}, {-1, Exact::ratio(4, 1000)}}) == Exact::ratio(5, 1000));
  CHECK(combined({{3, Exact(1)}, {2, Exact(2)}}) == Exact(5));
  CHECK(combined({{1, Exact(5), 25}}) == Exact(1));
}

TEST_CASE("a single uncertainty stays exact") {
  const Exact third = Exact::ratio(1, 3);
  CHECK(combined({{-1, third}, {0, Exact(7)}, {5, std::nullopt}}) == third);
}

TEST_CASE("no uncertainty given is none, a zero given is zero") {
  CHECK(!combined({{1, std::nullopt}}));
  CHECK(!combined({}));
  CHECK(combined({{1, std::nullopt}, {1, Exact(0)}}) == Exact(0));
}

TEST_CASE("extremes and means of nothing are a programming error") {
  CHECK_THROWS_AS(calc::mean({}), std::logic_error);
  CHECK_THROWS_AS(calc::smallest({}), std::logic_error);
  CHECK(calc::mean({Exact(1), Exact(2)}) == Exact::ratio(3, 2));
  CHECK(calc::range({Exact(4), Exact(-1), Exact(2)}) == Exact(5));
}
