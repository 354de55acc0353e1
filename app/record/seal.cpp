#include "record/seal.h"

#include "record/digest.h"
#include "json/write.h"

#include <stdexcept>

namespace record {

std::string signed_text(const Event& event) {
  return "witnessmark event v1\n" + json::canonical(build::to_json(event, false));
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
  return sha256_hex(json::canonical(build::to_json(event)));
}

} // namespace record
