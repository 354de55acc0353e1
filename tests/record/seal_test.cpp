#include "record/seal.h"

#include "record/digest.h"
#include "json/read.h"
#include "json/write.h"

#include <catch2/catch.hpp>

using namespace record;

namespace {

Event reading() {
  Event event;
  event.rules = 1; // those under which the hash below was worked out
  event.chain = build::chain_of_build("B1");
  event.time = {1714546800'250, 60};
  event.person = "ada";
  event.name = "Ada Vane";
  event.kind = "record";
  event.body = json::Value::object({{"value", json::Value::text("47.9820")}});
  return event;
}

const Head after_six{6, std::string(64, 'a')};

struct Signer {
  PrivateKey shop_key = PrivateKey::generate();
  PrivateKey key = PrivateKey::generate();
  Certificate shop = certify_shop(shop_key, "Heronsgate Engine Works", {1714546800'000, 60});
  Certificate certificate = certify_person(shop_key, shop, key, "Ada Vane", {1714546800'000, 60});
};

Event signing(const Signer& signer, const Head& head) {
  Event event = reading();
  event.kind = "sign";
  event.meaning = build::meaning_done;
  event.certificate = signer.certificate.fingerprint;
  return sealed(event, head, &signer.key).event();
}

bool holds(const Signer& signer, const Event& event) {
  return verify_signature(signer.certificate, signed_text(event), *from_base64(event.signature));
}

} // namespace

TEST_CASE("a sealed event follows the head and is unsigned without a meaning") {
  Event given = reading();
  given.signature = "left over";
  given.seq = 99;
  const Event event = sealed(given, after_six, nullptr).event();
  CHECK(event.seq == 7);
  CHECK(event.previous == after_six.hash);
  CHECK(event.signature.empty());
  CHECK(event.hash == hash_of(event));
}

TEST_CASE("the hash is the SHA-256 of the canonical text") {
  // printf of this text | sha256sum (GNU coreutils 9.1)
  const Event event = sealed(reading(), after_six, nullptr).event();
  CHECK(json::canonical(build::to_json(event)) ==
        R"({"body":{"value":"47.9820"},"cert":"","chain":"build:B1","kind":"record","name":"Ada Vane","offset":60,)"
        R"("person":"ada","prev":"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa","rules":1,)"
        R"("seq":7,"time":"2024-05-01T07:00:00.250Z","v":1})");
  CHECK(event.hash == "dee55000283e287c12b1e4bd1b5ca1127565bc24a32dca72a1b7c3b13e20cc56");
}

TEST_CASE("the text of an event is its canonical JSON, whatever its names hold, signed or not") {
  const Signer signer;
  Event event = signing(signer, after_six);
  event.name = "Zo\u00eb \"Nibs\" O'Dare\\";
  event.time.offset_minutes = -330;
  event.body.set("a\"b", json::Value::text("one\ntwo"));
  CHECK(text_of(event) == json::canonical(build::to_json(event)));
  CHECK(text_of(event, false) == json::canonical(build::to_json(event, false)));
  const Event plain = reading();
  CHECK(text_of(plain) == json::canonical(build::to_json(plain)));
}

TEST_CASE("what is signed is the event without its signature, under the name of the format") {
  const Signer signer;
  const Event event = signing(signer, after_six);
  const std::string text = signed_text(event);
  const std::string first_line = "witnessmark event v1\n";
  REQUIRE(text.starts_with(first_line));
  json::Value value = *json::read_one(text.substr(first_line.size()));
  CHECK(value.find("sig") == nullptr);
  CHECK(value.at("meaning").as_text() == "done");
  CHECK(value.at("prev").as_text() == after_six.hash);
  value.set("sig", json::Value::text(event.signature));
  CHECK(value == build::to_json(event));
  CHECK(holds(signer, event));
}

TEST_CASE("a signature holds for its event at its place only") {
  const Signer signer;
  const Event event = signing(signer, after_six);
  const auto changed = [&](auto change) {
    Event other = event;
    change(other);
    return holds(signer, other);
  };
  CHECK(changed([](Event&) {}));
  CHECK_FALSE(changed([](Event& e) { e.seq = 8; }));
  CHECK_FALSE(changed([](Event& e) { e.previous = no_hash; }));
  CHECK_FALSE(changed([](Event& e) { e.chain = "build:B2"; }));
  CHECK_FALSE(changed([](Event& e) { e.time.utc_ms += 1; }));
  CHECK_FALSE(changed([](Event& e) { e.time.offset_minutes = 0; }));
  CHECK_FALSE(changed([](Event& e) { e.person = "ben"; }));
  CHECK_FALSE(changed([](Event& e) { e.name = "Ada vane"; }));
  CHECK_FALSE(changed([](Event& e) { e.certificate = no_hash; }));
  CHECK_FALSE(changed([](Event& e) { e.kind = "release"; }));
  CHECK_FALSE(changed([](Event& e) { e.meaning = build::meaning_released; }));
  CHECK_FALSE(changed([](Event& e) { e.rules += 1; }));
  CHECK_FALSE(changed([](Event& e) { e.body.set("value", json::Value::text("47.9821")); }));
}

TEST_CASE("the hash covers the signature") {
  const Signer signer;
  Event event = signing(signer, after_six);
  const std::string hash = event.hash;
  event.signature = base64(signer.key.sign(signed_text(event))); // another one, as good
  CHECK(holds(signer, event));
  CHECK(hash_of(event) != hash);
}

TEST_CASE("an event with a meaning is not sealed without a signer") {
  Event event = reading();
  event.meaning = build::meaning_done;
  CHECK_THROWS_AS(sealed(event, after_six, nullptr), std::logic_error);
}
