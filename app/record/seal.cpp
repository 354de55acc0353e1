#include "record/seal.h"

#include "record/digest.h"
#include "json/write.h"

#include <stdexcept>

namespace record {

// The body is written where it stands, for copying it costs more than all the rest; it comes first, by its name.
std::string text_of(const Event& event, bool with_signature) {
  const std::string rest = json::canonical(build::all_but_the_body(event, with_signature));
  std::string text = "{\"body\":" + json::canonical(event.body) + ',';
  return text.append(rest, 1);
}

std::string signed_text(const Event& event) {
  return "witnessmark event v1\n" + text_of(event, false);
}

Event sealed(Event event, const Head& head, const PrivateKey* signer) {
  event.seq = head.seq + 1;
  event.previous = head.hash;
  event.signature.clear();
  if (!event.meaning.empty()) {
    if (!signer) throw std::logic_error("an event with a meaning is sealed by a signer");
    event.signature = base64(signer->sign(signed_text(event)));
  }
  event.hash = hash_of(event);
  return event;
}

std::string hash_of(const Event& event) {
  return sha256_hex(text_of(event));
}

} // namespace record
