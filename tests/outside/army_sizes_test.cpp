// Sizes, clearances and rules printed in US Army technical manuals (public domain). Their limits belong to the engines
// of those manuals: here they are test data and nothing more.
#include "calculating.h"
#include "outside/ledger.h"

#include <fmt/format.h>

#include <cmath>

using namespace calculating;
using outside::agrees;
using outside::disagrees;

namespace {

const outside::Source army = {"US Army technical manuals"};

std::string values_in(std::string_view unit, std::string_view values) {
  return fmt::format(R"({{"{}":{},"unit":"{}"}})", values.starts_with('[') ? "values" : "value", values, unit);
}

std::string inches(std::string_view values) {
  return values_in("in", values);
}

// Half the last digit printed, when values have so many places.
double half_of(int places) {
  return 0.5 * std::pow(10.0, -places);
}

void check_range(std::string_view name, const calc::Answer& answer, double low, double high, double slack) {
  agrees(army, name, value(answer, "min"), low, slack);
  agrees(army, name, value(answer, "max"), high, slack);
}

calc::Answer clearance(const std::string& outer, const std::string& inner) {
  return answer("clearance", R"({"outer":)" + outer + R"(,"inner":)" + inner + "}");
}

calc::Answer oil_clearance(const std::string& bore, const std::string& journal) {
  return answer("oil-clearance", R"({"bore":)" + bore + R"(,"journal":)" + journal + "}");
}

} // namespace

TEST_CASE("the spread of sizes allowed when new is the out-of-round allowed when new") {
  const auto form = [](std::string_view values) { return answer("form", R"({"readings":)" + inches(values) + "}"); };
  // TM 9-2815-220-24 WP 0135-8: 5.7510 to 5.7530 in, new out-of-round 0.0020 in.
  agrees(army, "form", value(form("[[5.7510,5.7530]]"), "out_of_round"), 0.0020, half_of(4));
  // TM 5-6115-545-34 table 1-2: liner 4.2495 to 4.2510 in; out-of-round 0.0015, taper 0.0015.
  const auto liner = form("[[4.2495,4.2510],[4.2510,4.2510]]");
  agrees(army, "form", value(liner, "out_of_round"), 0.0015, half_of(4));
  agrees(army, "form", value(liner, "taper"), 0.0015, half_of(4));
  // TM 55-1905-219-14-4: main journals 4.4990 to 4.5000 in, out-of-round at most 0.0010.
  agrees(army, "form", value(form("[[4.4990,4.5000]]"), "out_of_round"), 0.0010, half_of(4));
}

TEST_CASE("TM 9-2815-220-24 WP 0135-8: a worn liner by five levels and two directions") {
  // Each level within 0.003 in, the average of all below 5.7600 in, and the readings ours.
  const auto found = answer("form", R"({"readings":)" +
                                        inches("[[5.7592,5.7575],[5.7588,5.7571],[5.7581,5.7566],"
                                               "[5.7577,5.7564],[5.7570,5.7560]]") +
                                        "}");
  agrees(army, "form", value(found, "out_of_round") <= 0.003);
  agrees(army, "form", value(found, "mean") < 5.7600);
  CHECK(value(found, "out_of_round") == 0.0017);
  CHECK(value(found, "mean") == Approx(5.75744).epsilon(1e-12));
}

TEST_CASE("bearing and journal give the oil clearance printed") {
  // TM 9-2815-254-24 p. 3-137 and 3-138: journal 69.920 to 69.932 mm and crankpin 52.918 to 52.930 mm, clearance 0.018
  // to 0.065 mm both; so the bearings are 69.950 to 69.985 mm and 52.948 to 52.983 mm.
  check_range("oil-clearance", oil_clearance(mm("[[69.950,69.985]]"), mm("[[69.920,69.932]]")), 0.018, 0.065,
              half_of(3));
  check_range("oil-clearance", oil_clearance(mm("[[52.948,52.983]]"), mm("[[52.918,52.930]]")), 0.018, 0.065,
              half_of(3));
  // TM 5-3895-346-14, engine overhaul: rod bearing 2.5015 to 2.5035 in, clearance 0.0015 to 0.0045; with the journal of
  // the same size in TM 5-4320-300-14 p. 6-103, 2.499 to 2.500.
  check_range("oil-clearance", oil_clearance(inches("[[2.5015,2.5035]]"), inches("[[2.499,2.500]]")), 0.0015, 0.0045,
              half_of(4));
}

