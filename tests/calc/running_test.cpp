#include "calculating.h"

using namespace calculating;

TEST_CASE("a dial's whole swing is the run-out, half of it the bend") {
  const auto found = answer("run-out", R"({"readings":)" + mm("[0,0.02,0.05,0.03,-0.01,-0.02]") + "}");
  CHECK(written(found, "total") == R"({"value":0.07,"unit":"mm"})");
  CHECK(written(found, "bend") == R"({"value":0.035,"unit":"mm"})");
  CHECK(written(found, "high_at") == "3");
}

TEST_CASE("where the dial was set to zero does not matter") {
  CHECK(written(answer("run-out", R"({"readings":)" + mm("[-5.00,-4.98,-5.03]") + "}"), "total") ==
        R"({"value":0.05,"unit":"mm"})");
}

TEST_CASE("a shaft that runs true has no run-out, its first reading is the highest") {
  const auto found = answer("run-out", R"({"readings":)" + mm("[0.1,0.1,0.1]") + "}");
  CHECK(written(found, "total") == R"({"value":0,"unit":"mm"})");
  CHECK(written(found, "high_at") == "1");
}

TEST_CASE("of equal high readings the first is told") {
  CHECK(written(answer("run-out", R"({"readings":)" + mm("[0,0.03,-0.01,0.03]") + "}"), "high_at") == "2");
}

TEST_CASE("one reading shows no run-out") {
  CHECK(refusal("run-out", R"({"readings":)" + mm("[0.1]") + "}") == "readings: wants at least 2 values, not 1");
  CHECK(refusal("run-out", R"({"readings":)" + mm("[0,null,0.1]") + "}").starts_with("readings: "));
}

TEST_CASE("a setting the dial's readings share cancels in the run-out") {
  const auto found = answer("run-out", R"({"readings":{"values":[0,0.04],"unit":"mm","u":0.003,"u_shared":0.1}})");
  CHECK(u(found, "total") == Approx(0.003 * std::sqrt(2.0)).epsilon(1e-11));
  CHECK(u(found, "bend") == Approx(0.003 / std::sqrt(2.0)).epsilon(1e-11));
}

TEST_CASE("weights lie apart by the heaviest less the lightest") {
  const auto found = answer("match", R"({"weights":{"values":[812.4,814.1,811.9,814.1,811.9],"unit":"g","u":0.2}})");
  CHECK(written(found, "heaviest") == "2");
  CHECK(written(found, "lightest") == "3");
  CHECK(value(found, "spread") == 2.2);
  CHECK(u(found, "spread") == Approx(0.2 * std::sqrt(2.0)).epsilon(1e-11));
}

TEST_CASE("weights in ounces and grams are one set") {
  const auto found = answer("match", R"({"weights":["1 oz","28.349523125 g","28 g"]})");
  CHECK(written(found, "heaviest") == "1");
  CHECK(written(found, "lightest") == "3");
  CHECK(quantity_in(found, "spread").unit->name == "oz");
}

TEST_CASE("equal weights are the first both ways; one weight is no set") {
  const auto found = answer("match", R"({"weights":["800 g","800 g"]})");
  CHECK(written(found, "spread") == R"({"value":0,"unit":"g"})");
  CHECK(written(found, "heaviest") == "1");
  CHECK(written(found, "lightest") == "1");
  CHECK(refusal("match", R"({"weights":["800 g"]})").starts_with("weights: "));
  CHECK(refusal("match", R"({"weights":["800 g","0 g"]})") == "weights: must be greater than 0");
}

// Common practice, no source: two halves of one pair of shells have one wall.
TEST_CASE("shells from two boxes are found by how far their walls lie apart") {
  const auto found = answer("spread", R"({"sizes":{"values":[2.123,1.998,2.123],"unit":"mm","u":0.003}})");
  CHECK(written(found, "spread") == R"({"value":0.125,"unit":"mm","u":0.00424264068712})");
  CHECK(written(found, "largest") == "1");
  CHECK(written(found, "smallest") == "2");
  CHECK(written(answer("spread", R"({"sizes":["0.0787 in","1.99898 mm"]})"), "spread") ==
        R"({"value":0,"unit":"in"})"); // an inch is 25.4 mm
  CHECK(refusal("spread", R"({"sizes":["2 mm"]})").starts_with("sizes: "));
  CHECK(refusal("spread", R"({"sizes":["2 g","2 g"]})").starts_with("sizes: "));
}
