#include "handover/signature.h"

#include "record/digest.h"
#include "record/owned.h"

#include <openssl/cms.h>
#include <openssl/err.h>
#include <openssl/ess.h>
#include <openssl/evp.h>
#include <openssl/pem.h>

#include <algorithm>
#include <array>
#include <stdexcept>
#include <vector>

namespace handover {

namespace {

void free_certificates(STACK_OF(X509) * stack) {
  sk_X509_pop_free(stack, X509_free);
}

using record::Owned;
using Cms = Owned<CMS_ContentInfo, CMS_ContentInfo_free>;
using Bio = Owned<BIO, BIO_free>;
using X509Ptr = Owned<X509, X509_free>;
using X509Stack = Owned<STACK_OF(X509), free_certificates>;
using X509Store = Owned<X509_STORE, X509_STORE_free>;

void demand(bool done) {
  if (done) return;
  ERR_clear_error();
  throw std::runtime_error("the cryptographic library could not make the signature of the handover");
}

Error not_so(std::string_view what) {
  ERR_clear_error();
  return Error{"not-intact", std::string(what)};
}

Bio reading(std::string_view bytes) {
  return Bio(BIO_new_mem_buf(bytes.data(), static_cast<int>(bytes.size())));
}

X509Ptr certificate_of(const std::string& pem) {
  const Bio bio = reading(pem);
  X509Ptr certificate(bio ? PEM_read_bio_X509(bio.get(), nullptr, nullptr, nullptr) : nullptr);
  demand(certificate != nullptr);
  return certificate;
}

// What `write` (an i2d function) gives.
template <typename T, typename Write>
std::string der_of(T* object, Write write) {
  const int size = write(object, nullptr);
  if (size <= 0) return "";
  std::string out(static_cast<std::size_t>(size), '\0');
  auto* at = reinterpret_cast<unsigned char*>(out.data());
  write(object, &at);
  return out;
}

std::string fingerprint_of(X509* certificate) {
  return record::sha256_hex(der_of(certificate, i2d_X509));
}

// The signed attributes as they are hashed: DER of a SET OF (X.690, 11.6), the elements sorted by their encoding.
std::string attributes_as_set(CMS_SignerInfo* info) {
  std::vector<std::string> parts;
  for (int a = 0; a < CMS_signed_get_attr_count(info); ++a)
    parts.push_back(der_of(CMS_signed_get_attr(info, a), i2d_X509_ATTRIBUTE));
  std::sort(parts.begin(), parts.end());
  std::string all;
  for (const auto& part : parts) all += part;
  std::string out;
  const int size = ASN1_object_size(1, static_cast<int>(all.size()), V_ASN1_SET);
  out.resize(static_cast<std::size_t>(size) - all.size());
  auto* at = reinterpret_cast<unsigned char*>(out.data());
  ASN1_put_object(&at, 1, static_cast<int>(all.size()), V_ASN1_SET, V_ASN1_UNIVERSAL);
  return out + all;
}

std::string sha256_of(std::string_view bytes) {
  std::string out(EVP_MAX_MD_SIZE, '\0');
  unsigned int size = 0;
  demand(EVP_Digest(bytes.data(), bytes.size(), reinterpret_cast<unsigned char*>(out.data()), &size, EVP_sha256(),
                    nullptr) == 1);
  out.resize(size);
  return out;
}

bool has_right_attributes(CMS_SignerInfo* info) {
  constexpr std::array demanded{NID_pkcs9_contentType, NID_pkcs9_messageDigest, NID_id_smime_aa_signingCertificateV2};
  return CMS_signed_get_attr_count(info) == static_cast<int>(demanded.size()) &&
         CMS_unsigned_get_attr_count(info) <= 0 && std::all_of(demanded.begin(), demanded.end(), [&](int nid) {
           return CMS_signed_get_attr_by_NID(info, nid, -1) >= 0;
         });
}

// ECDSA P-256 with SHA-256, and nothing else.
bool has_right_algorithms(CMS_SignerInfo* info) {
  X509_ALGOR* digest = nullptr;
  X509_ALGOR* signing = nullptr;
  CMS_SignerInfo_get0_algs(info, nullptr, nullptr, &digest, &signing);
  return digest && signing && OBJ_obj2nid(digest->algorithm) == NID_sha256 &&
         OBJ_obj2nid(signing->algorithm) == NID_ecdsa_with_SHA256;
}

// As the library reads it, provided that it writes the same bytes again.
Cms read_strictly(std::string_view der) {
  const auto* at = reinterpret_cast<const unsigned char*>(der.data());
  const auto* end = at + der.size();
  Cms cms(d2i_CMS_ContentInfo(nullptr, &at, static_cast<long>(der.size())));
  return cms && at == end && der_of(cms.get(), i2d_CMS_ContentInfo) == der ? std::move(cms) : nullptr;
}

struct Pair {
  X509* signer = nullptr;
  X509* shop = nullptr;
};

// The two certificates: which is the signer's, the signature says.
Result<Pair> pair_of(CMS_SignerInfo* info, STACK_OF(X509) * certificates) {
  if (sk_X509_num(certificates) != 2) return not_so("its signature does not hold exactly two certificates");
  Pair out;
  for (int c = 0; c < 2; ++c) {
    auto* certificate = sk_X509_value(certificates, c);
    (CMS_SignerInfo_cert_cmp(info, certificate) == 0 ? out.signer : out.shop) = certificate;
  }
  if (!out.signer || !out.shop) return not_so("its signature does not hold the certificate of its signer");
  return out;
}

} // namespace

std::string signature_over(std::string_view content, const record::PrivateKey& key, const record::Certificate& signer,
                           const record::Certificate& shop) {
  const X509Ptr own = certificate_of(signer.pem);
  const X509Ptr above = certificate_of(shop.pem);
  const Cms cms(CMS_sign(nullptr, nullptr, nullptr, nullptr, CMS_PARTIAL | CMS_DETACHED | CMS_BINARY));
  demand(cms != nullptr);
  // The library only lays out the signer: with its public key, since the private one stays where it lives, and without
  // CMS_final, which would add a signing-time.
  auto* info = CMS_add1_signer(cms.get(), own.get(), X509_get0_pubkey(own.get()), EVP_sha256(),
                               CMS_PARTIAL | CMS_NOSMIMECAP | CMS_CADES);
  demand(info && CMS_add1_cert(cms.get(), above.get()) == 1);
  const std::string digest = sha256_of(content);
  demand(CMS_signed_add1_attr_by_NID(info, NID_pkcs9_contentType, V_ASN1_OBJECT, OBJ_nid2obj(NID_pkcs7_data), -1) ==
             1 &&
         CMS_signed_add1_attr_by_NID(info, NID_pkcs9_messageDigest, V_ASN1_OCTET_STRING, digest.data(),
                                     static_cast<int>(digest.size())) == 1);
  const std::string set = attributes_as_set(info);
  const std::string signature = key.sign(set);
  if (!record::verify_signature(signer, set, signature))
    throw std::runtime_error("the key is not the one of the certificate");
  demand(ASN1_STRING_set(CMS_SignerInfo_get0_signature(info), signature.data(), static_cast<int>(signature.size())) ==
         1);
  std::string der = der_of(cms.get(), i2d_CMS_ContentInfo);
  demand(!der.empty());
  return der;
}

Result<Signers> check_signature(std::string_view der, std::string_view content) {
  const Cms cms = read_strictly(der);
  if (!cms || OBJ_obj2nid(CMS_get0_type(cms.get())) != NID_pkcs7_signed)
    return not_so("its signature is not written in the one form that counts");
  auto* infos = CMS_get0_SignerInfos(cms.get());
  if (sk_CMS_SignerInfo_num(infos) != 1 || CMS_is_detached(cms.get()) != 1)
    return not_so("its signature is not of exactly one signer over the file");
  auto* info = sk_CMS_SignerInfo_value(infos, 0);
  if (!has_right_attributes(info)) return not_so("its signature says more or less than it should");
  if (!has_right_algorithms(info)) return not_so("its signature was made in another way than ECDSA with SHA-256");
  const X509Stack certificates(CMS_get1_certs(cms.get()));
  const auto pair = pair_of(info, certificates.get());
  if (!pair) return pair.error();
  const X509Store trusted(X509_STORE_new());
  if (!trusted || X509_STORE_add_cert(trusted.get(), pair->shop) != 1)
    return not_so("there is no memory to check its signature");
  X509_VERIFY_PARAM_set_flags(X509_STORE_get0_param(trusted.get()), X509_V_FLAG_NO_CHECK_TIME);
  X509_STORE_set_purpose(trusted.get(), X509_PURPOSE_ANY);
  const Bio bio = reading(content);
  const Bio nowhere(BIO_new(BIO_s_null()));
  const auto* digest = static_cast<const ASN1_OCTET_STRING*>(
      CMS_signed_get0_data_by_OBJ(info, OBJ_nid2obj(NID_pkcs9_messageDigest), -3, V_ASN1_OCTET_STRING));
  const std::string_view claimed(digest ? reinterpret_cast<const char*>(ASN1_STRING_get0_data(digest)) : "",
                                 digest ? static_cast<std::size_t>(ASN1_STRING_length(digest)) : 0);
  if (claimed != sha256_of(content)) return not_so("it was changed after it was signed");
  if (CMS_verify(cms.get(), nullptr, trusted.get(), bio.get(), nowhere.get(), CMS_BINARY | CMS_CADES) != 1)
    return not_so("its signature, or a certificate in it, was changed");
  return Signers{fingerprint_of(pair->signer), fingerprint_of(pair->shop)};
}

} // namespace handover