TEST_CASE("guide and stem give the clearance printed beside them") {
  // TM 9-6115-670-14&P p. 6-12, in both units
  check_range("clearance", clearance(mm("[6.010,6.025]"), mm("[5.968,5.980]")), 0.030, 0.057, half_of(3));
  check_range("clearance", clearance(inches("[0.23661,0.23720]"), inches("[0.23496,0.23543]")), 0.00118, 0.00224,
              half_of(5));
  // TM 9-6115-464-34 table 1-1, intake
  check_range("clearance", clearance(inches("[0.3740,0.3750]"), inches("[0.3725,0.3735]")), 0.0005, 0.0025, half_of(4));
  // TM 9-2815-252-24
  check_range("clearance", clearance(mm("[7.195,7.250]"), mm("[7.155,7.170]")), 0.025, 0.095, half_of(3));
  // TM 5-6115-400-35, valves and guides: stem 0.3715 to 0.3720 in; intake guide 0.373, exhaust guide 0.374
  check_range("clearance", clearance(inches("0.373"), inches("[0.3715,0.3720]")), 0.001, 0.0015, half_of(4));
  check_range("clearance", clearance(inches("0.374"), inches("[0.3715,0.3720]")), 0.002, 0.0025, half_of(4));
}

TEST_CASE("TM 9-6115-464-34 table 1-1: the least clearance of the exhaust stem is another than printed") {
  const auto found = clearance(inches("[0.3750,0.3760]"), inches("[0.3725,0.3732]"));
  agrees(army, "clearance", value(found, "max"), 0.0035, half_of(4));
  disagrees(army, "clearance", value(found, "min"), 0.0015, half_of(4),
            "TM 9-6115-464-34 table 1-1, exhaust stem 0.3725 to 0.3732 in a guide of 0.3750 to 0.3760");
}

TEST_CASE("TM 5-6115-400-35 table 1: a sleeve in its block at three places") {
  check_range("clearance", clearance(inches("[5.8740,5.8760]"), inches("[5.8710,5.8730]")), 0.0010, 0.0050, half_of(4));
  check_range("clearance", clearance(inches("[5.7810,5.7830]"), inches("[5.7780,5.7800]")), 0.0010, 0.0050, half_of(4));
  check_range("clearance", clearance(inches("[6.2290,6.2340]"), inches("[6.2170,6.2210]")), 0.0080, 0.0170, half_of(4));
}

TEST_CASE("TM 9-2815-256-24 p. 3-185: thrust journal and bearing width give the end play printed") {
  // Bearing 1.528 to 1.530 in, end play 0.002 to 0.008 in; so the journal is 1.532 to 1.536 in wide.
  check_range("clearance", clearance(inches("[1.532,1.536]"), inches("[1.528,1.530]")), 0.002, 0.008, half_of(3));
}

TEST_CASE("TM 5-6115-545-34 table 1-2: liner bore and the pistons its skirt clearance asks for") {
  // Liner 4.2495 to 4.2510 in, clearance 0.0025 to 0.0050 in; so the piston is 4.2460 to 4.2470 in.
  const auto fitted = [](std::string_view piston) {
    return answer("piston-clearance",
                  R"({"bore":)" + inches("[4.2495,4.2510]") + R"(,"piston":)" + inches(piston) + "}");
  };
  agrees(army, "piston-clearance", value(fitted("4.2470"), "min"), 0.0025, half_of(4));
  agrees(army, "piston-clearance", value(fitted("4.2460"), "max"), 0.0050, half_of(4));
  agrees(army, "piston-clearance", value(fitted("4.2465"), "mean"), (0.0025 + 0.0050) / 2, half_of(4));
  // TM 5-5065 para 235: piston 5.4955 to 5.4965 in, sleeve 5.500 to 5.501 in, no clearance printed.
  const auto other = answer("piston-clearance", R"({"bore":)" + inches("[5.500,5.501]") + R"(,"piston":"5.4965 in"})");
  CHECK(value(other, "min") == 0.0035);
}

