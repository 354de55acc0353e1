// The CMS signature of a handover: RFC 5652 (SignedData), RFC 5035 (signing-certificate-v2), ETSI EN 319 142-1 V1.1.1
// clause 6.3 (which attributes may stand there). Foreign signatures are made with OpenSSL's own functions.
#include "handover/signature.h"

#include "record/owned.h"

#include <catch2/catch.hpp>

#include <openssl/cms.h>
#include <openssl/evp.h>
#include <openssl/pem.h>
#include <openssl/x509v3.h>

using handover::check_signature;
using record::Certificate;
using record::PrivateKey;

namespace {

const calc::Moment now{1'767'600'000'000, 60};
const std::string content = "the bytes of a file";

struct Shop {
  PrivateKey key = PrivateKey::generate();
  Certificate certificate = record::certify_shop(key, "Heronsgate", now);
  PrivateKey maud = PrivateKey::generate();
  Certificate of_maud = record::certify_person(key, certificate, maud, "Maud Fenwick", now);
};

std::string fault(const std::string& der, const std::string& over = content) {
  const auto checked = check_signature(der, over);
  if (checked) return "";
  CHECK(checked.error().code == "not-intact");
  return checked.error().message;
}

// OpenSSL's ordinary way, with a key of its own.
class Foreign {
public:
  Foreign() {
    x509_.reset(X509_new());
    X509_set_version(x509_.get(), X509_VERSION_3);
    ASN1_INTEGER_set(X509_get_serialNumber(x509_.get()), 7);
    X509_gmtime_adj(X509_getm_notBefore(x509_.get()), 0);
    X509_gmtime_adj(X509_getm_notAfter(x509_.get()), 3600);
    X509_NAME_add_entry_by_txt(X509_get_subject_name(x509_.get()), "CN", MBSTRING_UTF8,
                               reinterpret_cast<const unsigned char*>("Foreign"), -1, -1, 0);
    X509_set_issuer_name(x509_.get(), X509_get_subject_name(x509_.get()));
    X509_set_pubkey(x509_.get(), key_.get());
    X509_sign(x509_.get(), key_.get(), EVP_sha256());
  }

  std::string sign(unsigned int flags, const EVP_MD* digest = EVP_sha256()) const {
    const record::Owned<CMS_ContentInfo, CMS_ContentInfo_free> cms(
        CMS_sign(nullptr, nullptr, nullptr, nullptr, CMS_PARTIAL | CMS_DETACHED | CMS_BINARY));
    CMS_add1_signer(cms.get(), x509_.get(), key_.get(), digest, flags);
    const record::Owned<BIO, BIO_free> in(BIO_new_mem_buf(content.data(), static_cast<int>(content.size())));
    REQUIRE(CMS_final(cms.get(), in.get(), nullptr, CMS_DETACHED | CMS_BINARY) == 1);
    unsigned char* der = nullptr;
    const int size = i2d_CMS_ContentInfo(cms.get(), &der);
    std::string out(reinterpret_cast<const char*>(der), static_cast<std::size_t>(size));
    OPENSSL_free(der);
    return out;
  }

private:
  record::Owned<EVP_PKEY, EVP_PKEY_free> key_{EVP_EC_gen("P-256")};
  record::Owned<X509, X509_free> x509_;
};

// With an attribute outside the signature added, or a third certificate.
std::string changed(const std::string& der, const std::function<void(CMS_ContentInfo*)>& change) {
  const auto* at = reinterpret_cast<const unsigned char*>(der.data());
  const record::Owned<CMS_ContentInfo, CMS_ContentInfo_free> cms(
      d2i_CMS_ContentInfo(nullptr, &at, static_cast<long>(der.size())));
  change(cms.get());
  unsigned char* out = nullptr;
  const int size = i2d_CMS_ContentInfo(cms.get(), &out);
  std::string text(reinterpret_cast<const char*>(out), static_cast<std::size_t>(size));
  OPENSSL_free(out);
  return text;
}

} // namespace

TEST_CASE("a signature names its signer's and the shop's certificate") {
  const Shop shop;
  const auto der = handover::signature_over(content, shop.maud, shop.of_maud, shop.certificate);
  const auto checked = check_signature(der, content);
  REQUIRE(checked);
  CHECK(checked->signer == shop.of_maud.fingerprint);
  CHECK(checked->shop == shop.certificate.fingerprint);
  CHECK(der.size() < 4096);
}

TEST_CASE("a changed byte of the file is told from a changed byte of the signature") {
  const Shop shop;
  const auto der = handover::signature_over(content, shop.maud, shop.of_maud, shop.certificate);
  std::string other = content;
  other[3] ^= 1;
  CHECK(fault(der, other) == "it was changed after it was signed");
  std::string broken = der;
  broken.back() ^= 1;
  CHECK_FALSE(fault(broken).empty());
}

TEST_CASE("no byte of a signature can be changed") {
  const Shop shop;
  const auto der = handover::signature_over(content, shop.maud, shop.of_maud, shop.certificate);
  for (std::size_t at = 0; at < der.size(); at += 3) {
    std::string other = der;
    other[at] ^= 1;
    INFO(at);
    // The shop's certificate is trusted as it lies there: changed, it is another one, and the record knows which.
    const auto checked = check_signature(other, content);
    CHECK((!checked || checked->shop != shop.certificate.fingerprint));
  }
}

TEST_CASE("a signer whom another shop's key has certified is no signer of this one") {
  const Shop shop, other;
  CHECK(fault(handover::signature_over(content, shop.maud, shop.of_maud, other.certificate)) ==
        "its signature, or a certificate in it, was changed");
}

TEST_CASE("a key that is not the certificate's signs nothing") {
  const Shop shop;
  CHECK_THROWS_AS(handover::signature_over(content, shop.key, shop.of_maud, shop.certificate), std::runtime_error);
}

TEST_CASE("a signature with a signing-time, as OpenSSL makes them, is not of our form") {
  const Foreign foreign;
  CHECK(fault(foreign.sign(CMS_CADES)) == "its signature is not of our form");
  CHECK(fault(foreign.sign(CMS_CADES | CMS_NOSMIMECAP)) == "its signature is not of our form");
  CHECK(fault(foreign.sign(CMS_NOATTR)) == "its signature is not of our form");
}

TEST_CASE("something beside the signature is not of our form") {
  const Shop shop;
  const auto der = handover::signature_over(content, shop.maud, shop.of_maud, shop.certificate);
  const Shop third;
  CHECK(fault(changed(der, [](CMS_ContentInfo* cms) {
          CMS_unsigned_add1_attr_by_NID(sk_CMS_SignerInfo_value(CMS_get0_SignerInfos(cms), 0), NID_friendlyName,
                                        V_ASN1_UTF8STRING, "x", 1);
        })) == "its signature is not of our form");
  CHECK(fault(changed(der, [&](CMS_ContentInfo* cms) {
          const record::Owned<BIO, BIO_free> bio(
              BIO_new_mem_buf(third.certificate.pem.data(), static_cast<int>(third.certificate.pem.size())));
          const record::Owned<X509, X509_free> x509(PEM_read_bio_X509(bio.get(), nullptr, nullptr, nullptr));
          CMS_add1_cert(cms, x509.get());
        })) == "its signature is not of our form");
  CHECK(fault(der + '\0') == "its signature is not of our form");
  CHECK(fault("") == "its signature is not of our form");
  CHECK(fault(content) == "its signature is not of our form");
}
