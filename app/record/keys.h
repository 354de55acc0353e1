// Keys and certificates: ECDSA P-256 with SHA-256; private keys rest as PKCS#8 under scrypt (N=2^15, r=8, p=1);
// the shop's key certifies its people (X.509 v3). Key material is cleansed when its owner goes.
#pragma once

#include "calc/calendar.h"
#include "quantity/result.h"

#include <memory>
#include <string>
#include <string_view>

namespace record {

using quantity::Error;
using quantity::Result;

// A private key, unlocked in memory.
class PrivateKey {
public:
  static PrivateKey generate();
  // `locked` is PEM "ENCRYPTED PRIVATE KEY". Code "wrong-passphrase", or "key-damaged" when it is no such thing.
  static Result<PrivateKey> unlock(std::string_view locked_pem, std::string_view passphrase);
  PrivateKey(PrivateKey&&) noexcept;
  PrivateKey& operator=(PrivateKey&&) noexcept;
  ~PrivateKey();

  std::string lock(std::string_view passphrase) const; // PEM, after a line with its SHA-256 that tells damage
  std::string sign(std::string_view message) const;    // DER of the ECDSA signature over SHA-256(message)
  std::string public_pem() const;

private:
  friend class Certifier;
  struct State;
  explicit PrivateKey(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

struct Certificate {
  std::string pem;
  std::string fingerprint; // SHA-256 of the DER, hex
  std::string subject;     // common name
};

// The shop's own certificate (self-signed, CA) and those it gives its people. Valid from the moment for 30 years:
// the record's own times say when a signature was made, retiring is an event. Names are valid UTF-8; one longer than
// the 64 characters of RFC 5280 is written all the same. std::runtime_error when the library fails or `shop` is none.
Certificate certify_shop(const PrivateKey& shop_key, std::string_view shop_name, const calc::Moment& now);
Certificate certify_person(const PrivateKey& shop_key, const Certificate& shop, const PrivateKey& person_key,
                           std::string_view name, const calc::Moment& now);

Result<Certificate> read_certificate(std::string_view pem);                // code "bad-certificate"
bool issued_by(const Certificate& certificate, const Certificate& issuer); // signature checked with the issuer's key

// The key that a certificate is of, read once for many signatures; by any number of threads at a time. One of a
// certificate that cannot be read, or of no P-256 key, takes no signature for good.
class PublicKey {
public:
  explicit PublicKey(const Certificate& certificate);
  PublicKey(PublicKey&&) noexcept;
  PublicKey& operator=(PublicKey&&) noexcept;
  ~PublicKey();
  bool verify(std::string_view message, std::string_view der_signature) const;

private:
  struct State;
  std::unique_ptr<State> state_;
};
bool verify_signature(const Certificate& certificate, std::string_view message, std::string_view der_signature);

} // namespace record
