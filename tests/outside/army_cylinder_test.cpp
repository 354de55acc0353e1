// Sizes of bores, journals, shells and liners, compression and run-out as printed in US Army technical manuals (public
// domain). Their limits belong to the engines of those manuals: here they are test data and nothing more.
#include "calculating.h"
#include "outside/ledger.h"

#include <fmt/format.h>

using namespace calculating;
using outside::agrees;
using outside::disagrees;

namespace {

const outside::Source army = {"US Army technical manuals"};
const outside::Source faa = {"FAA AC 43.13-1B (change 1, 2001)", outside::Standing::recalled};

std::string inches(std::string_view values) {
  return R"({"values":)" + std::string(values) + R"(,"unit":"in"})";
}

double choice(const calc::Answer& found) {
  return value(found, "choice");
}

bool none_of_them(const calc::Answer& found) {
  return written(found, "choice") == "null";
}

constexpr double last_digit = 1e-9; // printed exactly

} // namespace

TEST_CASE("TM 9-2815-220-24 WP 0135-8: a cylinder worn past one bore goes to the next") {
  const auto worn_to = [](std::string_view bore) {
    return answer("oversize-selection", R"({"nominal":"5.7510 in","largest":)" + inches(bore) +
                                            R"(,"cleanup":"0 in","available":)" + inches("[0.010,0.020,0.030,0.040]") +
                                            "}");
  };
  // Wear limit of one row, then the smallest new bore of the next.
  agrees(army, "oversize-selection", 5.7510 + choice(worn_to("[5.7600]")), 5.7610, last_digit);
  agrees(army, "oversize-selection", 5.7510 + choice(worn_to("[5.7700]")), 5.7710, last_digit);
  agrees(army, "oversize-selection", 5.7510 + choice(worn_to("[5.7800]")), 5.7810, last_digit);
  agrees(army, "oversize-selection", 5.7510 + choice(worn_to("[5.7900]")), 5.7910, last_digit);
  agrees(army, "oversize-selection", none_of_them(worn_to("[5.8000]")));
  agrees(army, "oversize-selection", has_note(worn_to("[5.8000]"), "replace")); // as the manual says
}

TEST_CASE("TM 55-1905-219-14-10 p. 5-368: a block bored for the next liner") {
  const auto used = [](std::string_view bore) {
    return answer("oversize-selection", R"({"nominal":"4.626 in","largest":)" + inches(bore) +
                                            R"(,"cleanup":"0 in","available":)" + inches("[0.005,0.010,0.020,0.030]") +
                                            "}");
  };
  // Just over the largest used bore of one row, then the smallest boring dimension of the next.
  agrees(army, "oversize-selection", 4.626 + choice(used("[4.6286]")), 4.631, last_digit);
  agrees(army, "oversize-selection", 4.626 + choice(used("[4.6326]")), 4.636, last_digit);
  agrees(army, "oversize-selection", 4.626 + choice(used("[4.6376]")), 4.646, last_digit);
  agrees(army, "oversize-selection", 4.626 + choice(used("[4.6476]")), 4.656, last_digit);
  agrees(army, "oversize-selection", none_of_them(used("[4.6576]")));
  // Bores of one block: the worst decides for all.
  const auto block = used("[4.6286,4.6376,4.6326]");
  agrees(army, "oversize-selection", choice(block) == 0.020 && written(block, "governs") == "2");
}

