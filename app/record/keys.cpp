#include "record/keys.h"

#include "record/digest.h"
#include "record/envelope.h"
#include "record/owned.h"

#include <openssl/bn.h>
#include <openssl/ec.h>
#include <openssl/err.h>
#include <openssl/evp.h>
#include <openssl/pem.h>
#include <openssl/x509v3.h>

#include <array>
#include <stdexcept>
#include <vector>

namespace record {

namespace {

using Bio = Owned<BIO, BIO_free>;
using Key = Owned<EVP_PKEY, EVP_PKEY_free>;
using Pkcs8 = Owned<PKCS8_PRIV_KEY_INFO, PKCS8_PRIV_KEY_INFO_free>;
using Hashing = Owned<EVP_MD_CTX, EVP_MD_CTX_free>;
using X509Ptr = Owned<X509, X509_free>;
using Name = Owned<X509_NAME, X509_NAME_free>;
using Extension = Owned<X509_EXTENSION, X509_EXTENSION_free>;
using BigNumber = Owned<BIGNUM, BN_free>;

constexpr int serial_bits = 128;
constexpr int months_valid = 30 * 12;

void demand(bool done) {
  if (done) return;
  ERR_clear_error();
  throw std::runtime_error("the cryptographic library could not make a key, a signature or a certificate");
}

const unsigned char* bytes_of(std::string_view text) {
  return reinterpret_cast<const unsigned char*>(text.data());
}

std::string text_in(const Bio& bio) {
  const char* text = nullptr;
  const long size = BIO_get_mem_data(bio.get(), &text);
  return {text, static_cast<std::size_t>(size)};
}

bool is_p256(const EVP_PKEY* key) {
  std::array<char, 32> group{};
  return key && EVP_PKEY_get_group_name(key, group.data(), group.size(), nullptr) == 1 &&
         std::string_view(group.data()) == SN_X9_62_prime256v1;
}

} // namespace

struct PrivateKey::State {
  Key key;
};

PrivateKey::PrivateKey(std::unique_ptr<State> state) : state_(std::move(state)) {}
PrivateKey::PrivateKey(PrivateKey&&) noexcept = default;
PrivateKey& PrivateKey::operator=(PrivateKey&&) noexcept = default;
PrivateKey::~PrivateKey() = default; // the library overwrites the number it frees

PrivateKey PrivateKey::generate() {
  Key key(EVP_EC_gen(SN_X9_62_prime256v1));
  demand(key != nullptr);
  return PrivateKey(std::make_unique<State>(State{std::move(key)}));
}

Result<PrivateKey> PrivateKey::unlock(std::string_view locked_pem, std::string_view passphrase) {
  const auto der = take_from_under(passphrase, locked_pem);
  if (!der) return der.error();
  const unsigned char* at = der->data();
  const Pkcs8 pkcs8(d2i_PKCS8_PRIV_KEY_INFO(nullptr, &at, static_cast<long>(der->size())));
  Key key(pkcs8 ? EVP_PKCS82PKEY(pkcs8.get()) : nullptr);
  ERR_clear_error();
  // A wrong passphrase meets a proper padding once in 256, and then what it uncovers is no key.
  if (!key) return Error{"wrong-passphrase", "the passphrase is not the right one"};
  if (!is_p256(key.get())) return Error{"key-damaged", "the stored key is of another kind than this program makes"};
  return PrivateKey(std::make_unique<State>(State{std::move(key)}));
}

std::string PrivateKey::lock(std::string_view passphrase) const {
  const Pkcs8 pkcs8(EVP_PKEY2PKCS8(state_->key.get()));
  const int size = pkcs8 ? i2d_PKCS8_PRIV_KEY_INFO(pkcs8.get(), nullptr) : 0;
  demand(size > 0);
  Secret der(static_cast<std::size_t>(size));
  unsigned char* at = der.data();
  demand(i2d_PKCS8_PRIV_KEY_INFO(pkcs8.get(), &at) == size);
  return put_under(passphrase, der);
}

std::string PrivateKey::sign(std::string_view message) const {
  const Hashing hashing(EVP_MD_CTX_new());
  std::size_t size = 0;
  demand(hashing && EVP_DigestSignInit(hashing.get(), nullptr, EVP_sha256(), nullptr, state_->key.get()) == 1 &&
         EVP_DigestSign(hashing.get(), nullptr, &size, bytes_of(message), message.size()) == 1);
  std::string signature(size, '\0');
  demand(EVP_DigestSign(hashing.get(), reinterpret_cast<unsigned char*>(signature.data()), &size, bytes_of(message),
                        message.size()) == 1);
  signature.resize(size);
  return signature;
}

std::string PrivateKey::public_pem() const {
  const Bio bio(BIO_new(BIO_s_mem()));
  demand(bio && PEM_write_bio_PUBKEY(bio.get(), state_->key.get()) == 1);
  return text_in(bio);
}

namespace {

X509Ptr parsed(std::string_view pem) {
  const Bio bio(BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size())));
  const auto never_ask = [](char*, int, int, void*) { return -1; }; // a stranger's PEM may claim to be encrypted
  X509Ptr x509(bio ? PEM_read_bio_X509(bio.get(), nullptr, never_ask, nullptr) : nullptr);
  ERR_clear_error();
  return x509;
}

