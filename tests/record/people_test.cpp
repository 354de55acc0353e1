#include "record/example.h"
#include "record/keys.h"
#include "record/playing.h"
#include "record/verify.h"
#include "json/read.h"

#include <catch2/catch.hpp>

using example::Folder;
using playing::Shop;

namespace {

const char* const enrol_ben =
    R"({"do":"enrol","person":"ben","name":"Ben Holt","roles":["builder"],"passphrase":"ben's passphrase"})";
const char* const ben_in = R"({"do":"sign-in","person":"ben","passphrase":"ben's passphrase"})";
const char* const anna_in = R"({"do":"sign-in","person":"anna","passphrase":"anna's passphrase"})";
const char* const new_key =
    R"({"do":"new-key","person":"ben","passphrase":"another passphrase","reason":"forgot his passphrase on holiday"})";
const char* const add_mic =
    R"({"do":"add-gauge","gauge":"mic","kind":"micrometer","unit":"mm","resolution":0.001,"u":0.003})";

std::vector<build::Event> shop_events(const Folder& folder) {
  return *example::opened(folder / "s.shop", record::Store::Mode::read_only).events_since("shop", 0);
}

std::string answer(record::Session& session, const std::string& line) {
  const auto given = *json::read_one(session.answer(line));
  return given.at("ok").as_boolean() ? "" : given.at("error").as_text();
}

} // namespace

TEST_CASE("each person enrolled signs, with their own key and right away, what their signature stands for") {
  const Folder folder;
  Shop shop(folder / "s.shop");
  shop.ok(enrol_ben);
  const auto events = shop_events(folder);
  REQUIRE(events.size() == 4);
  for (const std::size_t i : {std::size_t{0}, std::size_t{2}}) {
    CHECK(events[i].kind == "enrol");
    CHECK(events[i].person == "anna");
    CHECK(events[i + 1].kind == "statement");
    CHECK(events[i + 1].person == (i == 0 ? "anna" : "ben"));
    CHECK(events[i + 1].certificate == events[i].body.at("fingerprint").as_text());
    CHECK_FALSE(events[i + 1].signature.empty());
    CHECK(events[i + 1].body.at("text").as_text().find("binds me") != std::string::npos);
  }
  CHECK(shop.refused(R"({"do":"statement","person":"ben"})") == "sign-in-needed"); // anna is signed in
  CHECK(shop.refused(R"({"do":"statement","person":"anna"})") == "already-recorded");
  CHECK(record::verify_shop(folder / "s.shop", {})->fault == "");
}

TEST_CASE("an enrolment whose statement is missing is found") {
  const Folder folder;
  {
    Shop shop(folder / "s.shop");
    shop.ok(enrol_ben);
  }
  auto events = *example::opened(folder / "s.shop", record::Store::Mode::read_only).events_in_order();
  const record::BlobSource none = [](std::string_view) { return std::optional<std::string>(); };
  CHECK(record::verify_events(events, none, {}).fault == "");
  events.pop_back();
  CHECK(record::verify_events(events, none, {}).fault.find("statement of ben") != std::string::npos);
}

TEST_CASE("a passphrase forgotten: an owner gives another key with a reason, and what the old key signed stays valid") {
  const Folder folder;
  Shop shop(folder / "s.shop");
  shop.ok(enrol_ben);
  const std::string old_certificate = shop.session.shop().person("ben")->certificate;
  shop.ok(ben_in);
  CHECK(shop.refused(new_key) == "role-needed"); // not one's own back door
  shop.ok(anna_in);
  CHECK(shop.refused(R"({"do":"new-key","person":"ben","passphrase":"another passphrase"})") == "bad-value");
  CHECK(shop.refused(R"({"do":"new-key","person":"anna","passphrase":"another passphrase","reason":"x"})") ==
        "bad-value");
  CHECK(shop.refused(R"({"do":"new-key","person":"zed","passphrase":"another passphrase","reason":"x"})") ==
        "unknown-person");
  for (int i = 0; i < 5; ++i)
    CHECK(shop.refused(R"({"do":"sign-in","person":"ben","passphrase":"was it this?"})") == "wrong-passphrase");
  shop.ok(new_key);
  CHECK(shop.session.shop().person("ben")->certificate != old_certificate);
  shop.ok(
      R"({"do":"sign-in","person":"ben","passphrase":"another passphrase"})"); // the wrong tries were of the old key
  shop.ok(add_mic);
  CHECK(shop.refused(ben_in) == "wrong-passphrase");
  const auto report = record::verify_shop(folder / "s.shop", {});
  CHECK(report->fault == "");
  const auto events = shop_events(folder);
  CHECK(events[3].certificate == old_certificate); // his first statement
  const auto& given = events[4];
  CHECK(given.kind == "new-key");
  CHECK(given.person == "anna");
  CHECK(given.body.at("before").as_text() == old_certificate);
  CHECK(given.body.at("asked").at("reason").as_text() == "forgot his passphrase on holiday");
  CHECK(given.body.at("asked").find("passphrase") == nullptr);
  CHECK(events[5].kind == "statement");
}

