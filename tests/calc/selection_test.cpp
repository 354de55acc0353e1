#include "calculating.h"

using namespace calculating;

namespace {

std::string thrust(std::string_view play, std::string_view fitted, std::string_view available) {
  return R"({"play":")" + std::string(play) + R"(","fitted":)" + mm(fitted) + R"(,"low":"0.10 mm","high":"0.20 mm",)" +
         R"("available":)" + mm(available) + "}";
}

std::string lash(std::string_view measured, std::string_view more) {
  return R"({"measured":")" + std::string(measured) + R"(","target":"0.25 mm","fitted":"2.65 mm",)" +
         R"("available":{"values":[2.60,2.65,2.70,2.75],"unit":"mm"})" + std::string(more) + "}";
}

} // namespace

TEST_CASE("the thrust washer chosen leaves the play nearest the middle") {
  const auto both = answer("thrust-selection", thrust("0.34 mm", "[2.310,2.312]", "[2.31,2.36,2.41,2.46]"));
  CHECK(written(both, "choice") == R"({"value":2.41,"unit":"mm"})");
  CHECK(written(both, "play_after") == R"({"value":0.142,"unit":"mm"})");
  const auto one = answer("thrust-selection", thrust("0.34 mm", "[2.31]", "[2.31,2.41,2.51]"));
  CHECK(written(one, "choice") == R"({"value":2.51,"unit":"mm"})");
}

TEST_CASE("of two washers equally near the looser is taken and said") {
  const auto found = answer("thrust-selection", thrust("0.35 mm", "[2.30]", "[2.52,2.48,2.40]"));
  CHECK(written(found, "choice") == R"({"value":2.48,"unit":"mm"})");
  CHECK(written(found, "play_after") == R"({"value":0.17,"unit":"mm"})");
  CHECK(has_note(found, "larger play_after"));
  const auto nearer = answer("thrust-selection", thrust("0.35 mm", "[2.30]", "[2.52,2.48,2.50]"));
  CHECK(written(nearer, "choice") == R"({"value":2.5,"unit":"mm"})");
  CHECK(nearer.notes.empty());
}

TEST_CASE("no washer is better than a wrong one") {
  const auto none = answer("thrust-selection", thrust("0.60 mm", "[2.31,2.31]", "[2.31,2.36]"));
  CHECK(written(none, "choice") == "null");
  CHECK(written(none, "play_after") == "null");
  CHECK(has_note(none, "none of the available sizes"));
  const auto stuck = answer("thrust-selection", thrust("0 mm", "[2.31,2.31]", "[2.21,2.25]"));
  CHECK(written(stuck, "choice") == "null");
  CHECK(has_note(stuck, "no play"));
}

TEST_CASE("a play just inside its limits counts, just outside does not") {
  CHECK(written(answer("thrust-selection", thrust("0.30 mm", "[2.30]", "[2.40]")), "play_after") ==
        R"({"value":0.2,"unit":"mm"})");
  CHECK(written(answer("thrust-selection", thrust("0.3000001 mm", "[2.30]", "[2.40]")), "choice") == "null");
}

TEST_CASE("the U of the play after counts every part in it") {
  const auto found = answer("thrust-selection",
                            R"({"play":{"value":0.34,"unit":"mm","u":0.01},"fitted":{"values":[2.31,2.31],"unit":"mm",)"
                            R"("u":0.003,"u_shared":0.002},"low":"0.10 mm","high":"0.20 mm",)"
                            R"("available":{"values":[2.41],"unit":"mm","u":0.004}})");
  CHECK(u(found, "play_after") ==
        Approx(std::sqrt(0.01 * 0.01 + 2 * 0.003 * 0.003 + 4 * 0.002 * 0.002 + 4 * 0.004 * 0.004)).epsilon(1e-11));
  CHECK(u(found, "choice") == 0.004);
}

TEST_CASE("three washers, crossed limits and a bad size are refused") {
  CHECK(refusal("thrust-selection", thrust("0.3 mm", "[2.31,2.31,2.31]", "[2.41]")).starts_with("fitted: "));
  CHECK(refusal("thrust-selection", thrust("0.3 mm", "[2.31]", "[0]")).starts_with("available: "));
  CHECK(refusal("thrust-selection", R"({"play":"0.3 mm","fitted":"2 mm","low":"0.2 mm","high":"0.1 mm",)"
                                    R"("available":"2 mm"})") == "low: is above high");
}

