// U by drawing (see drawn.h) for sizes, cylinders, springs and what runs.
#include "outside/drawn.h"

#include <algorithm>
#include <initializer_list>
#include <numbers>

using namespace calculating;
using outside::drawn_tolerance;
using outside::drawn_u;
using outside::Scatter;

namespace {

Approx near(double drawn) {
  return Approx(drawn).epsilon(drawn_tolerance);
}

struct Extremes {
  double least, most;
};

// Each value with `u` of its own and one setting they share.
Extremes scattered(Scatter& around, std::initializer_list<double> values, double u, double shared = 0) {
  const double setting = around(0, shared);
  Extremes found{1e300, -1e300};
  for (const double value : values) {
    const double drawn = around(value, u) + setting;
    found.least = std::min(found.least, drawn);
    found.most = std::max(found.most, drawn);
  }
  return found;
}

} // namespace

TEST_CASE("drawn: clearance with the shells chosen, one wall used twice or two walls") {
  const auto with = [](std::string_view walls) {
    return answer("shell-selection", R"({"housing":{"values":[51.000,51.020],"unit":"mm","u":0.003,"u_shared":0.002},)"
                                     R"("journal":{"values":[47.985,48.000],"unit":"mm","u":0.004},)"
                                     R"("low":"0.02 mm","high":"0.10 mm","available":{"values":)" +
                                         std::string(walls) + R"(,"unit":"mm","u":0.002,"u_shared":0.001}})");
  };
  struct Room {
    double tight, loose;
  };
  const auto room = [](Scatter& around) {
    const auto housing = scattered(around, {51.000, 51.020}, 0.003, 0.002);
    const auto journal = scattered(around, {47.985, 48.000}, 0.004);
    return Room{housing.least - journal.most, housing.most - journal.least};
  };
  const auto equal = with("[1.475]");
  CHECK(u(equal, "min") == near(drawn_u([&](Scatter& around) {
          const double wall = around(1.475, 0.002) + around(0, 0.001);
          return room(around).tight - 2 * wall;
        })));
  CHECK(u(equal, "max") == near(drawn_u([&](Scatter& around) {
          const double wall = around(1.475, 0.002) + around(0, 0.001);
          return room(around).loose - 2 * wall;
        })));
  const auto mixed = with("[1.45,1.50]");
  CHECK(value(mixed, "lower") == 1.5);
  CHECK(u(mixed, "min") == near(drawn_u([&](Scatter& around) {
          const double setting = around(0, 0.001);
          return room(around).tight - around(1.45, 0.002) - around(1.50, 0.002) - 2 * setting;
        })));
}

TEST_CASE("drawn: the bore to aim for") {
  const auto found = answer("bore-target", R"({"piston":{"value":83.445,"unit":"mm","u":0.003,"u_shared":0.002},)"
                                           R"("low":{"value":0.03,"unit":"mm","u":0.004},)"
                                           R"("high":{"value":0.05,"unit":"mm","u":0.006},)"
                                           R"("hone":{"value":0.02,"unit":"mm","u":0.005}})");
  const auto piston = [](Scatter& around) { return around(83.445, 0.003) + around(0, 0.002); };
  CHECK(u(found, "low") == near(drawn_u([&](Scatter& around) { return piston(around) + around(0.03, 0.004); })));
  CHECK(u(found, "high") == near(drawn_u([&](Scatter& around) { return piston(around) + around(0.05, 0.006); })));
  CHECK(u(found, "bore_low") ==
        near(drawn_u([&](Scatter& around) { return piston(around) + around(0.03, 0.004) - around(0.02, 0.005); })));
  CHECK(u(found, "bore_high") ==
        near(drawn_u([&](Scatter& around) { return piston(around) + around(0.05, 0.006) - around(0.02, 0.005); })));
}

