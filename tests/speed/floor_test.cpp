// The floors do what they are said to do: the same bytes, rows and lines as ours.
#include "speed/floor.h"

#include "handover/make.h"
#include "speed/floor_pages.h"
#include "speed/yard.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace speed;

TEST_CASE("the floor reads every event of a shop, the newest first when it is asked for those") {
  const Folder folder(std::filesystem::temp_directory_path());
  const auto file = folder / "a.shop";
  make_shop(file, {{"long", 2, 2}});
  const auto rows = rows_of(file);
  CHECK(rows.size() == 4 + (1 + 2 * 4) + (1 + 2));
  CHECK(newest_rows(file, 2) == rows[rows.size() - 1] + rows[rows.size() - 2]);
}

TEST_CASE("the floor's signatures are good, and one of another text is not") {
  const PlainKey key;
  const std::string signature = key.sign("one");
  CHECK(key.verify("one", signature));
  CHECK_FALSE(key.verify("two", signature));
  check({{R"({"a":1})", key.sign(R"({"a":1})")}, {"[]", ""}}, key, 2);
  CHECK_THROWS_AS(check({{"[]", key.sign("[1]")}}, key, 1), std::runtime_error);
}

TEST_CASE("the lines that the floor writes are those of the pages") {
  const Folder folder(std::filesystem::temp_directory_path());
  const auto file = folder / "a.shop";
  make_shop(file, {{"long", 3, 3}});
  const auto lines = lines_of([&] { CHECK(handover::draft_of(file, "long")); });
  const auto stands = [&](const std::string& text) {
    return std::ranges::any_of(lines, [&](const auto& line) { return line.text.find(text) != std::string::npos; });
  };
  CHECK(stands("Measure bore 3 and look it over"));
  CHECK(stands("HX4-150-0731"));
  CHECK(stands("78.008"));
  CHECK(lines.back().page > 2);
  CHECK(std::ranges::all_of(lines, [](const auto& line) {
    return line.x >= 0 && line.x < handover::page_width && line.y > 0 && line.y < handover::page_height &&
           line.height > 1 && line.height < 40;
  }));
  write(lines);
}
