// Sealing: an event gets its place in the chain, its hash and, where a name is put under it, its signature.
#pragma once

#include "record/keys.h"
#include "record/store.h"

namespace record {

// An event as it is kept: canonical JSON of build::to_json.
std::string text_of(const Event& event, bool with_signature = true);

// The text that is signed: `witnessmark event v1\n` + canonical JSON of the event without `sig`.
std::string signed_text(const Event& event);

// An event that was given its place, and its text as it is kept. Made by `sealed` only, so that the two agree.
class Sealed {
public:
  const Event& event() const& { return event_; }
  Event event() && { return std::move(event_); }
  const std::string& text() const { return text_; }

private:
  friend Sealed sealed(Event event, const Head& head, const PrivateKey* signer);
  explicit Sealed(Event event);
  Event event_;
  std::string text_;
};

// Fills seq, previous, signature (when `meaning` is set; then `signer` must be given) and hash.
Sealed sealed(Event event, const Head& head, const PrivateKey* signer);

std::string hash_of(const Event& event);

} // namespace record
