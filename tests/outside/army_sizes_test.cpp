// Sizes, clearances and rules printed in US Army technical manuals (public domain). Their limits belong to the engines
// of those manuals: here they are test data and nothing more.
#include "calculating.h"

using namespace calculating;

namespace {

std::string range_in(std::string_view unit, std::string_view low, std::string_view high) {
  return R"({"values":[)" + std::string(low) + "," + std::string(high) + R"(],"unit":")" + std::string(unit) + R"("})";
}

void check_range(const calc::Answer& answer, double low, double high) {
  CHECK(value(answer, "min") == Approx(low).epsilon(1e-12));
  CHECK(value(answer, "max") == Approx(high).epsilon(1e-12));
}

} // namespace

TEST_CASE("TM 9-2815-254-24 p. 3-138: the bearing sizes that go with the printed clearance") {
  // Journal 69.920 to 69.932 mm, clearance 0.018 to 0.065 mm; so the bearing is 69.950 to 69.985 mm.
  check_range(answer("oil-clearance",
                     R"({"bore":)" + mm("[[69.950,69.985]]") + R"(,"journal":)" + mm("[[69.920,69.932]]") + "}"),
              0.018, 0.065);
  // Crankpin 52.918 to 52.930 mm, the same clearance; so the bearing is 52.948 to 52.983 mm.
  check_range(answer("oil-clearance",
                     R"({"bore":)" + mm("[[52.948,52.983]]") + R"(,"journal":)" + mm("[[52.918,52.930]]") + "}"),
              0.018, 0.065);
}

TEST_CASE("TM 9-6115-670-14&P p. 6-12: guide and stem give the clearance printed beside them") {
  check_range(answer("clearance", R"({"outer":)" + mm("[6.010,6.025]") + R"(,"inner":)" + mm("[5.968,5.980]") + "}"),
              0.030, 0.057);
}

TEST_CASE("TM 9-6115-464-34 table 1-1: guide and intake stem in inches") {
  check_range(answer("clearance", R"({"outer":)" + range_in("in", "0.3740", "0.3750") + R"(,"inner":)" +
                                      range_in("in", "0.3725", "0.3735") + "}"),
              0.0005, 0.0025);
}

TEST_CASE("TM 9-2815-252-24: another guide and stem") {
  check_range(answer("clearance", R"({"outer":)" + mm("[7.195,7.250]") + R"(,"inner":)" + mm("[7.155,7.170]") + "}"),
              0.025, 0.095);
}

TEST_CASE("TM 5-6115-545-34 table 1-2: liner bore and the pistons its skirt clearance asks for") {
  // Liner 4.2495 to 4.2510 in, clearance 0.0025 to 0.0050 in; so the piston is 4.2460 to 4.2470 in.
  const std::string liner = R"({"bore":)" + range_in("in", "4.2495", "4.2510");
  CHECK(value(answer("piston-clearance", liner + R"(,"piston":"4.2470 in"})"), "min") == Approx(0.0025).epsilon(1e-12));
  CHECK(value(answer("piston-clearance", liner + R"(,"piston":"4.2460 in"})"), "max") == Approx(0.0050).epsilon(1e-12));
}

TEST_CASE("TM 9-2815-256-24 p. 3-185: thrust journal and bearing width give the end play printed") {
  // Bearing 1.528 to 1.530 in, end play 0.002 to 0.008 in; so the journal is 1.532 to 1.536 in wide.
  check_range(answer("clearance", R"({"outer":)" + range_in("in", "1.532", "1.536") + R"(,"inner":)" +
                                      range_in("in", "1.528", "1.530") + "}"),
              0.002, 0.008);
}

TEST_CASE("TM 5-4210-233-14&P-2 p. 6-152, table c: which thrust washers go in") {
  // The manual corrects the end play for the washers taken out (their sum against 0.244 in, two of 0.122), then looks
  // up: below 0.016 standard, 0.017 to 0.026 the 0.005 oversize, 0.027 to 0.036 the 0.010 oversize, above it another
  // crankshaft. Each oversize, on both sides, takes 0.010 in: the end play left always lies in the standard range.
  const auto washers = [](std::string_view sum, std::string_view play) {
    return answer("thrust-selection", R"({"play":")" + std::string(play) + R"( in","fitted":["0.1200 in",")" +
                                          std::string(sum) + R"( in"],"low":"0.007 in","high":"0.016 in",)" +
                                          R"("available":["0.122 in","0.127 in","0.132 in"]})");
  };
  const auto standard = washers("0.1225", "0.0135"); // 0.2425 together
  CHECK(written(standard, "choice") == R"({"value":0.122,"unit":"in"})");
  CHECK(written(standard, "play_after") == R"({"value":0.012,"unit":"in"})"); // the manual's corrected end play
  const auto first = washers("0.1205", "0.0215");
  CHECK(written(first, "choice") == R"({"value":0.127,"unit":"in"})");
  CHECK(written(first, "play_after") == R"({"value":0.008,"unit":"in"})"); // 0.018 - 0.010
  const auto second = washers("0.1195", "0.0345");
  CHECK(written(second, "choice") == R"({"value":0.132,"unit":"in"})");
  CHECK(written(washers("0.1215", "0.0410"), "choice") == "null"); // replace the crankshaft
  CHECK(written(washers("0.1240", "0.0165"), "choice") == "null"); // between two bins: the table has no answer either
}

