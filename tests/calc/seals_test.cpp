#include "calculating.h"

#include <fmt/format.h>

using namespace calculating;

namespace {

std::string depths(std::string_view values, std::string_view more = "") {
  return R"({"depths":{"values":)" + std::string(values) + R"(,"unit":"mm")" + std::string(more) +
         R"(},"diameter":"70 mm"})";
}

} // namespace

TEST_CASE("a square seal has no run-out and no deepest place") {
  const auto found = answer("seal-squareness", depths("[4.1,4.1,4.1,4.1,4.1]"));
  CHECK(written(found, "runout") == R"({"value":0,"unit":"mm"})");
  CHECK(written(found, "tilt") == R"({"value":0,"unit":"deg"})");
  CHECK(written(found, "deepest_at") == "null");
  CHECK(written(found, "residual") == R"({"value":0,"unit":"mm"})");
}

TEST_CASE("a tilted seal is deepest where its depths say") {
  CHECK(written(answer("seal-squareness", depths("[6.00,6.05,6.00,5.95]")), "deepest_at") ==
        R"({"value":90,"unit":"deg"})");
  CHECK(written(answer("seal-squareness", depths("[6.05,6.00,5.95,6.00]")), "deepest_at") ==
        R"({"value":0,"unit":"deg"})");
  CHECK(written(answer("seal-squareness", depths("[6.00,5.95,6.00,6.05]")), "deepest_at") ==
        R"({"value":270,"unit":"deg"})");
  CHECK(written(answer("seal-squareness", depths("[-0.05,0,0.05,0]")), "deepest_at") ==
        R"({"value":180,"unit":"deg"})");
}

TEST_CASE("three depths always fit a plane") {
  const auto found = answer("seal-squareness", depths("[4.0,4.1,4.3]"));
  CHECK(written(found, "residual") == "null");
  CHECK(refusal("seal-squareness", depths("[4.0,4.1]")) == "depths: wants at least 3 values, not 2");
}

TEST_CASE("a warped seal is not called tilted") {
  const auto found = answer("seal-squareness", depths("[5.00,5.30,5.00,5.30]"));
  CHECK(written(found, "runout") == R"({"value":0,"unit":"mm"})");
  CHECK(written(found, "residual") == R"({"value":0.3,"unit":"mm"})");
  CHECK(has_note(found, "warped, not tilted"));
}

TEST_CASE("a setting the depths share moves the mean only") {
  const auto found = answer("seal-squareness", depths("[4.02,4.10,4.12,4.04]", R"(,"u_shared":0.02)"));
  CHECK(u(found, "runout") == 0);
  CHECK(u(found, "mean") == 0.02);
  const auto apart = answer("seal-squareness", depths("[4.02,4.10,4.12,4.04]", R"(,"u":0.02)"));
  CHECK(u(apart, "runout") == Approx(2 * 0.02 * std::sqrt(2.0 / 4)).epsilon(1e-11));
  CHECK(u(apart, "mean") == 0.01);
}

TEST_CASE("a deepest place nobody can tell is uncertain by half a turn at most") {
  const auto found = answer("seal-squareness", depths("[4.000,4.0001,4.000,4.000]", R"(,"u":0.02)"));
  CHECK(u(found, "deepest_at") == 180);
}

namespace {

std::string lip(std::string_view depth, std::string_view more = "") {
  return fmt::format(
      R"({{"depth":{{"value":{},"unit":"mm"{}}},"lip":"4.5 mm","groove_from":"8 mm","groove_to":"9 mm"}})", depth,
      more);
}

} // namespace

TEST_CASE("a lip is told by its nearer edge of the groove, and is negative inside it") {
  const auto distance = [](std::string_view depth) { return value(answer("lip-place", lip(depth)), "distance"); };
  CHECK(distance("2") == 1.5);
  CHECK(distance("3.5") == 0);
  CHECK(distance("3.75") == -0.25);
  CHECK(distance("4") == -0.5);
  CHECK(distance("4.3") == -0.2);
  CHECK(distance("4.5") == 0);
  CHECK(distance("6") == 1.5);
  CHECK(distance("-1") == 4.5); // the seal stands proud of the housing
  CHECK(has_note(answer("lip-place", lip("3.51")), "runs in the old groove"));
  CHECK(answer("lip-place", lip("3.5")).notes.empty());
}

TEST_CASE("a lip's place answers in the unit of its depth, and knows only the U of the edge it is near") {
  const auto found =
      answer("lip-place", R"({"depth":"0.1 in","lip":"2.54 mm","groove_from":"7.62 mm","groove_to":"9 mm"})");
  CHECK(written(found, "distance") == R"({"value":0.1,"unit":"in"})");
  const auto near_from = answer(
      "lip-place", R"({"depth":{"value":2,"unit":"mm","u":0.03},"lip":{"value":4,"unit":"mm","u":0.04},)"
                   R"("groove_from":{"value":8,"unit":"mm","u":0.12},"groove_to":{"value":9,"unit":"mm","u":7}})");
  CHECK(written(near_from, "distance") == R"({"value":2,"unit":"mm","u":0.13})");
  const auto near_to =
      answer("lip-place", R"({"depth":"9 mm","lip":"4 mm","groove_from":{"value":8,"unit":"mm","u":7},)"
                          R"("groove_to":{"value":9,"unit":"mm","u":0.12}})");
  CHECK(written(near_to, "distance") == R"({"value":4,"unit":"mm","u":0.12})");
}

TEST_CASE("a groove that ends before it begins is refused") {
  CHECK(refusal("lip-place", R"({"depth":"2 mm","lip":"4 mm","groove_from":"9 mm","groove_to":"8 mm"})") ==
        "groove_from: is deeper than groove_to");
  const auto line = answer("lip-place", R"({"depth":"2 mm","lip":"4 mm","groove_from":"8 mm","groove_to":"8 mm"})");
  CHECK(written(line, "distance") == R"({"value":2,"unit":"mm"})");
}

TEST_CASE("the surface of a shaft goes its circumference in a turn") {
  const auto speed = [](std::string_view diameter, std::string_view turns) {
    return written(answer("surface-speed", fmt::format(R"({{"diameter":"{}","speed":"{}"}})", diameter, turns)),
                   "surface_speed");
  };
  CHECK(speed("70 mm", "3000 rpm") == R"({"value":10.9955742876,"unit":"m/s"})");
  CHECK(speed("45 mm", "3600 rpm") == R"({"value":8.48230016469,"unit":"m/s"})");
  CHECK(speed("85 mm", "2400 rpm") == R"({"value":10.6814150222,"unit":"m/s"})");
  CHECK(speed("100 mm", "1000 rpm") == R"({"value":5.23598775598,"unit":"m/s"})");
  CHECK(speed("10 in", "1000 rpm") == speed("254 mm", "1000 rpm"));
  CHECK(speed("70 mm", "0 rpm") == R"({"value":0,"unit":"m/s"})");
  CHECK(refusal("surface-speed", R"({"diameter":"70 mm","speed":"-1 rpm"})") == "speed: must not be negative");
  CHECK(refusal("surface-speed", R"({"diameter":"0 mm","speed":"1 rpm"})") == "diameter: must be greater than 0");
}

TEST_CASE("a surface speed is as uncertain as diameter and speed together") {
  const auto found = answer("surface-speed", R"({"diameter":{"value":70,"unit":"mm","u":2.1},)"
                                             R"("speed":{"value":3000,"unit":"rpm","u":120}})");
  CHECK(u(found, "surface_speed") == Approx(0.05 * value(found, "surface_speed")).epsilon(1e-10));
}
