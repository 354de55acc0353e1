// ISO 68-1 and ISO 724: the metric thread's diameters, against public tables. One of these prints areas that do not go
// with its own diameters.
#include "calculating.h"
#include "outside/ledger.h"

#include <fmt/format.h>

#include <array>

using namespace calculating;
using outside::agrees;
using outside::Source;

namespace {

const Source iso_724 = {"ISO 68-1 and ISO 724, public tables of metric threads"};

calc::Answer thread(double diameter, double pitch) {
  return answer("thread", fmt::format(R"({{"diameter":"{} mm","pitch":"{} mm"}})", diameter, pitch));
}

} // namespace

TEST_CASE("ISO 724: M8 as a German thread page prints it") {
  const auto m8 = thread(8, 1.25);
  agrees(iso_724, "thread", value(m8, "d2"), 7.188, 0.0005);
  agrees(iso_724, "thread", value(m8, "d3"), 6.466, 0.0005);
  agrees(iso_724, "thread", value(m8, "stress_area"), 36.61, 0.005);
  // The same page: depth of the bolt's thread 0.7667 (cut, not rounded), stress diameter 6.827.
  agrees(iso_724, "thread", (8 - value(m8, "d3")) / 2, 0.7667, 0.0001);
  agrees(iso_724, "thread", (value(m8, "d2") + value(m8, "d3")) / 2, 6.827, 0.0005);
  agrees(iso_724, "thread", std::atan(1.25 / (std::numbers::pi * value(m8, "d2"))) * 180 / std::numbers::pi, 3.168,
         0.0005);
}

TEST_CASE("ISO 724: a public table of fine threads, its good rows") {
  struct Row {
    double diameter, pitch, d2, d3, area;
  };
  for (const Row& row : {Row{8, 1, 7.35, 6.773, 39.2}, Row{10, 1.25, 9.188, 8.466, 61.2},
                         Row{12, 1.25, 11.188, 10.466, 92.1}, Row{14, 1.5, 13.026, 12.16, 125}}) {
    INFO("M" << row.diameter << " x " << row.pitch);
    const auto found = thread(row.diameter, row.pitch);
    agrees(iso_724, "thread", value(found, "d2"), row.d2, 0.00051); // M8 x 1: 7.3505 printed as 7.35
    agrees(iso_724, "thread", value(found, "d3"), row.d3, 0.0005);
    agrees(iso_724, "thread", value(found, "stress_area"), row.area, row.area < 100 ? 0.05 : 0.5);
  }
}

TEST_CASE("ISO 724: the same table's wrong areas are not what comes of its diameters") {
  struct Row {
    double diameter, pitch, printed, area;
  };
  for (const Row& row :
       {Row{8, 0.75, 44.2, 41.81}, Row{10, 0.75, 72.7, 67.88}, Row{12, 1, 98.0, 96.10}, Row{14, 1.25, 131, 129.23},
        Row{16, 1, 182, 178.17}, Row{18, 2, 216, 204.18}, Row{18, 1.5, 232, 216.23}, Row{18, 1, 250, 228.63},
        Row{20, 2, 272, 257.98}, Row{20, 1.5, 290, 271.50}, Row{20, 1, 311, 285.38}}) {
    const double area = value(thread(row.diameter, row.pitch), "stress_area");
    INFO("M" << row.diameter << " x " << row.pitch);
    CHECK(area == Approx(row.area).margin(0.005));
    outside::disagrees(
        iso_724, "thread", area, row.printed, 0.006 * row.printed,
        fmt::format("stress area of M{} x {}, against the diameters printed beside it", row.diameter, row.pitch));
  }
}
