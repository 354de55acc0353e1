#include "record/example.h"
#include "record/fault_vfs.h"
#include "record/playing.h"
#include "record/verify.h"
#include "json/read.h"
#include "json/write.h"

#include <catch2/catch.hpp>
#include <sqlite3.h>

using example::Folder;
using playing::Shop;

namespace {

const char* const enrol_ben =
    R"({"do":"enrol","person":"ben","name":"Ben Holt","roles":["builder"],"passphrase":"ben's passphrase"})";
const char* const add_mic =
    R"({"do":"add-gauge","gauge":"mic","kind":"micrometer","unit":"mm","resolution":0.001,"u":0.003})";

void open_build(Shop& shop, const std::string& procedure) {
  shop.ok(R"({"do":"open-build","build":"m","procedure":")" + procedure +
          R"(","engine":{"model":"HX4-150","serial":"1","hours":900},"customer":"Marigold"})");
}

std::string short_block() {
  return std::string(PROJECT_FOLDER) + "/procedures/short-block.json";
}

std::string answer(record::Session& session, const std::string& line) {
  const auto given = *json::read_one(session.answer(line));
  return given.at("ok").as_boolean() ? "" : given.at("error").as_text();
}

} // namespace

TEST_CASE("a first enrolment that is refused leaves no file behind") {
  const Folder folder;
  auto session = record::Session::open(folder / "s.shop", {});
  REQUIRE(session);
  CHECK(answer(*session, R"({"do":"status","build":"x"})") == "unknown-build");
  CHECK(answer(*session, R"({"do":"sign-in","person":"a","passphrase":"x"})") == "sign-in-needed");
  CHECK(answer(*session, R"({"do":"set-shop","name":"x"})") == "sign-in-needed");
  CHECK(answer(*session, R"({"do":"enrol","person":"a","name":"A","roles":["owner"],"passphrase":"short"})") ==
        "bad-value");
  CHECK(answer(*session, R"({"do":"enrol","person":"a","name":"A","roles":["builder"],"passphrase":"long enough"})") ==
        "bad-value");
  CHECK(folder.names().empty());
}

TEST_CASE("what is not JSON or no action is answered and the next line is read") {
  const Folder folder;
  Shop shop(folder / "s.shop");
  CHECK(shop.refused("no json") == "not-json");
  CHECK(shop.refused("") == "not-json");
  CHECK(shop.refused("[1]") == "unknown-action");
  CHECK(shop.refused(R"({"do":5})") == "unknown-action");
  CHECK(shop.refused(R"({"do":"polish"})") == "unknown-action");
  CHECK(shop.refused(R"({"do":"weld","build":"x"})") == "unknown-action");
  CHECK(shop.refused(R"({"do":"confirm","build":"x","step":"a","entry":"b"})") == "unknown-build");
  CHECK(shop.message == "There is no build \"x\" in this shop.");
  shop.ok(add_mic);
}

TEST_CASE("an acknowledged action is on the disk before its answer") {
  const Folder folder;
  Shop shop(folder / "s.shop");
  const auto answered = shop.perform(add_mic);
  const auto store = example::opened(folder / "s.shop", record::Store::Mode::read_only);
  CHECK(store.head("shop")->hash == answered.at("event").at("hash").as_text());
  CHECK(store.head("shop")->seq == answered.at("event").at("seq").as_integer());
}

TEST_CASE("a wrong passphrase signs nothing and five of them slow the next down, across restarts") {
  const Folder folder;
  Shop shop(folder / "s.shop");
  const std::string wrong = R"({"do":"sign-in","person":"anna","passphrase":"anna's passphrasf"})";
  const std::string right = R"({"do":"sign-in","person":"anna","passphrase":"anna's passphrase"})";
  for (int i = 0; i < 5; ++i) CHECK(shop.refused(wrong) == "wrong-passphrase");
  CHECK(shop.refused(right) == "wrong-passphrase");
  CHECK(shop.message.find("Too many") != std::string::npos);
  auto again = shop.open();
  CHECK(answer(again, right) == "wrong-passphrase");
  Shop::now.utc_ms += 31'000;
  CHECK(answer(again, right).empty());
  CHECK(answer(again, R"({"do":"sign-in","person":"zed","passphrase":"x"})") == "unknown-person");
}