TEST_CASE("TM 5-4320-300-14 p. 6-103: journals ground for each undersize bearing") {
  struct Row {
    double undersize, rod, main; // largest diameters, in
    double rod_mm, main_mm;
  };
  const Row rows[] = {{0.002, 2.498, 2.998, 63.449, 76.149},
                      {0.010, 2.490, 2.990, 63.246, 75.946},
                      {0.020, 2.480, 2.980, 62.992, 75.692},
                      {0.030, 2.470, 2.970, 62.738, 75.438}};
  const auto worn_to = [](std::string_view nominal, double journal) {
    return answer("undersize-selection",
                  fmt::format(R"({{"nominal":"{} in","smallest":"{} in","cleanup":"0 in","available":{}}})", nominal,
                              journal, inches("[0.002,0.010,0.020,0.030]")));
  };
  // A journal worn down to a printed size is ground to that very size.
  for (const Row& row : rows) {
    INFO(row.undersize);
    const auto rod = worn_to("2.500", row.rod);
    const auto main = worn_to("3.000", row.main);
    agrees(army, "undersize-selection", choice(rod), row.undersize, last_digit);
    agrees(army, "undersize-selection", choice(main), row.undersize, last_digit);
    agrees(army, "undersize-selection", 25.4 * (2.5 - choice(rod)), row.rod_mm, 0.0005);
    agrees(army, "undersize-selection", 25.4 * (3.0 - choice(main)), row.main_mm, 0.0005);
  }
  agrees(army, "undersize-selection", none_of_them(worn_to("2.500", 2.4699)));
  disagrees(army, "undersize-selection", 2.999 - choice(worn_to("2.999", 2.997)), 2.996, 0.0005,
            "TM 5-4320-300-14 p. 6-103: smallest main journal for the 0.002 in undersize; its millimetres, 76.124, and "
            "every other row say 2.997 in");
}

TEST_CASE("TM 5-3805-262-34 p. 4-24 and 3-485, TM 10-3930-638-24&P p. 4-29: one ground, all ground, to the next size") {
  const auto worn_to = [](std::string_view nominal, std::string_view journals) {
    return answer("undersize-selection", R"({"nominal":")" + std::string(nominal) + R"( in","smallest":)" +
                                             inches(journals) + R"(,"cleanup":"0 in","available":)" +
                                             inches("[0.010,0.020,0.030]") + "}");
  };
  agrees(army, "undersize-selection", 2.749 - choice(worn_to("2.749", "[2.747,2.7455,2.748]")), 2.739, last_digit);
  agrees(army, "undersize-selection", 2.749 - choice(worn_to("2.749", "[2.747,2.738,2.748]")), 2.729, last_digit);
  agrees(army, "undersize-selection", 2.749 - choice(worn_to("2.749", "[2.747,2.725,2.728]")), 2.719, last_digit);
  agrees(army, "undersize-selection", 1.1235 - choice(worn_to("1.1235", "[1.1224]")), 1.1135, last_digit);
  agrees(army, "undersize-selection", 1.1235 - choice(worn_to("1.1235", "[1.1100]")), 1.1035, last_digit);
  agrees(army, "undersize-selection", 1.1235 - choice(worn_to("1.1235", "[1.1000]")), 1.0935, last_digit);
  agrees(army, "undersize-selection", 2.249 - choice(worn_to("2.249", "[2.2465]")), 2.2390, last_digit);
  agrees(army, "undersize-selection", 2.249 - choice(worn_to("2.249", "[2.2385]")), 2.2290, last_digit);
  agrees(army, "undersize-selection", 2.249 - choice(worn_to("2.249", "[2.2285]")), 2.2190, last_digit);
}

TEST_CASE("TM 5-6115-545-34 table 1-2, p. 1-38: rod bore, wall and journal give the clearance") {
  const auto rod = [](std::string_view bore, std::string_view journal, std::string_view wall) {
    return answer("shell-selection", R"({"housing":)" + inches(bore) + R"(,"journal":)" + inches(journal) +
                                         R"(,"low":"0.001 in","high":"0.0045 in","available":)" + inches(wall) + "}");
  };
  // The bore of the bearing (2.7495 to 2.7510 in) is that of the rod less two walls: to a journal of 2.7485 in.
  agrees(army, "shell-selection", value(rod("[2.9700]", "[2.7485]", "[0.11025]"), "min"), 0.001, last_digit);
  agrees(army, "shell-selection", value(rod("[2.9700]", "[2.7485]", "[0.11025]"), "min"), 2.7495 - 2.7485, last_digit);
  agrees(army, "shell-selection", value(rod("[2.9705]", "[2.7485]", "[0.10975]"), "max"), 2.7510 - 2.7485, last_digit);
  disagrees(army, "shell-selection", value(rod("[2.9705]", "[2.7470]", "[0.10975]"), "max"), 0.0035, 0.0002,
            "TM 5-6115-545-34 p. 1-38: largest rod clearance; the largest bearing bore less the smallest journal "
            "printed beside it is 0.0040 in");
}

