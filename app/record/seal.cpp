#include "record/seal.h"

#include "record/digest.h"
#include "json/write.h"

#include <stdexcept>

namespace record {

// canonical(build::to_json(event)), written straight down: its members by their names, the body where it stands.
std::string text_of(const Event& event, bool with_signature) {
  std::string text = "{\"body\":";
  json::add_canonical(text, event.body);
  const auto add_text = [&](std::string_view key, std::string_view value) {
    text.append(",\"").append(key).append("\":");
    json::add_canonical(text, value);
  };
  const auto add_number = [&](std::string_view key, std::int64_t value) {
    text.append(",\"").append(key).append("\":").append(std::to_string(value));
  };
  add_text("cert", event.certificate);
  add_text("chain", event.chain);
  add_text("kind", event.kind);
  if (!event.meaning.empty()) add_text("meaning", event.meaning);
  add_text("name", event.name);
  add_number("offset", event.time.offset_minutes);
  add_text("person", event.person);
  add_text("prev", event.previous);
  add_number("rules", event.rules);
  add_number("seq", event.seq);
  if (with_signature && !event.meaning.empty()) add_text("sig", event.signature);
  add_text("time", calc::utc_text(event.time));
  add_number("v", event.format);
  return text += '}';
}

std::string signed_text(const Event& event) {
  return "witnessmark event v1\n" + text_of(event, false);
}

Sealed::Sealed(Event event) : event_(std::move(event)), text_(text_of(event_)) {
  event_.hash = sha256_hex(text_);
}

Sealed sealed(Event event, const Head& head, const PrivateKey* signer) {
  event.seq = head.seq + 1;
  event.previous = head.hash;
  event.signature.clear();
  if (!event.meaning.empty()) {
    if (!signer) throw std::logic_error("an event with a meaning is sealed by a signer");
    event.signature = base64(signer->sign(signed_text(event)));
  }
  return Sealed(std::move(event));
}

std::string hash_of(const Event& event) {
  return sha256_hex(text_of(event));
}

} // namespace record
