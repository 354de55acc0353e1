// Bytes and rows of a shop file changed one after the other, each found. The counts are printed.
#include "record/digest.h"
#include "record/example.h"
#include "record/playing.h"
#include "record/seal.h"
#include "record/verify.h"
#include "json/read.h"
#include "json/write.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <iostream>
#include <random>

using build::Event;
using example::Folder;
using example::rehash;

namespace {

std::vector<Event> events_of(const char* demo) {
  const Folder folder;
  playing::copy_demo_shop(folder / "d.shop", demo);
  return *example::opened(folder / "d.shop", record::Store::Mode::read_only).events_in_order();
}

const std::vector<Event>& demo() {
  static const std::vector<Event> events = events_of(playing::short_block);
  return events;
}

record::Report check(const std::vector<Event>& events, const record::Known& known = {}) {
  static const auto blobs = [] {
    const Folder folder;
    playing::copy_demo_shop(folder / "d.shop");
    const auto store = example::opened(folder / "d.shop", record::Store::Mode::read_only);
    std::map<std::string, std::string> out;
    for (const auto& event : demo())
      if (event.kind == "open-build" && event.chain != build::shop_chain) {
        const std::string sha256 = event.body.at("procedure").at("sha256").as_text();
        out[sha256] = **store.blob(sha256);
      }
    return out;
  }();
  const auto source = [](std::string_view sha256) -> record::Result<std::optional<std::string>> {
    const auto it = blobs.find(std::string(sha256));
    if (it == blobs.end()) return std::optional<std::string>();
    return std::optional<std::string>(it->second);
  };
  return record::verify_events(events, source, known);
}

char another(char old, std::mt19937& chance) {
  const char now = static_cast<char>('!' + chance() % 94);
  return now == old ? (old == 'x' ? 'y' : 'x') : now;
}

// One byte of the stored text of an event changed behind the program's back: whether the verifier says so.
class Changed {
public:
  Changed() : path_(folder_ / "d.shop") { playing::copy_demo_shop(path_); }

  bool is_found(std::size_t row, std::size_t byte, std::mt19937& chance) {
    const std::string whole = json::canonical(build::to_json(demo()[row]));
    std::string text = whole;
    text[byte] = another(text[byte], chance);
    write(row, text);
    const auto report = record::verify_shop(path_, {});
    write(row, whole);
    return !report || !report->intact;
  }

  bool is_intact() const { return record::verify_shop(path_, {})->intact; }

private:
  void write(std::size_t row, const std::string& text) {
    std::string quoted;
    for (const char c : text) quoted += c == '\'' ? std::string("''") : std::string(1, c);
    example::Raw raw(path_);
    raw.forge("events", fmt::format("UPDATE events SET event = '{}' WHERE id = {}", quoted, row + 1));
  }

  Folder folder_;
  std::filesystem::path path_;
};

// The first event of each kind.
std::vector<std::size_t> one_per_kind() {
  std::vector<std::size_t> out;
  std::set<std::string> seen;
  for (std::size_t e = 0; e < demo().size(); ++e)
    if (seen.insert(demo()[e].kind).second) out.push_back(e);
  return out;
}

void every_byte(std::size_t stride) {
  std::mt19937 chance(23);
  Changed file;
  std::size_t found = 0, made = 0;
  for (const std::size_t row : one_per_kind()) {
    const std::size_t size = json::canonical(build::to_json(demo()[row])).size();
    for (std::size_t byte = chance() % stride; byte < size; byte += stride, ++made)
      found += file.is_found(row, byte, chance);
  }
  CHECK(found == made);
  CHECK(file.is_intact());
  std::cout << fmt::format("tamper: of one event of each of {} kinds every {}th byte: {} of {} changes found\n",
                           one_per_kind().size(), stride, found, made);
}

using Damage = std::function<void(std::vector<Event>&, std::size_t)>;

// The damage at every row but the last two, which are the release and its note, as it stands and with all hashes made
// right again.
void at_every_row(const char* name, const Damage& damage) {
  std::size_t found = 0, made = 0;
  for (std::size_t row = 0; row + 2 < demo().size(); row += 3)
    for (const bool right_again : {false, true}) {
      auto events = demo();
      damage(events, row);
      if (right_again) rehash(events);
      ++made;
      const bool seen = !check(events).intact;
      INFO(name << " at row " << row + 1 << (right_again ? ", hashed again" : ""));
      CHECK(seen);
      found += seen;
    }
  std::cout << fmt::format("tamper: rows {}: {} of {} found\n", name, found, made);
}

} // namespace