TEST_CASE("TM 5-3895-346-14 with TM 5-4320-300-14 p. 6-83 and 6-103: the shells of each journal ground") {
  // Inside diameter of the bearing 2.5015 to 2.5035 in with walls of 0.1245 to 0.1250 in: rod bore 2.7515 to 2.7525 in.
  const auto rod = [](std::string_view bore, std::string_view journal, std::string_view walls) {
    return answer("shell-selection", R"({"housing":)" + inches(bore) + R"(,"journal":)" + inches(journal) +
                                         R"(,"low":"0.0015 in","high":"0.0045 in","available":)" + inches(walls) + "}");
  };
  agrees(army, "shell-selection", value(rod("[2.7515]", "[2.500]", "[0.1250]"), "min"), 0.0015, last_digit);
  agrees(army, "shell-selection", value(rod("[2.7525]", "[2.499]", "[0.1245]"), "max"), 0.0045, last_digit);
  struct Row {
    std::string_view journals;
    double thinnest, thickest; // wall
  };
  const Row rows[] = {{"[2.499,2.500]", 0.1245, 0.1250},
                      {"[2.497,2.498]", 0.1255, 0.1260},
                      {"[2.489,2.490]", 0.1295, 0.1300},
                      {"[2.479,2.480]", 0.1345, 0.1350},
                      {"[2.469,2.470]", 0.1395, 0.1400}};
  for (const Row& row : rows) {
    INFO(row.journals);
    const auto thin = rod("[2.7520]", row.journals, "[0.1245,0.1255,0.1295,0.1345,0.1395]");
    const auto thick = rod("[2.7525]", row.journals, "[0.1250,0.1260,0.1300,0.1350,0.1400]");
    agrees(army, "shell-selection", value(thin, "upper"), row.thinnest, last_digit);
    agrees(army, "shell-selection", value(thick, "lower"), row.thickest, last_digit);
  }
  // Main bearing: inside diameter 3.0020 to 3.0030 in, so a housing of 3.2520 in takes walls of 0.1250 in.
  const auto main = answer("shell-selection", R"({"housing":"3.2520 in","journal":"3.000 in","low":"0.001 in",)"
                                              R"("high":"0.004 in","available":"0.1250 in"})");
  disagrees(army, "shell-selection", value(main, "min"), 0.0010, 0.0005,
            "TM 5-3895-346-14, specifications: smallest main clearance; the smallest inside diameter printed above it "
            "less the largest journal is 0.0020 in");
}

