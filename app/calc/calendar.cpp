#include "calc/calendar.h"

#include "quantity/quoted.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <optional>

namespace calc {

namespace {

using std::chrono::days;
using std::chrono::hours;
using std::chrono::milliseconds;
using std::chrono::minutes;
using std::chrono::seconds;
using std::chrono::sys_days;
using std::chrono::year;

constexpr std::size_t most_decimals = 3;        // of a second
constexpr year first_year{1}, end_year{10'000}; // what four digits can write, and the first that they cannot
using Instant = std::chrono::sys_time<milliseconds>;

// Takes the text apart from left to right; a step that does not find what it wants answers false or nothing.
class Cursor {
public:
  explicit Cursor(std::string_view text) : rest_(text) {}

  bool at_end() const { return rest_.empty(); }

  bool take(char wanted) {
    if (rest_.empty() || rest_.front() != wanted) return false;
    rest_.remove_prefix(1);
    return true;
  }

  std::size_t digits_ahead() const { return std::min(rest_.find_first_not_of("0123456789"), rest_.size()); }

  std::optional<int> number(std::size_t digits) {
    if (digits_ahead() < digits) return std::nullopt;
    int value = 0;
    for (const char c : rest_.substr(0, digits)) value = value * 10 + (c - '0');
    rest_.remove_prefix(digits);
    return value;
  }

private:
  std::string_view rest_;
};

std::optional<Date> take_date(Cursor& cursor) {
  const auto y = cursor.number(4);
  if (!y || !cursor.take('-')) return std::nullopt;
  const auto m = cursor.number(2);
  if (!m || !cursor.take('-')) return std::nullopt;
  const auto d = cursor.number(2);
  if (!d) return std::nullopt;
  const Date date(year{*y}, std::chrono::month{static_cast<unsigned>(*m)}, std::chrono::day{static_cast<unsigned>(*d)});
  if (!date.ok() || date.year() < first_year) return std::nullopt;
  return date;
}

// Hours and minutes, of a clock or of an offset.
std::optional<minutes> take_hours_and_minutes(Cursor& cursor) {
  const auto h = cursor.number(2);
  if (!h || *h > 23 || !cursor.take(':')) return std::nullopt;
  const auto m = cursor.number(2);
  if (!m || *m > 59) return std::nullopt;
  return hours{*h} + minutes{*m};
}

std::optional<milliseconds> take_seconds(Cursor& cursor) {
  const auto whole = cursor.number(2);
  if (!whole || *whole > 59) return std::nullopt;
  if (!cursor.take('.')) return seconds{*whole};
  const std::size_t decimals = cursor.digits_ahead();
  if (decimals == 0 || decimals > most_decimals) return std::nullopt;
  int thousandths = *cursor.number(decimals);
  for (std::size_t i = decimals; i < most_decimals; ++i) thousandths *= 10;
  return seconds{*whole} + milliseconds{thousandths};
}

// "Z", "+01:00", "-05:30"; not "-00:00", which means that the offset is not known.
std::optional<minutes> take_offset(Cursor& cursor) {
  if (cursor.take('Z')) return minutes{0};
  const bool west = cursor.take('-');
  if (!west && !cursor.take('+')) return std::nullopt;
  const auto offset = take_hours_and_minutes(cursor);
  if (!offset || (west && *offset == minutes{0})) return std::nullopt;
  return west ? -*offset : *offset;
}

std::optional<Moment> take_moment(Cursor& cursor) {
  const auto date = take_date(cursor);
  if (!date || !cursor.take('T')) return std::nullopt;
  const auto clock = take_hours_and_minutes(cursor);
  if (!clock || !cursor.take(':')) return std::nullopt;
  const auto within_minute = take_seconds(cursor);
  if (!within_minute) return std::nullopt;
  const auto offset = take_offset(cursor);
  if (!offset) return std::nullopt;
  const Instant instant = sys_days(*date) + *clock + *within_minute - *offset;
  const Moment moment{instant.time_since_epoch().count(), static_cast<int>(offset->count())};
  return is_moment(moment) ? std::optional(moment) : std::nullopt;
}

// So many digits, zeros in front, and what stands behind them.
void add_digits(std::string& text, long long value, int digits, char behind) {
  text.append(static_cast<std::size_t>(digits), '0');
  for (auto digit = text.rbegin(); digit != text.rbegin() + digits; ++digit, value /= 10)
    *digit = static_cast<char>('0' + std::abs(value % 10));
  text += behind;
}

Instant local_instant(const Moment& moment) {
  return Instant(milliseconds{moment.utc_ms} + minutes{moment.offset_minutes});
}

} // namespace

Result<Date> parse_date(std::string_view text) {
  Cursor cursor(text);
  const auto date = take_date(cursor);
  if (date && cursor.at_end()) return *date;
  return Error{"bad-value",
               quantity::quoted(text) + " is no date: write year-month-day of a day there is, such as 2026-11-24"};
}

std::string text(const Date& date) {
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                     static_cast<unsigned>(date.day()));
}

Date add_months(const Date& date, int months) {
  const auto month = date.year() / date.month() + std::chrono::months{months};
  const Date last = month / std::chrono::last;
  return month / std::min(date.day(), last.day());
}

bool is_moment(const Moment& moment) {
  constexpr Instant first = sys_days(first_year / 1 / 1);
  constexpr Instant end = sys_days(end_year / 1 / 1);
  const Instant instant(milliseconds{moment.utc_ms});
  return first <= instant && instant < end;
}

Result<Moment> parse_moment(std::string_view text) {
  Cursor cursor(text);
  const auto moment = take_moment(cursor);
  if (moment && cursor.at_end()) return *moment;
  return Error{"bad-value", quantity::quoted(text) + " is no moment: write date, time and the offset from UTC, such as "
                                                     "2026-11-24T08:00:00+01:00 or 2026-11-24T07:00:00Z"};
}

std::string utc_text(const Moment& moment) {
  const Instant instant(milliseconds{moment.utc_ms});
  const auto day = std::chrono::floor<days>(instant);
  const std::chrono::hh_mm_ss clock(instant - day);
  const Date date(day);
  std::string text;
  text.reserve(24);
  add_digits(text, static_cast<int>(date.year()), 4, '-');
  add_digits(text, static_cast<unsigned>(date.month()), 2, '-');
  add_digits(text, static_cast<unsigned>(date.day()), 2, 'T');
  add_digits(text, clock.hours().count(), 2, ':');
  add_digits(text, clock.minutes().count(), 2, ':');
  add_digits(text, clock.seconds().count(), 2, '.');
  add_digits(text, clock.subseconds().count(), 3, 'Z');
  return text;
}

std::string offset_text(const Moment& moment) {
  std::string out = utc_text(Moment{moment.utc_ms + moment.offset_minutes * 60'000LL, 0});
  const int distance = std::abs(moment.offset_minutes);
  out.pop_back();
  return out + fmt::format("{}{:02}:{:02}", moment.offset_minutes < 0 ? '-' : '+', distance / 60, distance % 60);
}

std::string local_text(const Moment& moment) {
  const Instant instant = local_instant(moment);
  const auto day = std::chrono::floor<days>(instant);
  const std::chrono::hh_mm_ss clock(instant - day);
  return fmt::format("{} {:02}:{:02}", text(Date(day)), clock.hours().count(), clock.minutes().count());
}

Date local_date(const Moment& moment) {
  return Date(std::chrono::floor<days>(local_instant(moment)));
}

} // namespace calc
