#include "calculating.h"

using namespace calculating;

namespace {

std::string shells(std::string_view housing, std::string_view journal, std::string_view available) {
  return R"({"housing":)" + mm(housing) + R"(,"journal":)" + mm(journal) +
         R"(,"low":"0.030 mm","high":"0.070 mm","available":)" + mm(available) + "}";
}

std::string oversize(std::string_view largest, std::string_view more = "") {
  return R"({"nominal":"83.000 mm","largest":)" + mm(largest) +
         R"(,"cleanup":"0.05 mm","available":{"values":[1.00,0.25,0.75,0.50],"unit":"mm"})" + std::string(more) + "}";
}

std::string undersize(std::string_view smallest, std::string_view more = "") {
  return R"({"nominal":"48.000 mm","smallest":)" + mm(smallest) +
         R"(,"cleanup":"0.02 mm","available":{"values":[0.25,0.50],"unit":"mm"})" + std::string(more) + "}";
}

std::string bore(std::string_view low, std::string_view high, std::string_view more = "") {
  return R"({"piston":"83.445 mm","low":")" + std::string(low) + R"(","high":")" + std::string(high) + '"' +
         std::string(more) + "}";
}

} // namespace

TEST_CASE("the shells chosen bring the clearance nearest the middle") {
  const auto found = answer("shell-selection", shells("[51.000,51.004]", "[47.972,47.968]", "[1.494,1.484,1.489]"));
  CHECK(written(found, "upper") == R"({"value":1.489,"unit":"mm"})");
  CHECK(written(found, "lower") == R"({"value":1.489,"unit":"mm"})");
  CHECK(written(found, "min") == R"({"value":0.05,"unit":"mm"})");
  CHECK(written(found, "max") == R"({"value":0.058,"unit":"mm"})");
  CHECK(found.notes.empty());
}

TEST_CASE("equal walls inside the limits win over a mixed pair that comes nearer") {
  // Equal walls leave 0.040 or 0.060; one of each leaves 0.050, the very middle.
  const auto equal = answer("shell-selection", shells("[51]", "[48]", "[1.470,1.480]"));
  CHECK(written(equal, "upper") == R"({"value":1.47,"unit":"mm"})");
  CHECK(written(equal, "lower") == R"({"value":1.47,"unit":"mm"})");
  // Equal walls leave 0.020 or 0.080, both outside.
  const auto mixed = answer("shell-selection", shells("[51]", "[48]", "[1.490,1.460]"));
  CHECK(written(mixed, "upper") == R"({"value":1.46,"unit":"mm"})");
  CHECK(written(mixed, "lower") == R"({"value":1.49,"unit":"mm"})");
  CHECK(written(mixed, "min") == R"({"value":0.05,"unit":"mm"})");
}

TEST_CASE("of two shell sizes equally near the looser is taken and said") {
  const auto found = answer("shell-selection", shells("[51]", "[48]", "[1.480,1.470]"));
  CHECK(written(found, "upper") == R"({"value":1.47,"unit":"mm"})");
  CHECK(written(found, "max") == R"({"value":0.06,"unit":"mm"})");
  CHECK(has_note(found, "larger clearance"));
}

TEST_CASE("of two mixed pairs of one sum the walls most alike are taken") {
  const auto found = answer("shell-selection", shells("[51]", "[48]", "[1.455,1.460,1.490,1.495]"));
  CHECK(written(found, "upper") == R"({"value":1.46,"unit":"mm"})");
  CHECK(written(found, "lower") == R"({"value":1.49,"unit":"mm"})");
  CHECK(found.notes.empty());
}

TEST_CASE("a clearance on both limits still counts, a hair beyond does not") {
  CHECK(written(answer("shell-selection", shells("[51.04]", "[48,48.04]", "[1.485]")), "min") ==
        R"({"value":0.03,"unit":"mm"})");
  CHECK(written(answer("shell-selection", shells("[51.04]", "[48,48.04]", "[1.485]")), "max") ==
        R"({"value":0.07,"unit":"mm"})");
  CHECK(written(answer("shell-selection", shells("[51.04]", "[48,48.04]", "[1.4850001]")), "upper") == "null");
}