TEST_CASE("TM 5-4320-302-14 p. 6-181: walls and bores of a main bearing and its three undersizes") {
  // Bore 60.040 to 60.083 mm with walls of 2.973 to 2.985 mm: support 66.010 to 66.029 mm; clearance 0.05 to 0.112 mm.
  struct Row {
    double bore_low, bore_high, wall_low, wall_high;
  };
  const Row rows[] = {{60.040, 60.083, 2.973, 2.985},
                      {59.540, 59.583, 3.223, 3.235},
                      {59.040, 59.083, 3.473, 3.485},
                      {58.540, 58.583, 3.723, 3.735}};
  const auto with = [](double support, double journal, const std::string& walls) {
    return answer("shell-selection", fmt::format(R"({{"housing":"{:.3f} mm","journal":"{:.3f} mm","low":"0.05 mm",)"
                                                 R"("high":"0.112 mm","available":{}}})",
                                                 support, journal, mm(walls)));
  };
  for (const Row& row : rows) {
    INFO(row.bore_low);
    const auto tight = with(66.010, row.bore_low - 0.05, fmt::format("[{:.3f}]", row.wall_high));
    const auto loose = with(66.029, row.bore_high - 0.112, fmt::format("[{:.3f}]", row.wall_low));
    agrees(army, "shell-selection", value(tight, "min"), 0.05, last_digit);
    agrees(army, "shell-selection", value(loose, "max"), 0.112, last_digit);
    const auto middle = with(66.020, row.bore_low - 0.06, "[2.979,3.229,3.479,3.729]"); // the middle of each wall
    agrees(army, "shell-selection", value(middle, "upper"), (row.wall_low + row.wall_high) / 2, last_digit);
  }
}

TEST_CASE("TM 9-2815-225-34&P para 3-37 and appendix F: an undersize is on diameter, each wall takes half of it") {
  // Housing 4.7485 to 4.750 in, journal 4.4985 to 4.500 in, wall 0.1230 to 0.1238 in: the middles, journal 0.010 in
  // ground off. The manual adds the whole 0.010 in to each wall.
  const auto found = answer("shell-selection", R"({"housing":"4.7490 in","journal":"4.4890 in","low":"0.0009 in",)"
                                               R"("high":"0.0055 in","available":)" +
                                                   inches("[0.1234,0.1284,0.1334]") + "}");
  disagrees(army, "shell-selection", value(found, "upper"), 0.1334, 0.001,
            "TM 9-2815-225-34&P para 3-37: wall for the 0.010 in undersize, the whole undersize added to each of two "
            "shells would close the clearance; other manuals add half");
  // TM 5-3810-300-24&P-3 p. 74 prints walls of 0.1548 in, and 0.1598 in for the 0.010 in undersize: half of it.
  // Housing and journal are ours.
  const auto other = answer("shell-selection", R"({"housing":"4.3116 in","journal":"3.9900 in","low":"0.001 in",)"
                                               R"("high":"0.003 in","available":)" +
                                                   inches("[0.1548,0.1558,0.1598,0.1648,0.1698]") + "}");
  agrees(army, "shell-selection", value(other, "upper"), 0.1598, last_digit);
}

TEST_CASE("pistons, clearances and the bores that belong to them") {
  const auto target = [](std::string_view piston, std::string_view low, std::string_view high) {
    return answer("bore-target", R"({"piston":")" + std::string(piston) + R"(","low":")" + std::string(low) +
                                     R"(","high":")" + std::string(high) + R"("})");
  };
  // TM 5-6115-545-34 table 1-2: clearance 0.0025 to 0.0050 in, liner 4.2495 to 4.2510 in.
  agrees(army, "bore-target", value(target("4.2470 in", "0.0025 in", "0.0050 in"), "low"), 4.2495, last_digit);
  agrees(army, "bore-target", value(target("4.2460 in", "0.0025 in", "0.0050 in"), "high"), 4.2510, last_digit);
  // TM 10-3930-653-14&P, specifications: piston 87.165 to 87.215 mm, clearance 0.025 to 0.045 mm, bore 87.20 to
  // 87.25 mm: each piston runs in the middle of its clearance.
  const auto small = target("87.165 mm", "0.025 mm", "0.045 mm");
  const auto large = target("87.215 mm", "0.025 mm", "0.045 mm");
  agrees(army, "bore-target", (value(small, "low") + value(small, "high")) / 2, 87.20, last_digit);
  agrees(army, "bore-target", (value(large, "low") + value(large, "high")) / 2, 87.25, last_digit);
  // TM 9-2320-289-34 p. 3-41, table 3-1: second oversize piston 4.0039 in (101.700 mm), clearance 0.0035 to 0.0045 in
  // (0.089 to 0.114 mm). Both columns ask for one bore.
  const double half_digit = 25.4 * 0.00005; // of the inches the millimetres come from
  const auto second = target("4.0039 in", "0.0035 in", "0.0045 in");
  agrees(army, "bore-target", 25.4 * value(second, "low"), 101.700 + 0.089, half_digit);
  agrees(army, "bore-target", 25.4 * value(second, "high"), 101.700 + 0.114, half_digit);
}

