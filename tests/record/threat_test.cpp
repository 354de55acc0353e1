// What somebody cannot do who has the file, or the file and one person's passphrase. The names of these tests stand in
// DEVELOPERS.md.
#include "record/example.h"
#include "record/keyring.h"
#include "record/playing.h"
#include "record/seal.h"
#include "record/verify.h"
#include "json/read.h"
#include "json/write.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

using example::Folder;
using playing::Shop;

namespace {

const char* const enrol_ben =
    R"({"do":"enrol","person":"ben","name":"Ben Holt","roles":["builder"],"passphrase":"ben's passphrase"})";
const char* const ben_in = R"({"do":"sign-in","person":"ben","passphrase":"ben's passphrase"})";
const char* const add_mic =
    R"({"do":"add-gauge","gauge":"mic","kind":"micrometer","unit":"mm","resolution":0.001,"u":0.003})";

void two_people(const Folder& folder) {
  Shop shop(folder / "s.shop");
  shop.ok(enrol_ben);
  shop.ok(add_mic);
}

record::Session reopened(const Folder& folder) {
  return std::move(*record::Session::open(folder / "s.shop", {false, [] { return Shop::now; }}));
}

std::string refused(record::Session& session, const std::string& line) {
  const auto answer = *json::read_one(session.answer(line));
  return answer.at("ok").as_boolean() ? "" : answer.at("error").as_text();
}

record::Report check(const std::vector<build::Event>& events) {
  return record::verify_events(
      events,
      [](std::string_view) -> record::Result<std::optional<std::string>> { return std::optional<std::string>(); }, {});
}

std::vector<build::Event> events_of(const Folder& folder) {
  return *example::opened(folder / "s.shop", record::Store::Mode::read_only).events_in_order();
}

} // namespace

TEST_CASE("no passphrase and no private key stands in the file in plain") {
  const Folder folder;
  two_people(folder);
  const std::string content = example::content(folder / "s.shop");
  for (const char* secret : {"anna's passphrase", "ben's passphrase", "BEGIN PRIVATE KEY", "BEGIN EC PRIVATE KEY"})
    CHECK(content.find(secret) == std::string::npos);
  CHECK(content.find("BEGIN ENCRYPTED PRIVATE KEY") != std::string::npos);
}

TEST_CASE("a locked key copied over another person's does not sign in their name") {
  const Folder folder;
  two_people(folder);
  {
    example::Raw raw(folder / "s.shop");
    REQUIRE(
        raw.run("UPDATE keys SET locked_pem = (SELECT locked_pem FROM keys WHERE owner = 'ben' AND what = 'person') "
                "WHERE owner = 'anna' AND what = 'person'") == "");
  }
  auto session = reopened(folder);
  CHECK(refused(session, R"({"do":"sign-in","person":"anna","passphrase":"ben's passphrase"})") == "key-damaged");
  CHECK(refused(session, ben_in).empty());
}

TEST_CASE("a person's key put in place of the shop's certifies nobody") {
  const Folder folder;
  two_people(folder);
  {
    example::Raw raw(folder / "s.shop");
    REQUIRE(raw.run("UPDATE keys SET locked_pem = (SELECT locked_pem FROM keys WHERE owner = 'anna' AND what = "
                    "'person') WHERE owner = 'anna' AND what = 'shop'") == "");
  }
  auto session = reopened(folder);
  CHECK(refused(session, R"({"do":"sign-in","person":"anna","passphrase":"anna's passphrase"})") == "key-damaged");
}

TEST_CASE("a builder's passphrase makes nobody an owner and enrols nobody") {
  const Folder folder;
  two_people(folder);
  auto session = reopened(folder);
  CHECK(refused(session, ben_in).empty());
  CHECK(refused(session,
                R"({"do":"enrol","person":"eve","name":"Eve","roles":["owner"],"passphrase":"eve's passphrase"})") ==
        "role-needed");
  CHECK(refused(session, R"({"do":"set-shop","one_person":true})") == "role-needed");
  // Nor with the roles in the record changed and all hashes made right again: the owner has signed the enrolment.
  auto events = events_of(folder);
  for (auto& event : events)
    if (event.kind == "enrol" && event.seq > 1)
      event.body.find("asked")->set("roles", json::Value::array({json::Value::text("owner")}));
  example::rehash(events);
  CHECK(check(events).fault.find("signature of Anna Reed does not fit") != std::string::npos);
}

TEST_CASE("what somebody else has signed is not changed with one's own passphrase") {
  const Folder folder;
  two_people(folder);
  auto events = events_of(folder);
  REQUIRE(events[0].person == "anna");
  auto store = example::opened(folder / "s.shop");
  const auto ben = record::unlock(store, reopened(folder).shop(), "ben", "ben's passphrase", Shop::now);
  REQUIRE(ben);
  auto forged =
      record::sealed(events[2], {events[1].seq, events[1].hash}, &ben->key).event(); // anna's event, ben's key
  events[2] = forged;
  CHECK(check(events).fault.find("signature of Anna Reed does not fit") != std::string::npos);
}

TEST_CASE("a decision of one's own is not passed off as one of older rules") {
  const Folder folder;
  two_people(folder);
  auto events = events_of(folder);
  auto& last = events.back();
  last.body.set("u", json::Value::text("0.0001"));
  last.rules = build::rules_now - 1;
  last.hash = record::hash_of(last);
  CHECK(check(events).fault.find("when rules") != std::string::npos);
}

TEST_CASE("an older program does not write on in a record of newer rules") {
  const Folder folder;
  two_people(folder);
  {
    auto store = example::opened(folder / "s.shop");
    auto event = events_of(folder).back();
    event.rules = build::rules_now + 1;
    const auto head = *store.head("shop");
    REQUIRE(store.transaction([&] { return store.append(record::sealed(event, head, nullptr)); }));
  }
  auto session = reopened(folder);
  CHECK(refused(session, R"({"do":"sign-in","person":"anna","passphrase":"anna's passphrase"})").empty());
  CHECK(refused(session, R"({"do":"set-shop","name":"x"})") == "store-newer");
}

TEST_CASE("a clock set back is told") {
  const Folder folder;
  two_people(folder);
  {
    Shop::now.utc_ms -= 86'400'000;
    auto session = reopened(folder);
    CHECK(refused(session, R"({"do":"sign-in","person":"anna","passphrase":"anna's passphrase"})").empty());
    CHECK(refused(session, R"({"do":"set-shop","name":"x"})").empty());
  }
  const auto report = check(events_of(folder));
  CHECK(report.intact);
  REQUIRE_FALSE(report.notes.empty());
  CHECK(report.notes.front().find("clock was set back") != std::string::npos);
}
