// The signature of a handover: a detached CMS SignedData (RFC 5652) as the baseline profile of PAdES has it
// (ETSI EN 319 142-1, level B-B): one signer, ECDSA P-256 with SHA-256, the signed attributes content-type,
// message-digest and signing-certificate-v2 (RFC 5035) and no others, none unsigned, no time; two certificates, the
// signer's and the shop's.
#pragma once

#include "record/keys.h"

#include <string>
#include <string_view>

namespace handover {

using quantity::Error;
using quantity::Result;

// DER. std::runtime_error when the library fails or the certificate is not the key's.
std::string signature_over(std::string_view content, const record::PrivateKey& key, const record::Certificate& signer,
                           const record::Certificate& shop);

struct Signers {
  std::string signer, shop; // SHA-256 of the certificates' DER, hex
};

// Whose it is, when it is such a signature over exactly this content, by a key that the other certificate's key has
// certified: put together again from its two certificates, the digest and the signature's value, it must come out byte
// for byte. Whether that is the shop's key, the record tells. Code "not-intact".
Result<Signers> check_signature(std::string_view der, std::string_view content);

} // namespace handover
