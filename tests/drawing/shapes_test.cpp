#include "drawing/shapes.h"

#include <catch2/catch.hpp>

TEST_CASE("numbers up to a hundred are said in words") {
  CHECK(drawing::in_words(0) == "none");
  CHECK(drawing::in_words(7) == "seven");
  CHECK(drawing::in_words(19) == "nineteen");
  CHECK(drawing::in_words(20) == "twenty");
  CHECK(drawing::in_words(42) == "forty-two");
  CHECK(drawing::in_words(100) == "one hundred");
  CHECK(drawing::in_words(101) == "101");
}

TEST_CASE("a text too wide for its room is made smaller, another keeps its size") {
  CHECK(drawing::fitted({0, 0}, "ten", 20, 200).size == 20);
  const auto small = drawing::fitted({0, 0}, "Next: seven of ten, the last of the row", 20, 200);
  CHECK(small.size < 20);
  CHECK(drawing::width_of(small.text, small.size) == Approx(200));
}

TEST_CASE("letters of two bytes count once") {
  CHECK(drawing::width_of("\xC3\x98", 10) == drawing::width_of("O", 10));
}
