#include "speed/row.h"

#include <catch2/catch.hpp>

using namespace speed;

TEST_CASE("figures are told with three digits that count and a unit to their size") {
  CHECK(text(83e-6, Unit::seconds) == "83.0 us");
  CHECK(text(0.4e-6, Unit::seconds) == "0.40 us");
  CHECK(text(1.2345e-3, Unit::seconds) == "1.23 ms");
  CHECK(text(0.9996e-3, Unit::seconds) == "1000 us");
  CHECK(text(12.0, Unit::seconds) == "12.0 s");
  CHECK(text(123.4, Unit::seconds) == "123 s");
  CHECK(text(15'400'000, Unit::bytes) == "15.4 MB");
  CHECK(text(200e6, Unit::bytes) == "200 MB");
  CHECK(text(0.0004, Unit::share) == "0.04 %");
}

TEST_CASE("counts are told in groups of three digits") {
  CHECK(grouped(7) == "7");
  CHECK(grouped(999) == "999");
  CHECK(grouped(5000) == "5,000");
  CHECK(grouped(1'600'000) == "1,600,000");
}

TEST_CASE("a figure at what is wanted is within, one beyond is over, one without a wish is reported") {
  CHECK(verdict_of(alone("a", 2e-3, 2e-3)) == Verdict::within);
  CHECK(verdict_of(alone("a", 2.1e-3, 2e-3)) == Verdict::over);
  CHECK(verdict_of(alone("a", 2e-3)) == Verdict::none);
  const Pairs pairs{3, 2, 1.5, 1};
  CHECK(verdict_of(ratio("a", pairs, 1.5)) == Verdict::within);
  CHECK(verdict_of(ratio("a", pairs, 1.4)) == Verdict::over);
  CHECK(verdict_of(difference("a", pairs, 1)) == Verdict::within);
  CHECK(verdict_of(difference("a", pairs, 0.9)) == Verdict::over);
  CHECK(verdict_of(not_measured("a", "there is no display")) == Verdict::none);
}

TEST_CASE("a disk that does not sync gets no verdict, however slow the row") {
  Row row = difference("record", {1, 40e-6, 1, 1}, 80e-6);
  row.judged = false;
  row.note = "this disk does not sync";
  CHECK(verdict_of(row) == Verdict::none);
  CHECK_FALSE(far_over(row));
  CHECK(table({row}, Form::plain).find("no verdict: this disk does not sync") != std::string::npos);
}

TEST_CASE("only what is beyond twice what is wanted is far over") {
  CHECK_FALSE(far_over(alone("a", 4e-3, 2e-3)));
  CHECK(far_over(alone("a", 4.1e-3, 2e-3)));
  CHECK_FALSE(far_over(alone("a", 100)));
  CHECK(far_over(difference("a", {500e-6, 300e-6, 1.7, 200e-6}, 80e-6)));
  CHECK_FALSE(far_over(difference("a", {300e-6, 500e-6, 0.6, -200e-6}, 80e-6))); // faster than its floor
  CHECK_FALSE(far_over(difference("a", {4.3e-3, 4e-3, 1.1, 300e-6}, 80e-6)));    // of a disk that swings by more
}

TEST_CASE("of one row measured five times the one in the middle counts") {
  std::vector<Row> rows;
  for (const double seconds : {9e-3, 1e-3, 3e-3, 2e-3, 8e-3}) rows.push_back(alone("a", seconds, 2e-3));
  CHECK(*middle_of(rows).ours == 3e-3);
  CHECK_THROWS_AS(middle_of(std::vector<Row>()), std::logic_error);
}

TEST_CASE("the table says of each row what it is, its floor, how they compare, what is wanted and whether it is so") {
  const std::vector<Row> rows = {ratio("open a build", {36e-3, 24e-3, 1.5, 12e-3}, 1.8),
                                 difference("record", {4.2e-3, 4e-3, 1.05, 0.2e-3}, 80e-6),
                                 alone("size of the program", 4.2e6, std::nullopt, Unit::bytes),
                                 not_measured("idle window", "there is no display")};
  CHECK(table(rows, Form::plain) ==
        "what                    ours    floor  compared       wanted  verdict\n"
        "open a build         36.0 ms  24.0 ms    1.50 x     <= 1.8 x  within\n"
        "record               4.20 ms  4.00 ms   +200 us  <= +80.0 us  over\n"
        "size of the program  4.20 MB                                  reported\n"
        "idle window                                                   no verdict: there is no display\n");
  CHECK(table({rows[0]}, Form::markdown) == "| what | ours | floor | compared | wanted | verdict |\n"
                                            "|---|--:|--:|--:|--:|---|\n"
                                            "| open a build | 36.0 ms | 24.0 ms | 1.50 x | <= 1.8 x | within |\n");
}

TEST_CASE("the table of growth says the exponent, and over where it is steeper than wanted") {
  const Growth straight{"open a build", "events", {1, 4, 16}, {1e-3, 4e-3, 16e-3}};
  const Growth steep{"check", "steps", {1, 4, 16}, {1e-3, 16e-3, 256e-3}};
  CHECK(straight.grows() == Approx(1));
  CHECK(steep.grows() == Approx(2));
  const std::string said = table({straight, steep}, Form::markdown);
  CHECK(said.find("| open a build | 1 events | 1.00 ms | 4 | 4.00 ms | 16 | 16.0 ms | 1.00 | <= 1.15 | within |") !=
        std::string::npos);
  CHECK(said.find("| 2.00 | <= 1.15 | over |") != std::string::npos);
  CHECK(middle_of({steep, straight, steep}).what == "check");
}
