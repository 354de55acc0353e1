#include "calculating.h"

using namespace calculating;

TEST_CASE("backlash is carried from the indicator to the pitch circle") {
  const auto found = answer("backlash", R"({"indicator":"0.18 mm","indicator_radius":"35 mm","pitch_radius":"42 mm"})");
  CHECK(written(found, "min") == R"({"value":0.216,"unit":"mm"})");
  CHECK(written(found, "max") == R"({"value":0.216,"unit":"mm"})");
  CHECK(value(found, "angle") == Approx(0.18 / 35 * 180 / 3.14159265358979).epsilon(1e-11));
}

TEST_CASE("backlash taken round the gear gives its extremes and its mean") {
  const auto found = answer("backlash", R"({"indicator":{"values":[0.10,0.14,0.12],"unit":"mm"},)"
                                        R"("indicator_radius":"20 mm","pitch_radius":"10 mm"})");
  CHECK(written(found, "min") == R"({"value":0.05,"unit":"mm"})");
  CHECK(written(found, "max") == R"({"value":0.07,"unit":"mm"})");
  CHECK(written(found, "mean") == R"({"value":0.06,"unit":"mm"})");
  CHECK(found.notes.empty());
}

TEST_CASE("gears that bind are noted and a radius of nothing refused") {
  CHECK(has_note(answer("backlash", R"({"indicator":"0 mm","indicator_radius":"35 mm","pitch_radius":"42 mm"})"),
                 "no backlash"));
  CHECK(refusal("backlash", R"({"indicator":"0.1 mm","indicator_radius":"0 mm","pitch_radius":"42 mm"})") ==
        "indicator_radius: must be greater than 0");
}
