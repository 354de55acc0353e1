#include "calc/iso286.h"

#include "calculating.h"

using namespace calculating;

namespace {

std::string fit(std::string_view size, std::string_view hole, std::string_view shaft = "") {
  std::string input = R"({"size":")" + std::string(size) + "\"";
  if (!hole.empty()) input += R"(,"hole":")" + std::string(hole) + "\"";
  if (!shaft.empty()) input += R"(,"shaft":")" + std::string(shaft) + "\"";
  return input + "}";
}

std::string limits(const calc::Answer& answer, std::string_view part) {
  return quantity_in(answer, std::string(part) + "_low").value.text() + " " +
         quantity_in(answer, std::string(part) + "_high").value.text();
}

std::string hole(std::string_view size, std::string_view tolerance_class) {
  return limits(answer("fit-limits", fit(size, tolerance_class)), "hole");
}

std::string shaft(std::string_view size, std::string_view tolerance_class) {
  return limits(answer("fit-limits", fit(size, "", tolerance_class)), "shaft");
}

} // namespace

TEST_CASE("a size on the edge of a step belongs to the step below it") {
  CHECK(hole("50 mm", "H7") == "50 50.025");
  CHECK(hole("50.000 mm", "H7") == "50 50.025");
  CHECK(hole("50.001 mm", "H7") == "50.001 50.031");
  CHECK(shaft("65 mm", "s6") == "65.053 65.072");
  CHECK(shaft("65.0000001 mm", "s6") == "65.0590001 65.0780001");
  CHECK(hole("3 mm", "H6") == "3 3.006");
  CHECK(hole("500 mm", "H11") == "500 500.4");
}

