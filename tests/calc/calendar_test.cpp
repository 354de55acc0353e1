// Seconds since 1970 beside a check were printed by GNU date (coreutils 9.1): date -u -d TEXT +%s
#include "calc/calendar.h"

#include <catch2/catch.hpp>

using calc::add_months;
using calc::Moment;
using calc::parse_date;
using calc::parse_moment;

namespace {

std::string after_months(std::string_view date, int months) {
  return calc::text(add_months(*parse_date(date), months));
}

void refuses_date(std::string_view text) {
  INFO(text);
  const auto date = parse_date(text);
  REQUIRE_FALSE(date.ok());
  CHECK(date.error().code == "bad-value");
}

void refuses_moment(std::string_view text) {
  INFO(text);
  const auto moment = parse_moment(text);
  REQUIRE_FALSE(moment.ok());
  CHECK(moment.error().code == "bad-value");
}

} // namespace

TEST_CASE("a date is read and written back") {
  for (const std::string_view written : {"2026-11-24", "0001-01-01", "9999-12-31", "2024-02-29"}) {
    const auto date = parse_date(written);
    REQUIRE(date.ok());
    CHECK(calc::text(*date) == written);
  }
}

TEST_CASE("29 February is there in leap years only") {
  // Gregorian calendar as in ISO 8601: divisible by 4, but by 400 where divisible by 100.
  CHECK(parse_date("2000-02-29").ok());
  CHECK(parse_date("2028-02-29").ok());
  refuses_date("1900-02-29");
  refuses_date("2100-02-29");
  refuses_date("2026-02-29");
}

TEST_CASE("a text that is no date is refused") {
  for (const std::string_view text :
       {"",           "2026",        "2026-11",     "2026-1-24",   "2026-11-4",   "26-11-24",
        "2026/11/24", "24-11-2026",  "2026-13-01",  "2026-00-10",  "2026-11-31",  "2026-11-00",
        "0000-01-01", "-2026-11-24", "+2026-11-24", " 2026-11-24", "2026-11-24 ", "2026-11-24T08:00:00Z",
        "20261124",   "2026-11-2x",  "12026-11-24"})
    refuses_date(text);
  CHECK(parse_date("2026-02-30").error().message.find("\"2026-02-30\"") == 0);
}

TEST_CASE("months clip to the end of a shorter month") {
  CHECK(after_months("2026-01-31", 1) == "2026-02-28");
  CHECK(after_months("2024-01-31", 1) == "2024-02-29");
  CHECK(after_months("2026-03-31", 1) == "2026-04-30");
  CHECK(after_months("2024-02-29", 12) == "2025-02-28");
  CHECK(after_months("2024-02-29", 48) == "2028-02-29");
  CHECK(after_months("2026-08-31", 6) == "2027-02-28");
}

TEST_CASE("months carry over the year, forwards and backwards") {
  CHECK(after_months("2026-11-24", 0) == "2026-11-24");
  CHECK(after_months("2026-11-24", 2) == "2027-01-24");
  CHECK(after_months("2026-11-24", 12) == "2027-11-24");
  CHECK(after_months("2026-01-15", -1) == "2025-12-15");
  CHECK(after_months("2026-03-31", -1) == "2026-02-28");
  CHECK(after_months("2026-11-24", 360) == "2056-11-24");
}

