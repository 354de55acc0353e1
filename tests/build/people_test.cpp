#include "build/bench.h"

#include <catch2/catch.hpp>

TEST_CASE("the first person makes the shop and must be an owner") {
  const build::Shop empty;
  build::Context context;
  const build::Actor anybody{"x", "X", "c", {build::Role::owner}};
  context.authority = &anybody;
  const auto builder =
      *json::read_one(R"({"do":"enrol","person":"x","name":"X","roles":["builder"],"passphrase":"12345678"})");
  CHECK(build::decide_shop(empty, builder, context).error().code == "bad-value");
  const auto gauge = *json::read_one(R"({"do":"set-shop","name":"x"})");
  CHECK(build::decide_shop(empty, gauge, context).error().code == "sign-in-needed");
}

TEST_CASE("only an owner enrols, retires and changes the shop's settings") {
  Bench bench;
  bench.signed_in("ben");
  CHECK(bench.refused(R"({"do":"enrol","person":"dora","name":"Dora","roles":["builder"],"passphrase":"right"})") ==
        "role-needed");
  CHECK(bench.refused(R"({"do":"retire","person":"carl","reason":"left"})") == "role-needed");
  CHECK(bench.refused(R"({"do":"set-shop","one_person":true})") == "role-needed");
  bench.signed_in("anna");
  bench.ok(R"({"do":"retire","person":"carl","reason":"left"})");
  CHECK(bench.shop.person("carl")->retired);
  bench.ok(R"({"do":"set-shop","one_person":true,"name":"Heronsgate Engine Works"})");
  CHECK(bench.shop.one_person);
}

TEST_CASE("a name in the record is never given twice, and the last owner stays") {
  Bench bench;
  CHECK(bench.refused(R"({"do":"enrol","person":"ben","name":"Another","roles":["builder"],"passphrase":"right"})") ==
        "bad-value");
  bench.ok(R"({"do":"retire","person":"olga","reason":"moved away"})");
  CHECK(bench.refused(R"({"do":"retire","person":"anna","reason":"x"})") == "bad-value");
  CHECK(bench.refused(R"({"do":"retire","person":"nobody","reason":"x"})") == "unknown-person");
  CHECK(bench.refused(R"({"do":"enrol","person":"e","name":"E","roles":["king"],"passphrase":"right"})") ==
        "bad-value");
  CHECK(bench.refused(R"({"do":"enrol","person":"e","name":"E","roles":[],"passphrase":"right"})") == "bad-value");
}

TEST_CASE("no secret reaches an event") {
  Bench bench;
  bench.ok(R"({"do":"change-passphrase","person":"anna","passphrase":"right","new":"very secret"})");
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.06})");
  bench.ok(
      R"({"do":"dispose","step":"cover","entry":"flat","disposition":"concession","text":"x","person":"olga","passphrase":"right"})");
  for (const auto& event : bench.events) {
    const std::string text = json::canonical(event.body);
    CHECK(text.find("passphrase") == std::string::npos);
    CHECK(text.find("right") == std::string::npos);
    CHECK(text.find("secret") == std::string::npos);
  }
}