TEST_CASE("wire crushed to the limits printed for the room above the piston") {
  // TM 9-2815-252-24 p. 3-58: four pieces of 1.58 mm solder. TM 10-4320-318-14 p. 6-14: 0.0216 to 0.0255 in (0.55 to
  // 0.65 mm); the pieces lie on these limits.
  const auto crushed = [](std::string_view pieces) {
    return answer("piston-to-head", R"({"readings":)" + std::string(pieces) + R"(,"wire":"1.58 mm"})");
  };
  const auto typed = crushed(R"(["0.55 mm","0.0255 in","0.0216 in","0.65 mm"])");
  agrees(army, "piston-to-head", value(typed, "min"), 0.55, 25.4 * 0.0001); // the printed inches are cut, not rounded
  agrees(army, "piston-to-head", value(crushed(mm("[0.55,0.65,0.55,0.65]")), "mean"), 0.60, last_digit);
  agrees(army, "piston-to-head", value(crushed(mm("[0.55,0.65]")), "spread"), 25.4 * (0.0255 - 0.0216), 25.4 * 0.0001);
  // TM 5-4310-389-14 table 4-2: 0.039 to 0.047 in (1.0 to 1.2 mm).
  const auto wider = crushed(R"(["0.039 in","0.047 in"])");
  agrees(army, "piston-to-head", 25.4 * value(wider, "min"), 1.0, 25.4 * 0.0005);
  agrees(army, "piston-to-head", 25.4 * value(wider, "mean"), 1.1, 25.4 * 0.0005);
  agrees(army, "piston-to-head", written(crushed(mm("[0.55,1.58,0.65,0.60]")), "min") == "null");
}

TEST_CASE("TM 5-4310-389-14 table 4-2: bore and stroke give the displacement of two cylinders") {
  const auto engine = [](std::string_view bore, std::string_view stroke) {
    return answer("compression-ratio", R"({"bore":")" + std::string(bore) + R"(","stroke":")" + std::string(stroke) +
                                           R"(","chamber":"0 ml","bowl":"55 ml","gasket_thickness":"0.4 mm",)"
                                           R"("gasket_bore":"101 mm","protrusion":"0 mm"})");
  };
  const double by_mm = 2 * value(engine("100 mm", "120 mm"), "swept");
  const double by_inches = 2 * value(engine("3.937 in", "4.724 in"), "swept");
  agrees(army, "compression-ratio", by_mm / 1000, 1885, 0.5);         // cm3
  agrees(army, "compression-ratio", by_inches / 1000, 1885, 0.5);     // cm3
  agrees(army, "compression-ratio", by_mm / 16387.064, 115, 0.5);     // in3
  agrees(army, "compression-ratio", by_inches / 16387.064, 115, 0.5); // in3
}

