#include "calculating.h"

using namespace calculating;

TEST_CASE("a bore is worn from its largest reading, a journal from its smallest") {
  const auto bore = answer("form", R"({"readings":)" + mm("[[83.062,83.041],[83.035,83.026],[83.018,83.012]]") +
                                       R"(,"nominal":"83 mm","kind":"bore"})");
  CHECK(written(bore, "max") == R"({"value":83.062,"unit":"mm"})");
  CHECK(written(bore, "out_of_round") == R"({"value":0.021,"unit":"mm"})");
  CHECK(written(bore, "taper") == R"({"value":0.044,"unit":"mm"})");
  CHECK(written(bore, "wear") == R"({"value":0.062,"unit":"mm"})");
  const auto journal =
      answer("form", R"({"readings":)" + mm("[[69.931,69.905]]") + R"(,"nominal":"69.94 mm","kind":"journal"})");
  CHECK(written(journal, "wear") == R"({"value":0.035,"unit":"mm"})");
}

TEST_CASE("one direction shows no roundness, one plane no taper") {
  const auto one_direction = answer("form", R"({"readings":)" + mm("[[50.01],[50.02]]") + "}");
  CHECK(written(one_direction, "out_of_round") == "null");
  CHECK(written(one_direction, "taper") == R"({"value":0.01,"unit":"mm"})");
  const auto one_plane = answer("form", R"({"readings":)" + mm("[[50.01,50.02]]") + "}");
  CHECK(written(one_plane, "taper") == "null");
  CHECK(written(one_plane, "wear") == "null");
  CHECK(has_note(one_plane, "three lobes"));
}

TEST_CASE("a point over an oil hole is left out of every comparison") {
  const auto found = answer("form", R"({"readings":)" + mm("[[50.00,null,50.04],[50.01,50.09,null]]") + "}");
  CHECK(written(found, "out_of_round") == R"({"value":0.08,"unit":"mm"})");
  CHECK(written(found, "taper") == R"({"value":0.01,"unit":"mm"})");
  CHECK(written(found, "mean") == R"({"value":50.035,"unit":"mm"})");
  const auto crossed = answer("form", R"({"readings":)" + mm("[[50.00,null],[null,50.09]]") + "}");
  CHECK(written(crossed, "out_of_round") == "null");
  CHECK(written(crossed, "taper") == "null");
}

TEST_CASE("a form below the U of a difference is not called round") {
  const std::string readings = R"({"readings":{"values":[[50.000,50.003],[50.006,50.004]],"unit":"mm","u":0.003}})";
  const auto found = answer("form", readings);
  CHECK(has_note(found, "out_of_round: not distinguishable from round"));
  CHECK(!has_note(found, "taper: not distinguishable"));
  CHECK(u(found, "max") == 0.003);
  CHECK(u(found, "mean") == 0.0015);
}

TEST_CASE("a setting the readings share does not blur the form") {
  const auto found =
      answer("form", R"({"readings":{"values":[[50.000,50.003],[50.006,50.004]],"unit":"mm","u_shared":0.01},)"
                     R"("nominal":{"value":50,"unit":"mm","u":0.0},"kind":"bore"})");
  CHECK(written(found, "out_of_round") == R"({"value":0.003,"unit":"mm","u":0})");
  CHECK(u(found, "wear") == 0.01);
}

TEST_CASE("wear without its direction is refused") {
  CHECK(refusal("form", R"({"readings":)" + mm("[[50]]") + R"(,"nominal":"50 mm"})").starts_with("kind: "));
  CHECK(refusal("form", R"({"readings":)" + mm("[[50,0]]") + "}") == "readings: must be greater than 0");
  CHECK(refusal("form", R"({"readings":)" + mm("[[null,null]]") + "}").starts_with("readings: "));
}