std::string common_name(const X509_NAME* name) {
  const int place = X509_NAME_get_index_by_NID(name, NID_commonName, -1);
  if (place < 0) return "";
  const ASN1_STRING* const value = X509_NAME_ENTRY_get_data(X509_NAME_get_entry(name, place));
  unsigned char* utf8 = nullptr;
  const int size = ASN1_STRING_to_UTF8(&utf8, value);
  if (size < 0) return "";
  std::string text(reinterpret_cast<const char*>(utf8), static_cast<std::size_t>(size));
  OPENSSL_free(utf8);
  return text;
}

Certificate described(X509* x509) {
  const Bio bio(BIO_new(BIO_s_mem()));
  demand(bio && PEM_write_bio_X509(bio.get(), x509) == 1);
  unsigned char* der = nullptr;
  const int size = i2d_X509(x509, &der);
  demand(size > 0);
  const std::string fingerprint = sha256_hex({reinterpret_cast<const char*>(der), static_cast<std::size_t>(size)});
  OPENSSL_free(der);
  return {text_in(bio), fingerprint, common_name(X509_get_subject_name(x509))};
}

} // namespace

// Makes one certificate. The only one beside the key itself that reaches its number.
class Certifier {
public:
  explicit Certifier(const PrivateKey& subject_key) : x509_(X509_new()) {
    demand(x509_ && X509_set_version(x509_.get(), X509_VERSION_3) == 1 &&
           X509_set_pubkey(x509_.get(), subject_key.state_->key.get()) == 1);
    const BigNumber serial(BN_new());
    demand(serial && BN_rand(serial.get(), serial_bits, BN_RAND_TOP_ONE, BN_RAND_BOTTOM_ANY) == 1 &&
           BN_to_ASN1_INTEGER(serial.get(), X509_get_serialNumber(x509_.get())) != nullptr);
  }

  void name(int attribute, std::string_view text) {
    demand(X509_NAME_add_entry_by_NID(X509_get_subject_name(x509_.get()), attribute, V_ASN1_UTF8STRING, bytes_of(text),
                                      static_cast<int>(text.size()), -1, 0) == 1);
  }

  void valid_from(const calc::Moment& now) {
    using namespace std::chrono;
    const sys_time<milliseconds> from(milliseconds{now.utc_ms});
    const auto day = floor<days>(from);
    const auto until = sys_days(calc::add_months(calc::Date(day), months_valid)) + (from - day);
    demand(ASN1_TIME_set(X509_getm_notBefore(x509_.get()), system_clock::to_time_t(from)) != nullptr &&
           ASN1_TIME_set(X509_getm_notAfter(x509_.get()), system_clock::to_time_t(until)) != nullptr);
  }

  void extend(X509* issuer, const std::vector<std::pair<int, const char*>>& extensions) {
    X509V3_CTX context;
    X509V3_set_ctx(&context, issuer ? issuer : x509_.get(), x509_.get(), nullptr, nullptr, 0);
    for (const auto& [kind, value] : extensions) {
      const Extension extension(X509V3_EXT_conf_nid(nullptr, &context, kind, value));
      demand(extension && X509_add_ext(x509_.get(), extension.get(), -1) == 1);
    }
  }

