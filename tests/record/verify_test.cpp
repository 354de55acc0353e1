// What a forger may do to a shop file, each found and named.
#include "record/digest.h"
#include "record/example.h"
#include "record/playing.h"
#include "record/seal.h"
#include "record/verify.h"
#include "json/read.h"
#include "json/write.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <functional>
#include <random>

using build::Event;
using example::Folder;
using example::rehash;

namespace {

struct Record {
  std::vector<Event> events;
  std::map<std::string, std::string> blobs;
};

// The demo shop's events, read once.
const Record& demo() {
  static const Record record = [] {
    const Folder folder;
    playing::copy_demo_shop(folder / "d.shop");
    const auto store = example::opened(folder / "d.shop", record::Store::Mode::read_only);
    Record out;
    out.events = *store.events_in_order();
    for (const auto& event : out.events)
      if (event.kind == "open-build" && event.chain != build::shop_chain) {
        const std::string sha256 = event.body.at("procedure").at("sha256").as_text();
        out.blobs[sha256] = **store.blob(sha256);
      }
    return out;
  }();
  return record;
}

record::Report check(const std::vector<Event>& events, const record::Known& known = {}) {
  const auto blobs = [](std::string_view sha256) -> record::Result<std::optional<std::string>> {
    const auto it = demo().blobs.find(std::string(sha256));
    if (it == demo().blobs.end()) return std::optional<std::string>();
    return std::optional<std::string>(it->second);
  };
  return record::verify_events(events, blobs, known);
}

std::size_t place_of(const std::vector<Event>& events, const std::function<bool(const Event&)>& is) {
  const auto it = std::find_if(events.begin(), events.end(), is);
  REQUIRE(it != events.end());
  return static_cast<std::size_t>(it - events.begin());
}

} // namespace

TEST_CASE("the record as it was written is intact") {
  const auto report = check(demo().events);
  CHECK(report.fault == "");
  CHECK(report.intact);
  CHECK(report.events == static_cast<std::int64_t>(demo().events.size()));
  CHECK(report.signatures > 20);
}

TEST_CASE("200 random edits of the shop file are all found") {
  const Folder folder;
  const auto path = folder / "d.shop";
  std::mt19937 chance(7);
  int found = 0;
  for (int edit = 0; edit < 200; ++edit) {
    playing::copy_demo_shop(path);
    const auto& events = demo().events;
    const std::size_t row = chance() % events.size();
    std::string text = json::canonical(build::to_json(events[row]));
    const std::size_t at = chance() % text.size();
    const char old = text[at];
    text[at] = static_cast<char>('0' + chance() % 75);
    if (text[at] == old) text[at] = old == 'x' ? 'y' : 'x';
    std::string quoted;
    for (const char c : text) quoted += c == '\'' ? std::string("''") : std::string(1, c);
    {
      example::Raw raw(path);
      raw.forge("events", fmt::format("UPDATE events SET event = '{}' WHERE id = {}", quoted, row + 1));
    }
    const auto report = record::verify_shop(path, {});
    INFO("edit " << edit << " of row " << row + 1 << " at " << at << ": " << old << " to " << text[at]);
    const bool seen = !report || !report->intact;
    CHECK(seen);
    if (report) CHECK_FALSE(report->fault.empty());
    found += seen;
  }
  CHECK(found == 200);
}

TEST_CASE("a value changed with every hash made right again is betrayed by the next signature") {
  std::mt19937 chance(11);
  const std::vector<std::size_t> recorded = [] {
    std::vector<std::size_t> out;
    for (std::size_t e = 0; e < demo().events.size(); ++e)
      if (demo().events[e].kind == "record" || demo().events[e].kind == "tighten") out.push_back(e);
    return out;
  }();
  for (int edit = 0; edit < 12; ++edit) {
    auto events = demo().events;
    Event& event = events[recorded[chance() % recorded.size()]];
    event.body.set("verdict", json::Value::text("within, quite"));
    rehash(events);
    const auto report = check(events);
    CHECK_FALSE(report.intact);
  }
}

TEST_CASE("events dropped, swapped, repeated or put into another chain are found") {
  auto dropped = demo().events;
  dropped.erase(dropped.begin() + 40);
  CHECK_FALSE(check(dropped).intact);
  rehash(dropped);
  CHECK_FALSE(check(dropped).intact);
  auto swapped = demo().events;
  std::swap(swapped[40], swapped[41]);
  CHECK_FALSE(check(swapped).intact);
  rehash(swapped);
  CHECK_FALSE(check(swapped).intact);
  auto repeated = demo().events;
  repeated.insert(repeated.begin() + 41, repeated[40]);
  CHECK_FALSE(check(repeated).intact);
  auto moved = demo().events;
  moved[60].chain = "build:other";
  rehash(moved);
  CHECK_FALSE(check(moved).intact);
}