TEST_CASE("a lash shim is chosen nearest the target") {
  const auto found = answer("lash-shim", lash("0.32 mm", ""));
  CHECK(written(found, "wanted") == R"({"value":2.72,"unit":"mm"})");
  CHECK(written(found, "choice") == R"({"value":2.7,"unit":"mm"})");
  CHECK(written(found, "lash_after") == R"({"value":0.27,"unit":"mm"})");
  CHECK(written(answer("lash-shim", lash("0.18 mm", "")), "wanted") == R"({"value":2.58,"unit":"mm"})");
}

TEST_CASE("a lash shim keeps inside its limits, one of which is enough") {
  const auto found = answer("lash-shim", lash("0.32 mm", R"(,"high":"0.26 mm")"));
  CHECK(written(found, "choice") == R"({"value":2.75,"unit":"mm"})");
  CHECK(written(answer("lash-shim", lash("0.32 mm", R"(,"low":"0.28 mm","high":"0.30 mm")")), "choice") == "null");
}

TEST_CASE("of two lash shims equally near the looser is taken") {
  const auto found = answer("lash-shim", lash("0.325 mm", ""));
  CHECK(written(found, "choice") == R"({"value":2.7,"unit":"mm"})");
  CHECK(has_note(found, "larger lash_after"));
}

TEST_CASE("a rocker's ratio is counted in") {
  const auto found = answer("lash-shim", lash("0.375 mm", R"(,"ratio":2.5)"));
  CHECK(written(found, "wanted") == R"({"value":2.7,"unit":"mm"})");
  CHECK(written(found, "lash_after") == R"({"value":0.25,"unit":"mm"})");
}

TEST_CASE("without lash there is nothing to reckon from") {
  CHECK(refusal("lash-shim", lash("0 mm", "")) == "measured: no lash: fit a thinner shim and measure again");
  CHECK(refusal("lash-shim", lash("-0.1 mm", "")).starts_with("measured: "));
}

TEST_CASE("a shim may raise or lower what it sets") {
  const std::string available = R"("fitted":"1.25 mm","available":{"values":[1.15,1.20,1.25,1.30,1.35],"unit":"mm"}})";
  const auto raises =
      answer("shim-selection", R"({"measured":"118 bar","target":"125 bar","change_per_mm":100,)" + available);
  CHECK(written(raises, "wanted") == R"({"value":1.32,"unit":"mm"})");
  CHECK(written(raises, "choice") == R"({"value":1.3,"unit":"mm"})");
  CHECK(written(raises, "result_after") == R"({"value":123,"unit":"bar"})");
  const auto lowers =
      answer("shim-selection", R"({"measured":"0.30 mm","target":"0.20 mm","change_per_mm":-1,)" + available);
  CHECK(written(lowers, "wanted") == R"({"value":1.35,"unit":"mm"})");
  CHECK(written(lowers, "result_after") == R"({"value":0.2,"unit":"mm"})");
  CHECK(refusal("shim-selection", R"({"measured":"118 bar","target":"125 bar","change_per_mm":0,)" + available)
            .starts_with("change_per_mm: "));
}

TEST_CASE("the change for each millimetre is in the target's unit whatever the others are in") {
  const std::string rest = R"(,"change_per_mm":10,"fitted":"1.25 mm","available":["1.35 mm"]})";
  const auto found = answer("shim-selection", R"({"measured":"11.8 MPa","target":"125 bar")" + rest);
  CHECK(written(found, "wanted") == R"({"value":1.95,"unit":"mm"})");
  CHECK(written(found, "result_after") == R"({"value":11.9,"unit":"MPa"})");
  const auto inches = answer("shim-selection", R"({"measured":"118 bar","target":"125 bar","change_per_mm":100,)"
                                               R"("fitted":"1 in","available":["25.47 mm"]})");
  CHECK(written(inches, "result_after") == R"({"value":125,"unit":"bar"})");
}