TEST_CASE("an owner's new key opens the shop's key too") {
  const Folder folder;
  Shop shop(folder / "s.shop");
  shop.ok(R"({"do":"enrol","person":"olga","name":"Olga Marsh","roles":["owner"],"passphrase":"olga's passphrase"})");
  shop.ok(R"({"do":"new-key","person":"olga","passphrase":"another passphrase","reason":"forgotten"})");
  shop.ok(R"({"do":"sign-in","person":"olga","passphrase":"another passphrase"})");
  shop.ok(enrol_ben);
  CHECK(record::verify_shop(folder / "s.shop", {})->fault == "");
}

TEST_CASE("the old key signs nothing more: somebody signed in elsewhere is out when retired or given a new key") {
  const Folder folder;
  Shop shop(folder / "s.shop");
  shop.ok(enrol_ben);
  auto elsewhere = shop.open();
  CHECK(answer(elsewhere, ben_in).empty());
  CHECK(answer(elsewhere, add_mic).empty());
  shop.ok(new_key);
  CHECK(answer(elsewhere, R"({"do":"add-gauge","gauge":"m2","kind":"micrometer","unit":"mm","resolution":0.001})") ==
        "sign-in-needed");
  CHECK(answer(elsewhere, R"({"do":"sign-in","person":"ben","passphrase":"another passphrase"})").empty());
  shop.ok(R"({"do":"retire","person":"ben","reason":"left"})");
  CHECK(answer(elsewhere, R"({"do":"add-gauge","gauge":"m2","kind":"micrometer","unit":"mm","resolution":0.001})") ==
        "sign-in-needed");
  CHECK(record::verify_shop(folder / "s.shop", {})->fault == "");
}

TEST_CASE("an event under a key that was replaced is found") {
  const Folder folder;
  {
    Shop shop(folder / "s.shop");
    shop.ok(enrol_ben);
    shop.ok(ben_in);
    shop.ok(add_mic);
    shop.ok(anna_in);
    shop.ok(new_key);
    shop.ok(R"({"do":"sign-in","person":"ben","passphrase":"another passphrase"})");
    shop.ok(R"({"do":"add-gauge","gauge":"m2","kind":"micrometer","unit":"mm","resolution":0.001})");
  }
  auto events = *example::opened(folder / "s.shop", record::Store::Mode::read_only).events_in_order();
  const record::BlobSource none = [](std::string_view) { return std::optional<std::string>(); };
  REQUIRE(record::verify_events(events, none, {}).fault == "");
  for (const auto& event : events)
    if (event.kind == "add-gauge" && event.person == "ben") {
      events.back().certificate = event.certificate;
      break;
    }
  events.back().hash.clear();
  CHECK(record::verify_events(events, none, {}).fault.find("certificate") != std::string::npos);
}

TEST_CASE("a visitor is added on the spot by an owner's passphrase while the builder stays signed in") {
  const Folder folder;
  Shop shop(folder / "s.shop");
  shop.ok(enrol_ben);
  shop.ok(ben_in);
  const std::string visitor =
      R"({"do":"enrol","person":"vera","name":"Vera Lock","roles":["visitor"],"passphrase":"vera's passphrase")";
  CHECK(shop.refused(visitor + "}") == "role-needed");
  CHECK(shop.refused(visitor + R"(,"owner":"anna"})") == "bad-value");
  CHECK(shop.refused(visitor + R"(,"owner":"anna","owner_passphrase":"not hers"})") == "wrong-passphrase");
  CHECK(shop.refused(visitor + R"(,"owner":"ben","owner_passphrase":"ben's passphrase"})") == "role-needed");
  shop.ok(visitor + R"(,"owner":"anna","owner_passphrase":"anna's passphrase"})");
  CHECK(shop.session.signed_in()->person == "ben");
  CHECK(shop_events(folder)[4].person == "anna");
  CHECK(example::content(folder / "s.shop").find("anna's passphrase") == std::string::npos);
  CHECK(record::verify_shop(folder / "s.shop", {})->fault == "");
}
