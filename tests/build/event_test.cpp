#include "build/event.h"

#include "json/read.h"
#include "json/write.h"

#include <catch2/catch.hpp>

#include <functional>

using build::Event;
using build::event_from_json;
using json::Value;

namespace {

const std::string some_hash = std::string(32, '0') + std::string(32, 'f');

Event reading() {
  Event event;
  event.rules = 1;
  event.chain = build::chain_of_build("B1");
  event.seq = 7;
  event.previous = some_hash;
  event.time = {1714546800'250, 60};
  event.person = "ada";
  event.name = "Ada Vane";
  event.certificate = some_hash;
  event.kind = "record";
  event.body = Value::object({{"value", Value::text("47.9820")}, {"try", Value::integer(1)}});
  return event;
}

Event signing() {
  Event event = reading();
  event.kind = "sign";
  event.meaning = build::meaning_done;
  event.signature = "MEUCIQ==";
  return event;
}

// What the reader says to the event's JSON after `damage`; "" when it takes it.
std::string refusal(const Event& event, const std::function<void(Value&)>& damage) {
  Value value = to_json(event);
  damage(value);
  const auto read = event_from_json(value);
  if (read.ok()) return "";
  CHECK(read.error().code == "bad-event");
  return read.error().message;
}

std::string refusal_of(std::string_view key, Value value) {
  return refusal(signing(), [&](Value& event) { event.set(key, std::move(value)); });
}

bool names(const std::string& message, std::string_view word) {
  return message.find(word) != std::string::npos;
}

} // namespace

TEST_CASE("a build has its own chain") {
  CHECK(build::chain_of_build("B1") == "build:B1");
  CHECK(build::chain_of_build("shop") != build::shop_chain);
}

TEST_CASE("an unsigned event is written with its members and nothing else") {
  CHECK(json::canonical(to_json(reading())) ==
        R"({"body":{"try":1,"value":"47.9820"},"cert":")" + some_hash +
            R"(","chain":"build:B1","kind":"record","name":"Ada Vane","offset":60,"person":"ada","prev":")" +
            some_hash + R"(","rules":1,"seq":7,"time":"2024-05-01T07:00:00.250Z","v":1})");
}

TEST_CASE("a signed event carries meaning and signature, and what is signed carries the meaning only") {
  const Value whole = to_json(signing());
  CHECK(whole.at("meaning").as_text() == "done");
  CHECK(whole.at("sig").as_text() == "MEUCIQ==");
  Value bare = to_json(signing(), false);
  CHECK(bare.find("sig") == nullptr);
  bare.set("sig", Value::text("MEUCIQ=="));
  CHECK(bare == whole);
}

TEST_CASE("an event reads back as it was written") {
  for (const Event& event : {reading(), signing()}) {
    const auto value = json::read_one(json::canonical(to_json(event)));
    REQUIRE(value.ok());
    const auto read = event_from_json(*value);
    REQUIRE(read.ok());
    CHECK(to_json(*read) == to_json(event));
    CHECK(read->time == event.time);
    CHECK(read->hash.empty());
  }
}

TEST_CASE("an unsigned event may be nobody's, a signed one may not") {
  Event event = reading();
  event.person = event.name = event.certificate = "";
  CHECK(event_from_json(to_json(event)).ok());
  for (const std::string_view key : {"person", "name", "cert"})
    CHECK(names(refusal_of(key, Value::text("")), "by whom"));
}

TEST_CASE("an event without one of its members is refused and the member named") {
  for (const std::string_view key : {"v", "rules", "chain", "seq", "prev", "time", "offset", "person", "name", "cert",
                                     "kind", "body", "meaning", "sig"}) {
    INFO(key);
    CHECK(names(refusal(signing(), [&](Value& event) { event.remove(key); }), "\"" + std::string(key) + "\""));
  }
}

TEST_CASE("a member of another kind is refused and named") {
  const Value whole = to_json(signing());
  for (const json::Member& member : whole.members()) {
    INFO(member.key);
    CHECK(names(refusal_of(member.key, Value()), "\"" + member.key + "\""));
    CHECK(names(refusal_of(member.key, Value::array()), "\"" + member.key + "\""));
  }
}

TEST_CASE("an unknown or repeated member is refused") {
  CHECK(names(refusal_of("hash", Value::text(some_hash)), "\"hash\" is unknown"));
  CHECK(names(refusal(signing(), [](Value& event) { event.members().push_back(event.members().front()); }), "twice"));
  CHECK(names(refusal(reading(), [](Value& event) { event.set("sig", Value::text("MEUCIQ==")); }), "\"meaning\""));
}

TEST_CASE("numbers of an event have one spelling and a range") {
  for (const std::string_view written : {"0", "2", "1.0", "1e0", "-1"})
    CHECK(names(refusal_of("v", Value::number(std::string(written))), "\"v\""));
  for (const std::string_view written : {"0", "-0", "-1", "7.0", "9007199254740992", "99999999999999999999"})
    CHECK(names(refusal_of("seq", Value::number(std::string(written))), "\"seq\""));
  CHECK(refusal_of("seq", Value::number("9007199254740991")).empty());
  CHECK(names(refusal_of("rules", Value::integer(0)), "\"rules\""));
  CHECK(refusal_of("rules", Value::integer(build::rules_now + 1)).empty());
  CHECK(names(refusal_of("offset", Value::integer(1440)), "\"offset\""));
  CHECK(names(refusal_of("offset", Value::number("-0")), "\"offset\""));
  CHECK(refusal_of("offset", Value::integer(-1439)).empty());
}