TEST_CASE("an end play read in inches is the one printed in millimetres") {
  const auto play = [](std::string_view swing) {
    return value(answer("end-play", R"({"readings":)" + mm(fmt::format(R"([["0 mm","{} in"]])", swing)) + "}"), "play");
  };
  // TM 5-4210-233-14&P-2 p. 6-152, table c
  agrees(army, "end-play", play("0.016"), 0.41, half_of(2));
  agrees(army, "end-play", play("0.017"), 0.43, half_of(2));
  agrees(army, "end-play", play("0.026"), 0.66, half_of(2));
  agrees(army, "end-play", play("0.027"), 0.69, half_of(2));
  agrees(army, "end-play", play("0.036"), 0.91, half_of(2));
  // TM 10-4320-307-24 p. 4-135
  agrees(army, "end-play", play("0.007"), 0.18, half_of(2));
  agrees(army, "end-play", play("0.017"), 0.43, half_of(2));
  agrees(army, "end-play", play("0.022"), 0.56, half_of(2));
}

TEST_CASE("TM 5-4210-233-14&P-2 p. 6-152, table c: which thrust washers go in") {
  // The manual corrects the end play for the washers taken out (their sum against 0.244 in, two of 0.122), then looks
  // up: below 0.016 standard, 0.017 to 0.026 the 0.005 oversize, 0.027 to 0.036 the 0.010 oversize, above it another
  // crankshaft. Each oversize, on both sides, takes 0.010 in: the end play left always lies in the standard range.
  const auto washers = [](std::string_view first, std::string_view second, std::string_view play) {
    return answer("thrust-selection",
                  fmt::format(R"({{"play":"{} in","fitted":["{} in","{} in"],"low":"0.007 in","high":"0.016 in",)"
                              R"("available":["0.122 in","0.127 in","0.132 in"]}})",
                              play, first, second));
  };
  const auto choice = [](const calc::Answer& found) { return written(found, "choice"); };
  const std::string standard = R"({"value":0.122,"unit":"in"})";
  const std::string first_oversize = R"({"value":0.127,"unit":"in"})";
  const std::string second_oversize = R"({"value":0.132,"unit":"in"})";
  // Old washers thinner than standard: the sum and the play are ours, the correction is the manual's.
  const auto corrected = washers("0.1200", "0.1225", "0.0135");
  agrees(army, "thrust-selection", choice(corrected) == standard);
  agrees(army, "thrust-selection", value(corrected, "play_after"), 0.0135 - (0.244 - 0.2425), half_of(4));
  agrees(army, "thrust-selection", choice(washers("0.1200", "0.1205", "0.0215")) == first_oversize);  // 0.0180
  agrees(army, "thrust-selection", choice(washers("0.1200", "0.1195", "0.0345")) == second_oversize); // 0.0300
  agrees(army, "thrust-selection", choice(washers("0.1200", "0.1215", "0.0410")) == "null");          // 0.0385
  agrees(army, "thrust-selection", choice(washers("0.1220", "0.1220", "0.0165")) == "null"); // between two rows
  // The ends of each row, standard washers taken out
  const auto row = [&](std::string_view play) { return choice(washers("0.122", "0.122", play)); };
  agrees(army, "thrust-selection", row("0.016") == standard);
  agrees(army, "thrust-selection", row("0.017") == first_oversize);
  agrees(army, "thrust-selection", row("0.026") == first_oversize);
  agrees(army, "thrust-selection", row("0.027") == second_oversize);
  agrees(army, "thrust-selection", row("0.036") == second_oversize);
  agrees(army, "thrust-selection", row("0.037") == "null");
}

