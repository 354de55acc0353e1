#include "calculating.h"

using namespace calculating;

namespace {

std::string protrusion(std::string_view readings, std::string_view more = "") {
  return R"({"readings":)" + std::string(readings) +
         R"(,"grades":[{"name":"thin","from":"0.60 mm","to":"0.65 mm"},)"
         R"({"name":"middle","from":"0.65 mm","to":"0.70 mm"},)"
         R"({"name":"thick","from":"0.70 mm","to":"0.75 mm"}])" +
         std::string(more) + "}";
}

std::string grade(std::string_view readings, std::string_view more = "") {
  return written(answer("protrusion", protrusion(readings, more)), "grade");
}

} // namespace

TEST_CASE("the highest cylinder picks the gasket") {
  const auto found = answer("protrusion", protrusion(mm("[[0.61,0.63],[0.66,0.70],[0.68,0.68],[0.60,0.62]]")));
  CHECK(written(found, "per_cylinder") == R"([{"value":0.62,"unit":"mm"},{"value":0.68,"unit":"mm"},)"
                                          R"({"value":0.68,"unit":"mm"},{"value":0.61,"unit":"mm"}])");
  CHECK(written(found, "governs") == "2");
  CHECK(written(found, "spread") == R"({"value":0.07,"unit":"mm"})");
  CHECK(written(found, "grade") == "\"middle\"");
}

TEST_CASE("a mean on a grade's edge belongs to the grade above, the last edge to the last") {
  CHECK(grade(mm("[[0.64,0.66]]")) == "\"middle\"");
  CHECK(grade(mm("[[0.66,0.70]]")) == "\"middle\""); // exactly 0.68
  CHECK(grade(mm("[[0.639999999999,0.66]]")) == "\"thin\"");
  CHECK(grade(mm("[[0.1,0.2],[0.69,0.71]]")) == "\"thick\"");
  CHECK(grade(mm("[[0.74,0.76]]")) == "\"thick\"");
  CHECK(grade(mm("[[0.60]]")) == "\"thin\"");
}

TEST_CASE("outside the table there is no grade") {
  const auto high = answer("protrusion", protrusion(mm("[[0.7500001]]")));
  CHECK(written(high, "grade") == "null");
  CHECK(has_note(high, "none, the table goes from 0.6 to 0.75 mm"));
  CHECK(grade(mm("[[-0.2]]")) == "null");
}

TEST_CASE("a height the gauge cannot place is undecided") {
  const auto found = answer("protrusion", protrusion(R"({"values":[[0.644,0.648]],"unit":"mm","u":0.006})"));
  CHECK(written(found, "grade") == "null");
  CHECK(has_note(found, "undecided"));
  CHECK(grade(R"({"values":[[0.644,0.648]],"unit":"mm","u":0.005})") == "\"thin\""); // U of the mean is 0.0035
  CHECK(has_note(answer("protrusion", protrusion(R"({"values":[[0.749]],"unit":"mm","u":0.006})")), "undecided"));
}

TEST_CASE("by the mean a cylinder well above it asks for one grade more") {
  const std::string by_mean = R"(,"basis":"mean","exceed":"0.03 mm")";
  CHECK(grade(mm("[[0.62],[0.64],[0.66],[0.64]]"), by_mean) == "\"thin\"");
  CHECK(grade(mm("[[0.62],[0.64],[0.67],[0.63]]"), by_mean) == "\"thin\"");     // 0.03 above the mean
  CHECK(grade(mm("[[0.62],[0.64],[0.6704],[0.63]]"), by_mean) == "\"middle\""); // 0.0303 above it
  CHECK(grade(mm("[[0.70],[0.70],[0.78]]"), by_mean) == "null");
  CHECK(refusal("protrusion", protrusion(mm("[[0.6]]"), R"(,"basis":"mean")")).starts_with("exceed: "));
  CHECK(refusal("protrusion", protrusion(mm("[[0.6]]"), R"(,"exceed":"0.03 mm")")).starts_with("exceed: "));
}

TEST_CASE("what the readings share cancels in the spread only") {
  const auto found = answer(
      "protrusion", protrusion(R"({"values":[[0.62,0.62],[0.63,0.63]],"unit":"mm","u":0.002,"u_shared":0.004})"));
  CHECK(u(found, "spread") == 0.002);
  CHECK(u(found, "highest") == Approx(std::sqrt(0.002 * 0.002 / 2 + 0.004 * 0.004)).epsilon(1e-11));
}

TEST_CASE("a cylinder without reading, or a table that overlaps, is refused") {
  CHECK(refusal("protrusion", protrusion(mm("[[0.6,0.6],[null,null]]"))) == "readings: cylinder 2 has no reading");
  CHECK(refusal("protrusion", R"({"readings":)" + mm("[[0.6]]") +
                                  R"(,"grades":[{"name":"a","from":"0.5 mm","to":"0.7 mm"},)"
                                  R"({"name":"b","from":"0.6 mm","to":"0.8 mm"}]})") == "grades: a and b overlap");
  CHECK(refusal("protrusion",
                R"({"readings":)" + mm("[[0.6]]") + R"(,"grades":[{"name":"a","from":"0.7 mm","to":"0.7 mm"}]})") ==
        "grades: a: from must be below to");
}
