#include "calculating.h"

#include <fmt/format.h>

using namespace calculating;

namespace {

// M10 with friction 0.12 everywhere, and what is put in place of `load`.
std::string m10(std::string_view load, std::string_view more = "") {
  return fmt::format(R"({{{},"diameter":"10 mm","pitch":"1.5 mm","mu_thread":0.12,"mu_head":0.12,)"
                     R"("head_diameter":"12.815 mm"{}}})",
                     load, more);
}

std::string by_nut_factor(std::string_view load, std::string_view factor, std::string_view diameter,
                          std::string_view more = "") {
  return fmt::format(R"({{{},"diameter":"{}","nut_factor":{}{}}})", load, diameter, factor, more);
}

std::string turned(std::string_view more) {
  return fmt::format(R"({{"angle":"30 deg","pitch":"1.75 mm","bolt_stiffness":"346859 N/mm",)"
                     R"("joint_stiffness":"1040577 N/mm"{}}})",
                     more);
}

std::string bolt(std::string_view measured, std::string_view more) {
  return fmt::format(R"({{"new":"98.6 mm","measured":"{}",{}}})", measured, more);
}

} // namespace

TEST_CASE("a thread in inches is the thread in millimetres") {
  const auto inches = answer("thread", R"({"diameter":"0.4 in","pitch":"0.05 in"})");
  const auto millimetres = answer("thread", R"({"diameter":"10.16 mm","pitch":"1.27 mm"})");
  CHECK(quantity_in(inches, "d2").unit->name == "in");
  for (const char* diameter : {"d2", "d3"})
    CHECK(quantity::in_unit(quantity_in(inches, diameter), *quantity::find_unit("mm")).value() ==
          quantity_in(millimetres, diameter));
  CHECK(written(inches, "stress_area") == written(millimetres, "stress_area"));
}

TEST_CASE("U of a thread's diameters and area") {
  const auto found = answer("thread", R"({"diameter":{"value":10,"unit":"mm","u":0.03},)"
                                      R"("pitch":{"value":1.5,"unit":"mm","u":0.04}})");
  CHECK(u(found, "d2") == Approx(std::hypot(0.03, 0.649519053 * 0.04)).epsilon(1e-11));
  CHECK(u(found, "d3") == Approx(std::hypot(0.03, 1.226869322 * 0.04)).epsilon(1e-11));
  const double slope = std::numbers::pi / 2 * (10 - 0.9381941875 * 1.5);
  CHECK(u(found, "stress_area") == Approx(slope * std::hypot(0.03, 0.9381941875 * 0.04)).epsilon(1e-11));
}

TEST_CASE("what is no thread is refused") {
  CHECK(refusal("thread", R"({"diameter":"1 mm","pitch":"0.9 mm"})").starts_with("pitch: "));
  CHECK(refusal("thread", R"({"diameter":"1.2 m","pitch":"2 mm"})").starts_with("diameter: "));
  CHECK(refusal("thread", R"({"diameter":"99 um","pitch":"2 um"})").starts_with("diameter: "));
  CHECK(refusal("thread", R"({"diameter":"10 mm","pitch":"0 mm"})").starts_with("pitch: "));
  CHECK(refusal("thread", R"({"diameter":"10 mm"})") == "pitch: missing");
}

// The numbers of the next three are ours; the products are exact.
TEST_CASE("torque by a nut factor is exact") {
  CHECK(written(answer("tightening-torque", by_nut_factor(R"("preload":"30000 N")", "0.20", "10 mm")), "torque") ==
        R"({"value":60,"unit":"N.m"})");
  CHECK(written(answer("tightening-torque", by_nut_factor(R"("preload":"40 kN")", "0.18", "12 mm")), "torque") ==
        R"({"value":86.4,"unit":"N.m"})");
  CHECK(written(answer("tightening-torque", by_nut_factor(R"("preload":"18 kN")", "0.16", "8 mm")), "torque") ==
        R"({"value":23.04,"unit":"N.m"})");
}

TEST_CASE("preload by a nut factor, and how unevenly friction spreads it") {
  CHECK(value(answer("preload", by_nut_factor(R"("torque":"50 N.m")", "0.18", "10 mm")), "preload") ==
        Approx(27777.7777778).epsilon(1e-11));
  const auto found = answer("preload", by_nut_factor(R"("torque":"100 N.m")", "0.18", "12 mm", R"(,"scatter":0.2)"));
  CHECK(value(found, "preload") == Approx(46296.2962963).epsilon(1e-11));
  CHECK(value(found, "low") == Approx(46296.2962963 / 1.2).epsilon(1e-11));
  CHECK(value(found, "high") == Approx(46296.2962963 / 0.8).epsilon(1e-11));
}

