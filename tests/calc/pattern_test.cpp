#include "calculating.h"

#include <fmt/format.h>

#include <algorithm>

using namespace calculating;

namespace {

std::string order(std::string_view points, std::string_view unit = "mm") {
  return written(answer("pattern-order", fmt::format(R"({{"positions":{{"points":{},"unit":"{}"}}}})", points, unit)),
                 "order");
}

// So many fasteners on a circle, to three decimals as a drawing has them.
std::string circle(int count, double radius) {
  std::string points;
  for (int i = 0; i < count; ++i) {
    const double angle = 2 * std::numbers::pi * i / count;
    points += fmt::format(",[{:.3f},{:.3f}]", radius * std::sin(angle), radius * std::cos(angle));
  }
  return "[" + points.substr(1) + "]";
}

} // namespace

TEST_CASE("a square goes across and across") {
  CHECK(order("[[0,0],[10,0],[10,10],[0,10]]") == "[1,3,2,4]");
}

TEST_CASE("a row goes from its middle outwards, left before right") {
  CHECK(order("[[0,0],[10,0],[20,0],[30,0],[40,0],[50,0],[60,0],[70,0],[80,0]]") == "[5,4,6,3,7,2,8,1,9]");
}

TEST_CASE("ten head bolts go from the middle outwards, ring by ring") {
  // Two rows of five, 100 apart and 80 across.
  CHECK(order("[[0,0],[100,0],[200,0],[300,0],[400,0],[0,80],[100,80],[200,80],[300,80],[400,80]]") ==
        "[3,8,2,9,7,4,1,10,6,5]");
}

TEST_CASE("a circle of four, and six, with decimals as drawn") {
  CHECK(order(circle(4, 35)) == "[1,3,2,4]");
  CHECK(order(circle(6, 35)) == "[1,4,2,5,3,6]");
}

TEST_CASE("the order is the same in inches and anywhere on the sheet") {
  CHECK(order("[[0,0],[1,0],[2,0],[0,0.8],[1,0.8],[2,0.8]]", "in") ==
        order("[[100,50],[125.4,50],[150.8,50],[100,70.32],[125.4,70.32],[150.8,70.32]]"));
}

TEST_CASE("one per cent makes another ring") {
  // About the centre at 0: two at 100 and two at a little more; the ring of the nearest goes first when it is one.
  CHECK(order("[[101,0],[-101,0],[0,100],[0,-100]]") == "[1,2,3,4]");       // one ring, from the lowest
  CHECK(order("[[101.01,0],[-101.01,0],[0,100],[0,-100]]") == "[3,4,1,2]"); // two rings
}

TEST_CASE("one in the middle comes first, and one alone is an order too") {
  CHECK(order("[[10,0],[-10,0],[0,0]]") == "[3,1,2]");
  CHECK(order("[[10,0]]") == "[1]");
}

TEST_CASE("two hundred fasteners are put in order, each once") {
  std::string points;
  for (int i = 0; i < 200; ++i) points += fmt::format(",[{},{}]", i % 20 * 7, i / 20 * 11);
  const auto found = answer("pattern-order", R"({"positions":{"points":[)" + points.substr(1) + R"(],"unit":"mm"}})");
  std::vector<int> numbers;
  for (const calc::Outcome& number : std::get<calc::Outcomes>(*found.find("order")))
    numbers.push_back(static_cast<int>(std::get<calc::Exact>(number).to_double()));
  std::ranges::sort(numbers);
  REQUIRE(numbers.size() == 200);
  for (int i = 0; i < 200; ++i) CHECK(numbers[static_cast<std::size_t>(i)] == i + 1);
  CHECK(refusal("pattern-order", R"({"positions":{"points":[[1,2])" + points + R"(],"unit":"mm"}})")
            .starts_with("positions: "));
}

TEST_CASE("two fasteners at one place, or one without a place, are refused") {
  CHECK(refusal("pattern-order", R"({"positions":{"points":[[1,2],[3,4],[1.0,2]],"unit":"mm"}})") ==
        "positions: numbers 1 and 3 are one place");
  CHECK(refusal("pattern-order", R"({"positions":{"points":[[1,2],[3]],"unit":"mm"}})").starts_with("positions: "));
  CHECK(refusal("pattern-order", R"({"positions":{"points":[],"unit":"mm"}})").starts_with("positions: "));
}