TEST_CASE("no shells are better than wrong ones") {
  const auto none = answer("shell-selection", shells("[51]", "[48]", "[1.40,1.45]"));
  for (const auto result : {"upper", "lower", "min", "max"}) CHECK(written(none, result) == "null");
  CHECK(has_note(none, "no pair of the available shells"));
  const auto worn = answer("shell-selection", shells("[51,51.03]", "[48,47.98]", "[1.475]"));
  CHECK(written(worn, "upper") == "null");
  CHECK(has_note(worn, "vary by more than the limits leave"));
}

TEST_CASE("a wall used twice brings its U along twice, two walls bring theirs independently") {
  const auto with_u = [](std::string_view walls) {
    return answer("shell-selection", R"({"housing":{"values":[51.0],"unit":"mm","u":0.003},)"
                                     R"("journal":{"values":[48.0],"unit":"mm","u":0.004},"low":"0.03 mm",)"
                                     R"("high":"0.07 mm","available":{"values":)" +
                                         std::string(walls) + R"(,"unit":"mm","u":0.002,"u_shared":0.001}})");
  };
  const auto equal = with_u("[1.475]");
  CHECK(u(equal, "min") == Approx(std::sqrt(9 + 16 + 4 * (4 + 1)) / 1000).epsilon(1e-11));
  CHECK(u(equal, "max") == u(equal, "min"));
  CHECK(u(equal, "upper") == Approx(std::sqrt(5.0) / 1000).epsilon(1e-11));
  CHECK(u(with_u("[1.46,1.49]"), "min") == Approx(std::sqrt(9 + 16 + 4 + 4 + 4.0) / 1000).epsilon(1e-11));
}

TEST_CASE("crossed limits and more shells than anybody keeps are refused") {
  CHECK(refusal("shell-selection", R"({"housing":"51 mm","journal":"48 mm","low":"0.07 mm","high":"0.03 mm",)"
                                   R"("available":"1.475 mm"})") == "low: is above high");
  std::string walls = "[1.4";
  for (int i = 0; i < 100; ++i) walls += ",1.4";
  CHECK(refusal("shell-selection", shells("[51]", "[48]", walls + "]")) ==
        "available: wants at most 100 values, not 101");
}

TEST_CASE("shells in inches for a housing in millimetres answer in millimetres") {
  const auto found = answer("shell-selection", R"({"housing":"76.2 mm","journal":"2.79 in","low":"0.05 mm",)"
                                               R"("high":"0.06 mm","available":["0.104 in"]})");
  CHECK(written(found, "upper") == R"({"value":2.6416,"unit":"mm"})");
  CHECK(written(found, "min") == R"({"value":0.0508,"unit":"mm"})");
}

TEST_CASE("a bore is finished to the piston, and bored short of it by what the hone takes") {
  const auto found = answer("bore-target", bore("0.040 mm", "0.040 mm", R"(,"hone":"0.02 mm")"));
  CHECK(written(found, "low") == R"({"value":83.485,"unit":"mm"})");
  CHECK(written(found, "bore_low") == R"({"value":83.465,"unit":"mm"})");
  CHECK(written(found, "bore_high") == R"({"value":83.465,"unit":"mm"})");
  const auto unhoned = answer("bore-target", bore("0.03 mm", "0.05 mm"));
  CHECK(written(unhoned, "high") == R"({"value":83.495,"unit":"mm"})");
  CHECK(written(unhoned, "bore_low") == "null");
  CHECK(written(unhoned, "bore_high") == "null");
}

TEST_CASE("the U of a bore to aim for counts the piston, the clearance and the hone") {
  const auto found = answer("bore-target", R"({"piston":{"value":83.445,"unit":"mm","u":0.003},)"
                                           R"("low":{"value":0.03,"unit":"mm","u":0.004},"high":"0.05 mm",)"
                                           R"("hone":{"value":0.02,"unit":"mm","u":0.012}})");
  CHECK(u(found, "low") == 0.005);
  CHECK(u(found, "high") == 0.003);
  CHECK(u(found, "bore_low") == 0.013);
}