TEST_CASE("drawn: metal removed from the worst bore and the worst journal") {
  const std::string sizes = R"("cleanup":"0.02 mm","available":{"values":[0.25,0.50],"unit":"mm","u":0.005}})";
  const auto bores = answer("oversize-selection", R"({"nominal":{"value":83,"unit":"mm","u":0.003},"largest":{)"
                                                  R"("values":[83.06,83.10,83.02],"unit":"mm","u":0.004,)"
                                                  R"("u_shared":0.002},)" +
                                                      sizes);
  CHECK(u(bores, "metal_removed") == near(drawn_u([](Scatter& around) {
          return around(83, 0.003) + around(0.25, 0.005) - scattered(around, {83.06, 83.10, 83.02}, 0.004, 0.002).most;
        })));
  const auto journals = answer("undersize-selection", R"({"nominal":{"value":48,"unit":"mm","u":0.003},"smallest":{)"
                                                      R"("values":[47.94,47.90,47.97],"unit":"mm","u":0.004},)" +
                                                          sizes);
  CHECK(u(journals, "metal_removed") == near(drawn_u([](Scatter& around) {
          return scattered(around, {47.94, 47.90, 47.97}, 0.004).least - (around(48, 0.003) - around(0.25, 0.005));
        })));
  // Bores that are all alike: no more than is told.
  const auto alike = answer("oversize-selection", R"({"nominal":{"value":83,"unit":"mm","u":0.003},"largest":{)"
                                                  R"("values":[83.10,83.10,83.10],"unit":"mm","u":0.004},)" +
                                                      sizes);
  CHECK(u(alike, "metal_removed") >=
        0.98 * drawn_u([](Scatter& around) {
          return around(83, 0.003) + around(0.25, 0.005) - scattered(around, {83.10, 83.10, 83.10}, 0.004).most;
        }));
}

TEST_CASE("drawn: room above the piston by crushed wire") {
  const auto found = answer("piston-to-head", R"({"readings":{"values":[0.62,0.70,0.54,0.64],"unit":"mm","u":0.01,)"
                                              R"("u_shared":0.008},"wire":"1.58 mm"})");
  CHECK(u(found, "mean") == near(drawn_u([](Scatter& around) {
          double sum = 0;
          for (const double piece : {0.62, 0.70, 0.54, 0.64}) sum += around(piece, 0.01);
          return sum / 4 + around(0, 0.008);
        })));
  const auto pieces = [](Scatter& around) { return scattered(around, {0.62, 0.70, 0.54, 0.64}, 0.01, 0.008); };
  CHECK(u(found, "min") == near(drawn_u([&](Scatter& around) { return pieces(around).least; })));
  CHECK(u(found, "spread") == near(drawn_u([&](Scatter& around) {
          const auto drawn = pieces(around);
          return drawn.most - drawn.least;
        })));
  const auto alike = answer("piston-to-head", R"({"readings":{"values":[0.62,0.62,0.62,0.62],"unit":"mm","u":0.01},)"
                                              R"("wire":"1.58 mm"})");
  const auto even = [](Scatter& around) { return scattered(around, {0.62, 0.62, 0.62, 0.62}, 0.01); };
  CHECK(u(alike, "min") >= 0.98 * drawn_u([&](Scatter& around) { return even(around).least; }));
  CHECK(u(alike, "spread") >= 0.98 * drawn_u([&](Scatter& around) {
                                const auto drawn = even(around);
                                return drawn.most - drawn.least;
                              }));
}

