// Findings in a shop file: who concedes proves themselves in the action, and verify decides each again.
#include "record/example.h"
#include "record/playing.h"
#include "record/verify.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

TEST_CASE("findings noted, cleared and conceded verify; a concession carries the owner's own signature") {
  const example::Folder folder;
  playing::Shop shop(folder / "s.shop", true);
  REQUIRE(shop.ok(fmt::format(
      R"({{"do":"open-build","build":"b","procedure":"{}/procedures/short-block.json","engine":{{"model":"HX4-150","serial":"1","hours":"unknown"}},"customer":"Marigold"}})",
      PROJECT_FOLDER)));
  REQUIRE(shop.ok(
      R"({"do":"enrol","person":"ben","name":"Ben Holt","roles":["builder"],"passphrase":"ben's passphrase"})"));
  REQUIRE(shop.ok(R"({"do":"sign-in","person":"ben","passphrase":"ben's passphrase"})"));
  REQUIRE(shop.ok(R"({"do":"finding","build":"b","part":"crankshaft","text":"Thrust face marked"})"));
  REQUIRE(shop.ok(R"({"do":"finding","build":"b","part":"block","text":"Paint off","severity":"slight"})"));
  const std::string line =
      R"({"do":"clear","build":"b","finding":"f1","disposition":"concession","text":"Clear of the washer","person":"anna")";
  CHECK(shop.refused(line + "}") == "bad-value");
  CHECK(shop.refused(line + R"(,"passphrase":"not anna's"})") == "wrong-passphrase");
  REQUIRE(shop.ok(line + R"(,"passphrase":"anna's passphrase"})"));
  CHECK(shop.refused(R"({"do":"clear","build":"b","finding":"f3","cause":"x"})") == "bad-value");
  const auto events = shop.session.events("b", 0);
  REQUIRE(events);
  CHECK(events->back().person == "anna");
  CHECK(events->back().meaning == "conceded");
  CHECK_FALSE(events->back().signature.empty());
  CHECK(events->back().body.text_or_empty("asked_by") == "ben");
  const auto report = record::verify_shop(folder / "s.shop", {});
  REQUIRE(report);
  CHECK(report->fault == "");
}

TEST_CASE("a seal used up, a new one named, and sealant past its day with the reason verify") {
  const example::Folder folder;
  playing::Shop shop(folder / "s.shop", true);
  example::write(folder / "p.json",
                 R"({"format":1,"id":"t","title":"T","revision":"1","engine":{"model":"HX4-150"},
    "parts":[{"id":"seal","title":"Seal","once":true},{"id":"sealant","title":"Sealant","dated":true}],
    "sections":[{"id":"a","title":"A","steps":[{"id":"on","title":"On","fits":["seal","sealant"],"entries":[
      {"id":"in","kind":"confirm","title":"In"}]}]}]})");
  REQUIRE(shop.ok(fmt::format(
      R"({{"do":"open-build","build":"b","procedure":"{}","engine":{{"model":"HX4-150","serial":"1","hours":"unknown"}},"customer":"Marigold"}})",
      (folder / "p.json").string())));
  const std::string confirm = R"({"do":"confirm","build":"b","step":"on","entry":"in"})";
  const std::string sign = R"({"do":"sign","build":"b","step":"on"})";
  REQUIRE(shop.ok(confirm));
  CHECK(shop.refused(sign) == "blocked");
  REQUIRE(shop.ok(
      R"({"do":"part","build":"b","part":"sealant","state":"new","lot":"L","expires":"2000-01-01","text":"Trial strip skinned"})"));
  REQUIRE(shop.ok(sign));
  REQUIRE(shop.ok(R"({"do":"reopen","build":"b","step":"on","reason":"weeps"})"));
  REQUIRE(shop.ok(confirm));
  CHECK(shop.refused(sign) == "blocked");
  REQUIRE(shop.ok(R"({"do":"part","build":"b","part":"seal","state":"new"})"));
  REQUIRE(shop.ok(sign));
  const auto report = record::verify_shop(folder / "s.shop", {});
  REQUIRE(report);
  CHECK(report->fault == "");
}
