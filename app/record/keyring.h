// Who is who: a person and a passphrase become an actor and a signer. Wrong tries are counted in the shop file, so that
// they slow down across restarts too.
#pragma once

#include "build/decide.h"
#include "record/keys.h"
#include "record/store.h"

#include <optional>

namespace record {

// Somebody whose passphrase was right. An owner also holds the shop's key, to certify people.
struct Holder {
  build::Actor actor;
  PrivateKey key;
  std::optional<PrivateKey> shop_key;
};

constexpr std::int64_t work_period_ms = 4LL * 3600 * 1000;
constexpr std::int64_t idle_ms = 30LL * 60 * 1000;
constexpr std::size_t shortest_passphrase = 8; // characters

// Codes: "unknown-person", "wrong-passphrase" (also while the tries slow down).
Result<Holder> unlock(Store& store, const build::Shop& shop, std::string_view person, std::string_view passphrase,
                      const calc::Moment& now);

// Whether a passphrase may be used at all; code "bad-value".
Result<void> good_passphrase(std::string_view passphrase);

} // namespace record
