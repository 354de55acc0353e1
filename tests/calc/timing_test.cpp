#include "calculating.h"

#include <fmt/format.h>

#include <cmath>

using namespace calculating;

namespace {

constexpr double pi = 3.14159265358979323846;

calc::Answer stops(std::string_view before, std::string_view after) {
  return answer("dead-centre", fmt::format(R"({{"stop_before":"{} deg","stop_after":"{} deg"}})", before, after));
}

std::string deg(std::string_view number) {
  return fmt::format(R"({{"value":{},"unit":"deg"}})", number);
}

std::string crank(std::string_view given, std::string_view stroke = "92 mm", std::string_view rod = "158 mm") {
  return fmt::format(R"({{"stroke":"{}","rod_length":"{}",{}}})", stroke, rod, given);
}

} // namespace

TEST_CASE("dead centre lies between the stops, across the end of the scale too") {
  CHECK(written(stops("338.5", "24.5"), "centre") == deg("1.5"));
  CHECK(written(stops("24.5", "338.5"), "centre") == deg("1.5")); // the crank turned the other way
  CHECK(written(stops("-21.5", "24.5"), "centre") == deg("1.5")); // a scale that counts both ways from 0
  CHECK(written(stops("335.5", "21.5"), "centre") == deg("358.5"));
  CHECK(written(stops("335.5", "21.5"), "offset") == deg("-1.5"));
  CHECK(written(stops("338.5", "24.5"), "offset") == deg("1.5"));
  CHECK(written(stops("0", "300"), "centre") == deg("330"));
  CHECK(written(stops("160", "204"), "centre") == deg("182"));
  CHECK(written(stops("160", "204"), "offset") == deg("-178"));
  CHECK(written(stops("170", "190"), "offset") == deg("180"));
}

TEST_CASE("readings of several turns are brought into one") {
  CHECK(written(stops("700", "742"), "centre") == deg("1"));
  CHECK(written(stops("-382", "-336"), "centre") == deg("1"));
  CHECK(written(stops("1", "-1"), "centre") == deg("0"));
  CHECK(written(stops("-1", "1"), "offset") == deg("0"));
}

TEST_CASE("stops half a turn apart do not tell one dead centre from the other") {
  CHECK(refusal("dead-centre", R"({"stop_before":"270 deg","stop_after":"90 deg"})").starts_with("stop_after: stands"));
  CHECK(written(stops("270.001", "90"), "centre") == deg("0.0005"));
  CHECK(written(stops("269.999", "90"), "centre") == deg("179.9995"));
  CHECK(refusal("dead-centre", R"({"stop_before":{"value":271,"unit":"deg","u":1},"stop_after":"90 deg"})")
            .starts_with("stop_after: stands"));
  CHECK(written(answer("dead-centre", R"({"stop_before":{"value":272,"unit":"deg","u":1},"stop_after":"90 deg"})"),
                "centre") == R"({"value":1,"unit":"deg","u":0.5})");
}

TEST_CASE("the same reading twice is noted") {
  const auto found = stops("12", "372");
  CHECK(written(found, "centre") == deg("12"));
  CHECK(has_note(found, "from the other side"));
  CHECK(stops("12", "13").notes.empty());
}

TEST_CASE("radians answer in degrees") {
  const auto found = answer("dead-centre", R"({"stop_before":"0.1 rad","stop_after":"0.3 rad"})");
  CHECK(value(found, "centre") == Approx(0.2 * 180 / pi).epsilon(1e-11));
}

TEST_CASE("a piston is at its top, at half a turn a stroke below it") {
  CHECK(written(answer("crank-position", crank(R"("angle":"0 deg")")), "drop") == R"({"value":0,"unit":"mm"})");
  CHECK(written(answer("crank-position", crank(R"("angle":"180 deg")")), "drop") == R"({"value":92,"unit":"mm"})");
  CHECK(written(answer("crank-position", crank(R"("angle":"-360 deg")")), "drop") == R"({"value":0,"unit":"mm"})");
  CHECK(written(answer("crank-position", crank(R"("drop":"0 mm")")), "angle") == deg("0"));
  CHECK(written(answer("crank-position", crank(R"("drop":"92 mm")")), "angle") == deg("180"));
}

TEST_CASE("a piston stands the same before and after its top") {
  const auto after = value(answer("crank-position", crank(R"("angle":"19 deg")")), "drop");
  for (const char* angle : {"-19 deg", "341 deg", "379 deg", "-341 deg"})
    CHECK(value(answer("crank-position", crank(fmt::format(R"("angle":"{}")", angle))), "drop") == after);
  const double x = 46.0 / 158 * std::sin(19 * pi / 180);
  CHECK(after == Approx(46 * (1 - std::cos(19 * pi / 180)) + 158 * (1 - std::sqrt(1 - x * x))).epsilon(1e-11));
}

