#include "calculating.h"

#include <fmt/format.h>

using namespace calculating;

namespace {

std::string parts(std::string_view list) {
  return fmt::format(R"({{"parts":[{}]}})", list);
}

std::string part(std::string_view value, std::string_view shape, std::string_view more = "") {
  return fmt::format(R"({{"name":"a","value":"{}","shape":"{}"{}}})", value, shape, more);
}

} // namespace

TEST_CASE("each shape has its divisor") {
  CHECK(value(answer("uncertainty", parts(part("5 um", "rectangular"))), "standard") ==
        Approx(5 / std::sqrt(3.0)).epsilon(1e-11));
  CHECK(value(answer("uncertainty", parts(part("5 um", "triangular"))), "standard") ==
        Approx(5 / std::sqrt(6.0)).epsilon(1e-11));
  CHECK(written(answer("uncertainty", parts(part("5 um", "normal", R"(,"k":2)"))), "standard") ==
        R"({"value":2.5,"unit":"um"})");
  CHECK(written(answer("uncertainty", parts(part("5 um", "normal", R"(,"k":2)"))), "expanded") ==
        R"({"value":5,"unit":"um"})");
}

TEST_CASE("parts combine by their squares, whichever way they move the result") {
  const auto found = answer("uncertainty", parts(part("3 um", "normal", R"(,"k":1)") + "," +
                                                 part("0.002 mm", "normal", R"(,"k":1,"sensitivity":-2)")));
  CHECK(written(found, "standard") == R"({"value":5,"unit":"um"})");
  CHECK(written(found, "expanded") == R"({"value":10,"unit":"um"})");
  CHECK(written(found, "shares") == "[0.36,0.64]");
  CHECK(has_note(found, "the largest part is a, 64 %"));
}

TEST_CASE("parts that are all nothing have no shares") {
  const auto found = answer(
      "uncertainty", parts(part("0 um", "rectangular") + "," + part("5 um", "rectangular", R"(,"sensitivity":0)")));
  CHECK(written(found, "standard") == R"({"value":0,"unit":"um"})");
  CHECK(written(found, "shares") == "null");
  CHECK(found.notes.empty());
}

TEST_CASE("a clearance from two gauges") {
  // Bore gauge: step 1 um, repeatability 1.5 um, setting +/- 2 um; micrometer: 1 um, 1.0 um, +/- 2 um.
  const auto found =
      answer("uncertainty",
             parts(part("0.5 um", "rectangular") + "," + part("1.5 um", "normal", R"(,"k":1)") + "," +
                   part("2 um", "rectangular") + "," + part("0.5 um", "rectangular") + "," +
                   part("1 um", "normal", R"(,"k":1)") + "," + part("2 um", "rectangular", R"(,"sensitivity":-1)")));
  CHECK(value(found, "standard") == Approx(2.466441).margin(5e-7));
  CHECK(value(found, "expanded") == Approx(4.932883).margin(5e-7));
}

TEST_CASE("parts that do not go together are refused by their number") {
  const auto refused = [](std::string_view list) { return refusal("uncertainty", parts(list)); };
  CHECK(refused(part("5 um", "normal")) == "parts, number 1, k: missing; a U goes with its k");
  CHECK(refused(part("5 um", "normal", R"(,"k":1)") + "," + part("5 um", "triangular", R"(,"k":2)"))
            .starts_with("parts, number 2, k: "));
  CHECK(refused(part("5 um", "normal", R"(,"k":0)")).starts_with("parts, number 1, k: "));
  CHECK(
      refused(part("5 um", "rectangular") + "," + part("5 N", "rectangular")).starts_with("parts, number 2, value: "));
  CHECK(refused(part("-5 um", "rectangular")).starts_with("parts, number 1, value: "));
  CHECK(refused(R"({"name":"a","value":{"value":5,"unit":"um","u":1},"shape":"rectangular"})")
            .starts_with("parts, number 1, value: "));
  CHECK(refused(part("5 um", "round")).starts_with("parts, number 1, shape: "));
  CHECK(refused("").starts_with("parts: "));
}