TEST_CASE("a signature cut off with its note is found by a head printed before") {
  auto events = demo().events;
  const std::string head = events.back().hash;
  events.pop_back();
  CHECK(check(events).intact); // said openly: an older copy put back is itself intact
  record::Known known;
  known.hashes = {head};
  const auto report = check(events, known);
  CHECK_FALSE(report.intact);
  CHECK(report.fault.find(head) != std::string::npos);
  CHECK(check(demo().events, known).intact);
}

TEST_CASE("a signature without the shop's note of it, and a note without its signature") {
  auto events = demo().events;
  const auto note = place_of(events, [](const Event& e) { return e.kind == "anchor"; });
  events.erase(events.begin() + static_cast<std::ptrdiff_t>(note));
  rehash(events);
  CHECK(check(events).fault.find("note of this signature is missing") != std::string::npos);
}

TEST_CASE("a signature moved to another event does not fit there") {
  auto events = demo().events;
  const auto first = place_of(events, [](const Event& e) { return e.kind == "sign"; });
  const auto second =
      place_of(events, [&](const Event& e) { return e.kind == "sign" && e.hash != demo().events[first].hash; });
  events[second].signature = events[first].signature;
  rehash(events);
  CHECK(check(events).fault.find("signature of") != std::string::npos);
}

TEST_CASE("a shop with other keys shows another shop key") {
  record::Known known;
  known.shop_key = std::string(64, 'a');
  CHECK(check(demo().events, known).fault.find("another shop key") != std::string::npos);
  known.shop_key = check(demo().events).shop_key;
  CHECK(check(demo().events, known).intact);
}

TEST_CASE("the procedure of a build replaced or gone is found") {
  Record changed = demo();
  for (auto& [sha256, bytes] : changed.blobs) bytes += " ";
  const auto blobs = [&](std::string_view sha256) -> record::Result<std::optional<std::string>> {
    return std::optional<std::string>(changed.blobs.at(std::string(sha256)));
  };
  CHECK(record::verify_events(changed.events, blobs, {}).fault.find("procedure") != std::string::npos);
  const auto none = [](std::string_view) -> record::Result<std::optional<std::string>> {
    return std::optional<std::string>();
  };
  CHECK_FALSE(record::verify_events(changed.events, none, {}).intact);
}

TEST_CASE("an unsigned tail rewritten by someone who decides as the gate does is not findable, and only that") {
  // Two readings after the last signature, rewritten and re-hashed: the verifier says intact. A printed head finds it.
  const Folder folder;
  playing::Shop shop(folder / "s.shop");
  shop.ok(R"({"do":"add-gauge","gauge":"mic","kind":"micrometer","unit":"mm","resolution":0.001,"u":0.003})");
  const std::string head =
      shop.perform(R"({"do":"add-gauge","gauge":"cal","kind":"caliper","unit":"mm","resolution":0.02})")
          .at("event")
          .at("hash")
          .as_text();
  auto events = *example::opened(folder / "s.shop", record::Store::Mode::read_only).events_in_order();
  events.back().body.at("asked"); // the caliper's division made finer
  auto* asked = events.back().body.find("asked");
  asked->set("resolution", json::Value::text("0.01"));
  rehash(events);
  CHECK(check(events).intact);
  record::Known known;
  known.hashes = {head};
  CHECK_FALSE(check(events, known).intact);
}

TEST_CASE("an older set of rules that decided otherwise is a note, the same rules a fault") {
  const Folder folder;
  std::filesystem::copy_file(std::string(PROJECT_FOLDER) + "/tests/record/kept/format-1.shop", folder / "k.shop");
  const auto store = example::opened(folder / "k.shop");
  auto events = *store.events_in_order();
  const auto blobs = [&](std::string_view sha256) { return store.blob(sha256); };
  const auto notes = record::verify_events(events, blobs, {}).notes.size();
  Event event = events[place_of(events, [](const Event& e) { return e.kind == "add-gauge"; })];
  event.time = events.back().time;
  event.body.find("asked")->set("gauge", json::Value::text("another"));
  event.body.set("extra", json::Value::text("decided so then"));
  for (const int rules : {events.back().rules, build::rules_now}) {
    event.rules = rules;
    auto more = events;
    more.push_back(record::sealed(event, *store.head("shop"), nullptr).event());
    const auto report = record::verify_events(more, blobs, {});
    const bool old = rules < build::rules_now;
    INFO(report.fault);
    CHECK(report.intact == old);
    if (!old) continue;
    REQUIRE(report.notes.size() == notes + 1);
    CHECK(report.notes.back().find("older rules") != std::string::npos);
  }
}

TEST_CASE("no shop file is said to be none") {
  const Folder folder;
  example::write(folder / "x", "hello");
  CHECK(record::verify_shop(folder / "x", {}).error().code == "store-foreign");
  CHECK(record::verify_shop(folder / "nothing", {}).error().code == "store-absent");
}