TEST_CASE("TM 5-3805-263-14&P-2, cylinder liners: plate, gasket and flange give the projection printed") {
  // Flange 0.4048 +/- 0.0008 in on a plate of 0.3925 +/- 0.0010 in and its gasket of 0.0082 +/- 0.0010 in; projection
  // 0.0013 to 0.0069 in (0.033 to 0.175 mm).
  const auto height = [](std::string_view flange, std::string_view counterbore) {
    return value(answer("liner-height", R"({"flange":")" + std::string(flange) + R"(","counterbore":")" +
                                            std::string(counterbore) + R"("})"),
                 "height");
  };
  agrees(army, "liner-height", height("0.4056 in", "0.3987 in"), 0.0069, last_digit); // 0.3915 + 0.0072
  agrees(army, "liner-height", height("0.4040 in", "0.4027 in"), 0.0013, last_digit); // 0.3935 + 0.0092
  agrees(army, "liner-height", 25.4 * height("0.4056 in", "0.3987 in"), 0.175, 0.0005);
  agrees(army, "liner-height", 25.4 * height("0.4040 in", "0.4027 in"), 0.033, 0.0005);
  agrees(army, "liner-height", height("10.302 mm", "10.128 mm"), 0.175, 0.0015); // 9.945 + 0.183, three roundings
  // Neighbours no more than 0.002 in apart.
  const auto row = answer("liner-height", R"({"flange":)" + inches("[0.4048,0.4056,0.4040]") + R"(,"counterbore":)" +
                                              inches("[0.4007,0.4007,0.4007]") + "}");
  agrees(army, "liner-height", value(row, "step"), 0.0016, last_digit);
}

TEST_CASE("TM 5-6115-593-34, liner counterbore: 0.004 to 0.006 in, the thinnest shim 0.007 in") {
  const auto shimmed = [](std::string_view flange, std::string_view counterbore) {
    return answer("liner-height", R"({"flange":")" + std::string(flange) + R"( in","counterbore":")" +
                                      std::string(counterbore) +
                                      R"( in","low":"0.004 in","high":"0.006 in","available":)" +
                                      inches("[0.007,0.008,0.009,0.020,0.031,0.062,0.068]") + "}");
  };
  agrees(army, "liner-height", none_of_them(shimmed("0.4100", "0.4090"))); // 0.001 in: cut deeper, then shim
  agrees(army, "liner-height", choice(shimmed("0.4100", "0.4120")), 0.007, last_digit);
  agrees(army, "liner-height", value(shimmed("0.4100", "0.4120"), "height_after"), 0.005, last_digit);
  agrees(army, "liner-height", choice(shimmed("0.4145", "0.4095")), 0, last_digit);
}

TEST_CASE("TM 5-3805-281-24-2, liner shims: one or two of 0.05 mm, no higher than 0.102 mm") {
  const auto shimmed = [](std::string_view counterbore) {
    return answer("liner-height", R"({"flange":"10.00 mm","counterbore":")" + std::string(counterbore) +
                                      R"( mm","low":"0 mm","high":"0.102 mm","available":["0.05 mm","0.10 mm"]})");
  };
  agrees(army, "liner-height", choice(shimmed("10.08")), 0.10, last_digit); // as far below as shims are allowed for
  agrees(army, "liner-height", choice(shimmed("10.01")), 0.05, last_digit);
  agrees(army, "liner-height", none_of_them(shimmed("10.101")));
}

TEST_CASE("TM 5-3895-359-14&P p. 0498: the readings of table 2 single out cylinder 3") {
  const std::string psi = R"({"readings":{"values":[445,440,405,435],"unit":"psi"},"spread_limit":"25 psi")";
  const auto found = answer("compression-spread", psi + "}");
  agrees(army, "compression-spread", value(found, "range"), 40, last_digit);
  agrees(army, "compression-spread", value(found, "lowest"), 405, last_digit);
  agrees(army, "compression-spread", written(found, "governs") == "3" && has_note(found, "above spread_limit"));
  const auto without_third = answer("compression-spread", R"({"readings":{"values":[445,440,435],"unit":"psi"},)"
                                                          R"("spread_limit":"25 psi"})");
  agrees(army, "compression-spread", without_third.notes.empty());
  const auto kpa = answer("compression-spread", R"({"readings":{"values":[3066,3032,2791,2997],"unit":"kPa"},)"
                                                R"("spread_limit":"172 kPa"})");
  agrees(army, "compression-spread", value(kpa, "range") / 6.894757, 40, 0.15); // two roundings to 1 kPa
  agrees(army, "compression-spread", written(kpa, "governs") == "3" && has_note(kpa, "above spread_limit"));
}

