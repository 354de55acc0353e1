#include "calculating.h"

using namespace calculating;

namespace {

std::string wire(std::string_view pieces, std::string_view more = "") {
  return R"({"readings":{"values":)" + std::string(pieces) + R"(,"unit":"mm")" + std::string(more) +
         R"(},"wire":"1.58 mm"})";
}

std::string ratio(std::string_view thickness, std::string_view protrusion, std::string_view chamber = "0 ml",
                  std::string_view bowl = "24.5 ml") {
  return R"({"bore":"83 mm","stroke":"92 mm","chamber":")" + std::string(chamber) + R"(","bowl":")" +
         std::string(bowl) + R"(","gasket_thickness":")" + std::string(thickness) +
         R"(","gasket_bore":"84.5 mm","protrusion":")" + std::string(protrusion) + R"("})";
}

std::string liners(std::string_view flange, std::string_view counterbore, std::string_view more = "") {
  return R"({"flange":)" + mm(flange) + R"(,"counterbore":)" + mm(counterbore) + std::string(more) + "}";
}

std::string pressures(std::string_view values, std::string_view more = "") {
  return R"({"readings":{"values":)" + std::string(values) + R"(,"unit":"bar"})" + std::string(more) + "}";
}

constexpr const char* shims =
    R"(,"available":{"values":[0.05,0.02,0.10],"unit":"mm"},"low":"0.03 mm","high":"0.08 mm")";

} // namespace

TEST_CASE("crushed wire tells the room above the piston and its tilt") {
  const auto found = answer("piston-to-head", wire("[0.62,0.64,0.60,0.66]", R"(,"u":0.01)"));
  CHECK(written(found, "mean") == R"({"value":0.63,"unit":"mm","u":0.005})");
  CHECK(written(found, "min") == R"({"value":0.6,"unit":"mm","u":0.01})");
  CHECK(value(found, "spread") == 0.06);
  CHECK(u(found, "spread") == Approx(0.01 * std::sqrt(2.0)).epsilon(1e-11));
  CHECK(found.notes.empty());
}

TEST_CASE("a setting the pieces share cancels in the tilt only") {
  const auto found = answer("piston-to-head", wire("[0.62,0.64]", R"(,"u":0.003,"u_shared":0.004)"));
  CHECK(u(found, "min") == 0.005);
  CHECK(u(found, "mean") == Approx(std::sqrt(9 / 2.0 + 16) / 1000).epsilon(1e-11));
  CHECK(u(found, "spread") == Approx(0.003 * std::sqrt(2.0)).epsilon(1e-11));
}

TEST_CASE("a piece as thick as the wire was not crushed and nothing is told") {
  const auto whole_wire = answer("piston-to-head", wire("[0.62,1.58,0.60,1.60]"));
  for (const auto result : {"mean", "min", "spread"}) CHECK(written(whole_wire, result) == "null");
  CHECK(has_note(whole_wire, "pieces 2, 4 of the wire not crushed"));
  CHECK(written(answer("piston-to-head", wire("[1.5799]")), "min") == R"({"value":1.5799,"unit":"mm"})");
  const auto within_u = answer("piston-to-head", wire("[1.57]", R"(,"u":0.01)")); // 1.57 is not below 1.58 - 0.01
  CHECK(written(within_u, "mean") == "null");
  CHECK(has_note(within_u, "piece 1 of"));
  CHECK(value(answer("piston-to-head", wire("[1.569]", R"(,"u":0.01)")), "mean") == 1.569);
}

TEST_CASE("the U of the wire itself counts for whether it was crushed") {
  const auto found = answer("piston-to-head", R"({"readings":{"values":[1.54],"unit":"mm","u":0.03},)"
                                              R"("wire":{"value":1.58,"unit":"mm","u":0.04}})");
  CHECK(written(found, "min") == "null"); // 0.04 below, U of both 0.05
}

TEST_CASE("a thicker gasket and a lower piston take compression away") {
  CHECK(value(answer("compression-ratio", ratio("1.60 mm", "0.829 mm")), "ratio") == Approx(18.1722).margin(0.00005));
  CHECK(value(answer("compression-ratio", ratio("1.70 mm", "0.829 mm")), "ratio") == Approx(17.8463).margin(0.00005));
  const auto lower = answer("compression-ratio", ratio("1.60 mm", "0.729 mm"));
  CHECK(value(lower, "ratio") == Approx(17.8575).margin(0.00005));
  CHECK(value(lower, "swept") == Approx(497775.9).margin(0.05));
  CHECK(value(lower, "clearance_volume") == Approx(29528.4).margin(0.05));
  CHECK(quantity_in(lower, "swept").unit->name == "mm3");
}

