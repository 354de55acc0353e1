// What plain geometry says, worked out another way than the program does: it needs no document. Where a rule of the
// bench is checked instead, the source is a workshop manual, or "common practice, no source".
#include "calculating.h"
#include "outside/ledger.h"

#include <fmt/format.h>

#include <cmath>
#include <numbers>
#include <random>

using namespace calculating;
using outside::agrees;
using std::numbers::pi;

namespace {

const outside::Source geometry = {"geometry", outside::Standing::worked};
const outside::Source practice = {"bench practice", outside::Standing::custom};
const outside::Source workshop = {"workshop manuals of makers (not named)"};

// As far as twelve digits hold.
void same(std::string_view name, double got, double worked) {
  agrees(geometry, name, got, worked, 1e-9 * std::abs(worked) + 1e-12);
}

struct Plane {
  double c, a, b; // depth = c + a x + b y
};

// Least squares by the normal equations, solved by Cramer's rule.
Plane fitted_plane(const std::vector<double>& x, const std::vector<double>& y, const std::vector<double>& z) {
  double n = 0, sx = 0, sy = 0, sz = 0, xx = 0, xy = 0, yy = 0, xz = 0, yz = 0;
  for (std::size_t i = 0; i < z.size(); ++i) {
    n += 1;
    sx += x[i];
    sy += y[i];
    sz += z[i];
    xx += x[i] * x[i];
    xy += x[i] * y[i];
    yy += y[i] * y[i];
    xz += x[i] * z[i];
    yz += y[i] * z[i];
  }
  const auto det = [](double a, double b, double c, double d, double e, double f, double g, double h, double i) {
    return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  };
  const double whole = det(n, sx, sy, sx, xx, xy, sy, xy, yy);
  return {det(sz, sx, sy, xz, xx, xy, yz, xy, yy) / whole, det(n, sz, sy, sx, xz, xy, sy, yz, yy) / whole,
          det(n, sx, sz, sx, xx, xz, sy, xy, yz) / whole};
}

} // namespace

TEST_CASE("seal depths: the harmonic is the least-squares plane over the circle") {
  std::mt19937 random(20);
  for (int trial = 0; trial < 50; ++trial) {
    const std::size_t count = 3 + random() % 10;
    const double radius = 20 + static_cast<double>(random() % 100) / 2;
    std::vector<double> x, y, z;
    std::string depths;
    for (std::size_t i = 0; i < count; ++i) {
      const double turn = 2 * pi * static_cast<double>(i) / static_cast<double>(count);
      const int hundredths = 400 + static_cast<int>(random() % 60);
      x.push_back(radius * std::cos(turn));
      y.push_back(radius * std::sin(turn));
      z.push_back(hundredths / 100.0);
      depths += fmt::format("{}{}.{:02}", i ? "," : "", hundredths / 100, hundredths % 100);
    }
    const Plane plane = fitted_plane(x, y, z);
    const double slope = std::hypot(plane.a, plane.b);
    double low = 1e9, high = -1e9;
    for (std::size_t i = 0; i < count; ++i) {
      const double left = z[i] - plane.c - plane.a * x[i] - plane.b * y[i];
      low = std::min(low, left);
      high = std::max(high, left);
    }
    const auto found = answer("seal-squareness", R"({"depths":)" + mm("[" + depths + "]") +
                                                     fmt::format(R"(,"diameter":"{} mm"}})", 2 * radius));
    INFO(depths);
    same("seal-squareness", value(found, "mean"), plane.c);
    same("seal-squareness", value(found, "runout"), 2 * radius * slope);
    same("seal-squareness", value(found, "tilt"), std::atan(slope) * 180 / pi);
    if (slope > 1e-9) {
      const double way = std::atan2(plane.b, plane.a) * 180 / pi;
      same("seal-squareness", value(found, "deepest_at"), way < 0 ? way + 360 : way);
    }
    if (count > 3) same("seal-squareness", value(found, "residual"), high - low);
  }
}