TEST_CASE("a bore that is none is refused") {
  CHECK(refusal("bore-target", bore("0.05 mm", "0.04 mm")) == "low: is above high");
  CHECK(refusal("bore-target", bore("-83.445 mm", "0.04 mm")).starts_with("low: "));
  CHECK(refusal("bore-target", bore("0.03 mm", "0.04 mm", R"(,"hone":"83.475 mm")")).starts_with("hone: "));
  CHECK(refusal("bore-target", bore("0.03 mm", "0.04 mm", R"(,"hone":"-0.01 mm")")).starts_with("hone: "));
}

TEST_CASE("the oversize chosen is the smallest that cleans up") {
  const auto choice = [](std::string_view bore) {
    return written(answer("oversize-selection", oversize(bore)), "choice");
  };
  CHECK(choice("[83.062]") == R"({"value":0.25,"unit":"mm"})");
  CHECK(choice("[83.200]") == R"({"value":0.25,"unit":"mm"})"); // the very edge
  CHECK(choice("[83.201]") == R"({"value":0.5,"unit":"mm"})");
  CHECK(choice("[83.262]") == R"({"value":0.5,"unit":"mm"})");
  CHECK(choice("[83.452]") == R"({"value":0.75,"unit":"mm"})");
  CHECK(choice("[83.960]") == "null");
}

TEST_CASE("the worst cylinder decides for all, the first of equal ones") {
  const auto found = answer("oversize-selection", oversize("[83.062,83.201,83.118,83.201]"));
  CHECK(written(found, "governs") == "2");
  CHECK(written(found, "metal_removed") == R"({"value":0.299,"unit":"mm"})");
  const auto none = answer("oversize-selection", oversize("[83.0,83.96]"));
  CHECK(written(none, "governs") == "2");
  CHECK(written(none, "metal_removed") == "null");
  CHECK(has_note(none, "cylinder 2: sleeve or replace"));
}

// Common practice, no source: what is worn within its service limit is not machined.
TEST_CASE("cylinders worn no more than may stay are left as they are") {
  const auto found = [](std::string_view bores) {
    return answer("oversize-selection", oversize(bores, R"(,"stay":"0.12 mm")"));
  };
  CHECK(written(found("[83.04,83.120]"), "choice") == R"({"value":0,"unit":"mm"})"); // the very edge
  CHECK(written(found("[83.04,83.120]"), "governs") == "2");
  CHECK(written(found("[83.04,83.120]"), "metal_removed") == R"({"value":0,"unit":"mm"})");
  CHECK(written(found("[83.04,83.121]"), "choice") == R"({"value":0.25,"unit":"mm"})");
  CHECK(written(answer("oversize-selection", oversize("[83.04]")), "choice") == R"({"value":0.25,"unit":"mm"})");
  CHECK(written(answer("undersize-selection", undersize("[47.96,47.94]", R"(,"stay":"0.06 mm")")), "choice") ==
        R"({"value":0,"unit":"mm"})");
  CHECK(written(answer("undersize-selection", undersize("[47.939]", R"(,"stay":"0.06 mm")")), "choice") ==
        R"({"value":0.25,"unit":"mm"})");
  const auto close = [](std::string_view u) {
    return answer("oversize-selection", R"({"nominal":"83 mm","largest":{"value":83.118,"unit":"mm","u":)" +
                                            std::string(u) +
                                            R"(},"cleanup":"0.05 mm","available":["0.25 mm"],"stay":"0.12 mm"})");
  };
  CHECK(close("0.002").notes.empty());
  CHECK(has_note(close("0.003"), "beyond what may stay: measure again"));
}

TEST_CASE("wear on one wall counts again, the bore keeping its axis") {
  const auto found = [](std::string_view one_sided) {
    return answer("oversize-selection", oversize("[83.120]", R"(,"one_sided":)" + std::string(one_sided)));
  };
  CHECK(written(found("0"), "choice") == R"({"value":0.25,"unit":"mm"})");
  CHECK(written(found("0.6"), "choice") == R"({"value":0.25,"unit":"mm"})"); // 0.12 + 0.072 + 0.05
  CHECK(written(found("1"), "choice") == R"({"value":0.5,"unit":"mm"})");    // 0.12 + 0.12 + 0.05
  CHECK(refusal("oversize-selection", oversize("[83.1]", R"(,"one_sided":1.1)")).starts_with("one_sided: "));
  CHECK(refusal("oversize-selection", oversize("[83.1]", R"(,"one_sided":-0.1)")).starts_with("one_sided: "));
}