TEST_CASE("a moment with its offset becomes UTC") {
  CHECK(*parse_moment("2024-05-01T08:00:00+01:00") == Moment{1714546800'000, 60});
  CHECK(*parse_moment("2001-09-09T01:46:40Z") == Moment{1'000'000'000'000, 0});
  CHECK(*parse_moment("2000-02-29T00:00:00Z") == Moment{951782400'000, 0});
  CHECK(*parse_moment("1969-12-31T23:59:59Z") == Moment{-1000, 0});
  // RFC 3339, section 5.8: the first three examples.
  CHECK(*parse_moment("1985-04-12T23:20:50.52Z") == Moment{482196050'520, 0});
  CHECK(*parse_moment("1996-12-19T16:39:57-08:00") == Moment{851042397'000, -480});
  CHECK(parse_moment("1996-12-19T16:39:57-08:00")->utc_ms == parse_moment("1996-12-20T00:39:57Z")->utc_ms);
}

TEST_CASE("a moment may have up to three decimals of a second") {
  CHECK(parse_moment("1970-01-01T00:00:00.5Z")->utc_ms == 500);
  CHECK(parse_moment("1970-01-01T00:00:00.05Z")->utc_ms == 50);
  CHECK(parse_moment("1970-01-01T00:00:00.005Z")->utc_ms == 5);
  refuses_moment("1970-01-01T00:00:00.0005Z");
  refuses_moment("1970-01-01T00:00:00.Z");
}

TEST_CASE("a moment is one of the years that four digits can write") {
  const auto first = calc::parse_moment("0001-01-01T00:00:00Z")->utc_ms;
  const auto last = calc::parse_moment("9999-12-31T23:59:59.999Z")->utc_ms;
  CHECK(calc::is_moment({first, 0}));
  CHECK(calc::is_moment({last, 0}));
  CHECK_FALSE(calc::is_moment({first - 1, 0}));
  CHECK_FALSE(calc::is_moment({last + 1, 0}));
  CHECK(calc::utc_text({last, 0}) == "9999-12-31T23:59:59.999Z");
  CHECK(calc::utc_text({first, 0}) == "0001-01-01T00:00:00.000Z");
}

TEST_CASE("a text that is no moment is refused") {
  for (const std::string_view text : {"",
                                      "2024-05-01",
                                      "2024-05-01T08:00:00",
                                      "2024-05-01T08:00Z",
                                      "2024-05-01 08:00:00Z",
                                      "2024-05-01t08:00:00Z",
                                      "2024-05-01T08:00:00z",
                                      "2024-05-01T24:00:00Z",
                                      "2024-05-01T08:60:00Z",
                                      "2024-02-30T08:00:00Z",
                                      "2024-05-01T8:00:00Z",
                                      "2024-05-01T08:00:00+1:00",
                                      "2024-05-01T08:00:00+0100",
                                      "2024-05-01T08:00:00+24:00",
                                      "2024-05-01T08:00:00+01:60",
                                      "2024-05-01T08:00:00-00:00",
                                      "2024-05-01T08:00:00Z ",
                                      "2024-05-01T08:00:00ZZ",
                                      "2024-05-01T08:00:00,5Z",
                                      "2024-05-01T08:00:00.5",
                                      "0001-01-01T00:00:00+00:01",
                                      "9999-12-31T23:59:59-00:01"})
    refuses_moment(text);
  refuses_moment("1990-12-31T23:59:60Z"); // RFC 3339, section 5.8: a leap second, which milliseconds cannot hold
}

TEST_CASE("a moment is written in UTC and in local time") {
  const Moment morning = *parse_moment("2024-05-01T08:00:00+01:00");
  CHECK(calc::utc_text(morning) == "2024-05-01T07:00:00.000Z");
  CHECK(calc::local_text(morning) == "2024-05-01 08:00");
  CHECK(calc::utc_text({-1, 0}) == "1969-12-31T23:59:59.999Z");
  CHECK(calc::local_text({-1, 0}) == "1969-12-31 23:59");
  CHECK(calc::utc_text({951782400'123, 0}) == "2000-02-29T00:00:00.123Z");
}

TEST_CASE("the local date is the one on the wall, not the one in UTC") {
  CHECK(calc::text(calc::local_date(*parse_moment("2024-05-01T00:30:00+02:00"))) == "2024-05-01");
  CHECK(calc::text(calc::local_date(*parse_moment("2024-12-31T20:00:00-05:00"))) == "2024-12-31");
  CHECK(calc::utc_text(*parse_moment("2024-12-31T20:00:00-05:00")) == "2025-01-01T01:00:00.000Z");
  CHECK(calc::text(calc::local_date(*parse_moment("2024-03-01T00:15:00+05:30"))) == "2024-03-01");
}

TEST_CASE("the written UTC reads back as the same millisecond") {
  for (const std::int64_t utc_ms : {std::int64_t{0}, std::int64_t{-62135596800'000}, std::int64_t{253402300799'999},
                                    std::int64_t{1714546800'007}, std::int64_t{-1}}) {
    const Moment moment{utc_ms, 0};
    CHECK(*parse_moment(calc::utc_text(moment)) == moment);
  }
}