TEST_CASE("chamber and bowl are one volume, a piston below the deck adds to it") {
  CHECK(written(answer("compression-ratio", ratio("1.6 mm", "0.5 mm", "24.5 ml", "0 ml")), "ratio") ==
        written(answer("compression-ratio", ratio("1.6 mm", "0.5 mm", "10 cm3", "14500 mm3")), "ratio"));
  CHECK(value(answer("compression-ratio", ratio("1.6 mm", "-0.5 mm")), "clearance_volume") >
        value(answer("compression-ratio", ratio("1.6 mm", "0 mm")), "clearance_volume"));
}

TEST_CASE("inches give the ratio that millimetres give") {
  const auto inches =
      answer("compression-ratio", R"({"bore":"3.25 in","stroke":"3.625 in","chamber":"24.5 cc","bowl":"0 ml",)"
                                  R"("gasket_thickness":"0.06 in","gasket_bore":"3.3 in","protrusion":"0.03 in"})");
  const auto millimetres =
      answer("compression-ratio", R"({"bore":"82.55 mm","stroke":"92.075 mm","chamber":"24500 mm3","bowl":"0 ml",)"
                                  R"("gasket_thickness":"1.524 mm","gasket_bore":"83.82 mm","protrusion":"0.762 mm"})");
  CHECK(written(inches, "ratio") == written(millimetres, "ratio"));
  CHECK(written(inches, "swept") == written(millimetres, "swept"));
}

TEST_CASE("a piston that fills the room above it is refused") {
  CHECK(refusal("compression-ratio", ratio("1.60 mm", "6.2 mm")).starts_with("protrusion: takes up all"));
  // As high above the deck as the gasket is thick and of its bore: exactly nothing is left.
  CHECK(refusal("compression-ratio", R"({"bore":"83 mm","stroke":"92 mm","chamber":"0 ml","bowl":"0 ml",)"
                                     R"("gasket_thickness":"1.6 mm","gasket_bore":"83 mm","protrusion":"1.6 mm"})")
            .starts_with("protrusion: "));
  CHECK(refusal("compression-ratio", R"({"bore":"83 mm","stroke":"92 mm","chamber":"0 ml","bowl":"0 ml",)"
                                     R"("gasket_thickness":"1.6 mm","gasket_bore":"83 mm","protrusion":"1.599999 mm"})")
            .starts_with("chamber: "));
  CHECK(refusal("compression-ratio", ratio("1e9 mm", "0 mm")).starts_with("gasket_thickness: is too large"));
  CHECK(refusal("compression-ratio", ratio("1 mm", "0 mm", "1e12 l")).starts_with("chamber: is too large"));
  CHECK(refusal("compression-ratio", ratio("1.60 mm", "0.8 mm", "-1 ml")).starts_with("chamber: "));
  CHECK(refusal("compression-ratio", ratio("0 mm", "0.8 mm")).starts_with("gasket_thickness: "));
}

TEST_CASE("a liner stands above the deck by its flange less its counterbore") {
  const auto one = answer("liner-height", liners("[5.03]", "[5]"));
  CHECK(written(one, "height") == R"({"value":0.03,"unit":"mm"})");
  for (const auto result : {"choice", "height_after", "spread", "step"}) CHECK(written(one, result) == "null");
  CHECK(written(answer("liner-height", R"({"flange":"0.4135 in","counterbore":"0.4095 in"})"), "height") ==
        R"({"value":0.004,"unit":"in"})");
}

TEST_CASE("several liners are compared, and each with its neighbour") {
  const auto found = answer("liner-height", liners("[5.03,5.05,4.99]", "[5,5,5]"));
  CHECK(written(found, "height") ==
        R"([{"value":0.03,"unit":"mm"},{"value":0.05,"unit":"mm"},{"value":-0.01,"unit":"mm"}])");
  CHECK(written(found, "spread") == R"({"value":0.06,"unit":"mm"})");
  CHECK(written(found, "step") == R"({"value":0.06,"unit":"mm"})");
  CHECK(written(answer("liner-height", liners("[5.03,5.05,5.08]", "[5,5,5]")), "step") ==
        R"({"value":0.03,"unit":"mm"})");
  CHECK(refusal("liner-height", liners("[5.03,5.05]", "[5]")) ==
        "counterbore: wants one depth for each flange, 2, not 1");
}

