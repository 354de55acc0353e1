#include "bench/demo_shop.h"

#include "bench/beside.h"

#include "record/session.h"
#include "json/read.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <sstream>
#include <vector>

namespace bench {

namespace fs = std::filesystem;
using json::Value;
using quantity::Error;
using quantity::Result;

namespace {

constexpr const char* lines_file = "demo/marigold.jsonl";
constexpr const char* last_step = "main-caps"; // it is the next to be signed
constexpr std::size_t date_long = 10;          // characters of 2026-04-13

Result<std::vector<Value>> lines() {
  const auto file = find_beside(lines_file);
  if (!file)
    return Error{"no-demo", "The demo is not beside the program: the folders demo and procedures are missing."};
  const auto text = json::read_file(*file);
  if (!text) return text.error();
  std::vector<Value> out;
  std::istringstream in(*text);
  for (std::string line; std::getline(in, line);) {
    const auto document = json::read(line);
    if (!document.faults.empty()) return Error{"no-demo", "The demo beside the program is damaged."};
    if (document.root.text_or_empty("do") == "sign" && document.root.text_or_empty("step") == last_step) break;
    out.push_back(document.root);
  }
  return out;
}

// From the demo's last day to the day before today.
int days_to_move(const std::vector<Value>& all, const calc::Moment& now) {
  std::string last;
  for (const auto& line : all)
    if (auto at = line.text_or_empty("at"); !at.empty()) last = std::move(at);
  const auto ends = calc::parse_moment(last);
  if (!ends) return 0;
  const auto from = std::chrono::sys_days(calc::local_date(*ends));
  const auto to = std::chrono::sys_days(calc::local_date(now));
  return static_cast<int>((to - from).count()) - 1;
}

void move_dates(Value& value, int days) {
  constexpr std::array<std::string_view, 6> dates = {"at", "calibrated", "due", "since", "expires", "taken_at"};
  if (value.is(json::Kind::array)) {
    for (auto& item : value.items()) move_dates(item, days);
  } else if (value.is(json::Kind::object)) {
    for (auto& member : value.members()) {
      const bool date = std::ranges::find(dates, member.key) != dates.end() || member.key == "date";
      if (date && member.value.is(json::Kind::text))
        member.value = Value::text(days_later(member.value.as_text(), days));
      else
        move_dates(member.value, days);
    }
  }
}

Result<void> play(record::Session& session, std::vector<Value> all, int days, const record::Progress& progress) {
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (!progress.goes_on("putting the demo together", i, all.size())) return record::stopped();
    Value& line = all[i];
    move_dates(line, days);
    const std::string done = line.text_or_empty("do");
    if (done == "open-build") {
      const auto procedure = find_beside(line.text_or_empty("procedure"));
      if (!procedure) return Error{"no-demo", "The demo's procedure is not beside the program."};
      line.set("procedure", Value::text(procedure->string()));
    }
    const Value answer = session.perform(line);
    // What the demo is refused on purpose it is refused here too; a shop that cannot be written is another matter.
    if (answer.text_or_empty("error").starts_with("store-"))
      return Error{"demo-refused", answer.text_or_empty("message")};
  }
  return {};
}

} // namespace

Result<AtWork> at_work_in_demo() {
  const auto all = lines();
  if (!all) return all.error();
  AtWork out;
  for (const auto& line : *all)
    if (line.text_or_empty("do") == "sign-in") out = {line.text_or_empty("person"), line.text_or_empty("passphrase")};
  return out;
}

std::string days_later(const std::string& text, int days) {
  const auto date = calc::parse_date(std::string_view(text).substr(0, date_long));
  if (!date) return text;
  const calc::Date moved(std::chrono::sys_days(*date) + std::chrono::days(days));
  return calc::text(moved) + text.substr(date_long);
}

Result<void> play_demo(const fs::path& shop, const calc::Moment& now, const record::Progress& progress) {
  auto all = lines();
  if (!all) return all.error();
  const fs::path part = shop.string() + ".part";
  const auto remove = [&] {
    std::error_code ignored;
    for (const char* end : {"", "-wal", "-shm", "-journal"}) fs::remove(part.string() + end, ignored);
  };
  remove(); // of a filling that was cut off
  Result<void> played = Error{"demo-refused", ""};
  {
    auto session = record::Session::open(part, {true, {}});
    if (!session) return session.error();
    const int days = days_to_move(*all, now);
    played = play(*session, std::move(*all), days, progress);
  } // closed: all of it is in one file
  std::error_code failed;
  if (played) fs::rename(part, shop, failed);
  if (failed) played = Error{"demo-refused", fmt::format("The practice shop could not be kept: {}.", failed.message())};
  if (!played) remove();
  return played;
}

} // namespace bench