TEST_CASE("the work period ends after half an idle hour, after four hours and at the lock key") {
  const Folder folder;
  Shop shop(folder / "s.shop");
  Shop::now.utc_ms += 29 * 60'000;
  shop.ok(add_mic);
  Shop::now.utc_ms += 31 * 60'000;
  CHECK(shop.refused(R"({"do":"set-shop","name":"x"})") == "sign-in-needed");
  shop.ok(R"({"do":"sign-in","person":"anna","passphrase":"anna's passphrase"})");
  for (int i = 0; i < 12; ++i) {
    Shop::now.utc_ms += 20 * 60'000;
    shop.ok(R"({"do":"set-shop","one_person":true})");
  }
  Shop::now.utc_ms += 20 * 60'000;
  CHECK(shop.refused(R"({"do":"set-shop","one_person":true})") == "sign-in-needed");
  shop.ok(R"({"do":"sign-in","person":"anna","passphrase":"anna's passphrase"})");
  shop.ok(R"({"do":"sign-out"})");
  CHECK(shop.refused(R"({"do":"set-shop","one_person":true})") == "sign-in-needed");
}

TEST_CASE("two sessions on one file take in each other's events and neither forks the record") {
  const Folder folder;
  Shop shop(folder / "s.shop");
  shop.ok(enrol_ben);
  open_build(shop, short_block());
  auto other = shop.open();
  CHECK(answer(other, R"({"do":"sign-in","person":"ben","passphrase":"ben's passphrase"})").empty());
  CHECK(answer(other, R"({"do":"acknowledge","build":"m","step":"wash-inspect"})").empty());
  shop.ok(R"({"do":"acknowledge","build":"m","step":"wash-inspect"})");
  CHECK(answer(other, R"({"do":"confirm","build":"m","step":"wash-inspect","entry":"galleries"})").empty());
  CHECK(shop.refused(R"({"do":"confirm","build":"m","step":"wash-inspect","entry":"galleries"})") ==
        "already-recorded");
  CHECK((*shop.session.build("m"))->seq == 4);
  const auto report = record::verify_shop(folder / "s.shop", {});
  REQUIRE(report);
  CHECK(report->fault == "");
}

TEST_CASE("a time of one's own is only for practice shops and never runs backwards") {
  const Folder folder;
  Shop shop(folder / "s.shop");
  CHECK(shop.refused(R"({"do":"set-shop","name":"x","at":"2026-05-01T08:00:00+01:00"})") == "bad-value");
  Shop practice(folder / "p.shop", true);
  practice.ok(R"({"do":"sign-in","person":"anna","passphrase":"anna's passphrase","at":"2026-05-01T08:00:00+01:00"})");
  practice.ok(R"({"do":"set-shop","name":"x","at":"2026-05-01T08:00:00+01:00"})");
  CHECK(practice.refused(R"({"do":"set-shop","name":"x","at":"2026-05-01T07:59:59+01:00"})") == "bad-value");
  CHECK(practice.refused(R"({"do":"set-shop","name":"x","at":"yesterday"})") == "bad-value");
  CHECK(record::Session::open(folder / "s.shop", {true, {}}).error().code == "not-practice");
  CHECK(practice.session.shop().practice);
  CHECK_FALSE(shop.session.shop().practice);
}

TEST_CASE("a procedure changed on disk after the build was opened leaves the build with its own copy") {
  const Folder folder;
  Shop shop(folder / "s.shop");
  std::filesystem::copy_file(short_block(), folder / "p.json");
  open_build(shop, (folder / "p.json").string());
  example::write(folder / "p.json", "{}");
  auto later = shop.open();
  CHECK(answer(later, R"({"do":"status","build":"m"})").empty());
  const auto report = record::verify_shop(folder / "s.shop", {});
  CHECK(report->intact);
  CHECK(shop.refused(R"({"do":"open-build","build":"n","procedure":")" + (folder / "p.json").string() +
                     R"(","engine":{"model":"x","serial":"1","hours":1},"customer":"c"})") == "bad-procedure");
  CHECK(
      shop.refused(
          R"({"do":"open-build","build":"n","procedure":"/dev/null","engine":{"model":"x","serial":"1","hours":1},"customer":"c"})") ==
      "unreadable");
}

TEST_CASE("a passphrase is changed, and the old one opens nothing any more") {
  const Folder folder;
  Shop shop(folder / "s.shop");
  CHECK(shop.refused(R"({"do":"change-passphrase","person":"anna","passphrase":"anna's passphrase","new":"short"})") ==
        "bad-value");
  CHECK(shop.refused(R"({"do":"change-passphrase","person":"anna","passphrase":"not hers","new":"long enough"})") ==
        "wrong-passphrase");
  shop.ok(R"({"do":"change-passphrase","person":"anna","passphrase":"anna's passphrase","new":"a fresh passphrase"})");
  CHECK(shop.refused(R"({"do":"sign-in","person":"anna","passphrase":"anna's passphrase"})") == "wrong-passphrase");
  shop.ok(R"({"do":"sign-in","person":"anna","passphrase":"a fresh passphrase"})");
  shop.ok(enrol_ben); // the shop's key went along
  CHECK(record::verify_shop(folder / "s.shop", {})->intact);
  CHECK(example::content(folder / "s.shop").find("a fresh passphrase") == std::string::npos);
  shop.ok(R"({"do":"retire","person":"ben","reason":"left"})");
  CHECK(shop.refused(R"({"do":"sign-in","person":"ben","passphrase":"ben's passphrase"})") == "unknown-person");
}

TEST_CASE("a full, a read-only and a busy disk are said in one sentence and the reading can be given again") {
  const Folder folder;
  FaultVfs disk;
  Shop shop(folder / "s.shop");
  const auto seq = shop.session.shop().events;
  disk.on_call = [](Call call, const std::string&) { return call == Call::write ? SQLITE_FULL : SQLITE_OK; };
  CHECK(shop.refused(add_mic) == "store-failed");
  CHECK(shop.message.find("full") != std::string::npos);
  disk.on_call = [](Call call, const std::string&) { return call == Call::sync ? SQLITE_IOERR_FSYNC : SQLITE_OK; };
  CHECK(shop.refused(add_mic) == "store-failed");
  disk.on_call = nullptr;
  CHECK(shop.session.shop().events == seq);
  {
    example::Raw other(folder / "s.shop");
    CHECK(other.run("BEGIN IMMEDIATE") == "");
    CHECK(shop.refused(add_mic) == "store-busy");
    CHECK(other.run("ROLLBACK") == "");
  }
  shop.ok(add_mic);
  CHECK(shop.session.shop().events == seq + 1);
  CHECK(record::verify_shop(folder / "s.shop", {})->intact);
}

TEST_CASE("a gauge found out lists every entry it measured since it was good") {
  const Folder folder;
  Shop shop(folder / "s.shop", true);
  open_build(shop, short_block());
  shop.ok(
      R"({"do":"add-gauge","gauge":"mic","kind":"micrometer","unit":"mm","resolution":0.001,"u":0.003,"calibrated":"2025-12-01"})");
  shop.ok(R"({"do":"acknowledge","build":"m","step":"wash-inspect"})");
  shop.ok(
      R"({"do":"record","build":"m","step":"mains","entry":"main-journal","gauge":"mic","position":"1","values":[[47.970,47.970],[47.970,47.970]]})");
  const auto found =
      shop.perform(R"({"do":"update-gauge","gauge":"mic","calibrated":"2026-01-06","due":"2027-01-06","found":"out"})");
  CHECK(json::compact(found.at("touched")) == R"([{"build":"m","step":"mains","entry":"main-journal"}])");
  const auto later = shop.perform(
      R"({"do":"update-gauge","gauge":"mic","calibrated":"2026-01-06","due":"2027-01-06","found":"out","since":"2026-02-01"})");
  CHECK(json::compact(later.at("touched")) == "[]");
  CHECK(record::verify_shop(folder / "s.shop", {})->fault == "");
}