TEST_CASE("the angle of a drop is the angle it came from") {
  for (const char* angle : {"0.001", "0.5", "19", "60", "90", "135", "179", "179.9"}) {
    const auto drop = answer("crank-position", crank(fmt::format(R"("angle":"{} deg")", angle)));
    const std::string down = quantity_in(drop, "drop").value.text();
    const auto back = answer("crank-position", crank(fmt::format(R"("drop":"{} mm")", down)));
    INFO(angle);
    CHECK(value(back, "angle") == Approx(std::stod(angle)).epsilon(1e-7)); // near 180 a drop of twelve digits says less
    CHECK(written(back, "drop") == "null");
    CHECK(written(drop, "angle") == "null");
  }
}

TEST_CASE("a drop answers in the unit of the stroke") {
  CHECK(written(answer("crank-position", crank(R"("angle":"180 deg")", "4 in", "8 in")), "drop") ==
        R"({"value":4,"unit":"in"})");
  CHECK(value(answer("crank-position", crank(R"("drop":"50.8 mm")", "4 in", "203.2 mm")), "angle") ==
        Approx(2 * std::atan(std::sqrt(7.0 * 1 / (9 * 1))) * 180 / pi).epsilon(1e-11));
}

TEST_CASE("a crank position that cannot be is refused") {
  CHECK(refusal("crank-position", crank(R"("drop":"92.001 mm")")) == "drop: is more than the stroke");
  CHECK(refusal("crank-position", crank(R"("drop":"-0.1 mm")")) == "drop: must not be negative");
  CHECK(refusal("crank-position", crank(R"("angle":"19 deg")", "92 mm", "46 mm")).starts_with("rod_length: is no"));
  CHECK(answer("crank-position", crank(R"("angle":"19 deg")", "92 mm", "46.001 mm")).results.size() == 2);
  CHECK(refusal("crank-position", R"({"stroke":"92 mm","rod_length":"158 mm"})") ==
        "angle: give the angle or the drop, one of them");
  CHECK(refusal("crank-position", crank(R"("angle":"19 deg","drop":"3 mm")")) ==
        "angle: give the angle or the drop, one of them");
}

TEST_CASE("at dead centre the U of a crank position is what the piston can have moved, not a slope") {
  const auto at_top = answer("crank-position", crank(R"("angle":{"value":0,"unit":"deg","u":2})"));
  CHECK(u(at_top, "drop") ==
        Approx(value(answer("crank-position", crank(R"("angle":"2 deg")")), "drop")).epsilon(1e-11));
  const auto from_drop = answer("crank-position", crank(R"("drop":{"value":0,"unit":"mm","u":0.05})"));
  CHECK(u(from_drop, "angle") ==
        Approx(value(answer("crank-position", crank(R"("drop":"0.05 mm")")), "angle")).epsilon(1e-11));
  const auto hopeless = answer("crank-position", crank(R"("drop":{"value":46,"unit":"mm","u":500})"));
  CHECK(u(hopeless, "angle") < 180);
  const auto lost = answer("crank-position", R"({"stroke":{"value":92,"unit":"mm","u":1000},)"
                                             R"("rod_length":{"value":158,"unit":"mm","u":1000},"angle":"90 deg"})");
  CHECK(u(lost, "drop") > 92);
  const auto lost_too = answer("crank-position", R"({"stroke":{"value":92,"unit":"mm","u":1000},)"
                                                 R"("rod_length":{"value":158,"unit":"mm","u":1000},"drop":"46 mm"})");
  CHECK(u(lost_too, "angle") > 90); // with a stroke as short as the drop it is half a turn
}

TEST_CASE("an angle is laid off along the rim and read back from it") {
  CHECK(value(answer("rim", R"({"diameter":"300 mm","angle":"360 deg"})"), "arc") == Approx(300 * pi).epsilon(1e-11));
  CHECK(value(answer("rim", R"({"diameter":"300 mm","angle":"-19 deg"})"), "arc") ==
        Approx(-300 * pi * 19 / 360).epsilon(1e-11));
  CHECK(value(answer("rim", R"({"diameter":"12 in","arc":"1 in"})"), "angle") ==
        Approx(360 / (12 * pi)).epsilon(1e-11));
  CHECK(value(answer("rim", R"({"diameter":"12 in","arc":"25.4 mm"})"), "angle") ==
        Approx(360 / (12 * pi)).epsilon(1e-11));
  CHECK(written(answer("rim", R"({"diameter":"12 in","arc":"0 in"})"), "angle") == deg("0"));
  CHECK(written(answer("rim", R"({"diameter":"12 in","arc":"1 in"})"), "arc") == "null");
}

TEST_CASE("a rim is asked for one thing at a time") {
  CHECK(refusal("rim", R"({"diameter":"300 mm"})") == "angle: give the angle or the arc, one of them");
  CHECK(refusal("rim", R"({"diameter":"300 mm","angle":"1 deg","arc":"2 mm"})") ==
        "angle: give the angle or the arc, one of them");
  CHECK(refusal("rim", R"({"diameter":"0 mm","arc":"2 mm"})") == "diameter: must be greater than 0");
}
