#include "handover/signature.h"

#include "record/owned.h"

#include <openssl/cms.h>
#include <openssl/err.h>
#include <openssl/evp.h>
#include <openssl/pem.h>

#include <algorithm>
#include <optional>
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

std::string pem_of(X509* certificate) {
  const Bio bio(BIO_new(BIO_s_mem()));
  demand(bio && PEM_write_bio_X509(bio.get(), certificate) == 1);
  const char* text = nullptr;
  const long size = BIO_get_mem_data(bio.get(), &text);
  return {text, static_cast<std::size_t>(size)};
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

// Everything of the CMS but the value of the signature, which follows from the two certificates and the content.
struct Layout {
  Cms cms;
  CMS_SignerInfo* info = nullptr;
};

Layout laid_out(const record::Certificate& signer, const record::Certificate& shop, const std::string& digest) {
  const X509Ptr own = certificate_of(signer.pem);
  const X509Ptr above = certificate_of(shop.pem);
  Layout out{Cms(CMS_sign(nullptr, nullptr, nullptr, nullptr, CMS_PARTIAL | CMS_DETACHED | CMS_BINARY))};
  demand(out.cms != nullptr);
  // The library only lays out the signer: with its public key, since the private one stays where it lives, and without
  // CMS_final, which would add a signing-time.
  out.info = CMS_add1_signer(out.cms.get(), own.get(), X509_get0_pubkey(own.get()), EVP_sha256(),
                             CMS_PARTIAL | CMS_NOSMIMECAP | CMS_CADES);
  demand(out.info && CMS_add1_cert(out.cms.get(), above.get()) == 1 &&
         CMS_signed_add1_attr_by_NID(out.info, NID_pkcs9_contentType, V_ASN1_OBJECT, OBJ_nid2obj(NID_pkcs7_data), -1) ==
             1 &&
         CMS_signed_add1_attr_by_NID(out.info, NID_pkcs9_messageDigest, V_ASN1_OCTET_STRING, digest.data(),
                                     static_cast<int>(digest.size())) == 1);
  return out;
}

std::string finished(const Layout& layout, std::string_view signature) {
  demand(ASN1_STRING_set(CMS_SignerInfo_get0_signature(layout.info), signature.data(),
                         static_cast<int>(signature.size())) == 1);
  std::string der = der_of(layout.cms.get(), i2d_CMS_ContentInfo);
  demand(!der.empty());
  return der;
}

std::string text_of(const ASN1_STRING* string) {
  if (!string) return "";
  return {reinterpret_cast<const char*>(ASN1_STRING_get0_data(string)),
          static_cast<std::size_t>(ASN1_STRING_length(string))};
}

// What of a signature does not follow from anything else.
struct Parts {
  std::vector<record::Certificate> certificates; // signer's, shop's
  std::string digest, signature;
};

std::optional<Parts> parts_of(std::string_view der) {
  const auto* at = reinterpret_cast<const unsigned char*>(der.data());
  const Cms cms(d2i_CMS_ContentInfo(nullptr, &at, static_cast<long>(der.size())));
  auto* infos = cms ? CMS_get0_SignerInfos(cms.get()) : nullptr;
  if (!infos || sk_CMS_SignerInfo_num(infos) != 1) return std::nullopt;
  auto* info = sk_CMS_SignerInfo_value(infos, 0);
  Parts out;
  out.signature = text_of(CMS_SignerInfo_get0_signature(info));
  out.digest = text_of(static_cast<const ASN1_OCTET_STRING*>(
      CMS_signed_get0_data_by_OBJ(info, OBJ_nid2obj(NID_pkcs9_messageDigest), -3, V_ASN1_OCTET_STRING)));
  const X509Stack held(CMS_get1_certs(cms.get()));
  for (int c = 0; c < sk_X509_num(held.get()); ++c) {
    auto* x509 = sk_X509_value(held.get(), c);
    const auto read = record::read_certificate(pem_of(x509));
    if (!read) return std::nullopt;
    const bool signers = CMS_SignerInfo_cert_cmp(info, x509) == 0;
    out.certificates.insert(signers ? out.certificates.begin() : out.certificates.end(), *read);
  }
  return out.certificates.size() == 2 ? std::optional(std::move(out)) : std::nullopt;
}

} // namespace

std::string signature_over(std::string_view content, const record::PrivateKey& key, const record::Certificate& signer,
                           const record::Certificate& shop) {
  const Layout layout = laid_out(signer, shop, sha256_of(content));
  const std::string set = attributes_as_set(layout.info);
  const std::string signature = key.sign(set);
  if (!record::verify_signature(signer, set, signature))
    throw std::runtime_error("the key is not the one of the certificate");
  return finished(layout, signature);
}

Result<Signers> check_signature(std::string_view der, std::string_view content) {
  const auto parts = parts_of(der);
  if (!parts) return not_so("its signature is not of our form");
  if (parts->digest != sha256_of(content)) return not_so("it was changed after it was signed");
  const auto& signer = parts->certificates.front();
  const auto& shop = parts->certificates.back();
  const Layout layout = laid_out(signer, shop, parts->digest);
  const std::string set = attributes_as_set(layout.info);
  if (finished(layout, parts->signature) != der) return not_so("its signature is not of our form");
  if (!record::verify_signature(signer, set, parts->signature) || !record::issued_by(signer, shop))
    return not_so("its signature, or a certificate in it, was changed");
  return Signers{signer.fingerprint, shop.fingerprint};
}

} // namespace handover
