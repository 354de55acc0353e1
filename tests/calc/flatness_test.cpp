#include "calculating.h"

using namespace calculating;

namespace {

std::string line(std::string_view name, std::string_view enters, std::string_view refuses, std::string_view length) {
  return R"({"name":")" + std::string(name) + R"(","enters":")" + std::string(enters) + R"(","refuses":")" +
         std::string(refuses) + R"(","length":")" + std::string(length) + R"("})";
}

} // namespace

TEST_CASE("the worst line is the one whose refused blade is thickest") {
  const auto found = answer("straightedge", R"({"lines":[)" + line("left", "0.02 mm", "0.03 mm", "400 mm") + "," +
                                                line("right", "0.03 mm", "0.04 mm", "400 mm") + "," +
                                                line("Diagonal 1", "0.03 mm", "0.04 mm", "450 mm") + "]}");
  CHECK(written(found, "worst") == R"({"value":0.04,"unit":"mm"})");
  CHECK(written(found, "where") == "\"right\"");
  CHECK(written(found, "ratio") == "null");
  CHECK(found.notes.empty());
}

TEST_CASE("a short line may be the worst for its length") {
  const auto found = answer("straightedge", R"({"lines":[)" + line("long", "0.04 mm", "0.05 mm", "400 mm") + "," +
                                                line("short", "0.03 mm", "0.04 mm", "100 mm") +
                                                R"(],"per_length":{"gap":"0.05 mm","length":"100 mm"}})");
  CHECK(written(found, "where") == "\"long\"");
  CHECK(written(found, "ratio") == R"({"value":0.8,"unit":"1"})");
}

TEST_CASE("edges alone do not show a twist") {
  CHECK(has_note(answer("straightedge", R"({"lines":[)" + line("edge", "0 mm", "0.03 mm", "400 mm") + "]}"), "twist"));
}

TEST_CASE("blades that contradict each other are refused") {
  CHECK(refusal("straightedge", R"({"lines":[)" + line("edge", "0.03 mm", "0.03 mm", "400 mm") + "]}")
            .starts_with("lines: edge: "));
  CHECK(refusal("straightedge", R"({"lines":[]})") == "lines: is empty");
  CHECK(refusal("straightedge", R"({"lines":[{"name":"edge","enters":"0 mm","refuses":"0.03 mm"}]})") ==
        "lines, number 1, length: missing");
  CHECK(refusal("straightedge", R"({"lines":[)" + line("edge", "0 mm", "0.03 mm", "400 mm") +
                                    R"(],"per_length":{"gap":"0.05 mm"}})") == "per_length, length: missing");
}
