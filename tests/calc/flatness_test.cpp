#include "calculating.h"

#include <fmt/format.h>

#include <numeric>

using namespace calculating;

namespace {

std::string line(std::string_view name, std::string_view enters, std::string_view refuses, std::string_view length) {
  return R"({"name":")" + std::string(name) + R"(","enters":")" + std::string(enters) + R"(","refuses":")" +
         std::string(refuses) + R"(","length":")" + std::string(length) + R"("})";
}

// Heights of a grid, row by row in y, as a call of `flatness` in um.
std::string grid(const std::vector<int>& x, const std::vector<int>& y, const std::vector<int>& heights,
                 std::string_view more = "") {
  std::string points;
  for (std::size_t j = 0; j < y.size(); ++j)
    for (std::size_t i = 0; i < x.size(); ++i)
      points += fmt::format("{}[{}e3,{}e3,{}]", points.empty() ? "" : ",", x[i], y[j], heights[j * x.size() + i]);
  return fmt::format(R"({{"points":[{}],"unit":"um"{}}})", points, more);
}

// Heights every 50 mm, as a call of `straightness` in um.
std::string along(const std::vector<int>& heights) {
  std::string points;
  for (std::size_t i = 0; i < heights.size(); ++i)
    points += fmt::format("{}[{}e3,{}]", points.empty() ? "" : ",", i * 50, heights[i]);
  return R"({"points":[)" + points + R"(],"unit":"um"})";
}

std::string um(std::string_view value) {
  return R"({"value":)" + std::string(value) + R"(,"unit":"um"})";
}

} // namespace

TEST_CASE("a face that a least-squares plane calls worse than it is") {
  const auto plate = answer("flatness", grid({0, 100, 200}, {0, 100, 200}, {0, 4, 2, 6, 12, 5, 3, 7, 1}));
  CHECK(written(plate, "minimum_zone") == um("11.5")); // 12 in the middle over the mean of 0 and 1 at the corners
  CHECK(written(plate, "least_squares") == um("11.6666666667"));
  CHECK(written(plate, "high") == "4");
  const auto head =
      answer("flatness", grid({0, 100, 200, 300}, {0, 60, 120}, {0, -18, -22, 3, 5, -25, -31, 8, 12, -9, -14, 20}));
  CHECK(written(head, "minimum_zone") == um("41.5")); // inside 43 um, where the other is not
  CHECK(written(head, "least_squares") == um("44.35"));
  CHECK(written(head, "high") == "11");
  CHECK(written(head, "low") == "6");
}

TEST_CASE("a twist is all there is between its corners") {
  const auto found = answer("flatness", grid({0, 100}, {0, 100}, {10, 0, 0, 10}));
  CHECK(written(found, "minimum_zone") == um("10"));
  CHECK(written(found, "least_squares") == um("10"));
  CHECK(written(found, "high") == "0"); // of the two that are as high
  CHECK(written(found, "low") == "1");
}

TEST_CASE("a flat face has no high and no low but the first point") {
  const auto found = answer("flatness", grid({0, 100}, {0, 100}, {0, 3, -5, -2}));
  CHECK(written(found, "minimum_zone") == um("0"));
  CHECK(written(found, "high") == "0");
  CHECK(written(found, "low") == "0");
}

TEST_CASE("lines that a least-squares line calls worse than they are") {
  const auto humped = answer("straightness", along({0, 7, 9, 14, 6, 12, 2}));
  CHECK(written(humped, "minimum_zone") == um("13"));
  CHECK(written(humped, "least_squares") == um("13.3928571429"));
  const auto wavy = answer("straightness", along({0, -4, -9, -3, 5, 8, 10}));
  CHECK(written(wavy, "minimum_zone") == um("12.3333333333"));
  CHECK(written(wavy, "least_squares") == um("13.8571428571"));
  // A hollow line: the edge over its two ends stands 26 um clear of the middle, and no tilt betters that.
  CHECK(written(answer("straightness", along({0, -12, -20, -24, -18, -9, 4})), "minimum_zone") == um("26"));
}

TEST_CASE("points are the same in inches, in millimetres and in one object") {
  const auto inches =
      answer("flatness", R"({"points":[[0,0,0],[1,0,0.002],[0,1,0],[1,1,0],["25.4 mm",0,"0.0254 mm"]],"unit":"in"})");
  CHECK(written(inches, "minimum_zone") == R"({"value":0.001,"unit":"in"})");
  const auto object =
      answer("flatness", R"({"points":{"points":[[0,0,0],[1,0,2],[0,1,0],[1,1,0],[1,0,1]],"unit":"thou"}})");
  CHECK(written(object, "minimum_zone") == R"({"value":1,"unit":"thou"})");
}