TEST_CASE("seal depths: four depths worked by hand from opposite pairs") {
  // tx = (z0 - z180)/D, ty = (z90 - z270)/D, run-out = D sqrt(tx^2 + ty^2), q = (z0 + z180 - z90 - z270)/4
  struct Row {
    const char* diameter;
    const char* depths;
    double tilt, runout, deepest_at, q;
  };
  for (const Row& row : {Row{"70", "[4.02,4.10,4.12,4.04]", 0.095454, 0.116619, 149.0362, 0},
                         Row{"90", "[6.00,6.05,6.00,5.95]", 0.063662, 0.100000, 90, 0},
                         Row{"60", "[5.00,5.30,5.00,5.30]", 0, 0, 0, -0.15}, Row{"70", "[4,4,4,4]", 0, 0, 0, 0}}) {
    INFO(row.depths);
    const auto found = answer("seal-squareness",
                              R"({"depths":)" + mm(row.depths) + fmt::format(R"(,"diameter":"{} mm"}})", row.diameter));
    agrees(geometry, "seal-squareness", value(found, "tilt"), row.tilt, 5e-7);
    agrees(geometry, "seal-squareness", value(found, "runout"), row.runout, 5e-7);
    agrees(geometry, "seal-squareness", value(found, "residual"), 2 * std::abs(row.q), 1e-12);
    if (row.runout > 0) agrees(geometry, "seal-squareness", value(found, "deepest_at"), row.deepest_at, 5e-5);
    CHECK((written(found, "deepest_at") == "null") == (row.runout == 0));
    CHECK(has_note(found, "warped") == (row.q != 0));
  }
}

TEST_CASE("gauging strip: the pressed section has the area of the round one") {
  struct Row {
    double diameter;
    const char* width;
    double clearance;
  };
  for (const Row& row : {Row{0.28, "2.4630", 0.025}, Row{0.28, "1.2074", 0.051}, Row{0.28, "0.8102", 0.076},
                         Row{0.40, "2.4640", 0.051}, Row{0.40, "0.8378", 0.150}}) {
    const auto found = answer("strip-clearance",
                              fmt::format(R"({{"width":"{} mm","strip_diameter":"{} mm"}})", row.width, row.diameter));
    agrees(geometry, "strip-clearance", value(found, "mean"), row.clearance, 1e-4 * row.clearance);
    same("strip-clearance", value(found, "mean") * std::stod(row.width), pi * row.diameter * row.diameter / 4);
  }
  // With half-round edges, which bulge, the clearance is larger by less than the strip can tell: w = 1 mm, 0.062411.
  const auto found = answer("strip-clearance", R"({"width":"1 mm","strip_diameter":"0.28 mm"})");
  agrees(geometry, "strip-clearance", value(found, "mean"), 0.061575, 5e-7);
  agrees(geometry, "strip-clearance", value(found, "mean"), 0.062411, 0.02 * 0.062411);
}

TEST_CASE("backlash: the same turn of the gear moves every radius by its own arc") {
  const auto found = answer("backlash", R"({"indicator":"0.10 mm","indicator_radius":"35 mm","pitch_radius":"42 mm"})");
  const double turn = value(found, "angle") * pi / 180;
  same("backlash", turn * 35, 0.10);
  same("backlash", turn * 42, value(found, "mean"));
  agrees(geometry, "backlash", value(found, "angle") * 60, 9.8221, 5e-5); // minutes of arc
  const auto lever = [](std::string_view indicator, int at, int pitch) {
    return value(
        answer("backlash", fmt::format(R"({{"indicator":"{} mm","indicator_radius":"{} mm","pitch_radius":"{} mm"}})",
                                       indicator, at, pitch)),
        "mean");
  };
  agrees(geometry, "backlash", lever("0.18", 35, 42), 0.216, 1e-12);
  agrees(geometry, "backlash", lever("0.10", 42, 35), 0.083333, 5e-7);
}

