#include "calculating.h"

using namespace calculating;

TEST_CASE("oil clearance is taken plane by plane") {
  // The tightest plane is neither that of the smallest bore nor that of the largest journal.
  const auto found =
      answer("oil-clearance", R"({"bore":)" + mm("[[50.030,50.034],[50.020,50.024],[50.026,50.040]]") +
                                  R"(,"journal":)" + mm("[[49.990,49.984],[49.976,49.978],[49.989,49.980]]") + "}");
  CHECK(written(found, "min") == R"({"value":0.037,"unit":"mm"})");
  CHECK(written(found, "where_min") == "3");
  CHECK(written(found, "max") == R"({"value":0.06,"unit":"mm"})");
  CHECK(written(found, "where_max") == "3");
  CHECK(found.notes.empty());
}

TEST_CASE("equal planes are told by the first") {
  const auto found =
      answer("oil-clearance", R"({"bore":)" + mm("[[50.03],[50.03]]") + R"(,"journal":)" + mm("[[50],[50]]") + "}");
  CHECK(written(found, "where_min") == "1");
  CHECK(written(found, "where_max") == "1");
}

TEST_CASE("planes that do not match are set against each other altogether") {
  const auto found = answer("oil-clearance", R"({"bore":)" + mm("[[50.03,50.04]]") + R"(,"journal":)" +
                                                 mm("[[49.99,49.98],[49.97,49.96]]") + "}");
  CHECK(written(found, "min") == R"({"value":0.04,"unit":"mm"})");
  CHECK(written(found, "max") == R"({"value":0.08,"unit":"mm"})");
  CHECK(written(found, "where_min") == "null");
  CHECK(has_note(found, "the bore has 1 planes and the journal 2"));
}

TEST_CASE("a plane without a reading on one side is passed over") {
  const auto found = answer("oil-clearance",
                            R"({"bore":)" + mm("[[50.00],[50.05]]") + R"(,"journal":)" + mm("[[null],[50.00]]") + "}");
  CHECK(written(found, "where_min") == "2");
  CHECK(refusal("oil-clearance", R"({"bore":)" + mm("[[null],[50.05]]") + R"(,"journal":)" + mm("[[50],[null]]") + "}")
            .starts_with("journal: "));
}

TEST_CASE("bore in inches and journal in millimetres answer in inches") {
  const auto found = answer("oil-clearance", R"({"bore":{"values":[["2 in"]]},"journal":)" + mm("[[50.775]]") + "}");
  CHECK(written(found, "min") == R"({"value":0.000984251968504,"unit":"in"})");
}

TEST_CASE("a clearance below nothing is an interference") {
  const auto found = answer("clearance", R"({"outer":"40.00 mm","inner":["40.02 mm","39.99 mm"]})");
  CHECK(written(found, "min") == R"({"value":-0.02,"unit":"mm"})");
  CHECK(written(found, "max") == R"({"value":0.01,"unit":"mm"})");
  CHECK(written(found, "mean") == R"({"value":-0.005,"unit":"mm"})");
}

TEST_CASE("the U of a clearance combines both gauges") {
  const auto found = answer("clearance", R"({"outer":{"values":[40.01,40.02],"unit":"mm","u":0.003},)"
                                         R"("inner":{"value":40,"unit":"mm","u":0.004}})");
  CHECK(u(found, "min") == 0.005);
  CHECK(u(found, "mean") == Approx(std::sqrt(0.003 * 0.003 / 2 + 0.004 * 0.004)).epsilon(1e-11));
  const auto half_known = answer("clearance", R"({"outer":{"value":40.01,"unit":"mm","u":0.003},"inner":"40 mm"})");
  CHECK(u(half_known, "min") == 0.003);
}