TEST_CASE("a shim puts a low liner right, and none goes under a good one") {
  const auto low = answer("liner-height", liners("[5.01]", "[5]", shims));
  CHECK(written(low, "choice") == R"({"value":0.05,"unit":"mm"})"); // to 0.06; 0.02 would leave it at 0.03
  CHECK(written(low, "height_after") == R"({"value":0.06,"unit":"mm"})");
  CHECK(has_note(low, "liner 1 below low"));
  const auto good = answer("liner-height", liners("[5.03]", "[5]", shims));
  CHECK(written(good, "choice") == R"({"value":0,"unit":"mm"})");
  CHECK(written(good, "height_after") == R"({"value":0.03,"unit":"mm"})");
  CHECK(good.notes.empty());
}

TEST_CASE("of two shims equally near the one that stands the liner higher is taken and said") {
  const auto found = answer("liner-height", liners("[5.00]", "[5]",
                                                   R"(,"available":{"values":[0.06,0.04,0.02],"unit":"mm"},)"
                                                   R"("low":"0.03 mm","high":"0.07 mm")"));
  CHECK(written(found, "choice") == R"({"value":0.06,"unit":"mm"})");
  CHECK(has_note(found, "two shims come equally near"));
  const auto nearer = answer("liner-height", liners("[5.00]", "[5]",
                                                    R"(,"available":{"values":[0.06,0.04,0.05],"unit":"mm"},)"
                                                    R"("low":"0.03 mm","high":"0.07 mm")"));
  CHECK(written(nearer, "choice") == R"({"value":0.05,"unit":"mm"})");
  CHECK(!has_note(nearer, "equally near"));
}

TEST_CASE("a liner no shim puts right is told, and one that stands too high") {
  const auto found = answer("liner-height", liners("[4.90,5.10,5.01,4.92]", "[5,5,5,5]", shims));
  CHECK(written(found, "choice") == R"([null,null,{"value":0.05,"unit":"mm"},null])");
  CHECK(written(found, "height_after") == R"([null,null,{"value":0.06,"unit":"mm"},null])");
  CHECK(has_note(found, "liners 1, 3, 4 below low: shim under the flange"));
  CHECK(has_note(found, "liner 2 above high: cut the counterbore deeper"));
  CHECK(has_note(found, "liners 1, 4: none of the available shims"));
}

TEST_CASE("liner limits are judged without shims too, one of them is enough") {
  const auto found = answer("liner-height", liners("[5.03,5.05]", "[5,5]", R"(,"low":"0.04 mm")"));
  CHECK(found.notes == std::vector<std::string>{"liner 1 below low: shim under the flange"});
  CHECK(answer("liner-height", liners("[5.03]", "[5]", R"(,"low":"0.03 mm","high":"0.03 mm")")).notes.empty());
  CHECK(refusal("liner-height", liners("[5.03]", "[5]", R"(,"low":"0.04 mm","high":"0.03 mm")")) ==
        "low: is above high");
}

TEST_CASE("shims are chosen between two limits only") {
  const std::string available = R"(,"available":["0.05 mm"])";
  CHECK(
      refusal("liner-height", liners("[5.03]", "[5]", available + R"(,"high":"0.08 mm")")).starts_with("low: missing"));
  CHECK(
      refusal("liner-height", liners("[5.03]", "[5]", available + R"(,"low":"0.03 mm")")).starts_with("high: missing"));
}

TEST_CASE("the U of a liner's height counts flange, depth and shim; what they share cancels between liners") {
  const auto found =
      answer("liner-height", R"({"flange":{"values":[5.01,5.04],"unit":"mm","u":0.003,"u_shared":0.012},)"
                             R"("counterbore":{"values":[5,5],"unit":"mm","u":0.004},)"
                             R"("available":{"values":[0.04],"unit":"mm","u":0.084},)"
                             R"("low":"0.03 mm","high":"0.08 mm"})");
  CHECK(written(found, "height") == R"([{"value":0.01,"unit":"mm","u":0.013},{"value":0.04,"unit":"mm","u":0.013}])");
  CHECK(written(found, "choice") == R"([{"value":0.04,"unit":"mm","u":0.084},{"value":0,"unit":"mm","u":0}])");
  CHECK(written(found, "height_after") ==
        R"([{"value":0.05,"unit":"mm","u":0.085},{"value":0.04,"unit":"mm","u":0.013}])");
  CHECK(u(found, "spread") == Approx(0.005 * std::sqrt(2.0)).epsilon(1e-11));
}