TEST_CASE("a ring gap grows three times as fast as the bore, in round numbers") {
  const auto change = [](std::string_view unit, std::string_view gauge, std::string_view working) {
    return value(answer("ring-gap", fmt::format(R"({{"gap":"0 {0}","gauge_bore":"{1} {0}","working_bore":"{2} {0}"}})",
                                                unit, gauge, working)),
                 "gap_at_working");
  };
  // TM 5-6115-593-34 table 1-2, note: 0.003 in (0.08 mm) for 0.001 in (0.03 mm) of wear
  agrees(army, "ring-gap", change("in", "4.000", "4.001"), 0.003, half_of(3));
  agrees(army, "ring-gap", change("mm", "101.60", "101.63"), 0.08, 3.1416 * half_of(2)); // 0.03 is rounded too
  // TM 5-3825-225-14&P para 1-26: 0.003 in for 0.001 in from a gauge of 3.125 in
  agrees(army, "ring-gap", change("in", "3.125", "3.126"), 0.003, half_of(3));
  // TM 5-3825-229-14&P p. 6-24: a bore 0.0012 in (0.03 mm) small closes the gap by 0.0031 in (0.08 mm)
  const auto less = [&](std::string_view unit, std::string_view small, double gap) {
    return gap - value(answer("ring-gap",
                              fmt::format(R"({{"gap":"{1} {0}","gauge_bore":"100 {0}","working_bore":"{2} {0}"}})",
                                          unit, gap, small)),
                       "gap_at_working");
  };
  agrees(army, "ring-gap", less("mm", "99.97", 0.5), 0.08, 3.1416 * half_of(2));
  disagrees(army, "ring-gap", less("in", "99.9988", 0.5), 0.0031, 3.1416 * half_of(4),
            "TM 5-3825-229-14&P p. 6-24, 0.0012 in on the bore");
}

TEST_CASE("TM 5-2420-222-34 para 1-16: a strip is used inside its range only") {
  // Three ranges printed in both units; the widths of the marks are ours.
  const auto scale = [](std::string_view low, std::string_view high) {
    return fmt::format(R"(,"scale":[{{"width":"2.4 mm","clearance":"{} in"}},)"
                       R"({{"width":"0.8 mm","clearance":"{} in"}}]}})",
                       low, high);
  };
  const auto check = [&](std::string_view low, std::string_view high, double low_mm, double high_mm) {
    const auto at = [&](std::string_view width) {
      return value(answer("strip-clearance", fmt::format(R"({{"width":"{} mm")", width) + scale(low, high)), "mean");
    };
    agrees(army, "strip-clearance", at("2.4"), low_mm, half_of(4));
    agrees(army, "strip-clearance", at("0.8"), high_mm, half_of(4));
    CHECK(!refusal("strip-clearance", R"({"width":"2.41 mm")" + scale(low, high)).empty());
    CHECK(!refusal("strip-clearance", R"({"width":"0.79 mm")" + scale(low, high)).empty());
  };
  check("0.001", "0.003", 0.0254, 0.0762);
  check("0.002", "0.006", 0.0508, 0.1524);
  check("0.004", "0.009", 0.1016, 0.2286);
}

TEST_CASE("two loads of a valve spring lead to its printed free length, and it to them") {
  const auto spring = [](std::string_view loads, std::string_view lengths, std::string_view installed) {
    return answer("spring", fmt::format(R"({{"loads":{},"lengths":{},"installed":{}}})", values_in("lbf", loads),
                                        lengths, installed));
  };
  constexpr double lbf = 4.4482216152605;
  // TM 9-6115-464-34 table 1-1: 72 to 82 lb at 1.492 in, 163 to 180 lb at 1.082 in, free length 1.796 to 1.836 in.
  const auto two = spring("[77,171.5]", inches("[1.492,1.082]"), inches("1.492"));
  agrees(army, "spring", value(two, "free_length"), 1.816, 0.020);
  CHECK(value(two, "rate") == Approx(40.365).epsilon(1e-4)); // 230.49 lb/in
  CHECK(value(two, "load_installed") == Approx(77 * lbf).epsilon(1e-12));
  agrees(army, "spring", value(spring("[0,77]", inches("[1.816,1.492]"), inches("1.082")), "load_installed") / lbf,
         171.5, 8.5);
  agrees(army, "spring", value(spring("[0,171.5]", inches("[1.816,1.082]"), inches("1.492")), "load_installed") / lbf,
         77, 5);
  // TM 10-4320-344-24 table 4-1: 45 to 51 lb at 1.4920 in (37.8968 mm), 130 to 144 lb at 1.0820 in (27.4828 mm), free
  // length 1.702 to 1.722 in (43.231 to 43.739 mm).
  agrees(army, "spring", value(spring("[48,137]", mm("[37.8968,27.4828]"), R"("37.8968 mm")"), "free_length"), 43.485,
         0.254);
  agrees(army, "spring", value(spring("[0,48]", inches("[1.712,1.492]"), inches("1.082")), "load_installed") / lbf, 137,
         7);
  agrees(army, "spring", value(spring("[0,137]", inches("[1.712,1.082]"), inches("1.492")), "load_installed") / lbf, 48,
         3);
}