TEST_CASE("the U of a range is that of a difference of two heights") {
  const std::string rough = grid({0, 100}, {0, 100}, {10, 0, 0, 10}, R"(,"u":3,"u_shared":50)");
  const auto face = answer("flatness", rough);
  CHECK(u(face, "minimum_zone") == Approx(3 * std::sqrt(2.0)).epsilon(1e-11));
  CHECK(u(face, "least_squares") == Approx(3 * std::sqrt(2.0)).epsilon(1e-11));
  const auto edge = answer("straightness", R"({"points":[[0,0],[1,5],[2,0]],"unit":"um","u":2})");
  CHECK(u(edge, "minimum_zone") == Approx(2 * std::sqrt(2.0)).epsilon(1e-11));
}

TEST_CASE("points that make no face or no line are refused") {
  CHECK(refusal("flatness", R"({"points":[[0,0,0],[1,0,0],[0,1,0]],"unit":"mm"})") ==
        "points: wants at least 4 rows, not 3");
  CHECK(refusal("flatness", R"({"points":[[0,0,0],[1,1,5],[2,2,1],[7,7,0]],"unit":"mm"})")
            .starts_with("points: lie all in one line"));
  CHECK(refusal("flatness", R"({"points":[[0,0],[1,1],[2,3],[7,7]],"unit":"mm"})") ==
        "points: wants 3 values in each row");
  CHECK(refusal("flatness", R"({"points":[[0,0,0],[1,0,0],[0,1,0],[1,1,null]],"unit":"mm"})").starts_with("points: "));
  CHECK(refusal("flatness", R"({"points":[[0,0,0],[1,0,0],[0,1,0],[1,1,0]]})") == "points: says no unit");
  CHECK(refusal("straightness", R"({"points":[[0,0],[1,0]],"unit":"mm"})") == "points: wants at least 3 rows, not 2");
  CHECK(refusal("straightness", R"({"points":[[5,0],[5,1],[5,2]],"unit":"mm"})")
            .starts_with("points: lie all at one place"));
  CHECK(refusal("straightness", R"({"points":[[0,0],[1,0],[2,0]],"unit":"deg"})").starts_with("points: "));
}

TEST_CASE("ten thousand points are a face and one more is refused") {
  std::vector<int> side(100);
  std::iota(side.begin(), side.end(), 0);
  std::vector<int> heights(10'000);
  for (std::size_t i = 0; i < heights.size(); ++i) heights[i] = static_cast<int>(i * 7919 % 41);
  CHECK(value(answer("flatness", grid(side, side, heights)), "minimum_zone") == 40);
  side.push_back(100);
  heights.resize(side.size() * side.size());
  CHECK(refusal("flatness", grid(side, side, heights)) == "points: wants at most 10000 rows, not 10201");
}

TEST_CASE("the worst line is the one whose refused blade is thickest") {
  const auto found = answer("straightedge", R"({"lines":[)" + line("left", "0.02 mm", "0.03 mm", "400 mm") + "," +
                                                line("right", "0.03 mm", "0.04 mm", "400 mm") + "," +
                                                line("Diagonal 1", "0.03 mm", "0.04 mm", "450 mm") + "]}");
  CHECK(written(found, "worst") == R"({"value":0.04,"unit":"mm"})");
  CHECK(written(found, "where") == "\"right\"");
  CHECK(written(found, "ratio") == "null");
  CHECK(found.notes.empty());
}

TEST_CASE("a short line may be the worst for its length") {
  const auto found = answer("straightedge", R"({"lines":[)" + line("long", "0.04 mm", "0.05 mm", "400 mm") + "," +
                                                line("short", "0.03 mm", "0.04 mm", "100 mm") +
                                                R"(],"per_length":{"gap":"0.05 mm","length":"100 mm"}})");
  CHECK(written(found, "where") == "\"long\"");
  CHECK(written(found, "ratio") == R"({"value":0.8,"unit":"1"})");
}

TEST_CASE("edges alone do not show a twist") {
  CHECK(has_note(answer("straightedge", R"({"lines":[)" + line("edge", "0 mm", "0.03 mm", "400 mm") + "]}"), "twist"));
}

TEST_CASE("blades that contradict each other are refused") {
  CHECK(refusal("straightedge", R"({"lines":[)" + line("edge", "0.03 mm", "0.03 mm", "400 mm") + "]}")
            .starts_with("lines: edge: "));
  CHECK(refusal("straightedge", R"({"lines":[]})") == "lines: is empty");
  CHECK(refusal("straightedge", R"({"lines":[{"name":"edge","enters":"0 mm","refuses":"0.03 mm"}]})") ==
        "lines, number 1, length: missing");
  CHECK(refusal("straightedge", R"({"lines":[)" + line("edge", "0 mm", "0.03 mm", "400 mm") +
                                    R"(],"per_length":{"gap":"0.05 mm"}})") == "per_length, length: missing");
}
