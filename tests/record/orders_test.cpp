// Parts sent to the machine shop, through the store: kept over a restart, compared without an event, decided again by
// verify.
#include "record/example.h"
#include "record/playing.h"
#include "record/verify.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

namespace {

playing::Shop with_build(const example::Folder& folder) {
  playing::Shop shop(folder / "s.shop", true);
  REQUIRE(shop.ok(fmt::format(
      R"({{"do":"open-build","build":"b","procedure":"{}/procedures/short-block.json","engine":{{"model":"HX4-150","serial":"1","hours":"unknown"}},"customer":"Marigold"}})",
      PROJECT_FOLDER)));
  return shop;
}

} // namespace

TEST_CASE("an order is still away when the shop file is opened again, and verifies once it is back") {
  const example::Folder folder;
  auto shop = with_build(folder);
  REQUIRE(shop.ok(R"({"do":"send","build":"b","to":"Brook Lane","lines":[{"part":"crankshaft","text":"Ground"}]})"));
  shop.session = shop.open();
  REQUIRE(shop.ok(R"({"do":"sign-in","person":"anna","passphrase":"anna's passphrase"})"));
  CHECK(shop.refused(R"({"do":"send","build":"b","to":"Mill End","lines":[{"part":"crankshaft","text":"Ground"}]})") ==
        "part-away");
  REQUIRE(shop.ok(R"({"do":"back","build":"b","order":"m1"})"));
  const auto report = record::verify_shop(folder / "s.shop", {});
  REQUIRE(report);
  CHECK(report->fault == "");
}

TEST_CASE("the choices of an option are compared without an event") {
  const example::Folder folder;
  auto shop = with_build(folder);
  const auto events = shop.session.events("b", 0);
  REQUIRE(events);
  CHECK(shop.refused(R"({"do":"compare","build":"b","option":"paint"})") == "bad-value");
  CHECK(shop.refused(R"({"do":"compare","build":"x","option":"main-undersize"})") == "unknown-build");
  REQUIRE(shop.ok(R"({"do":"compare","build":"b","option":"main-undersize"})"));
  CHECK(shop.session.events("b", 0)->size() == events->size());
}