TEST_CASE("TM 5-6115-593-34 table 1-2, note: 0.003 in of ring gap for 0.001 in of liner wear") {
  const auto found = answer("ring-gap", R"({"gap":"0.016 in","gauge_bore":"4.000 in","working_bore":"4.001 in"})");
  CHECK(value(found, "gap_at_working") - 0.016 == Approx(0.003).margin(0.0005)); // printed to 0.001 in
  CHECK(value(found, "gap_at_working") == Approx(0.016 + 0.0031415926535898).epsilon(1e-11));
}

TEST_CASE("TM 5-3825-229-14&P p. 6-24: a bore 0.03 mm small closes the gap by 0.08 mm") {
  // 0.03 mm is rounded from 0.025 or so: 0.08 mm is what 0.025 mm gives, and the inch pair printed beside disagrees.
  const auto found = answer("ring-gap", R"({"gap":"0.40 mm","gauge_bore":"100 mm","working_bore":"99.975 mm"})");
  CHECK(0.40 - value(found, "gap_at_working") == Approx(0.08).margin(0.005));
}

TEST_CASE("TM 9-6115-464-34 table 1-1: two loads of a valve spring lead to its printed free length") {
  // 72 to 82 lb at 1.492 in, 163 to 180 lb at 1.082 in, free length 1.796 to 1.836 in.
  const auto found = answer("spring", R"({"loads":["77 lbf","171.5 lbf"],"lengths":["1.492 in","1.082 in"],)"
                                      R"("installed":"1.492 in"})");
  CHECK(value(found, "rate") == Approx(40.365).epsilon(1e-4)); // 230.49 lb/in
  CHECK(value(found, "free_length") > 1.796);
  CHECK(value(found, "free_length") < 1.836);
  CHECK(value(found, "free_length") == Approx(1.8261).margin(0.00005));
  CHECK(value(found, "load_installed") == Approx(77 * 4.4482216152605).epsilon(1e-12));
}

TEST_CASE("TM 5-2420-222-34 para 1-16: a strip is used inside its range only") {
  // Ranges printed: 0.001 to 0.003 in, that is 0.0254 to 0.0762 mm. The widths of the marks are ours.
  const std::string scale = R"(,"scale":[{"width":"2.4630 mm","clearance":"0.001 in"},)"
                            R"({"width":"0.8102 mm","clearance":"0.003 in"}]})";
  CHECK(value(answer("strip-clearance", R"({"width":"2.4630 mm")" + scale), "mean") == Approx(0.0254).epsilon(1e-12));
  CHECK(value(answer("strip-clearance", R"({"width":"0.8102 mm")" + scale), "mean") == Approx(0.0762).epsilon(1e-12));
  CHECK(!refusal("strip-clearance", R"({"width":"2.47 mm")" + scale).empty());
  CHECK(!refusal("strip-clearance", R"({"width":"0.81 mm")" + scale).empty());
}

TEST_CASE("TM 5-3805-298-23-2 WP 0176: the whole pattern first to 70 per cent") {
  const auto found = answer("torque-stages", R"({"final":"60 lbf.ft","fractions":[0.7,1]})");
  CHECK(has_note(found, "42, 60 lbf.ft"));
  CHECK(written(answer("torque-stages", R"({"final":"90 N.m","fractions":[0.7,1]})"), "stages") ==
        R"([{"value":63,"unit":"N.m"},{"value":90,"unit":"N.m"}])");
}

TEST_CASE("TM 5-4320-300-14 p. 6-36: a head within 0.004 in across and 0.005 in along") {
  // The blades are ours: the manual's limits are the per-length gaps of the two checks.
  const std::string lines = R"({"lines":[{"name":"along","enters":"0.004 in","refuses":"0.005 in","length":"16 in"}],)";
  CHECK(written(answer("straightedge", lines + R"("per_length":{"gap":"0.005 in","length":"16 in"}})"), "ratio") ==
        R"({"value":1,"unit":"1"})");
  CHECK(written(answer("straightedge", lines + R"("per_length":{"gap":"0.004 in","length":"16 in"}})"), "ratio") ==
        R"({"value":1.25,"unit":"1"})");
}