TEST_CASE("TM 5-3895-359-14&P p. 0498, table 1: least pressure by altitude, in both units") {
  struct Row {
    int feet, psi, kpa;
  };
  const Row rows[] = {{500, 515, 3551}, {2500, 480, 3310}, {5000, 440, 3034}, {7500, 410, 2827}, {10000, 380, 2620}};
  for (const Row& row : rows) {
    INFO(row.feet);
    const auto at = [&](int readings) {
      return answer("compression-spread", fmt::format(R"({{"readings":{{"values":[{},{}],"unit":"psi"}},)"
                                                      R"("least":"{} psi"}})",
                                                      readings, readings + 10, row.psi));
    };
    agrees(army, "compression-spread",
           at(row.psi).notes.empty() && has_note(at(row.psi - 1), "cylinder 1 below least"));
    const auto converted =
        answer("compression-spread", fmt::format(R"({{"readings":["3700 kPa","{} psi"]}})", row.psi));
    if (row.kpa != 3310)
      agrees(army, "compression-spread", value(converted, "lowest"), row.kpa, 0.5);
    else
      disagrees(army, "compression-spread", value(converted, "lowest"), row.kpa, 0.5,
                "TM 5-3895-359-14&P p. 0498, table 1: 480 psi in kPa, which rounds to 3309");
  }
}

TEST_CASE("other rules for the same readings") {
  // TM 5-4210-230-14&P-1, addendum 2: the lowest at least 75 % of the highest.
  const auto readings = answer("compression-spread", R"({"readings":{"values":[445,440,405,435],"unit":"psi"}})");
  agrees(army, "compression-spread", value(readings, "lowest_to_highest"), 405.0 / 445, 1e-11);
  agrees(army, "compression-spread", value(readings, "lowest_to_highest") > 0.75);
  // TM 5-2420-230-24-2 p. 14-22: 300 psi (2068 kPa) when used, all within 100 psi (690 kPa) of each other.
  const auto used = [](std::string_view values) {
    return answer("compression-spread", R"({"readings":{"values":)" + std::string(values) +
                                            R"(,"unit":"psi"},"least":"2068 kPa","spread_limit":"690 kPa"})");
  };
  agrees(army, "compression-spread", used("[350,300,310,340]").notes.empty());
  agrees(army, "compression-spread", has_note(used("[401,300]"), "above spread_limit"));
  agrees(army, "compression-spread", has_note(used("[350,299]"), "cylinder 2 below least"));
  // TM 1-1500-204-23-1, compression test: none 20 percent below the average.
  const auto average = answer("compression-spread", R"({"readings":{"values":[120,118,122,90],"unit":"psi"},)"
                                                    R"("below_mean":0.2})"); // mean 112.5, a fifth less 90
  agrees(army, "compression-spread", average.notes.empty());
  const auto below = answer("compression-spread", R"({"readings":{"values":[120,118,122,89],"unit":"psi"},)"
                                                  R"("below_mean":0.2})");
  agrees(army, "compression-spread", has_note(below, "cylinder 4 below the mean"));
}

TEST_CASE("FAA AC 43.13-1B par. 8-14: 60 held of 80 supplied is the limit, a quarter lost") {
  const auto lost = [](std::string_view supply, std::string_view held) {
    return value(
        answer("leak-down", R"({"supply":")" + std::string(supply) + R"(","held":")" + std::string(held) + R"("})"),
        "lost");
  };
  agrees(faa, "leak-down", lost("80 psi", "60 psi"), 0.25, 1e-12);
  agrees(faa, "leak-down", lost("551.58 kPa", "413.69 kPa"), 0.25, 0.00005);
  agrees(faa, "leak-down", lost("80 psi", "59 psi") > 0.25 && lost("80 psi", "61 psi") < 0.25);
}

