// record.csv: what a spreadsheet makes of its cells. RFC 4180 (October 2005), section 2, rules 5 to 7: a cell with a
// comma, a quote or a line end stands in quotes, a quote in it is doubled.
#include "handover/csv.h"

#include "build/bores.h"

#include <catch2/catch.hpp>

#include <algorithm>

using handover::csv_cell;

namespace {

std::vector<std::string> rows_of(const std::string& text) {
  std::vector<std::string> rows;
  std::size_t from = 0;
  for (auto at = text.find("\r\n"); at != std::string::npos; at = text.find("\r\n", from)) {
    rows.push_back(text.substr(from, at - from));
    from = at + 2;
  }
  CHECK(from == text.size());
  return rows;
}

} // namespace

TEST_CASE("cells with commas, quotes and line ends are quoted") {
  CHECK(csv_cell("plain") == "plain");
  CHECK(csv_cell("three, front") == "\"three, front\"");
  CHECK(csv_cell("marked \"2\"") == "\"marked \"\"2\"\"\"");
  CHECK(csv_cell("one\r\ntwo") == "\"one\r\ntwo\"");
  CHECK(csv_cell("").empty());
}

TEST_CASE("a cell that would be taken for a formula is defused, a number is not") {
  CHECK(csv_cell("=1+1") == "'=1+1");
  CHECK(csv_cell("+left") == "'+left");
  CHECK(csv_cell("-left") == "'-left");
  CHECK(csv_cell("@sum") == "'@sum");
  CHECK(csv_cell("\t=1") == "'\t=1");
  CHECK(csv_cell("-0.012") == "-0.012");
  CHECK(csv_cell("+3") == "+3");
  CHECK(csv_cell("-") == "'-");
  CHECK(csv_cell("-1-2") == "'-1-2");
  CHECK(csv_cell("-.5") == "'-.5");
  CHECK(csv_cell("=A1,\"x\"") == "\"'=A1,\"\"x\"\"\"");
}

TEST_CASE("a build's table has one row a value, with its limits, gauge and who signed") {
  Bench bench;
  bench.clean();
  bench.mains();
  const auto rows = rows_of(handover::csv_of(bench.build));
  REQUIRE(rows.size() > 5);
  const auto cells = std::count(rows[0].begin(), rows[0].end(), ',');
  std::size_t values = 0;
  for (const auto& state : {"bore", "journal"}) {
    const auto& cell = bench.entry("mains", state).cells;
    values +=
        static_cast<std::size_t>(std::count_if(cell.begin(), cell.end(), [](const auto& it) { return it.filled(); }));
  }
  CHECK(values > 0);
  CHECK(static_cast<std::size_t>(std::count_if(rows.begin(), rows.end(), [](const std::string& row) {
          return row.find(",readings,") != std::string::npos;
        })) == values);
  for (const auto& row : rows)
    if (row.find('"') == std::string::npos) CHECK(std::count(row.begin(), row.end(), ',') == cells);
}

TEST_CASE("a value measured before strip-down stands beside the one that counts") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","value":0.21,"gauge":"mic","as_found":true})");
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","value":0.03,"gauge":"mic"})");
  const std::string text = handover::csv_of(bench.build);
  CHECK_THAT(text, Catch::Contains(",0.03,0.21,mm,"));
}

TEST_CASE("numbers that nobody checked are marked behind their source, where a value or a stage goes by them") {
  Bench bench(Bench::small_engine_unchecked({"clearance", "first"}));
  bench.clean();
  bench.mains();
  bench.caps();
  const auto has = [](const std::string& row, const char* what) { return row.find(what) != std::string::npos; };
  int values = 0;
  int stages = 0;
  for (const auto& row : rows_of(handover::csv_of(bench.build))) {
    const bool marked = has(row, ",maker: p. 4; numbers not checked by a second person,");
    const bool value = has(row, "Oil clearance") && (has(row, ",min,") || has(row, ",max,"));
    const bool stage = has(row, "stage 1: torque");
    CHECK(marked == (value || stage));
    values += marked && value ? 1 : 0;
    stages += marked && stage ? 1 : 0;
  }
  CHECK(values == 6); // smallest and largest at three journals
  CHECK(stages > 0);
}

TEST_CASE("how a value was read from a setting, or warm, stands with its gauge") {
  Bores bench;
  bench.ok(Bores::shown("1", "[[0.010,null],null]"));
  bench.ok(Bores::zero("0.001"));
  bench.ok(
      R"({"do":"record","step":"pistons","entry":"skirt","position":"1","gauge":"mic","values":[81.94],"part_at":31})");
  const std::string text = handover::csv_of(bench.build);
  CHECK_THAT(text, Catch::Contains("bore-1; set at 82.000 on ring-82, back at zero: +0.001"));
  CHECK_THAT(text, Catch::Contains("mic; at 31 degC, taken to 20 degC"));
}
