#include "calculating.h"

using namespace calculating;

namespace {

std::string by_scale(std::string_view width) {
  return R"({"width":)" + std::string(width) +
         R"(,"scale":[{"width":"2.0 mm","clearance":"0.031 mm"},{"width":"1.0 mm","clearance":"0.062 mm"},)"
         R"({"width":"1.5 mm","clearance":"0.041 mm"}]})";
}

} // namespace

TEST_CASE("a strip read by its volume is a plausibility figure") {
  const auto found = answer("strip-clearance", R"({"width":["1.0 mm","2.0 mm"],"strip_diameter":"0.28 mm"})");
  CHECK(has_note(found, "plausibility"));
  CHECK(written(found, "clearance") ==
        R"([{"value":0.0615752160104,"unit":"mm"},{"value":0.0307876080052,"unit":"mm"}])");
  CHECK(value(found, "mean") == Approx(0.0461814120078).epsilon(1e-11));
  CHECK(written(found, "taper") == R"({"value":0.0307876080052,"unit":"mm"})");
}

TEST_CASE("a strip read by its scale is as coarse as the scale") {
  const auto found = answer("strip-clearance", by_scale(R"({"values":[1.25,1.75],"unit":"mm","u":0.05})"));
  // linear in 1/width: 1.25 lies 0.6 of the way from 1/1.5 to 1/1
  CHECK(written(found, "clearance") == R"([{"value":0.0494,"unit":"mm","u":0.0105},)"
                                       R"({"value":0.0352857142857,"unit":"mm","u":0.005}])");
  CHECK(u(found, "mean") == 0.0105);
  CHECK(u(found, "taper") == 0.0105);
}

TEST_CASE("a width that is badly read outweighs the step of the scale") {
  const auto found = answer("strip-clearance", by_scale(R"({"value":1.25,"unit":"mm","u":0.4})"));
  const double slope = (0.062 - 0.041) / (1 - 1 / 1.5) / (1.25 * 1.25);
  CHECK(u(found, "mean") == Approx(0.4 * slope).epsilon(1e-11));
  CHECK(written(found, "taper") == "null");
  CHECK(has_note(found, "taper"));
}

TEST_CASE("on a mark of the scale the larger step counts") {
  const auto found = answer("strip-clearance", by_scale(R"("1.5 mm")"));
  CHECK(written(found, "clearance") == R"([{"value":0.041,"unit":"mm","u":0.0105}])");
}

TEST_CASE("a strip is never read beyond its scale") {
  CHECK(refusal("strip-clearance", by_scale(R"("0.99 mm")")).starts_with("width: 0.99 mm is beyond the scale"));
  CHECK(refusal("strip-clearance", by_scale(R"("2.01 mm")")).starts_with("width: "));
  CHECK(written(answer("strip-clearance", by_scale(R"("2.0 mm")")), "mean") ==
        R"({"value":0.031,"unit":"mm","u":0.005})");
}

TEST_CASE("a strip needs its diameter or a scale that makes sense") {
  CHECK(refusal("strip-clearance", R"({"width":"1 mm"})").starts_with("strip_diameter: "));
  CHECK(refusal("strip-clearance", R"({"width":"1 mm","strip_diameter":"1 mm","scale":[)"
                                   R"({"width":"1 mm","clearance":"2 mm"},{"width":"2 mm","clearance":"1 mm"}]})")
            .starts_with("scale: "));
  CHECK(refusal("strip-clearance", R"({"width":"1 mm","scale":[{"width":"1 mm","clearance":"1 mm"},)"
                                   R"({"width":"2 mm","clearance":"2 mm"}]})")
            .starts_with("scale: "));
  CHECK(refusal("strip-clearance", R"({"width":"1 mm","scale":[{"width":"1 mm","clearance":"1 mm"},)"
                                   R"({"width":"1 mm","clearance":"2 mm"}]})")
            .starts_with("scale: "));
  CHECK(refusal("strip-clearance", R"({"width":"1 mm","scale":[{"width":"1 mm","clearance":"1 mm"}]})")
            .starts_with("scale: "));
}

TEST_CASE("the strip's own U moves all its clearances alike") {
  const auto found = answer("strip-clearance", R"({"width":{"values":[1.0,2.0],"unit":"mm"},)"
                                               R"("strip_diameter":{"value":0.28,"unit":"mm","u":0.01}})");
  CHECK(u(found, "mean") == Approx(2 * value(found, "mean") / 0.28 * 0.01).epsilon(1e-11));
  CHECK(u(found, "taper") == Approx(2 * value(found, "taper") / 0.28 * 0.01).epsilon(1e-11));
}

TEST_CASE("a scale of which one mark only carries a U") {
  const auto found = answer("strip-clearance", R"({"width":["1.2 mm","1.8 mm"],"scale":[)"
                                               R"({"width":"2.0 mm","clearance":{"value":0.03,"unit":"mm","u":0.02}},)"
                                               R"({"width":"1.5 mm","clearance":"0.04 mm"},)"
                                               R"({"width":"1.0 mm","clearance":"0.06 mm"}]})");
  CHECK(u(found, "taper") == 0.02);
  CHECK(u(found, "mean") == 0.01);
}

TEST_CASE("strip and sizes agree up to their U together, that included") {
  const auto edge = answer("strip-agreement", R"({"strip":{"value":0.050,"unit":"mm","u":0.008},)"
                                              R"("computed":{"value":0.060,"unit":"mm","u":0.006}})");
  CHECK(written(edge, "difference") == R"({"value":-0.01,"unit":"mm","u":0.01})");
  CHECK(written(edge, "agrees") == "true");
  CHECK(written(answer("strip-agreement", R"({"strip":{"value":0.050,"unit":"mm","u":0.008},)"
                                          R"("computed":{"value":0.0600001,"unit":"mm","u":0.006}})"),
                "agrees") == "false");
  CHECK(refusal("strip-agreement", R"({"strip":"1 mm","computed":{"value":1,"unit":"mm","u":1}})")
            .starts_with("strip: "));
  CHECK(refusal("strip-agreement", R"({"strip":{"value":1,"unit":"mm","u":1},"computed":"1 mm"})")
            .starts_with("computed: "));
}