TEST_CASE("signed dial readings round one turn give the total the manuals print") {
  const auto total = [](std::string_view readings) {
    return value(answer("run-out", R"({"readings":)" + std::string(readings) + "}"), "total");
  };
  // TM 10-3930-664-24 p. 3-41 and TM 5-3810-305-23 WP 0029: 12, 3, 6 and 9 o'clock; 0.005 in (0.13 mm).
  agrees(army, "run-out", total(inches("[0.000,0.003,-0.002,0.003]")), 0.005, last_digit);
  agrees(army, "run-out", total(mm("[0.00,0.08,-0.05,0.08]")), 0.13, last_digit);
  // TM 9-2815-202-34 p. 4-75: 0.004 and -0.007 in the largest of six; 0.011 in.
  agrees(army, "run-out", total(inches("[0,0.002,0.004,0.001,-0.007,-0.003]")), 0.011, last_digit);
  const auto places = answer("run-out", R"({"readings":)" + inches("[0.000,0.003,-0.002,0.003]") + "}");
  agrees(army, "run-out", written(places, "high_at") == "2"); // at 3 o'clock, the first of two
}

TEST_CASE("a round journal that stands off centre swings the dial by twice that, wherever the readings start") {
  // An eccentric circle reads e cos(angle); 12 readings from any start that meets both extremes.
  const outside::Source geometry = {"geometry of an eccentric circle", outside::Standing::worked};
  for (const double eccentric : {0.010, 0.025, 0.040}) {
    std::string readings;
    for (int i = 0; i < 12; ++i)
      readings += fmt::format("{}{:.12f}", i ? "," : "", eccentric * std::cos((i - 4) * 0.52359877559829887));
    const auto found = answer("run-out", R"({"readings":)" + mm("[" + readings + "]") + "}");
    agrees(geometry, "run-out", value(found, "bend"), eccentric, 1e-11);
    agrees(geometry, "run-out", written(found, "high_at") == "5");
  }
}

TEST_CASE("TM 10-3930-653-14&P, pistons: assemblies within 2 grams, 0.0705 oz") {
  const auto spread = [](std::string_view weights) {
    return value(answer("match", R"({"weights":)" + std::string(weights) + "}"), "spread");
  };
  agrees(army, "match", spread(R"(["812 g","814 g","813 g"])"), 2, last_digit);
  agrees(army, "match", spread(R"(["28.6400 oz","28.7105 oz","28.7000 oz"])"), 0.0705, last_digit);
  agrees(army, "match", spread(R"(["28.2192 oz","802 g"])"), 0.0705, 0.00005); // 800 g, 802 g
}

TEST_CASE("TM 9-2815-220-24 WP 0145-3: springs at the shorter of their two lengths, and their solid height") {
  struct Row {
    std::string_view longer, shorter_by, solid; // in
    double shorter, shorter_mm, solid_mm;
  };
  const Row rows[] = {{"2.07", "0.77", "1.28", 1.30, 33.020, 32.5},
                      {"2.26", "0.70", "1.34", 1.56, 39.624, 34.036},
                      {"2.26", "0.70", "1.47", 1.56, 39.624, 37.338}};
  for (const Row& row : rows) {
    INFO(row.solid);
    const auto found = answer("installed-height", fmt::format(R"({{"measured":"{} in","wanted":"{} in","lift":"{} in",)"
                                                              R"("solid":"{} in"}})",
                                                              row.longer, row.longer, row.shorter_by, row.solid));
    agrees(army, "installed-height", value(found, "room"), row.shorter - std::stod(std::string(row.solid)), last_digit);
    agrees(army, "installed-height", 25.4 * value(found, "room"), row.shorter_mm - row.solid_mm, 0.05);
    agrees(army, "installed-height", value(found, "shim"), 0, last_digit);
  }
}
