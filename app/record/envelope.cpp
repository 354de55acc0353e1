#include "record/envelope.h"

#include "record/digest.h"
#include "record/owned.h"

#include <openssl/crypto.h>
#include <openssl/err.h>
#include <openssl/evp.h>
#include <openssl/pem.h>
#include <openssl/rand.h>
#include <openssl/x509.h>

#include <algorithm>
#include <array>
#include <optional>
#include <stdexcept>

namespace record {

namespace {

constexpr std::string_view pem_name = "ENCRYPTED PRIVATE KEY";
constexpr std::string_view first_line = "SHA-256 of the key below: ";
constexpr std::size_t digest_digits = 64;

constexpr std::uint64_t scrypt_n = 1u << 15, scrypt_r = 8, scrypt_p = 1;
// N=2^15 with r=8 wants a little over the 32 MiB that OpenSSL grants by itself, so neither its PKCS5_pbe2_set_scrypt
// nor its PKCS8_decrypt can be used. A file that asks for more than this is not ours.
constexpr std::uint64_t scrypt_memory = 64u << 20;
constexpr std::uint64_t scrypt_most_p = 4;
constexpr std::size_t largest_pem = 64u << 10;
constexpr int salt_size = 16, block_size = 16, key_size = 32;

using Bio = Owned<BIO, BIO_free>;
using Pbe2 = Owned<PBE2PARAM, PBE2PARAM_free>;
using Scrypt = Owned<SCRYPT_PARAMS, SCRYPT_PARAMS_free>;
using Sealed = Owned<X509_SIG, X509_SIG_free>;
using Cipher = Owned<EVP_CIPHER_CTX, EVP_CIPHER_CTX_free>;
using Block = std::array<unsigned char, block_size>;

struct Recipe {
  std::string salt;
  std::uint64_t n = scrypt_n, r = scrypt_r, p = scrypt_p;
  Block iv{};
};

struct Locked {
  Recipe recipe;
  std::string bytes;
};

[[noreturn]] void library_failed() {
  ERR_clear_error();
  throw std::runtime_error("the cryptographic library could not lock a key");
}

void demand(bool done) {
  if (!done) library_failed();
}

int as_int(std::size_t size) {
  demand(size <= largest_pem);
  return static_cast<int>(size);
}

const unsigned char* bytes_of(std::string_view text) {
  return reinterpret_cast<const unsigned char*>(text.data());
}

std::string text_of(const ASN1_OCTET_STRING* octets) {
  return {reinterpret_cast<const char*>(ASN1_STRING_get0_data(octets)),
          static_cast<std::size_t>(ASN1_STRING_length(octets))};
}

std::optional<Secret> derive(std::string_view passphrase, const Recipe& recipe) {
  Secret key(key_size);
  if (EVP_PBE_scrypt(passphrase.data(), passphrase.size(), bytes_of(recipe.salt), recipe.salt.size(), recipe.n,
                     recipe.r, recipe.p, scrypt_memory, key.data(), key.size()) != 1)
    return std::nullopt;
  return key;
}

std::string encipher(const Secret& plain, const Secret& key, const Block& iv) {
  std::string out(plain.size() + block_size, '\0');
  auto* const to = reinterpret_cast<unsigned char*>(out.data());
  const Cipher cipher(EVP_CIPHER_CTX_new());
  int begun = 0, ended = 0;
  demand(cipher && EVP_EncryptInit_ex(cipher.get(), EVP_aes_256_cbc(), nullptr, key.data(), iv.data()) == 1 &&
         EVP_EncryptUpdate(cipher.get(), to, &begun, plain.data(), as_int(plain.size())) == 1 &&
         EVP_EncryptFinal_ex(cipher.get(), to + begun, &ended) == 1);
  out.resize(static_cast<std::size_t>(begun) + static_cast<std::size_t>(ended));
  return out;
}

// Nothing when the padding at the end is not there: nearly always the wrong key.
std::optional<Secret> decipher(std::string_view bytes, const Secret& key, const Block& iv) {
  Secret plain(bytes.size() + block_size);
  const Cipher cipher(EVP_CIPHER_CTX_new());
  int begun = 0, ended = 0;
  demand(cipher && EVP_DecryptInit_ex(cipher.get(), EVP_aes_256_cbc(), nullptr, key.data(), iv.data()) == 1 &&
         EVP_DecryptUpdate(cipher.get(), plain.data(), &begun, bytes_of(bytes), as_int(bytes.size())) == 1);
  if (EVP_DecryptFinal_ex(cipher.get(), plain.data() + begun, &ended) != 1) return std::nullopt;
  plain.shorten(static_cast<std::size_t>(begun) + static_cast<std::size_t>(ended));
  return plain;
}

void set_octets(ASN1_OCTET_STRING* to, const unsigned char* data, std::size_t size) {
  demand(ASN1_OCTET_STRING_set(to, data, as_int(size)) == 1);
}

// The algorithm identifier of PBES2 with its two parts.
void describe(const Recipe& recipe, X509_ALGOR* algorithm) {
  const Scrypt scrypt(SCRYPT_PARAMS_new());
  demand(scrypt != nullptr);
  set_octets(scrypt->salt, bytes_of(recipe.salt), recipe.salt.size());
  demand(ASN1_INTEGER_set_uint64(scrypt->costParameter, recipe.n) == 1 &&
         ASN1_INTEGER_set_uint64(scrypt->blockSize, recipe.r) == 1 &&
         ASN1_INTEGER_set_uint64(scrypt->parallelizationParameter, recipe.p) == 1);

  const Pbe2 pbe2(PBE2PARAM_new());
  demand(pbe2 != nullptr);
  pbe2->keyfunc->algorithm = OBJ_nid2obj(NID_id_scrypt);
  demand(ASN1_TYPE_pack_sequence(ASN1_ITEM_rptr(SCRYPT_PARAMS), scrypt.get(), &pbe2->keyfunc->parameter) != nullptr);
  ASN1_OCTET_STRING* const iv = ASN1_OCTET_STRING_new();
  demand(iv != nullptr);
  set_octets(iv, recipe.iv.data(), recipe.iv.size());
  demand(X509_ALGOR_set0(pbe2->encryption, OBJ_nid2obj(NID_aes_256_cbc), V_ASN1_OCTET_STRING, iv) == 1);

  algorithm->algorithm = OBJ_nid2obj(NID_pbes2);
  demand(ASN1_TYPE_pack_sequence(ASN1_ITEM_rptr(PBE2PARAM), pbe2.get(), &algorithm->parameter) != nullptr);
}

std::string to_der(const Locked& locked) {
  const Sealed sealed(X509_SIG_new());
  demand(sealed != nullptr);
  X509_ALGOR* algorithm = nullptr;
  ASN1_OCTET_STRING* octets = nullptr;
  X509_SIG_getm(sealed.get(), &algorithm, &octets);
  describe(locked.recipe, algorithm);
  set_octets(octets, bytes_of(locked.bytes), locked.bytes.size());
  unsigned char* der = nullptr;
  const int size = i2d_X509_SIG(sealed.get(), &der);
  demand(size > 0);
  std::string out(reinterpret_cast<const char*>(der), static_cast<std::size_t>(size));
  OPENSSL_free(der);
  return out;
}

bool is(const X509_ALGOR* algorithm, int nid) {
  return OBJ_obj2nid(algorithm->algorithm) == nid;
}

bool read_scrypt(const X509_ALGOR* algorithm, Recipe& recipe) {
  if (!is(algorithm, NID_id_scrypt)) return false;
  const Scrypt scrypt(
      static_cast<SCRYPT_PARAMS*>(ASN1_TYPE_unpack_sequence(ASN1_ITEM_rptr(SCRYPT_PARAMS), algorithm->parameter)));
  if (!scrypt) return false;
  recipe.salt = text_of(scrypt->salt);
  std::uint64_t length = key_size;
  return ASN1_INTEGER_get_uint64(&recipe.n, scrypt->costParameter) == 1 &&
         ASN1_INTEGER_get_uint64(&recipe.r, scrypt->blockSize) == 1 &&
         ASN1_INTEGER_get_uint64(&recipe.p, scrypt->parallelizationParameter) == 1 && recipe.p <= scrypt_most_p &&
         (!scrypt->keyLength || ASN1_INTEGER_get_uint64(&length, scrypt->keyLength) == 1) && length == key_size;
}

bool read_aes(const X509_ALGOR* algorithm, Recipe& recipe) {
  if (!is(algorithm, NID_aes_256_cbc)) return false;
  const ASN1_TYPE* const iv = algorithm->parameter;
  if (!iv || iv->type != V_ASN1_OCTET_STRING || ASN1_STRING_length(iv->value.octet_string) != block_size) return false;
  std::copy_n(ASN1_STRING_get0_data(iv->value.octet_string), block_size, recipe.iv.begin());
  return true;
}

std::optional<Locked> from_der(std::string_view der) {
  const unsigned char* at = bytes_of(der);
  const Sealed sealed(d2i_X509_SIG(nullptr, &at, static_cast<long>(der.size())));
  if (!sealed || at != bytes_of(der) + der.size()) return std::nullopt;
  const X509_ALGOR* algorithm = nullptr;
  const ASN1_OCTET_STRING* octets = nullptr;
  X509_SIG_get0(sealed.get(), &algorithm, &octets);
  if (!is(algorithm, NID_pbes2)) return std::nullopt;
  const Pbe2 pbe2(static_cast<PBE2PARAM*>(ASN1_TYPE_unpack_sequence(ASN1_ITEM_rptr(PBE2PARAM), algorithm->parameter)));
  Locked locked;
  if (!pbe2 || !read_scrypt(pbe2->keyfunc, locked.recipe) || !read_aes(pbe2->encryption, locked.recipe))
    return std::nullopt;
  locked.bytes = text_of(octets);
  if (locked.bytes.empty() || locked.bytes.size() % block_size != 0) return std::nullopt;
  return locked;
}

std::string to_pem(const std::string& der) {
  const Bio bio(BIO_new(BIO_s_mem()));
  demand(bio && PEM_write_bio(bio.get(), pem_name.data(), "", bytes_of(der), as_int(der.size())) > 0);
  const char* text = nullptr;
  const long size = BIO_get_mem_data(bio.get(), &text);
  return {text, static_cast<std::size_t>(size)};
}

std::optional<std::string> from_pem(std::string_view pem) {
  const Bio bio(BIO_new_mem_buf(pem.data(), as_int(pem.size())));
  demand(bio != nullptr);
  char *name = nullptr, *header = nullptr;
  unsigned char* data = nullptr;
  long size = 0;
  if (PEM_read_bio(bio.get(), &name, &header, &data, &size) != 1) return std::nullopt;
  std::optional<std::string> der;
  if (name == pem_name) der.emplace(reinterpret_cast<const char*>(data), static_cast<std::size_t>(size));
  OPENSSL_free(name);
  OPENSSL_free(header);
  OPENSSL_free(data);
  return der;
}

// The enciphered key in its DER, held against the line before it.
std::optional<std::string> intact_der(std::string_view text) {
  if (text.size() > largest_pem) return std::nullopt;
  std::string_view digest;
  if (text.starts_with(first_line)) {
    digest = text.substr(first_line.size(), digest_digits);
    text.remove_prefix(first_line.size() + digest.size());
    if (!text.starts_with('\n')) return std::nullopt;
    text.remove_prefix(1);
  }
  if (!text.starts_with("-----BEGIN ")) return std::nullopt;
  auto der = from_pem(text);
  if (der && !digest.empty() && sha256_hex(*der) != digest) return std::nullopt;
  return der;
}

} // namespace

Secret::~Secret() {
  OPENSSL_cleanse(bytes_.data(), bytes_.size());
}

void Secret::shorten(std::size_t size) {
  OPENSSL_cleanse(bytes_.data() + size, bytes_.size() - size);
  bytes_.resize(size);
}

std::string put_under(std::string_view passphrase, const Secret& pkcs8) {
  Locked locked;
  std::array<unsigned char, salt_size> salt{};
  demand(RAND_bytes(salt.data(), salt_size) == 1 && RAND_bytes(locked.recipe.iv.data(), block_size) == 1);
  locked.recipe.salt.assign(salt.begin(), salt.end());
  const auto key = derive(passphrase, locked.recipe);
  demand(key.has_value());
  locked.bytes = encipher(pkcs8, *key, locked.recipe.iv);
  const std::string der = to_der(locked);
  return std::string(first_line) + sha256_hex(der) + "\n" + to_pem(der);
}

Result<Secret> take_from_under(std::string_view passphrase, std::string_view pem) {
  const auto der = intact_der(pem);
  const auto locked = der ? from_der(*der) : std::nullopt;
  const auto key = locked ? derive(passphrase, locked->recipe) : std::nullopt;
  ERR_clear_error();
  if (!key) return Error{"key-damaged", "the stored key is damaged: put back a copy of the shop file"};
  auto plain = decipher(locked->bytes, *key, locked->recipe.iv);
  ERR_clear_error();
  if (!plain) return Error{"wrong-passphrase", "the passphrase is not the right one"};
  return std::move(*plain);
}

} // namespace record
