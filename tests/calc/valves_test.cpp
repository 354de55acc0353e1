#include "calculating.h"

using namespace calculating;

namespace {

std::string spring(std::string_view loads, std::string_view lengths, std::string_view installed = "39 mm") {
  return R"({"loads":{"values":)" + std::string(loads) + R"(,"unit":"N"},"lengths":)" + mm(lengths) +
         R"(,"installed":")" + std::string(installed) + R"("})";
}

} // namespace

TEST_CASE("a spring's rate carries on to its free and its installed length") {
  const auto found = answer("spring", spring("[300,800]", "[40,30]", "38 mm"));
  CHECK(written(found, "rate") == R"({"value":50,"unit":"N/mm"})");
  CHECK(written(found, "free_length") == R"({"value":46,"unit":"mm"})");
  CHECK(written(found, "load_installed") == R"({"value":400,"unit":"N"})");
}

TEST_CASE("the two readings may come in either order, the first at no load") {
  CHECK(written(answer("spring", spring("[800,300]", "[30,40]")), "rate") == R"({"value":50,"unit":"N/mm"})");
  CHECK(written(answer("spring", spring("[0,800]", "[46,30]")), "free_length") == R"({"value":46,"unit":"mm"})");
}

TEST_CASE("a spring in inches and pounds answers in N/mm and inches") {
  const auto found = answer("spring", R"({"loads":["10 lbf","20 lbf"],"lengths":["2 in","1 in"],"installed":"1 in"})");
  CHECK(value(found, "rate") == Approx(10 * 4.4482216152605 / 25.4).epsilon(1e-12));
  CHECK(written(found, "free_length") == R"({"value":3,"unit":"in"})");
  CHECK(written(found, "load_installed") == R"({"value":88.96443230521,"unit":"N"})");
}

TEST_CASE("a spring that is none is refused") {
  CHECK(refusal("spring", spring("[300,800]", "[40,40]")).starts_with("lengths: "));
  CHECK(refusal("spring", spring("[800,300]", "[40,30]")).starts_with("loads: "));
  CHECK(refusal("spring", spring("[300,300]", "[40,30]")).starts_with("loads: "));
  CHECK(refusal("spring", spring("[300,800,900]", "[40,30]")).starts_with("loads: "));
  CHECK(refusal("spring", spring("[-300,800]", "[40,30]")).starts_with("loads: "));
  CHECK(refusal("spring", spring("[300,800]", "[40,30]", "46.01 mm")).starts_with("installed: "));
  CHECK(written(answer("spring", spring("[300,800]", "[40,30]", "46 mm")), "load_installed") ==
        R"({"value":0,"unit":"N"})");
}

TEST_CASE("the shim under a spring brings it to its height, the room is left at full lift") {
  const auto found = answer("installed-height", R"({"measured":"40.3 mm","wanted":"39 mm","lift":"9.5 mm",)"
                                                R"("solid":"26.8 mm"})");
  CHECK(written(found, "shim") == R"({"value":1.3,"unit":"mm"})");
  CHECK(written(found, "room") == R"({"value":2.7,"unit":"mm"})");
  CHECK(found.notes.empty());
}

TEST_CASE("a spring that stands too short, or whose coils meet, is noted") {
  const auto found = answer("installed-height", R"({"measured":"38.9 mm","wanted":"39 mm","lift":"9.5 mm",)"
                                                R"("solid":"29.5 mm"})");
  CHECK(written(found, "shim") == R"({"value":-0.1,"unit":"mm"})");
  CHECK(written(found, "room") == R"({"value":0,"unit":"mm"})");
  CHECK(has_note(found, "no shim puts that right"));
  CHECK(has_note(found, "coils touch before full lift"));
  CHECK(answer("installed-height", R"({"measured":"39 mm","wanted":"39 mm","lift":"9.5 mm","solid":"29.4 mm"})")
            .notes.empty());
  CHECK(refusal("installed-height", R"({"measured":"39 mm","wanted":"39 mm","lift":"0 mm","solid":"29 mm"})") ==
        "lift: must be greater than 0");
}

TEST_CASE("the U of shim and room counts what each rests on") {
  const auto found = answer("installed-height", R"({"measured":{"value":40.3,"unit":"mm","u":0.03},)"
                                                R"("wanted":{"value":39,"unit":"mm","u":0.04},)"
                                                R"("lift":{"value":9.5,"unit":"mm","u":0.12},)"
                                                R"("solid":{"value":26.8,"unit":"mm","u":0.84}})");
  CHECK(u(found, "shim") == 0.05);
  CHECK(u(found, "room") == Approx(std::sqrt(0.04 * 0.04 + 0.12 * 0.12 + 0.84 * 0.84)).epsilon(1e-11));
}
