#include "calculating.h"

using namespace calculating;

TEST_CASE("thirds unless said, exactly") {
  CHECK(written(answer("torque-stages", R"({"final":"90 N.m"})"), "stages") ==
        R"([{"value":30,"unit":"N.m"},{"value":60,"unit":"N.m"},{"value":90,"unit":"N.m"}])");
}

TEST_CASE("stages go to the nearest line of the wrench, the last stays itself") {
  CHECK(written(answer("torque-stages", R"({"final":"88 N.m","division":"5 N.m"})"), "stages") ==
        R"([{"value":30,"unit":"N.m"},{"value":60,"unit":"N.m"},{"value":88,"unit":"N.m"}])");
  CHECK(written(answer("torque-stages", R"({"final":"64 N.m","fractions":[0.5,0.99,1],"division":"5 N.m"})"),
                "stages") == R"([{"value":30,"unit":"N.m"},{"value":60,"unit":"N.m"},{"value":64,"unit":"N.m"}])");
}

TEST_CASE("stages in another unit are answered in N.m and noted as set") {
  const auto found = answer("torque-stages", R"({"final":"60 lbf.ft","fractions":[0.5,1],"division":"5 lbf.ft"})");
  CHECK(written(found, "stages") == R"([{"value":40.674538449942012,"unit":"N.m"},)"
                                    R"({"value":81.349076899884024,"unit":"N.m"}])");
  CHECK(has_note(found, "30, 60 lbf.ft"));
}

TEST_CASE("stages that do not lead up to the final torque are refused") {
  CHECK(refusal("torque-stages", R"({"final":"60 N.m","fractions":[0.5,0.4,1]})").starts_with("fractions: "));
  CHECK(refusal("torque-stages", R"({"final":"60 N.m","fractions":[0.5,0.9]})").starts_with("fractions: "));
  CHECK(refusal("torque-stages", R"({"final":"60 N.m","fractions":[0.5,1.2]})").starts_with("fractions: "));
  CHECK(refusal("torque-stages", R"({"final":"60 N.m","fractions":[0,1]})").starts_with("fractions: "));
  CHECK(refusal("torque-stages", R"({"final":"20 N.m","division":"20 N.m"})").starts_with("division: "));
  CHECK(refusal("torque-stages", R"({"final":"0 N.m"})").starts_with("final: "));
}