TEST_CASE("the lowest cylinder governs, the first of equal ones") {
  const auto found = answer("compression-spread", pressures("[31.0,27.5,27.5,30.0]"));
  CHECK(written(found, "range") == R"({"value":3.5,"unit":"bar"})");
  CHECK(written(found, "lowest") == R"({"value":27.5,"unit":"bar"})");
  CHECK(value(found, "lowest_to_highest") == Approx(27.5 / 31).epsilon(1e-11));
  CHECK(written(found, "governs") == "2");
  CHECK(found.notes.empty());
}

TEST_CASE("each compression limit given says which cylinders fall below it") {
  const auto found =
      answer("compression-spread", pressures("[31.0,25.0,26.0,14.0]", R"(,"least":"26 bar","spread_limit":"17 bar",)"
                                                                      R"("below_mean":0.20)"));
  CHECK(has_note(found, "cylinders 2, 4 below least, 26 bar"));
  CHECK(has_note(found, "cylinder 4 below the mean by more than below_mean, 0.2"));
  CHECK(!has_note(found, "spread_limit")); // 17 bar is not above 17 bar
  CHECK(has_note(answer("compression-spread", pressures("[31.0,14.0]", R"(,"spread_limit":"16.9 bar")")),
                 "range above spread_limit, 16.9 bar"));
}

TEST_CASE("a cylinder on the limit is not below it") {
  // Mean 25 bar, a fifth below it 20 bar.
  CHECK(answer("compression-spread", pressures("[20,30]", R"(,"least":"20 bar","below_mean":0.2)")).notes.empty());
  CHECK(!answer("compression-spread", pressures("[19.9,30.1]", R"(,"below_mean":0.2)")).notes.empty());
  // 145.038 psi is a hair above 10 bar.
  CHECK(answer("compression-spread", pressures("[10,11]", R"(,"least":"145.037 psi")")).notes.empty());
  CHECK(!answer("compression-spread", pressures("[10,11]", R"(,"least":"145.038 psi")")).notes.empty());
}

TEST_CASE("a dead cylinder is a reading, an engine without compression is none") {
  const auto found = answer("compression-spread", pressures("[30,0]"));
  CHECK(written(found, "lowest_to_highest") == R"({"value":0,"unit":"1"})");
  CHECK(written(found, "governs") == "2");
  CHECK(refusal("compression-spread", pressures("[0,0]")) == "readings: are all zero");
  CHECK(refusal("compression-spread", pressures("[30]")) == "readings: wants at least 2 values, not 1");
  CHECK(refusal("compression-spread", pressures("[30,-1]")).starts_with("readings: "));
  CHECK(refusal("compression-spread", pressures("[30,28]", R"(,"below_mean":20)")).starts_with("below_mean: "));
}

TEST_CASE("a gauge's setting cancels in the range, and nearly in the ratio") {
  const auto found =
      answer("compression-spread", R"({"readings":{"values":[30,24],"unit":"bar","u":0.3,"u_shared":2}})");
  CHECK(u(found, "range") == Approx(0.3 * std::sqrt(2.0)).epsilon(1e-11));
  CHECK(u(found, "lowest") == Approx(std::hypot(0.3, 2)).epsilon(1e-11));
  CHECK(u(found, "lowest_to_highest") == Approx(std::sqrt(0.09 + 0.64 * 0.09 + 0.04 * 4) / 30).epsilon(1e-11));
}

TEST_CASE("a cylinder loses the part of the supply that it does not hold") {
  const auto lost = [](std::string_view supply, std::string_view held) {
    return written(
        answer("leak-down", R"({"supply":")" + std::string(supply) + R"(","held":")" + std::string(held) + R"("})"),
        "lost");
  };
  CHECK(lost("80 psi", "72 psi") == R"({"value":0.1,"unit":"1"})");
  CHECK(lost("80 psi", "58 psi") == R"({"value":0.275,"unit":"1"})");
  CHECK(lost("5 bar", "500 kPa") == R"({"value":0,"unit":"1"})");
  CHECK(lost("5 bar", "0 bar") == R"({"value":1,"unit":"1"})");
  CHECK(refusal("leak-down", R"({"supply":"5 bar","held":"5.01 bar"})").starts_with("held: "));
  CHECK(refusal("leak-down", R"({"supply":"0 bar","held":"0 bar"})").starts_with("supply: "));
}

TEST_CASE("the U of what is lost counts both gauges") {
  const auto found = answer("leak-down", R"({"supply":{"value":5,"unit":"bar","u":0.05},)"
                                         R"("held":{"value":4,"unit":"bar","u":0.03}})");
  CHECK(u(found, "lost") == Approx(std::hypot(0.03 / 5, 0.8 * 0.05 / 5)).epsilon(1e-11));
}
