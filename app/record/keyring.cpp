#include "record/keyring.h"

#include <algorithm>
#include <fmt/format.h>

namespace record {

namespace {

constexpr int free_tries = 5;
constexpr std::int64_t first_pause_ms = 30'000;
constexpr int most_doublings = 7; // 64 minutes

// When the next try may be made.
std::int64_t next_try_at(const Tries& tries) {
  if (tries.wrong < free_tries) return 0;
  return tries.last_utc_ms + (first_pause_ms << std::min(tries.wrong - free_tries, most_doublings));
}

Result<void> note_tries(Store& store, const std::string& person, const Tries& tries) {
  return store.transaction([&] { return store.put_tries(person, tries); });
}

// The key unlocked, which must be the one that the certificate is of: a locked key may have been put in another's
// place.
Result<PrivateKey> unlock_key(Store& store, std::string_view person, std::string_view what, std::string_view passphrase,
                              std::string_view certificate_pem) {
  const auto locked = store.key(person, what);
  if (!locked) return locked.error();
  if (!*locked)
    return Error{"key-damaged", fmt::format("The key of {} is not in this file; restore it from a backup.", person)};
  auto key = PrivateKey::unlock((*locked)->locked_pem, passphrase);
  if (!key) return key.error();
  const auto certificate = read_certificate(certificate_pem);
  if (!certificate) return certificate.error();
  constexpr std::string_view probe = "witnessmark key and certificate";
  if (!verify_signature(*certificate, probe, key->sign(probe)))
    return Error{
        "key-damaged",
        fmt::format("The key kept for {} is not the one certified for them; restore it from a backup.", person)};
  return key;
}

} // namespace

Result<void> good_passphrase(std::string_view passphrase) {
  const auto characters =
      std::count_if(passphrase.begin(), passphrase.end(), [](char c) { return (c & 0xC0) != 0x80; });
  if (static_cast<std::size_t>(characters) >= shortest_passphrase) return {};
  return Error{"bad-value", fmt::format("A passphrase has {} characters at least.", shortest_passphrase)};
}

Result<Holder> unlock(Store& store, const build::Shop& shop, std::string_view person, std::string_view passphrase,
                      const calc::Moment& now) {
  const auto* known = shop.person(person);
  if (!known || known->retired)
    return Error{"unknown-person", known ? fmt::format("{} is retired and signs no more.", known->name)
                                         : "There is no such person in this shop; enrol them first."};
  const auto tries = store.tries(known->id);
  if (!tries) return tries.error();
  if (const auto at = next_try_at(*tries); now.utc_ms < at)
    return Error{"wrong-passphrase", fmt::format("Too many wrong tries; the next may be made at {}.",
                                                 calc::local_text({at, now.offset_minutes}))};
  auto key = unlock_key(store, known->id, "person", passphrase, known->certificate_pem);
  if (!key) {
    if (key.error().code != "wrong-passphrase") return key.error();
    if (const auto noted = note_tries(store, known->id, {tries->wrong + 1, now.utc_ms}); !noted) return noted.error();
    return Error{"wrong-passphrase", fmt::format("That is not the passphrase of {}.", known->name)};
  }
  if (tries->wrong > 0)
    if (const auto noted = note_tries(store, known->id, {}); !noted) return noted.error();
  Holder holder{{known->id, known->name, known->certificate, known->roles}, std::move(*key), std::nullopt};
  if (known->roles.count(build::Role::owner)) {
    auto shop_key = unlock_key(store, known->id, "shop", passphrase, shop.certificate_pem);
    if (!shop_key) return shop_key.error();
    holder.shop_key = std::move(*shop_key);
  }
  return holder;
}

} // namespace record
