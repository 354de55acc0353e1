// Dates and moments. A due date is a local calendar date and is still good on the day itself; months clip to the
// month's end (31 January + 1 month = 28 or 29 February). Nothing here reads a clock.
#pragma once

#include "quantity/result.h"

#include <chrono>
#include <cstdint>
#include <string>
#include <string_view>

namespace calc {

using quantity::Error;
using quantity::Result;

using Date = std::chrono::year_month_day;

// Of the years 1 to 9999 where it is written.
struct Moment {
  std::int64_t utc_ms = 0; // milliseconds since 1970-01-01T00:00:00Z
  int offset_minutes = 0;  // local time minus UTC
  auto operator<=>(const Moment&) const = default;
};

Result<Date> parse_date(std::string_view text); // "2026-11-24"; code "bad-value"
std::string text(const Date& date);
Date add_months(const Date& date, int months);

// "2024-05-01T08:00:00+01:00", "...Z", seconds may have up to three decimals; code "bad-value".
Result<Moment> parse_moment(std::string_view text);
bool is_moment(const Moment& moment);          // its year has four digits
std::string utc_text(const Moment& moment);    // "2024-05-01T07:00:00.000Z"
std::string offset_text(const Moment& moment); // "2024-05-01T08:00:00.000+01:00": reads back to the same moment
std::string local_text(const Moment& moment);  // "2024-05-01 08:00"
Date local_date(const Moment& moment);

} // namespace calc