TEST_CASE("a choice that may change within U is noted") {
  const auto found = [](std::string_view bore, std::string_view u) {
    return answer("oversize-selection", R"({"nominal":"83 mm","largest":{"value":)" + std::string(bore) +
                                            R"(,"unit":"mm","u":)" + std::string(u) +
                                            R"(},"cleanup":"0.05 mm","available":["0.25 mm","0.5 mm"]})");
  };
  CHECK(has_note(found("83.198", "0.003"), "may be 0.25 mm or 0.5 mm"));
  CHECK(has_note(found("83.202", "0.003"), "may be 0.25 mm or 0.5 mm"));
  CHECK(found("83.198", "0.002").notes.empty()); // 0.25 exactly at its edge
  CHECK(has_note(found("83.449", "0.003"), "may be 0.5 mm or none of the available"));
  CHECK(has_note(found("83.451", "0.003"), "sleeve or replace"));
}

TEST_CASE("the U of the metal removed counts the bore, the nominal and the size") {
  const auto found = answer("oversize-selection", R"({"nominal":{"value":83,"unit":"mm","u":0.003},)"
                                                  R"("largest":{"values":[83.1,83.05],"unit":"mm","u":0.004},)"
                                                  R"("cleanup":"0.05 mm","available":{"values":[0.25],"unit":"mm",)"
                                                  R"("u":0.012}})");
  CHECK(u(found, "metal_removed") == 0.013);
  CHECK(u(found, "choice") == 0.012);
}

TEST_CASE("the undersize chosen is the smallest that cleans up every journal") {
  const auto found = answer("undersize-selection", undersize("[47.961,47.770,47.955]"));
  CHECK(written(found, "choice") == R"({"value":0.25,"unit":"mm"})"); // 47.750 is 0.02 below, the very edge
  CHECK(written(found, "governs") == "2");
  CHECK(written(found, "metal_removed") == R"({"value":0.02,"unit":"mm"})");
  CHECK(written(answer("undersize-selection", undersize("[47.7699]")), "choice") == R"({"value":0.5,"unit":"mm"})");
  const auto none = answer("undersize-selection", undersize("[47.6,47.51]"));
  CHECK(written(none, "choice") == "null");
  CHECK(has_note(none, "journal 2: replace the crankshaft"));
}

TEST_CASE("wear on one side of a journal counts again") {
  CHECK(written(answer("undersize-selection", undersize("[47.88]", R"(,"one_sided":0.9)")), "choice") ==
        R"({"value":0.25,"unit":"mm"})"); // 0.12 + 0.108 + 0.02
  CHECK(written(answer("undersize-selection", undersize("[47.88]", R"(,"one_sided":1)")), "choice") ==
        R"({"value":0.5,"unit":"mm"})"); // 0.12 + 0.12 + 0.02
}

TEST_CASE("a diameter typed for an undersize is refused") {
  CHECK(refusal("undersize-selection", R"({"nominal":"48 mm","smallest":"47.9 mm","cleanup":"0.02 mm",)"
                                       R"("available":["0.25 mm","48 mm"]})")
            .starts_with("available: "));
  CHECK(refusal("undersize-selection", R"({"nominal":"48 mm","smallest":"47.9 mm","cleanup":"-0.02 mm",)"
                                       R"("available":["0.25 mm"]})")
            .starts_with("cleanup: "));
}

TEST_CASE("an undersize in thousandths fits a journal in millimetres exactly") {
  // 48 mm - 0.254 mm = 47.746 mm; 0.02 mm beyond it is the edge.
  const auto found = [](std::string_view journal) {
    return answer("undersize-selection", R"({"nominal":"48 mm","smallest":")" + std::string(journal) +
                                             R"(","cleanup":"0.02 mm","available":["10 thou","20 thou"]})");
  };
  CHECK(written(found("47.766 mm"), "choice") == R"({"value":0.254,"unit":"mm"})");
  CHECK(written(found("47.7659 mm"), "choice") == R"({"value":0.508,"unit":"mm"})");
}
