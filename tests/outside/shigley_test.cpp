// Budynas and Nisbett, Shigley's Mechanical Engineering Design, 9th edition, chapter 8: bolts and their preload.
#include "calculating.h"
#include "outside/ledger.h"

#include <fmt/format.h>

#include <array>
#include <vector>

using namespace calculating;
using outside::agrees;
using outside::Source;
using outside::Standing;

namespace {

const Source shigley = {"Shigley's Mechanical Engineering Design, 9th ed., ch. 8"};
const Source from_memory = {"Shigley's Mechanical Engineering Design, 9th ed., ch. 8", Standing::recalled};
const Source two_sections = {"a public worked problem: stiffness of an M14 bolt of two sections"};

constexpr double lbf_in = 0.1129848290276167; // N.m
constexpr double lbf = 4.4482216152605;       // N

// Example 8-3, p. 439: 3/4-16 UNF, grade 5, 25 kip, bolt 6.50 and joint 13.8 Mlbf/in. A Mlbf/in is 175126.835 N/mm.
const std::string unf = R"("diameter":"0.75 in","pitch":"0.0625 in","mu_thread":0.15,"mu_head":0.15,)"
                        R"("head_diameter":"0.9375 in"})"; // mean collar diameter 1.25 d
const std::string torque_factor = R"("diameter":"0.75 in","nut_factor":0.2})";

calc::Answer turned(double degrees, double pitch, double bolt, double joint) {
  return answer("angle-gain", fmt::format(R"({{"angle":"{:.9f} deg","pitch":"{} mm","bolt_stiffness":"{:.3f} N/mm",)"
                                          R"("joint_stiffness":"{:.3f} N/mm"}})",
                                          degrees, pitch, bolt, joint));
}

calc::Answer stretched(double shank, double shank_area, double thread, double thread_area, double modulus) {
  return answer("elongation", fmt::format(R"({{"preload":"10 kN","segments":[{{"length":"{} mm","area":"{} mm2"}},)"
                                          R"({{"length":"{} mm","area":"{} mm2"}}],"modulus":"{} MPa"}})",
                                          shank, shank_area, thread, thread_area, modulus));
}

} // namespace

TEST_CASE("Shigley table 8-1 and problem 8-2: diameters and stress area of a metric thread") {
  const auto m30 = answer("thread", R"({"diameter":"30 mm","pitch":"3.5 mm"})");
  agrees(shigley, "thread", value(m30, "stress_area"), 561, 0.5);
  agrees(shigley, "thread", value(m30, "d2"), 30 - 0.649519 * 3.5, 1e-6);
  agrees(shigley, "thread", value(m30, "d3"), 30 - 1.226869 * 3.5, 2e-6);
  agrees(shigley, "thread", value(answer("thread", R"({"diameter":"14 mm","pitch":"2 mm"})"), "stress_area"), 115, 0.5);
  agrees(shigley, "thread", value(answer("thread", R"({"diameter":"20 mm","pitch":"2.5 mm"})"), "stress_area"), 245,
         0.5);
}

TEST_CASE("Shigley example 8-3 (b) and (c): torque for a preload") {
  const auto by_factor = answer("tightening-torque", R"({"preload":"25000 lbf",)" + torque_factor);
  agrees(shigley, "tightening-torque", value(by_factor, "torque") / lbf_in, 3750, 1e-6);
  // The book's screw formula, eq. 8-26, is not linearised: it comes out 0.25 per cent above ours.
  const auto by_friction = answer("tightening-torque", R"({"preload":"25000 lbf",)" + unf);
  agrees(shigley, "tightening-torque", value(by_friction, "torque") / lbf_in, 3551, 0.003 * 3551);
  // "5.3 per cent less" by friction than by factor.
  agrees(shigley, "tightening-torque", 100 * (1 - value(by_friction, "torque") / value(by_factor, "torque")), 5.3, 0.3);
}

TEST_CASE("Shigley problem on a lubricated M20 of class 8.8 taken to 90 per cent of proof") {
  // 0.9 * 245 mm2 * 600 MPa = 132.3 kN; torque factor 0.18 lubricated (table 8-15): 476 N.m.
  const auto torque = answer("tightening-torque", R"({"preload":"132.3 kN","diameter":"20 mm","nut_factor":0.18})");
  agrees(shigley, "tightening-torque", value(torque, "torque"), 476, 0.5);
  const auto preload = answer("preload", R"({"torque":"476 N.m","diameter":"20 mm","pitch":"2.5 mm",)"
                                         R"("nut_factor":0.18,"class":"8.8"})");
  agrees(shigley, "preload", value(preload, "preload"), 132300, 0.5 / 476 * 132300);
  agrees(shigley, "preload", value(preload, "percent_of_proof"), 90, 0.2);
}

TEST_CASE("Shigley example 8-3: preload of a torque") {
  const auto by_factor = answer("preload", R"({"torque":"3750 lbf.in",)" + torque_factor);
  agrees(shigley, "preload", value(by_factor, "preload") / lbf, 25000, 1e-4);
  const auto by_friction = answer("preload", R"({"torque":"3551 lbf.in",)" + unf);
  agrees(shigley, "preload", value(by_friction, "preload") / lbf, 25000, 0.003 * 25000);
}

