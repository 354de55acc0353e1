// Sealing: an event gets its place in the chain, its hash and, where a name is put under it, its signature.
#pragma once

#include "record/keys.h"
#include "record/store.h"

namespace record {

// An event as it is kept: canonical JSON of build::to_json.
std::string text_of(const Event& event, bool with_signature = true);

// The text that is signed: `witnessmark event v1\n` + canonical JSON of the event without `sig`.
std::string signed_text(const Event& event);

// Fills seq, previous, signature (when `meaning` is set; then `signer` must be given) and hash.
Event sealed(Event event, const Head& head, const PrivateKey* signer);

std::string hash_of(const Event& event);

} // namespace record
