#include "build/bench.h"

#include <catch2/catch.hpp>

using Codes = std::vector<std::string>;

TEST_CASE("rework opens the entry for a new pass and the old readings stay in the record") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.08})");
  bench.ok(R"({"do":"dispose","step":"cover","entry":"flat","disposition":"rework","text":"lapped on the plate"})");
  CHECK(bench.entry("cover", "flat").pass == 2);
  CHECK_FALSE(bench.entry("cover", "flat").cells[0].filled());
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.02})");
  CHECK(bench.events.back().body.at("pass").as_integer() == 2);
  CHECK(bench.events[4].body.at("cells").items().front().at("value").as_text() == "0.08");
}

TEST_CASE("rework measures every size anew where the trouble is, and leaves the other positions") {
  Bench bench;
  bench.clean();
  bench.ok(
      R"({"do":"record","step":"mains","entry":"journal","gauge":"mic","values":[[47.970,47.970],[47.900,47.970],[47.910,47.970]]})");
  bench.ok(
      R"({"do":"dispose","step":"mains","entry":"journal","positions":["2"],"disposition":"rework","text":"reground"})");
  const auto& cells = bench.entry("mains", "journal").cells;
  CHECK(cells[0].filled());
  CHECK_FALSE(cells[2].filled());
  CHECK_FALSE(cells[3].filled());
  CHECK(cells[4].filled());
}

TEST_CASE("a calculated value outside opens the readings it comes from") {
  Bench bench;
  bench.clean();
  bench.ok(
      R"({"do":"record","step":"mains","entry":"bore","gauge":"mic","values":[[48.010,48.012],[48.111,48.112],[48.012,48.013]]})");
  bench.ok(
      R"({"do":"record","step":"mains","entry":"journal","gauge":"mic","values":[[47.970,47.972],[47.971,47.971],[47.972,47.973]]})");
  CHECK(bench.blocking("mains") == Codes{"reading-outside"});
  bench.ok(R"({"do":"dispose","step":"mains","entry":"oil","disposition":"replace","text":"other shells for 2"})");
  CHECK_FALSE(bench.entry("mains", "bore").cells[2].filled());
  CHECK(bench.entry("mains", "bore").cells[0].filled());
  CHECK_FALSE(bench.entry("mains", "oil").calculated[1].filled());
  CHECK(bench.entry("mains", "oil").calculated[0].filled());
}

TEST_CASE("a concession is an owner's, with their passphrase, and ends with the value") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.06})");
  const std::string line =
      R"({"do":"dispose","step":"cover","entry":"flat","disposition":"concession","text":"sealant bridges it")";
  bench.signed_in("ben");
  CHECK(bench.refused(line + "}") == "role-needed");
  CHECK(bench.refused(line + R"(,"person":"ben","passphrase":"right"})") == "role-needed");
  bench.ok(line + R"(,"person":"olga","passphrase":"right"})");
  CHECK(bench.events.back().meaning == "conceded");
  CHECK(bench.events.back().person == "olga");
  CHECK(bench.events.back().body.at("customer").at("agreed").as_text() == "not asked");
  CHECK(bench.events.back().body.at("asked_by").as_text() == "ben");
  CHECK(bench.entry("cover", "flat").cells[0].judged.conceded);
  bench.ok(R"({"do":"again","step":"cover","entry":"flat","gauge":"mic","value":0.07})");
  CHECK_FALSE(bench.entry("cover", "flat").cells[0].judged.conceded);
  CHECK(bench.blocking("cover").at(2) == "reading-outside");
}

TEST_CASE("whoever took a reading may not alone concede it; a one-person shop may, and the record says so") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.06})");
  const std::string line =
      R"({"do":"dispose","step":"cover","entry":"flat","disposition":"concession","text":"x","person":"anna","passphrase":"right"})";
  CHECK(bench.refused(line) == "second-person-needed");
  bench.ok(R"({"do":"set-shop","one_person":true})");
  bench.ok(line);
  CHECK(bench.events.back().body.find("alone") != nullptr);
}

TEST_CASE("readings by several people are conceded by one of them") {
  Bench bench;
  bench.clean();
  bench.ok(
      R"({"do":"record","step":"mains","entry":"bore","gauge":"mic","values":[[48.060,48.060],[48.060,48.060],[48.060,48.060]]})");
  bench.signed_in("ben");
  bench.ok(
      R"({"do":"record","step":"mains","entry":"journal","gauge":"mic","values":[[47.970,47.972],[47.971,47.971],[47.972,47.973]]})");
  bench.ok(
      R"({"do":"dispose","step":"mains","entry":"oil","disposition":"concession","text":"x","person":"anna","passphrase":"right"})");
}

TEST_CASE("a concession says whether the customer agreed, who, when and how; a refusal ends it") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.06})");
  const auto line = [](const std::string& customer) {
    return R"({"do":"dispose","step":"cover","entry":"flat","disposition":"concession","text":"x","customer":)" +
           customer + R"(,"person":"olga","passphrase":"right"})";
  };
  CHECK(bench.refused(line(R"("yes")")) == "bad-value");
  CHECK(bench.refused(line(R"({"agreed":true,"name":"J. Pike","how":"by telephone"})")) == "bad-value");
  CHECK(bench.refused(line(R"({"agreed":false,"name":"J. Pike","date":"2026-01-05","how":"by telephone"})")) ==
        "customer-refused");
  bench.ok(line(R"({"agreed":true,"name":"J. Pike","date":"2026-01-05","how":"by telephone"})"));
  const auto& customer = bench.events.back().body.at("customer");
  CHECK(customer.at("name").as_text() == "J. Pike");
  CHECK(customer.at("date").as_text() == "2026-01-05");
  CHECK(bench.refused(
            R"({"do":"dispose","step":"cover","entry":"flat","disposition":"rework","text":"x","customer":{}})") ==
        "bad-value");
}

TEST_CASE("nothing within is conceded, and nothing outside is used again") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.03})");
  CHECK(
      bench.refused(
          R"({"do":"dispose","step":"cover","entry":"flat","disposition":"concession","text":"x","person":"olga","passphrase":"right"})") ==
      "bad-value");
  CHECK(bench.refused(R"({"do":"dispose","step":"cover","entry":"flat","disposition":"accept","text":"x"})") ==
        "bad-value");
  CHECK(bench.refused(R"({"do":"dispose","step":"cover","entry":"number","disposition":"rework","text":"x"})") ==
        "entry-missing");
  CHECK(bench.refused(R"({"do":"dispose","step":"cover","entry":"flat","disposition":"hammer","text":"x"})") ==
        "bad-value");
  CHECK(bench.refused(R"({"do":"dispose","step":"cover","entry":"flat","disposition":"rework"})") == "bad-value");
}

TEST_CASE("a part may be changed although its reading is within") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.03})");
  bench.ok(R"({"do":"dispose","step":"cover","entry":"flat","disposition":"replace","text":"another cover"})");
  CHECK_FALSE(bench.entry("cover", "flat").cells[0].filled());
}

TEST_CASE("a cover lapped after one reading outside is measured all round again") {
  Bench bench;
  bench.clean();
  bench.mains();
  bench.caps();
  bench.ok(R"({"do":"record","step":"float","entry":"dial","gauge":"dial","values":[[0,0.19],[0,0.20]]})");
  bench.ok(R"({"do":"dispose","step":"float","entry":"play","disposition":"rework","text":"washers lapped"})");
  for (const auto& cell : bench.entry("float", "dial").cells) CHECK_FALSE(cell.filled());
  CHECK_FALSE(bench.entry("float", "play").calculated[0].filled());
}