TEST_CASE("a byte changed in each event is found") {
  std::mt19937 chance(17);
  Changed file;
  std::size_t found = 0;
  for (std::size_t row = 0; row < demo().size(); ++row) {
    const std::size_t size = json::canonical(build::to_json(demo()[row])).size();
    const std::size_t byte = chance() % size;
    INFO("event " << row + 1 << " (" << demo()[row].kind << "), byte " << byte);
    const bool seen = file.is_found(row, byte, chance);
    CHECK(seen);
    found += seen;
  }
  CHECK(file.is_intact());
  std::cout << fmt::format("tamper: one byte of every event: {} of {} changes found\n", found, demo().size());
}

TEST_CASE("bytes all along one event of each kind are found") {
  every_byte(64);
}

TEST_CASE("every byte of one event of each kind is found", "[.long]") {
  every_byte(1);
}

TEST_CASE("a row dropped anywhere is found") {
  at_every_row("dropped",
               [](auto& events, std::size_t row) { events.erase(events.begin() + static_cast<std::ptrdiff_t>(row)); });
}

TEST_CASE("two rows swapped anywhere are found") {
  at_every_row("swapped", [](auto& events, std::size_t row) { std::swap(events[row], events[row + 1]); });
}

TEST_CASE("a row repeated anywhere is found") {
  at_every_row("repeated", [](auto& events, std::size_t row) {
    const Event once_more = events[row];
    events.insert(events.begin() + static_cast<std::ptrdiff_t>(row), once_more);
  });
}

TEST_CASE("an event of another shop's build put in is found") {
  const auto other = events_of(playing::marigold);
  std::vector<Event> of_builds;
  for (const auto& event : other)
    if (event.chain != build::shop_chain) of_builds.push_back(event);
  REQUIRE(of_builds.size() > 100);
  const std::string chain = demo().back().body.find("build") ? "build:" + demo().back().body.at("build").as_text() : "";
  at_every_row("put in from another build", [&](auto& events, std::size_t row) {
    Event foreign = of_builds[row % of_builds.size()];
    if (row % 2) foreign.chain = chain;
    events.insert(events.begin() + static_cast<std::ptrdiff_t>(row + 1), foreign);
  });
}

TEST_CASE("the end cut off at any length is found by a head noted before") {
  record::Known known;
  known.hashes = {demo().back().hash};
  std::size_t found = 0, made = 0;
  for (std::size_t length = 1; length < demo().size(); length += 7, ++made) {
    const std::vector<Event> cut(demo().begin(), demo().begin() + static_cast<std::ptrdiff_t>(length));
    found += !check(cut, known).intact;
  }
  CHECK(found == made);
  std::cout << fmt::format("tamper: the end cut off: {} of {} found\n", found, made);
}

TEST_CASE("two people's certificates exchanged are found") {
  auto events = demo();
  std::vector<Event*> enrolled;
  for (auto& event : events)
    if (event.kind == "enrol") enrolled.push_back(&event);
  REQUIRE(enrolled.size() >= 2);
  for (const char* key : {"certificate", "fingerprint"}) {
    const json::Value first = enrolled[0]->body.at(key);
    enrolled[0]->body.set(key, enrolled[1]->body.at(key));
    enrolled[1]->body.set(key, first);
  }
  rehash(events);
  CHECK_FALSE(check(events).intact);
}