TEST_CASE("Shigley p. 438: the torque factor is about 0.20 for friction 0.15, whatever the size") {
  struct Size {
    double diameter, pitch;
  };
  for (const Size& size : {Size{8, 1.25}, Size{10, 1.5}, Size{12, 1.75}, Size{14, 2}, Size{16, 2}}) {
    const auto found =
        answer("tightening-torque", fmt::format(R"({{"preload":"1000 N","diameter":"{} mm","pitch":"{} mm",)"
                                                R"("mu_thread":0.15,"mu_head":0.15,"head_diameter":"{} mm"}})",
                                                size.diameter, size.pitch, 1.25 * size.diameter));
    INFO("M" << size.diameter);
    agrees(shigley, "tightening-torque", value(found, "torque") / size.diameter, 0.20, 0.01); // "about"
  }
}

TEST_CASE("Shigley tables 8-13 and 8-14: bolts torqued to 90 N.m, dry and lubricated") {
  const auto dry = answer("mean-of", R"({"values":{"values":[23.6,27.6,28.0,29.4,30.3,30.7,32.9,33.8,33.8,33.8,34.7,)"
                                     R"(35.6,35.6,37.4,37.8,37.8,39.2,40.0,40.5,42.7],"unit":"kN"}})");
  agrees(shigley, "mean-of", value(dry, "mean"), 34.3, 0.05);
  agrees(shigley, "mean-of", value(dry, "standard_deviation"), 4.91, 0.005);
  const auto lubricated =
      answer("mean-of", R"({"values":{"values":[30.3,32.5,32.5,32.9,32.9,33.8,34.3,34.7,37.4,40.5],"unit":"kN"}})");
  agrees(shigley, "mean-of", value(lubricated, "mean"), 34.18, 0.005);
  agrees(shigley, "mean-of", value(lubricated, "standard_deviation"), 2.88, 0.005);
}

TEST_CASE("Shigley table 8-7: stiffness of a bolt, shank and thread in a row") {
  // A problem on an M14 x 2 with a grip of 33.5 mm: 16 mm of shank, 17.5 mm of thread; 808.24 MN/m printed.
  agrees(shigley, "elongation", value(stretched(16, 153.938, 17.5, 115, 207000), "stiffness"), 808240, 5);
  // A 3/8 in capscrew threaded all the way: 0.0775 in2 over 0.5025 in at 30 Mpsi: 4.63 Mlbf/in printed.
  const auto capscrew = answer("elongation", R"({"preload":"1000 lbf","segments":[{"length":"0.5025 in",)"
                                             R"("area":"0.0775 in2"}],"modulus":"30000000 psi"})");
  agrees(shigley, "elongation", value(capscrew, "stiffness") / (1e6 * lbf / 25.4), 4.63, 0.005);
  agrees(shigley, "elongation", 0.001 / value(capscrew, "elongation"), 4.63, 0.005); // 1000 lbf in Mlbf over in
}

TEST_CASE("another model of an M14 bolt: both sections, and together") {
  // Shank 22.600 mm of 153.938 mm2, thread 12.734 mm of 110.008 mm2, 206 800 MPa (the lengths hold 0.4 d each).
  const auto one = [](double length, double area) {
    return value(answer("elongation", fmt::format(R"({{"preload":"10 kN","segments":[{{"length":"{} mm",)"
                                                  R"("area":"{} mm2"}}],"modulus":"206800 MPa"}})",
                                                  length, area)),
                 "stiffness");
  };
  agrees(two_sections, "elongation", one(22.600, 153.938), 1408599.991, 10);
  agrees(two_sections, "elongation", one(12.734, 110.008), 1786535.819, 10);
  agrees(two_sections, "elongation", value(stretched(22.600, 153.938, 12.734, 110.008, 206800), "stiffness"),
         787607.942, 5);
}

TEST_CASE("Shigley, problems on turn of nut: turns past snug are (kb + km)/(kb km) times preload times threads") {
  struct Joint {
    double preload, pitch, bolt, joint;
  };
  constexpr double mlbf_in = 1e6 * lbf / 25.4; // N/mm
  for (const Joint& row : {Joint{25000 * lbf, 25.4 / 16, 6.50 * mlbf_in, 13.8 * mlbf_in},
                           Joint{50000, 2, 808241, 2963000}, Joint{30000, 1.25, 450000, 1500000}}) {
    const double turns = (row.bolt + row.joint) / (row.bolt * row.joint) * row.preload / row.pitch;
    agrees(from_memory, "angle-gain", value(turned(360 * turns, row.pitch, row.bolt, row.joint), "preload_gain"),
           row.preload, 1e-6 * row.preload);
  }
  // Example 8-3 (a), read: the bolt takes C = 0.320 of what is added, so the joint takes 0.680 of the advance.
  const auto example = turned(36, 25.4 / 16, 6.50 * mlbf_in, 13.8 * mlbf_in);
  agrees(from_memory, "angle-gain", 1 - value(example, "bolt_stretch") / (25.4 / 16 / 10), 0.320, 0.0005);
}
