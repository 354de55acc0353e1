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