TEST_CASE("sizes end at 1 mm and at 500 mm") {
  CHECK(hole("1 mm", "H7") == "1 1.01");
  CHECK(refusal("fit-limits", fit("0.999999 mm", "H7")) == "size: must be from 1 mm to 500 mm");
  CHECK(refusal("fit-limits", fit("500.000001 mm", "H7")) == "size: must be from 1 mm to 500 mm");
  CHECK(!calc::has_limits(calc::Exact::ratio(999'999, 1'000'000)));
  CHECK_THROWS_AS(calc::limit_deviations(calc::FitPart::hole, "H7", 501), std::logic_error);
}

TEST_CASE("a size in inches is of the step its millimetres are in, and answers in millimetres") {
  const auto found = answer("fit-limits", fit("1.9685 in", "H7", "g6")); // 49.9999 mm
  CHECK(written(found, "hole_low") == R"({"value":49.9999,"unit":"mm"})");
  CHECK(written(found, "hole_high") == R"({"value":50.0249,"unit":"mm"})");
  CHECK(written(found, "clearance_max") == R"({"value":0.05,"unit":"mm"})");
}

TEST_CASE("a hole alone, a shaft alone and neither") {
  const auto alone = answer("fit-limits", fit("40 mm", "H7"));
  CHECK(written(alone, "shaft_low") == "null");
  CHECK(written(alone, "clearance_min") == "null");
  CHECK(written(alone, "hole_high") == R"({"value":40.025,"unit":"mm"})");
  const auto other = answer("fit-limits", fit("40 mm", "", "p6"));
  CHECK(written(other, "hole_low") == "null");
  CHECK(written(other, "clearance_max") == "null");
  CHECK(refusal("fit-limits", R"({"size":"40 mm"})") == "hole: give the class of the hole, of the shaft or of both");
}

TEST_CASE("an odd tolerance is halved to half a micrometre either way") {
  CHECK(shaft("20 mm", "js7") == "19.9895 20.0105");
  CHECK(hole("20 mm", "JS7") == "19.9895 20.0105");
  CHECK(shaft("5 mm", "js5") == "4.9975 5.0025");
  CHECK(hole("40 mm", "JS6") == "39.992 40.008");
}

TEST_CASE("a shaft k rises from its size outside grades 5 to 7") {
  CHECK(shaft("40 mm", "k7") == "40.002 40.027");
  CHECK(shaft("40 mm", "k8") == "40 40.039");
  CHECK(shaft("2 mm", "k6") == "2 2.006");
}

TEST_CASE("holes change their rule above grade 8, those from P on above grade 7") {
  CHECK(hole("40 mm", "K8") == "39.973 40.012");
  CHECK(hole("40 mm", "M8") == "39.966 40.005");
  CHECK(hole("40 mm", "M9") == "39.929 39.991");
  CHECK(hole("40 mm", "N8") == "39.958 39.997");
  CHECK(hole("40 mm", "N9") == "39.938 40");
  CHECK(hole("40 mm", "P7") == "39.958 39.983");
  CHECK(hole("40 mm", "P8") == "39.935 39.974");
  CHECK(hole("300 mm", "M6") == "299.959 299.991"); // the one exception of the standard
  CHECK(hole("250 mm", "M6") == "249.963 249.992");
  CHECK(hole("300 mm", "M5") == "299.964 299.987");
}

TEST_CASE("up to 3 mm a hole is the mirror of the shaft in every grade") {
  CHECK(hole("2 mm", "K6") == "1.994 2");
  CHECK(hole("3 mm", "K9") == "2.975 3");
  CHECK(hole("2 mm", "N9") == "1.971 1.996");
  CHECK(hole("2 mm", "P7") == "1.984 1.994");
}

TEST_CASE("a class the standard does not define at the size is refused") {
  CHECK(refusal("fit-limits", fit("3.001 mm", "K9")) == "hole: \"K9\" is not defined by ISO 286-1 at this size");
  CHECK(refusal("fit-limits", fit("400 mm", "K11")) == "hole: \"K11\" is not defined by ISO 286-1 at this size");
  CHECK(refusal("fit-limits", fit("1 mm", "N9")) == "hole: \"N9\" is not defined by ISO 286-1 at this size");
  CHECK(hole("1 mm", "N8") == "0.982 0.996");
  CHECK(hole("1.001 mm", "N9") == "0.972 0.997");
}

TEST_CASE("what is no class is refused with those there are") {
  const auto no_hole = [](std::string_view text) { return refusal("fit-limits", fit("40 mm", text)); };
  CHECK(no_hole("h7") ==
        "hole: \"h7\" is not a hole of D E F G H JS K M N P R S with a grade from 5 to 11, such as H7");
  for (const char* text : {"H", "7", "H4", "H12", "H07", "H7.", " H7", "H 7", "Js7", "J7", "HH7", "H7H", "T7", "-7"}) {
    INFO(text);
    CHECK(no_hole(text).starts_with("hole: \""));
  }
  CHECK(refusal("fit-limits", fit("40 mm", "H7", "H6")) ==
        "shaft: \"H6\" is not a shaft of d e f g h js k m n p r s with a grade from 5 to 11, such as h6");
  for (const char* text : {"j6", "jS6", "t6", "c11", "h3"}) {
    INFO(text);
    CHECK(refusal("fit-limits", fit("40 mm", "", text)).starts_with("shaft: \""));
  }
}

TEST_CASE("the U of a size is that of its limits and leaves a clearance alone") {
  const auto found = answer("fit-limits", R"({"size":{"value":40,"unit":"mm","u":0.003},"hole":"H7","shaft":"p6"})");
  CHECK(u(found, "hole_low") == 0.003);
  CHECK(u(found, "shaft_high") == 0.003);
  CHECK(u(found, "clearance_min") == 0);
}

TEST_CASE("in every class and step the limits stand apart by the tolerance of the grade") {
  const int last = 500;
  for (int size = 1; size <= last; ++size)
    for (const char* letter : {"d", "e", "f", "g", "h", "js", "k", "m", "n", "p", "r", "s"})
      for (const char* grade : {"5", "8", "11"}) {
        const std::string of = letter + std::string(grade);
        const auto any = calc::limit_deviations(calc::FitPart::shaft, of, size).value();
        const auto plain = calc::limit_deviations(calc::FitPart::shaft, "h" + std::string(grade), size).value();
        if (any.upper - any.lower != -plain.lower) FAIL(size << " " << of);
      }
}