TEST_CASE("drawn: compression ratio and its volumes, the piston above the deck or below") {
  struct Volumes {
    double swept, clearance, ratio;
  };
  const auto volumes = [](Scatter& around, double protrusion) {
    const double bore = around(83, 0.1);
    const double gasket_bore = around(84.5, 0.5);
    const double quarter = std::numbers::pi / 4;
    const double swept = quarter * bore * bore * around(92, 0.2);
    const double clearance = around(4000, 200) + around(20500, 300) +
                             quarter * gasket_bore * gasket_bore * around(1.6, 0.04) -
                             quarter * bore * bore * around(protrusion, 0.03);
    return Volumes{swept, clearance, (swept + clearance) / clearance};
  };
  for (const double protrusion : {0.8, -0.8}) {
    const auto found = answer("compression-ratio",
                              R"({"bore":{"value":83,"unit":"mm","u":0.1},"stroke":{"value":92,"unit":"mm","u":0.2},)"
                              R"("chamber":{"value":4,"unit":"ml","u":0.2},"bowl":{"value":20.5,"unit":"ml","u":0.3},)"
                              R"("gasket_thickness":{"value":1.6,"unit":"mm","u":0.04},)"
                              R"("gasket_bore":{"value":84.5,"unit":"mm","u":0.5},"protrusion":{"value":)" +
                                  std::to_string(protrusion) + R"(,"unit":"mm","u":0.03}})");
    CHECK(u(found, "swept") == near(drawn_u([&](Scatter& around) { return volumes(around, protrusion).swept; })));
    CHECK(u(found, "clearance_volume") ==
          near(drawn_u([&](Scatter& around) { return volumes(around, protrusion).clearance; })));
    CHECK(u(found, "ratio") == near(drawn_u([&](Scatter& around) { return volumes(around, protrusion).ratio; })));
  }
}

TEST_CASE("drawn: compression ratio when the bore alone is uncertain") {
  // Its part in the swept volume and that in what the piston takes up pull the ratio the same way.
  const auto found =
      answer("compression-ratio", R"({"bore":{"value":83,"unit":"mm","u":0.4},"stroke":"92 mm","chamber":"4 ml",)"
                                  R"("bowl":"4 ml","gasket_thickness":"1.6 mm","gasket_bore":"84.5 mm",)"
                                  R"("protrusion":"0.8 mm"})");
  CHECK(u(found, "ratio") == near(drawn_u([](Scatter& around) {
          const double quarter = std::numbers::pi / 4;
          const double bore = around(83, 0.4);
          const double clearance = 8000 + quarter * 84.5 * 84.5 * 1.6 - quarter * bore * bore * 0.8;
          return quarter * bore * bore * 92 / clearance;
        })));
}

TEST_CASE("drawn: height of liners, with the shim and among each other") {
  const auto found = answer("liner-height",
                            R"({"flange":{"values":[5.020,5.100,5.200],"unit":"mm","u":0.003,"u_shared":0.01},)"
                            R"("counterbore":{"values":[5,5,5],"unit":"mm","u":0.004,"u_shared":0.006},)"
                            R"("available":{"values":[0.08],"unit":"mm","u":0.005},"low":"0.05 mm","high":"0.30 mm"})");
  const auto& heights = std::get<calc::Outcomes>(*found.find("height"));
  const auto& after = std::get<calc::Outcomes>(*found.find("height_after"));
  const auto liner = [](Scatter& around, double flange) { return around(flange, 0.003) - around(5, 0.004); };
  const auto settings = [](Scatter& around) { return around(0, 0.01) - around(0, 0.006); };
  CHECK(heights[0].quantity()->u.value().to_double() ==
        near(drawn_u([&](Scatter& around) { return liner(around, 5.02) + settings(around); })));
  CHECK(after[0].quantity()->u.value().to_double() ==
        near(drawn_u([&](Scatter& around) { return liner(around, 5.02) + settings(around) + around(0.08, 0.005); })));
  CHECK(u(found, "spread") == near(drawn_u([&](Scatter& around) {
          const double shared = settings(around);
          const double first = liner(around, 5.02) + shared;
          const double second = liner(around, 5.10) + shared;
          const double third = liner(around, 5.20) + shared;
          return std::max({first, second, third}) - std::min({first, second, third});
        })));
  CHECK(u(found, "step") == near(drawn_u([&](Scatter& around) {
          const double shared = settings(around);
          const double first = liner(around, 5.02) + shared;
          const double second = liner(around, 5.10) + shared;
          const double third = liner(around, 5.20) + shared;
          return std::max(std::abs(second - first), std::abs(third - second));
        })));
}