TEST_CASE("ring gap: the ring's length stays, the bore's circumference grows") {
  const double circumference = pi * 83.000;
  const double ring = circumference - 0.30;
  const auto found = answer("ring-gap", R"({"gap":"0.30 mm","gauge_bore":"83.000 mm","working_bore":"83.062 mm"})");
  same("ring-gap", value(found, "gap_at_working"), pi * 83.062 - ring);
  same("ring-gap", value(found, "per_bore"), (pi * 83.062 - ring) / 83.062);
  agrees(geometry, "ring-gap", value(found, "gap_at_working"), 0.494779, 5e-7);
  // 0.003 to 0.004 of the bore: 83 mm 0.249 to 0.332, 107.95 mm 0.324 to 0.432
  const auto part = [](std::string_view gap, std::string_view bore) {
    return value(answer("ring-gap",
                        fmt::format(R"({{"gap":"{0} mm","gauge_bore":"{1} mm","working_bore":"{1} mm"}})", gap, bore)),
                 "per_bore");
  };
  agrees(practice, "ring-gap", part("0.249", "83"), 0.003, 0.5e-5);
  agrees(practice, "ring-gap", part("0.332", "83"), 0.004, 0.5e-5);
  agrees(practice, "ring-gap", part("0.324", "107.95"), 0.003, 0.5e-5);
  agrees(practice, "ring-gap", part("0.432", "107.95"), 0.004, 0.5e-5);
}

TEST_CASE("straightedge: a hollow face takes the blades its profile has room for") {
  // Heights in um every 50 mm; the edge rests on the two ends.
  const auto hollow = [](const std::vector<double>& profile) {
    double gap = 0;
    for (std::size_t i = 0; i < profile.size(); ++i) {
      const double edge = profile.front() + (profile.back() - profile.front()) * static_cast<double>(i) / 6;
      gap = std::max(gap, edge - profile[i]);
    }
    return gap;
  };
  for (const auto& [profile, depth] :
       {std::pair{std::vector<double>{0, -12, -20, -24, -18, -9, 4}, 26.0}, {{0, -4, -9, -3, 5, 8, 10}, 37.0 / 3}}) {
    const double gap = hollow(profile);
    CHECK(gap == Approx(depth).epsilon(1e-12));
    const int enters = static_cast<int>(gap / 5) * 5; // blades of 5 um steps
    const auto found =
        answer("straightedge", fmt::format(R"({{"lines":[{{"name":"along","enters":"{} um","refuses":"{} um",)"
                                           R"("length":"300 mm"}}]}})",
                                           enters, enters + 5));
    agrees(geometry, "straightedge", value(found, "worst") >= gap); // never less than the gap there is
    agrees(geometry, "straightedge", value(found, "worst") < gap + 5);
  }
}

TEST_CASE("size and form of journals and bores by hand") {
  struct Row {
    const char* readings;
    double out_of_round, taper;
  };
  for (const Row& row :
       {Row{"[[49.982,49.976],[49.978,49.974]]", 0.006, 0.004}, Row{"[[69.931,69.905],[69.927,69.921]]", 0.026, 0.016},
        Row{"[[83.062,83.041],[83.035,83.026],[83.018,83.012]]", 0.021, 0.044}}) {
    const auto found = answer("form", fmt::format(R"({{"readings":{}}})", mm(row.readings)));
    agrees(geometry, "form", value(found, "out_of_round"), row.out_of_round, 1e-12);
    agrees(geometry, "form", value(found, "taper"), row.taper, 1e-12);
  }
  const auto oil = answer("oil-clearance", R"({"bore":)" + mm("[[50.036,50.031,50.034,50.030]]") + R"(,"journal":)" +
                                               mm("[[49.982,49.976,49.978,49.974]]") + "}");
  agrees(geometry, "oil-clearance", value(oil, "min"), 0.048, 1e-12);
  agrees(geometry, "oil-clearance", value(oil, "max"), 0.062, 1e-12);
  agrees(geometry, "oil-clearance", value(oil, "mean"), 0.055250, 1e-12);
}

TEST_CASE("end play: a dial set anywhere shows the same swing") {
  // Pry one way, read, pry the other way, read.
  for (const char* zero : {"-0.7", "0", "0.31"}) {
    const double start = std::stod(zero);
    const auto found = answer("end-play", fmt::format(R"({{"readings":{{"values":[[{:.3f},{:.3f}],[{:.3f},{:.3f}]],)"
                                                      R"("unit":"mm"}}}})",
                                                      start, start + 0.152, start + 0.148, start));
    agrees(practice, "end-play", written(found, "play") == R"({"value":0.15,"unit":"mm"})");
    agrees(practice, "end-play", written(found, "spread") == R"({"value":0.004,"unit":"mm"})");
  }
}

