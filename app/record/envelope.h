// A private key under a passphrase: PEM "ENCRYPTED PRIVATE KEY" (RFC 5958) holding PKCS#8, PBES2 (RFC 8018) with scrypt
// (RFC 7914, N=2^15, r=8, p=1) and AES-256-CBC. A line before it names the SHA-256 of what follows, so that damage is
// told from a wrong passphrase; RFC 7468 lets such a line stand there.
#pragma once

#include "quantity/result.h"

#include <string>
#include <string_view>
#include <vector>

namespace record {

using quantity::Error;
using quantity::Result;

// Bytes that are overwritten before their memory is given back. Never grows, so no copy is left behind.
class Secret {
public:
  explicit Secret(std::size_t size) : bytes_(size) {}
  Secret(Secret&&) noexcept = default;
  Secret& operator=(Secret&&) = delete;
  ~Secret();

  unsigned char* data() { return bytes_.data(); }
  const unsigned char* data() const { return bytes_.data(); }
  std::size_t size() const { return bytes_.size(); }
  void shorten(std::size_t size); // overwrites the rest

private:
  std::vector<unsigned char> bytes_;
};

std::string put_under(std::string_view passphrase, const Secret& pkcs8);

// "wrong-passphrase", or "key-damaged" when the text is no such thing. PEM without the line before it is taken too:
// then damage of the enciphered bytes themselves reads as a wrong passphrase.
Result<Secret> take_from_under(std::string_view passphrase, std::string_view pem);

} // namespace record