TEST_CASE("drawn: compression of the cylinders") {
  const auto found = answer("compression-spread", R"({"readings":{"values":[31,29,24,29.5],"unit":"bar","u":0.3,)"
                                                  R"("u_shared":0.8}})");
  const auto cylinders = [](Scatter& around) { return scattered(around, {31, 29, 24, 29.5}, 0.3, 0.8); };
  CHECK(u(found, "range") == near(drawn_u([&](Scatter& around) {
          const auto drawn = cylinders(around);
          return drawn.most - drawn.least;
        })));
  CHECK(u(found, "lowest") == near(drawn_u([&](Scatter& around) { return cylinders(around).least; })));
  CHECK(u(found, "lowest_to_highest") == near(drawn_u([&](Scatter& around) {
          const auto drawn = cylinders(around);
          return drawn.least / drawn.most;
        })));
}

TEST_CASE("drawn: what a cylinder loses") {
  const auto found = answer("leak-down", R"({"supply":{"value":5.5,"unit":"bar","u":0.06,"u_shared":0.04},)"
                                         R"("held":{"value":4.4,"unit":"bar","u":0.05}})");
  CHECK(u(found, "lost") == near(drawn_u([](Scatter& around) {
          const double supply = around(5.5, 0.06) + around(0, 0.04);
          return (supply - around(4.4, 0.05)) / supply;
        })));
}

TEST_CASE("drawn: run-out and its half, spread of weights") {
  const auto shaft = answer("run-out", R"({"readings":{"values":[0,0.03,0.06,0.03,-0.02,-0.04],"unit":"mm","u":0.003,)"
                                       R"("u_shared":0.02}})");
  const auto swing = [](Scatter& around) {
    const auto drawn = scattered(around, {0, 0.03, 0.06, 0.03, -0.02, -0.04}, 0.003, 0.02);
    return drawn.most - drawn.least;
  };
  CHECK(u(shaft, "total") == near(drawn_u(swing)));
  CHECK(u(shaft, "bend") == near(drawn_u([&](Scatter& around) { return swing(around) / 2; })));
  const auto weights = answer("match", R"({"weights":{"values":[812.4,814.8,810.1,812.5],"unit":"g","u":0.2,)"
                                       R"("u_shared":1}})");
  CHECK(u(weights, "spread") == near(drawn_u([](Scatter& around) {
          const auto drawn = scattered(around, {812.4, 814.8, 810.1, 812.5}, 0.2, 1);
          return drawn.most - drawn.least;
        })));
  // A shaft that runs true: no more than is told.
  const auto level = answer("run-out", R"({"readings":{"values":[0,0,0,0,0,0],"unit":"mm","u":0.003}})");
  CHECK(u(level, "total") >= 0.98 * drawn_u([](Scatter& around) {
                               const auto drawn = scattered(around, {0, 0, 0, 0, 0, 0}, 0.003);
                               return drawn.most - drawn.least;
                             }));
}

TEST_CASE("drawn: shim under a spring and room to coil bind") {
  const auto found = answer("installed-height", R"({"measured":{"value":40.3,"unit":"mm","u":0.06,"u_shared":0.02},)"
                                                R"("wanted":{"value":39,"unit":"mm","u":0.04},)"
                                                R"("lift":{"value":9.5,"unit":"mm","u":0.05},)"
                                                R"("solid":{"value":26.8,"unit":"mm","u":0.1}})");
  CHECK(u(found, "shim") ==
        near(drawn_u([](Scatter& around) { return around(40.3, 0.06) + around(0, 0.02) - around(39, 0.04); })));
  CHECK(u(found, "room") ==
        near(drawn_u([](Scatter& around) { return around(39, 0.04) - around(9.5, 0.05) - around(26.8, 0.1); })));
}