TEST_CASE("shims: lash and shim together stay what they were") {
  // New shim = old shim + (measured - wanted), a car's manual; its shims go from 2.50 to 3.30 mm by 0.05 mm. The
  // readings are ours.
  std::string sizes;
  for (int i = 0; i < 17; ++i) sizes += fmt::format("{}\"{:.2f} mm\"", i ? "," : "", 2.50 + 0.05 * i);
  const auto lash = [&](std::string_view measured, std::string_view fitted) {
    return answer("lash-shim", fmt::format(R"({{"measured":"{} mm","target":"0.25 mm","fitted":"{} mm",)"
                                           R"("available":[{}]}})",
                                           measured, fitted, sizes));
  };
  agrees(workshop, "lash-shim", value(lash("0.32", "2.65"), "wanted"), 2.72, 1e-12);
  agrees(workshop, "lash-shim", value(lash("0.18", "2.65"), "wanted"), 2.58, 1e-12);
  agrees(workshop, "lash-shim", value(lash("0.32", "2.65"), "choice"), 2.70, 1e-12); // printed as 0.1063 in too
  agrees(workshop, "lash-shim", value(lash("0.18", "2.65"), "choice"), 2.60, 1e-12);
  agrees(workshop, "lash-shim", written(lash("1.10", "3.30"), "wanted") == R"({"value":4.15,"unit":"mm"})");
  same("lash-shim", value(lash("0.32", "2.65"), "choice") + value(lash("0.32", "2.65"), "lash_after"), 2.65 + 0.32);
  // The same through the general form, a thicker shim taking lash away.
  const auto found = answer("shim-selection", R"({"measured":"0.32 mm","target":"0.25 mm","change_per_mm":-1,)"
                                              R"("fitted":"2.65 mm","available":["2.70 mm"]})");
  same("shim-selection", value(found, "wanted"), 2.72);
  same("shim-selection", value(found, "result_after"), value(lash("0.32", "2.65"), "lash_after"));
}

TEST_CASE("shims: lash at the valve is the lash at the push-rod times the rocker's ratio") {
  // 0.40 mm at the valve is 0.266667 mm where the shim sits, with a ratio of 1.5.
  const auto found = answer("lash-shim", R"({"measured":"0.40 mm","target":"0 mm","fitted":"2 mm","ratio":1.5,)"
                                         R"("available":["2.2 mm"]})");
  agrees(geometry, "lash-shim", value(found, "wanted") - 2, 0.266667, 5e-7);
  same("lash-shim", value(found, "lash_after"), 0.40 - 1.5 * 0.2);
}

TEST_CASE("shims: a spring's preload rises by its rate for each millimetre") {
  // From the definition of a spring rate; the numbers are ours.
  const auto spring =
      answer("spring", R"({"loads":["300 N","800 N"],"lengths":["40 mm","30 mm"],"installed":"38 mm"})");
  const auto found = answer("shim-selection", R"({"measured":"400 N","target":"425 N","change_per_mm":50,)"
                                              R"("fitted":"1 mm","available":["1.5 mm"]})");
  same("spring", value(spring, "rate"), 50);
  same("spring", value(spring, "load_installed"), 400);
  same("shim-selection", value(found, "result_after"), 425);
  const auto other =
      answer("spring", R"({"loads":["310 N","850 N"],"lengths":["40.5 mm","29.5 mm"],"installed":"36 mm"})");
  agrees(geometry, "spring", value(other, "rate"), 49.0909, 5e-5);
  agrees(geometry, "spring", value(other, "free_length"), 46.8148, 5e-5);
}

