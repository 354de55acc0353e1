#include "calculating.h"

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