TEST_CASE("the time of an event has one spelling") {
  for (const std::string_view written : {"2024-05-01T07:00:00Z", "2024-05-01T07:00:00.25Z",
                                         "2024-05-01T08:00:00.250+01:00", "2024-02-30T07:00:00.250Z", ""})
    CHECK(names(refusal_of("time", Value::text(std::string(written))), "time"));
}

TEST_CASE("hashes of an event are 64 lower-case hex digits") {
  for (const std::string_view key : {"prev", "cert"}) {
    for (const std::string& written : {std::string(63, 'a'), std::string(65, 'a'), std::string(64, 'A'),
                                       std::string(63, 'a') + "g", std::string(63, 'a') + " "})
      CHECK(names(refusal_of(key, Value::text(written)), "SHA-256"));
  }
}

TEST_CASE("a name is put under an event with one of the five meanings") {
  for (const std::string_view meaning : {"done", "checked", "witnessed", "checked again", "conceded", "released"})
    CHECK(refusal_of("meaning", Value::text(std::string(meaning))).empty());
  CHECK(names(refusal_of("meaning", Value::text("approved")), "approved"));
  CHECK(names(refusal_of("meaning", Value::text("")), "meaning"));
}

TEST_CASE("a body holds whole numbers below 2^53 and plain keys, at any depth") {
  const auto body = [](std::string_view text) {
    const auto value = json::read_one(text);
    REQUIRE(value.ok());
    return refusal_of("body", *value);
  };
  CHECK(body(R"({"a":[{"b":9007199254740991}],"c":-9007199254740991,"d":null,"e":true,"f":"\u20ac"})").empty());
  CHECK(names(body(R"({"a":[{"b":1.5}]})"), "\"1.5\""));
  CHECK(names(body(R"({"a":1.0})"), "\"1.0\""));
  CHECK(names(body(R"({"a":-0})"), "\"-0\""));
  CHECK(names(body(R"({"a":[9007199254740992]})"), "9007199254740992"));
  CHECK(names(body(R"({"a":{"caf\u00e9":1}})"), "ASCII"));
  CHECK(names(body(R"({"a":{"b\u0001":1}})"), "ASCII"));
}

TEST_CASE("an event may be written exactly when its JSON can be read back") {
  const auto readable = [](const Event& event) {
    try {
      auto value = json::read_one(json::canonical(to_json(event)));
      return value && event_from_json(std::move(*value));
    } catch (const std::logic_error&) { // no canonical form
      return false;
    }
  };
  const auto nested = [](int levels) {
    Value value = Value::text("innermost");
    for (int i = 0; i < levels; ++i) value = Value::array({std::move(value)});
    return value;
  };
  const std::function<void(Event&)> changes[] = {
      [](Event&) {},
      [](Event& event) { event.format = 0; },
      [](Event& event) { event.format = build::event_format + 1; },
      [](Event& event) { event.rules = 0; },
      [](Event& event) { event.chain = ""; },
      [](Event& event) { event.chain = "build:\"\\\n\x01"; },
      [](Event& event) { event.seq = 0; },
      [](Event& event) { event.seq = (std::int64_t{1} << 53) - 1; },
      [](Event& event) { event.seq = std::int64_t{1} << 53; },
      [](Event& event) { event.previous.back() = 'F'; },
      [](Event& event) { event.previous.pop_back(); },
      [](Event& event) { event.time.offset_minutes = 1439; },
      [](Event& event) { event.time.offset_minutes = -1440; },
      [](Event& event) { event.time.utc_ms = 253'402'300'799'999; },
      [](Event& event) { event.time.utc_ms = 253'402'300'800'000; },
      [](Event& event) { event.time.utc_ms = -62'135'596'800'000; },
      [](Event& event) { event.time.utc_ms = -62'135'596'800'001; },
      [](Event& event) { event.person = ""; },
      [](Event& event) { event.name = ""; },
      [](Event& event) { event.name = "Ren\u00e9"; },
      [](Event& event) { event.certificate = ""; },
      [](Event& event) { event.certificate = "ab"; },
      [](Event& event) { event.kind = ""; },
      [](Event& event) { event.meaning = "seen"; },
      [](Event& event) { event.meaning = build::meaning_done, event.signature = ""; },
      [](Event& event) { event.body = Value::text("no object"); },
      [](Event& event) { event.body.set("n", Value::number("1.0")); },
      [](Event& event) { event.body.set("n", Value::number("9007199254740991")); },
      [](Event& event) { event.body.set("n", Value::number("9007199254740992")); },
      [](Event& event) { event.body.set("\u00e4", Value::boolean(true)); },
      [](Event& event) {
        event.body.members().push_back({"value", Value(), {}});
      },
      [](Event& event) {
        for (int i = 0; i < 30; ++i) event.body.set("k" + std::to_string(i), Value());
      },
      [](Event& event) {
        for (int i = 0; i < 30; ++i) event.body.set("k" + std::to_string(i), Value());
        event.body.members().push_back({"k7", Value(), {}});
      },
      [&](Event& event) { event.body.set("deep", nested(json::deepest_nesting - 2)); },
      [&](Event& event) { event.body.set("deep", nested(json::deepest_nesting - 1)); },
  };
  std::size_t may = 0;
  for (const auto& change : changes)
    for (Event event : {reading(), signing()}) {
      change(event);
      INFO(json::compact(to_json(event)));
      const bool checked = check_event(event).ok();
      if (event.meaning.empty() == event.signature.empty()) CHECK(checked == readable(event));
      may += checked ? 1 : 0;
    }
  CHECK(may > 15);
  CHECK(may < 35);
}

TEST_CASE("what is no object is no event") {
  CHECK(names(event_from_json(Value::array()).error().message, "not an object"));
  CHECK(names(event_from_json(Value()).error().message, "not an object"));
}