TEST_CASE("flatness allowed across and along a face, by blades in inches") {
  // The blades and lengths are ours; the limits, in both units where both are printed, are the manuals'.
  const auto face = [](std::string_view refuses, std::string_view allowed) {
    return answer("straightedge",
                  fmt::format(R"({{"lines":[{{"name":"line","enters":"0 mm","refuses":"{} in","length":"16 in"}}],)"
                              R"("per_length":{{"gap":"{} in","length":"16 in"}}}})",
                              refuses, allowed));
  };
  // TM 5-4320-300-14 p. 6-45, a block: 0.003 in (0.0762 mm) across, 0.006 in (0.1524 mm) along
  agrees(army, "straightedge", value(face("0.003", "0.003"), "worst"), 0.0762, half_of(4));
  agrees(army, "straightedge", value(face("0.006", "0.006"), "worst"), 0.1524, half_of(4));
  // TM 10-3930-653-14&P p. 4-28, a head: less than 0.1 mm (0.004 in)
  agrees(army, "straightedge", value(face("0.004", "0.004"), "worst"), 0.1, half_of(1));
  // TM 5-4320-300-14 p. 6-36, a head: 0.005 in along, 0.004 in across; TM 55-1930-208-24 p. 4-74, a block: 0.003 and
  // 0.007
  for (const char* limit : {"0.005", "0.004", "0.003", "0.007"})
    agrees(army, "straightedge", value(face(limit, limit), "ratio") <= 1);
  for (const auto& [next_blade, limit] : {std::pair{"0.006", "0.005"}, {"0.005", "0.004"}, {"0.004", "0.003"}})
    agrees(army, "straightedge", value(face(next_blade, limit), "ratio") > 1);
}

TEST_CASE("a seal tilted by the run-out allowed, read in inches") {
  const auto run_out = [](std::string_view depths, std::string_view unit) {
    const auto found = answer("seal-squareness", R"({"depths":)" + values_in(unit, depths) + R"(,"diameter":"90 mm"})");
    return R"({"value":)" + written(found, "runout") + R"(,"high":"0.008 in"})";
  };
  const auto in_mm = [](std::string_view depths) {
    return value(answer("seal-squareness", R"({"depths":)" + mm(depths) + R"(,"diameter":"90 mm"})"), "runout");
  };
  // TM 5-3895-359-14&P p. 0208: 0.008 in (0.203 mm) in all
  agrees(army, "seal-squareness", in_mm(R"(["0 mm","0.004 in","0.008 in","0.004 in"])"), 0.203, half_of(3));
  agrees(army, "seal-squareness",
         written(answer("verdict", run_out("[0,0.004,0.008,0.004]", "in")), "verdict") == "\"within\"");
  agrees(army, "seal-squareness",
         written(answer("verdict", run_out("[0,0.004,0.0081,0.0041]", "in")), "verdict") == "\"outside\"");
  // TM 5-3895-369-14 p. 5-157, a housing face: 0.008 in (0.20 mm)
  agrees(army, "seal-squareness", in_mm(R"(["0.004 in","0 mm","0.004 in","0.008 in"])"), 0.20, half_of(2));
}

TEST_CASE("a backlash read in inches at the pitch circle is the one printed in millimetres") {
  const auto gears = [](std::string_view readings) {
    return answer("backlash",
                  R"({"indicator":)" + mm(readings) + R"(,"indicator_radius":"60 mm","pitch_radius":"60 mm"})");
  };
  // TM 9-2815-254-24 p. 3-151 and TM 9-2815-253-24 p. 3-60: 0.004 to 0.007 in (0.10 to 0.17 mm), limit 0.012 (0.30)
  const auto small = gears(R"(["0.004 in","0.007 in"])");
  agrees(army, "backlash", value(small, "min"), 0.10, half_of(2));
  agrees(army, "backlash", value(small, "max"), 0.17, 25.4 * half_of(3));
  agrees(army, "backlash", value(gears(R"(["0.012 in"])"), "mean"), 0.30, half_of(2));
  // TM 9-2815-226-34-2: 0.0045 to 0.0105 in (0.1143 to 0.2667 mm); 0.002 (0.05), 0.010 (0.254), 0.020 (0.508)
  const auto large = gears(R"(["0.0105 in","0.0045 in"])");
  agrees(army, "backlash", value(large, "min"), 0.1143, half_of(4));
  agrees(army, "backlash", value(large, "max"), 0.2667, half_of(4));
  agrees(army, "backlash", value(gears(R"(["0.002 in"])"), "mean"), 0.05, half_of(2));
  agrees(army, "backlash", value(gears(R"(["0.010 in"])"), "mean"), 0.254, half_of(3));
  agrees(army, "backlash", value(gears(R"(["0.020 in"])"), "mean"), 0.508, half_of(3));
}