TEST_CASE("a torque and its preload lead back to each other") {
  const auto torque = answer("tightening-torque", m10(R"("preload":"29600 N")"));
  CHECK(value(torque, "torque") == Approx(7.066480 + 18.509477 + 22.759440).epsilon(1e-6)); // pitch, thread, head
  const auto back = answer("preload", m10(R"("torque":")" + quantity::text(quantity_in(torque, "torque")) + '"'));
  CHECK(value(back, "preload") == Approx(29600).epsilon(1e-11));
}

TEST_CASE("without friction only the pitch holds against the preload") {
  const auto found = answer("tightening-torque", R"({"preload":"10 kN","diameter":"10 mm","pitch":"1.5 mm",)"
                                                 R"("mu_thread":0,"mu_head":0,"head_diameter":"13 mm"})");
  CHECK(value(found, "torque") == Approx(10 * 1.5 / (2 * std::numbers::pi)).epsilon(1e-11));
}

TEST_CASE("stress wants the pitch, its part of the proof stress the class as well") {
  const auto bare = answer("preload", by_nut_factor(R"("torque":"50 N.m")", "0.2", "10 mm"));
  for (const char* absent : {"low", "high", "stress", "percent_of_proof"}) CHECK(written(bare, absent) == "null");
  const auto classed = answer("preload", by_nut_factor(R"("torque":"50 N.m")", "0.2", "10 mm", R"(,"class":"8.8")"));
  CHECK(written(classed, "percent_of_proof") == "null");
  const auto pitched = answer("preload", by_nut_factor(R"("torque":"50 N.m")", "0.2", "10 mm", R"(,"pitch":"1.5 mm")"));
  CHECK(value(pitched, "stress") == Approx(25000 / 57.9895931057).epsilon(1e-11));
  CHECK(written(pitched, "percent_of_proof") == "null");
  const auto all =
      answer("preload", by_nut_factor(R"("torque":"50 N.m")", "0.2", "10 mm", R"(,"pitch":"1.5 mm","class":"10.9")"));
  CHECK(value(all, "percent_of_proof") == Approx(100 * 25000 / 57.9895931057 / 830).epsilon(1e-11));
  CHECK(all.notes.empty());
}

TEST_CASE("past the proof stress is said, and so is when the least friction leads there") {
  const auto stressed = [](std::string_view torque, std::string_view scatter) {
    return answer("preload", by_nut_factor(fmt::format(R"("torque":"{}")", torque), "0.2", "10 mm",
                                           fmt::format(R"(,"pitch":"1.5 mm","class":"8.8"{})", scatter)));
  };
  CHECK(stressed("67.2 N.m", "").notes.empty()); // 33.6 kN of 33.634 kN
  CHECK(has_note(stressed("67.3 N.m", ""), "past the proof stress of class 8.8, 580 MPa"));
  CHECK(has_note(stressed("67.2 N.m", R"(,"scatter":0.1)"), "with the least friction past"));
  CHECK(stressed("60 N.m", R"(,"scatter":0.1)").notes.empty());
}

TEST_CASE("class 8.8 stands more above 16 mm") {
  const auto percent = [](std::string_view diameter) {
    const auto found =
        answer("preload", by_nut_factor(R"("torque":"100 N.m")", "0.2", diameter, R"(,"pitch":"2 mm","class":"8.8")"));
    return 100 * value(found, "stress") / value(found, "percent_of_proof");
  };
  CHECK(percent("16 mm") == Approx(580).epsilon(1e-10));
  CHECK(percent("16.000001 mm") == Approx(600).epsilon(1e-10));
  CHECK(refusal("preload", by_nut_factor(R"("torque":"1 N.m")", "0.2", "1.59 mm", R"(,"class":"8.8")"))
            .starts_with("class: "));
  CHECK(refusal("preload", by_nut_factor(R"("torque":"1 N.m")", "0.2", "39.1 mm", R"(,"class":"12.9")"))
            .starts_with("class: "));
}

TEST_CASE("friction is told one way or the other") {
  CHECK(refusal("tightening-torque", R"({"preload":"10 kN","diameter":"10 mm"})").starts_with("pitch: "));
  CHECK(refusal("tightening-torque", R"({"preload":"10 kN","diameter":"10 mm","pitch":"1 mm","mu_thread":0.1})")
            .starts_with("mu_head: "));
  CHECK(refusal("tightening-torque", by_nut_factor(R"("preload":"1 kN")", "0.2", "10 mm", R"(,"mu_head":0.1)"))
            .starts_with("mu_head: "));
  CHECK(refusal("tightening-torque", by_nut_factor(R"("preload":"1 kN")", "0.2", "10 mm", R"(,"pitch":"1 mm")"))
            .starts_with("pitch: "));
  CHECK(refusal("tightening-torque", by_nut_factor(R"("preload":"1 kN")", "0", "10 mm")).starts_with("nut_factor: "));
  CHECK(refusal("preload", m10(R"("torque":"10 N.m")", R"(,"scatter":1)")).starts_with("scatter: "));
  CHECK(refusal("preload", m10(R"("torque":"10 N.m")", R"(,"scatter":-0.1)")).starts_with("scatter: "));
  CHECK(refusal("preload", m10(R"("torque":"10 N.m")", R"(,"class":"9.8")")).starts_with("class: "));
}

TEST_CASE("a turn that keeps the bolt elastic gains what two springs in a row give") {
  const auto found = answer("angle-gain", turned(R"(,"diameter":"12 mm","class":"8.8")"));
  CHECK(value(found, "preload_gain") == Approx(1264.59 * 30).epsilon(1e-5));
  CHECK(written(found, "bolt_stretch") == R"({"value":0.109375,"unit":"mm"})"); // three quarters of 1.75/12
  CHECK(found.notes.empty());
  CHECK(has_note(answer("angle-gain", turned("")), "give diameter and class"));
  CHECK(has_note(answer("angle-gain", turned(R"(,"class":"8.8")")), "give diameter and class"));
}

TEST_CASE("a turn past proof is not believed") {
  // 84.267 mm2 at 580 MPa: 48875 N; the turn gains 37938 N.
  const auto snug = [](std::string_view preload) {
    return answer("angle-gain",
                  turned(fmt::format(R"(,"snug_preload":"{}","diameter":"12 mm","class":"8.8")", preload)));
  };
  CHECK(snug("10.9 kN").notes.empty());
  CHECK(has_note(snug("11 kN"), "past the proof load of class 8.8, 48875 N"));
  CHECK(snug("0 N").notes.empty());
}

TEST_CASE("a turn in radians and a pitch in inches come to the same") {
  const auto found = answer("angle-gain", R"({"angle":"0.523598775598 rad","pitch":"0.06889763779527559055 in",)"
                                          R"("bolt_stiffness":"346859 N/mm","joint_stiffness":"1040577 N/mm"})");
  CHECK(value(found, "preload_gain") == Approx(37937.703125).epsilon(1e-10));
  CHECK(quantity_in(found, "bolt_stretch").unit->name == "in");
  CHECK(value(found, "bolt_stretch") == Approx(0.109375 / 25.4).epsilon(1e-10));
}

TEST_CASE("a turn of what is no bolt is refused") {
  CHECK(refusal("angle-gain", turned(R"(,"diameter":"2 mm","class":"8.8")")).starts_with("pitch: "));
  CHECK(refusal("angle-gain", turned(R"(,"diameter":"45 mm","class":"8.8")")).starts_with("class: "));
  CHECK(refusal("angle-gain", turned(R"(,"snug_preload":"-1 N")")).starts_with("snug_preload: "));
}

TEST_CASE("elongation adds up over the pieces of a bolt") {
  const auto one = answer("elongation", R"({"preload":"30000 N","segments":[{"length":"100 mm","area":"58 mm2"}],)"
                                        R"("modulus":"205 GPa"})");
  CHECK(value(one, "elongation") == Approx(0.252312868).epsilon(1e-8));
  CHECK(value(one, "stiffness") == Approx(118900).epsilon(1e-12));
  const auto two = answer("elongation", R"({"preload":"30000 N","segments":[{"length":"60 mm","area":"58 mm2"},)"
                                        R"({"length":"40 mm","area":"58 mm2"}],"modulus":"205000 MPa"})");
  CHECK(written(two, "elongation") == written(one, "elongation"));
  CHECK(written(two, "stiffness") == written(one, "stiffness"));
}

TEST_CASE("a bolt in inches stretches in inches") {
  const auto found =
      answer("elongation", R"({"preload":"6744.27 lbf","segments":[{"length":"3 in","area":"0.09 in2"}],)"
                           R"("modulus":"30000000 psi"})");
  CHECK(quantity_in(found, "elongation").unit->name == "in");
  CHECK(value(found, "elongation") == Approx(6744.27 * 3 / 0.09 / 3e7).epsilon(1e-11));
}

TEST_CASE("a bolt without pieces, or with too many, is refused") {
  const auto pieces = [](std::string_view list) {
    return refusal("elongation", fmt::format(R"({{"preload":"30 kN","segments":{},"modulus":"205 GPa"}})", list));
  };
  CHECK(pieces("[]").starts_with("segments: "));
  CHECK(pieces(R"([{"length":"60 mm","area":"0 mm2"}])").starts_with("segments, number 1, area: "));
  std::string many;
  for (int i = 0; i < 21; ++i) many += R"(,{"length":"1 mm","area":"50 mm2"})";
  CHECK(pieces("[" + many.substr(1) + "]").starts_with("segments: "));
}

TEST_CASE("a bolt as long as its limit is still good, a hair longer is not") {
  CHECK(written(answer("bolt-length", bolt("99.40 mm", R"("limit":"99.4 mm")")), "reuse") == "true");
  const auto longer = answer("bolt-length", bolt("99.41 mm", R"("limit":"99.4 mm")"));
  CHECK(written(longer, "reuse") == "false");
  CHECK(has_note(longer, "the length 99.41 mm is over its limit, 99.4 mm"));
  CHECK(written(longer, "stretch") == R"({"value":0.81,"unit":"mm"})");
  CHECK(written(answer("bolt-length", bolt("99.4 mm", R"("stretch_limit":"0.8 mm")")), "reuse") == "true");
  CHECK(written(answer("bolt-length", bolt("99.4000001 mm", R"("stretch_limit":"0.8 mm")")), "reuse") == "false");
  CHECK(written(answer("bolt-length", R"({"new":"3 in","measured":"76.962 mm","stretch_limit":"0.03 in"})"), "reuse") ==
        "true");
}

TEST_CASE("a bolt drawn thin is not used again, whatever its length") {
  const auto necked = [](std::string_view thin) {
    return answer("bolt-length", bolt("99 mm", fmt::format(R"("limit":"99.4 mm","necked":{{"thick":"9.98 mm",)"
                                                           R"("thin":"{}","limit":"0.11 mm"}})",
                                                           thin)));
  };
  CHECK(written(necked("9.87 mm"), "reuse") == "true");
  CHECK(written(necked("9.869 mm"), "reuse") == "false");
  CHECK(has_note(necked("9.869 mm"), "the necking 0.111 mm is over its limit, 0.11 mm"));
  CHECK(refusal("bolt-length", bolt("99 mm", R"("limit":"99.4 mm","necked":{"thick":"9.9 mm","thin":"10 mm",)"
                                             R"("limit":"0.1 mm"})"))
            .starts_with("necked, thin: "));
}

TEST_CASE("a length nearer to its limit than its U is said to be") {
  const auto measured = [](std::string_view length) {
    return answer("bolt-length", fmt::format(R"({{"new":{{"value":98.6,"unit":"mm","u":0.03}},"measured":)"
                                             R"({{"value":{},"unit":"mm","u":0.04}},"limit":"99.4 mm"}})",
                                             length));
  };
  CHECK(u(measured("99"), "stretch") == 0.05);
  CHECK(has_note(measured("99.37"), "closer to its limit than its U"));
  CHECK(measured("99.36").notes.empty());
  CHECK(has_note(answer("bolt-length", bolt("98.5 mm", R"("limit":"99.4 mm")")), "shorter than new"));
}

TEST_CASE("a bolt has one limit of its length") {
  CHECK(refusal("bolt-length", R"({"new":"98.6 mm","measured":"99 mm"})").starts_with("limit: "));
  CHECK(refusal("bolt-length", bolt("99 mm", R"("limit":"99.4 mm","stretch_limit":"1 mm")"))
            .starts_with("stretch_limit: "));
}