TEST_CASE("a part larger than its bore is an interference, a smaller one a negative one") {
  const auto tight = answer("interference", R"({"bore":)" + mm("[[40.000,40.025]]") + R"(,"part":)" +
                                                mm("[[40.026,null],[40.042,40.030]]") + "}");
  CHECK(written(tight, "min") == R"({"value":0.001,"unit":"mm"})");
  CHECK(written(tight, "max") == R"({"value":0.042,"unit":"mm"})");
  const auto loose = answer("interference", R"({"bore":"40.02 mm","part":["40.02 mm","39.99 mm"]})");
  CHECK(written(loose, "min") == R"({"value":-0.03,"unit":"mm"})");
  CHECK(written(loose, "max") == R"({"value":0,"unit":"mm"})");
  CHECK(written(loose, "mean") == R"({"value":-0.015,"unit":"mm"})");
}

TEST_CASE("an interference answers in the unit of the bore and is the clearance turned round") {
  const auto tight = answer("interference", R"({"bore":{"value":2,"unit":"in","u":0.0003},)"
                                            R"("part":{"value":50.8254,"unit":"mm","u":0.01016}})");
  CHECK(written(tight, "max") == R"({"value":0.001,"unit":"in","u":0.0005})");
  const std::string bore = mm("[40.004,40.011]");
  const std::string part = mm("[40.031,40.018]");
  const auto one_way = answer("interference", R"({"bore":)" + bore + R"(,"part":)" + part + "}");
  const auto other_way = answer("clearance", R"({"outer":)" + bore + R"(,"inner":)" + part + "}");
  CHECK(quantity_in(one_way, "min").value == -quantity_in(other_way, "max").value);
  CHECK(quantity_in(one_way, "max").value == -quantity_in(other_way, "min").value);
  CHECK(quantity_in(one_way, "mean").value == -quantity_in(other_way, "mean").value);
  CHECK(refusal("interference", R"({"bore":"0 mm","part":"40 mm"})") == "bore: must be greater than 0");
  CHECK(refusal("interference", R"({"bore":"40 mm"})") == "part: missing");
}

TEST_CASE("end play is the swing of the dial, whatever its zero") {
  const auto found = answer("end-play", R"({"readings":)" + mm("[[0,0.14],[-0.05,0.10],[0.07,-0.06]]") + "}");
  CHECK(written(found, "play") == R"({"value":0.14,"unit":"mm"})");
  CHECK(written(found, "spread") == R"({"value":0.02,"unit":"mm"})");
  CHECK(found.notes.empty());
}

TEST_CASE("tries that differ beyond their U, and a shaft that binds, are noted") {
  const auto apart = answer("end-play", R"({"readings":{"values":[[0,0.14],[0,0.16]],"unit":"mm","u":0.01}})");
  CHECK(has_note(apart, "measure again"));
  const auto close = answer("end-play", R"({"readings":{"values":[[0,0.14],[0,0.15]],"unit":"mm","u":0.01}})");
  CHECK(close.notes.empty());
  CHECK(has_note(answer("end-play", R"({"readings":)" + mm("[[0.2,0.2]]") + "}"), "binds"));
}

TEST_CASE("piston clearance takes any number of bore readings") {
  const auto found =
      answer("piston-clearance", R"({"bore":)" + mm("[[83.062,83.041],[83.018,83.012]]") + R"(,"piston":"82.945 mm"})");
  CHECK(written(found, "min") == R"({"value":0.067,"unit":"mm"})");
  CHECK(written(found, "max") == R"({"value":0.117,"unit":"mm"})");
  CHECK(refusal("piston-clearance", R"({"bore":"83 mm","piston":["82 mm","81 mm"]})").starts_with("piston: "));
}

TEST_CASE("a ring gap opens by pi for each millimetre of bore") {
  const auto same = answer("ring-gap", R"({"gap":"0.30 mm","gauge_bore":"83 mm","working_bore":"83 mm"})");
  CHECK(written(same, "gap_at_working") == R"({"value":0.3,"unit":"mm"})");
  const auto tight = answer("ring-gap", R"({"gap":"0 mm","gauge_bore":"83.062 mm","working_bore":"83 mm"})");
  CHECK(value(tight, "gap_at_working") == Approx(-0.194778744523).epsilon(1e-11));
  CHECK(has_note(tight, "ends of the ring would meet"));
  CHECK(refusal("ring-gap", R"({"gap":"-0.1 mm","gauge_bore":"83 mm","working_bore":"83 mm"})") ==
        "gap: must not be negative");
}