TEST_CASE("TM 5-3825-225-14&P para 1-25: piston heights allowed, in both units") {
  const auto height = [](std::string_view inch) {
    return answer("protrusion", R"({"readings":)" + mm(fmt::format(R"([["{} in"]])", inch)) +
                                    R"(,"grades":[{"name":"good","from":"0.002 in","to":"0.006 in"}]})");
  };
  agrees(army, "protrusion", value(height("0.002"), "highest"), 0.051, half_of(3));
  agrees(army, "protrusion", value(height("0.006"), "highest"), 0.152, half_of(3));
  agrees(army, "protrusion", written(height("0.002"), "grade") == "\"good\"");
  agrees(army, "protrusion", written(height("0.006"), "grade") == "\"good\"");
  agrees(army, "protrusion", written(height("0.0061"), "grade") == "null"); // the crown is skimmed
}

TEST_CASE("TM 10-4320-309-14 p. 5-2: the shim of a fuel nozzle") {
  // 2844 psi (200 kg/cm2); 0.039 in (1.0 mm) more of shim is about 284 psi more; standard 0.60 to 0.65 mm.
  const auto nozzle = [](std::string_view fitted, std::string_view available) {
    return answer("shim-selection", fmt::format(R"({{"measured":"2560 psi","target":"2844 psi","change_per_mm":284,)"
                                                R"("fitted":"{}","available":["{}"]}})",
                                                fitted, available));
  };
  agrees(army, "shim-selection", value(nozzle("0.60 mm", "1.60 mm"), "wanted") - 0.60, 1.0, half_of(1));
  agrees(army, "shim-selection", value(nozzle("0.024 in", "0.063 in"), "wanted") - 0.024, 0.039, half_of(3));
  agrees(army, "shim-selection", value(nozzle("0.60 mm", "1.60 mm"), "result_after"), 2844, half_of(0));
  const auto set = answer("shim-selection", R"({"measured":"200 kgf/cm2","target":"2844 psi","change_per_mm":284,)"
                                            R"("fitted":"0.60 mm","available":["0.60 mm"]})");
  agrees(army, "shim-selection", value(set, "result_after"), 200, half_of(0));
}

TEST_CASE("TM 5-3805-298-23-2 WP 0176: the whole pattern first to 70 per cent") {
  const auto stages = [](std::string_view final_torque) {
    const auto found = answer("torque-stages", fmt::format(R"({{"final":"{}","fractions":[0.7,1]}})", final_torque));
    const auto& all = std::get<calc::Outcomes>(*found.find("stages"));
    return std::pair{all[0].quantity()->value.to_double(), all[1].quantity()->value.to_double()};
  };
  agrees(army, "torque-stages", stages("90 N.m").first, 0.7 * 90, 1e-12);
  agrees(army, "torque-stages", stages("30 lbf.ft").second, 41, half_of(0)); // 30 lb-ft (41 N.m)
  // TM 9-2320-362-14&P table F-1, 7/16 in of grade 5 and 12 mm of grade 8.8: 43 lb-ft (58 N.m), 70 lb-ft (95 N.m)
  agrees(army, "torque-stages", stages("43 lbf.ft").second, 58, half_of(0));
  agrees(army, "torque-stages", stages("70 lbf.ft").second, 95, half_of(0));
  agrees(army, "torque-stages", stages("70 lbf.ft").first, 0.7 * 95, 0.7 * half_of(0));
  CHECK(has_note(answer("torque-stages", R"({"final":"60 lbf.ft","fractions":[0.7,1]})"), "42, 60 lbf.ft"));
}