  Certificate signed_by(const PrivateKey& issuer_key, const X509* issuer) {
    demand(X509_set_issuer_name(x509_.get(), X509_get_subject_name(issuer ? issuer : x509_.get())) == 1 &&
           X509_sign(x509_.get(), issuer_key.state_->key.get(), EVP_sha256()) > 0);
    return described(x509_.get());
  }

private:
  X509Ptr x509_;
};

Certificate certify_shop(const PrivateKey& shop_key, std::string_view shop_name, const calc::Moment& now) {
  Certifier certifier(shop_key);
  certifier.name(NID_commonName, shop_name);
  certifier.valid_from(now);
  certifier.extend(nullptr, {{NID_basic_constraints, "critical,CA:TRUE,pathlen:0"},
                             {NID_key_usage, "critical,keyCertSign"},
                             {NID_subject_key_identifier, "hash"},
                             {NID_authority_key_identifier, "keyid:always"}});
  return certifier.signed_by(shop_key, nullptr);
}

Certificate certify_person(const PrivateKey& shop_key, const Certificate& shop, const PrivateKey& person_key,
                           std::string_view name, const calc::Moment& now) {
  const X509Ptr issuer = parsed(shop.pem);
  demand(issuer != nullptr);
  Certifier certifier(person_key);
  certifier.name(NID_organizationName, shop.subject);
  certifier.name(NID_commonName, name);
  certifier.valid_from(now);
  certifier.extend(issuer.get(), {{NID_basic_constraints, "critical,CA:FALSE"},
                                  {NID_key_usage, "critical,digitalSignature,nonRepudiation"},
                                  {NID_subject_key_identifier, "hash"},
                                  {NID_authority_key_identifier, "keyid:always"}});
  return certifier.signed_by(shop_key, issuer.get());
}

Result<Certificate> read_certificate(std::string_view pem) {
  const X509Ptr x509 = parsed(pem);
  if (!x509) return Error{"bad-certificate", "this is no certificate: PEM with one X.509 certificate is wanted"};
  if (!is_p256(X509_get0_pubkey(x509.get()))) {
    ERR_clear_error();
    return Error{"bad-certificate", "this certificate is not for a P-256 key, the only kind this program makes"};
  }
  return described(x509.get());
}

bool issued_by(const Certificate& certificate, const Certificate& issuer) {
  const X509Ptr below = parsed(certificate.pem);
  const X509Ptr above = parsed(issuer.pem);
  const bool issued = below && above && X509_check_issued(above.get(), below.get()) == X509_V_OK &&
                      X509_check_ca(above.get()) == 1 && X509_verify(below.get(), X509_get0_pubkey(above.get())) == 1;
  ERR_clear_error();
  return issued;
}

struct PublicKey::State {
  X509Ptr x509;
  Hashing begun; // with the certificate's key; null when that may not be used
};

PublicKey::PublicKey(const Certificate& certificate) : state_(std::make_unique<State>()) {
  state_->x509 = parsed(certificate.pem);
  EVP_PKEY* const key = state_->x509 ? X509_get0_pubkey(state_->x509.get()) : nullptr;
  if (is_p256(key)) {
    state_->begun.reset(EVP_MD_CTX_new());
    if (state_->begun && EVP_DigestVerifyInit(state_->begun.get(), nullptr, EVP_sha256(), nullptr, key) != 1)
      state_->begun.reset();
  }
  ERR_clear_error();
}

PublicKey::PublicKey(PublicKey&&) noexcept = default;
PublicKey& PublicKey::operator=(PublicKey&&) noexcept = default;
PublicKey::~PublicKey() = default;

bool PublicKey::verify(std::string_view message, std::string_view der_signature) const {
  const Hashing hashing(EVP_MD_CTX_new());
  bool verified = hashing && state_->begun && EVP_MD_CTX_copy_ex(hashing.get(), state_->begun.get()) == 1;
  if (verified) {
    EVP_MD_CTX_set_flags(hashing.get(), EVP_MD_CTX_FLAG_FINALISE); // used once: nothing is copied to go on with
    verified = EVP_DigestVerify(hashing.get(), bytes_of(der_signature), der_signature.size(), bytes_of(message),
                                message.size()) == 1;
  }
  ERR_clear_error();
  return verified;
}

bool verify_signature(const Certificate& certificate, std::string_view message, std::string_view der_signature) {
  return PublicKey(certificate).verify(message, der_signature);
}

} // namespace record