TEST_CASE("thrust washers: what stands between the faces grows by what the play loses") {
  // 2.310 and 2.312 mm with 0.34 mm, 0.15 mm wanted: 4.812 mm together, at most 2.406 each.
  const auto found = answer("thrust-selection", R"({"play":"0.34 mm","fitted":["2.310 mm","2.312 mm"],)"
                                                R"("low":"0.15 mm","high":"0.15 mm","available":["2.406 mm"]})");
  same("thrust-selection", value(found, "choice") * 2, 4.622 + 0.34 - 0.15);
  same("thrust-selection", value(found, "play_after"), 0.15);
}

TEST_CASE("protrusion: gasket tables of small diesels") {
  struct Grade {
    const char* name;
    const char* from;
    const char* to;
  };
  const auto table = [](const std::vector<Grade>& grades) {
    std::string text;
    for (const Grade& grade : grades)
      text += fmt::format(R"({}{{"name":"{}","from":"{} mm","to":"{} mm"}})", text.empty() ? "" : ",", grade.name,
                          grade.from, grade.to);
    return R"(,"grades":[)" + text + "]";
  };
  const auto protrusion = [](std::string_view readings, const std::string& grades) {
    return answer("protrusion", R"({"readings":)" + mm(readings) + grades + "}");
  };
  const auto grade = [&](std::string_view readings, const std::string& grades) {
    return written(protrusion(readings, grades), "grade");
  };
  // Mean of two points a cylinder, the largest of the four picks: A 0.758 to 0.813, B to 0.859, C to 0.914 mm
  const std::string light = table({{"A", "0.758", "0.813"}, {"B", "0.813", "0.859"}, {"C", "0.859", "0.914"}});
  const auto found = protrusion("[[0.782,0.801],[0.795,0.813],[0.820,0.838],[0.771,0.786]]", light); // ours
  agrees(workshop, "protrusion", written(found, "grade") == "\"B\"");
  CHECK(value(found, "highest") == 0.829);
  CHECK(value(found, "spread") == 0.0505);
  for (const auto& [reading, name] : {std::pair{"0.758", "\"A\""},
                                      {"0.785", "\"A\""},
                                      {"0.840", "\"B\""},
                                      {"0.860", "\"C\""},
                                      {"0.914", "\"C\""},
                                      {"0.7575", "null"},
                                      {"0.915", "null"}})
    agrees(workshop, "protrusion", grade(fmt::format("[[{}]]", reading), light) == name);
  // The same rule, five gaskets, printed to 0.001 mm: 0.470 to 0.604, 0.605 to 0.654, ... 0.755 to 0.830
  const std::string five = table({{"1", "0.470", "0.605"},
                                  {"2", "0.605", "0.655"},
                                  {"3", "0.655", "0.705"},
                                  {"4", "0.705", "0.755"},
                                  {"5", "0.755", "0.830"}});
  for (const auto& [reading, name] : {std::pair{"0.470", "\"1\""},
                                      {"0.604", "\"1\""},
                                      {"0.605", "\"2\""},
                                      {"0.654", "\"2\""},
                                      {"0.704", "\"3\""},
                                      {"0.705", "\"4\""},
                                      {"0.830", "\"5\""}})
    agrees(workshop, "protrusion", grade(fmt::format("[[{}]]", reading), five) == name);
  // A tractor's manual: the mean of all four cylinders, below 0.40 mm the thin gasket, above it the thick one
  const std::string by_mean =
      table({{"thin", "0", "0.40"}, {"thick", "0.40", "1"}}) + R"(,"basis":"mean","exceed":"1 mm")";
  agrees(workshop, "protrusion", grade("[[0.36,0.38],[0.42,0.44],[0.37,0.39],[0.38,0.40]]", by_mean) == "\"thin\"");
  agrees(workshop, "protrusion", grade("[[0.36,0.38],[0.44,0.46],[0.41,0.43],[0.38,0.40]]", by_mean) == "\"thick\"");
  // From memory: one grade more when a cylinder stands over 0.05 mm above the mean of all.
  const std::string exceed = light + R"(,"basis":"mean","exceed":"0.05 mm")";
  agrees(practice, "protrusion", grade("[[0.78],[0.78],[0.78],[0.84]]", exceed) == "\"A\"");
  agrees(practice, "protrusion", grade("[[0.77],[0.77],[0.77],[0.85]]", exceed) == "\"B\"");
}
