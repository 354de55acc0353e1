#include "speed/floor.h"

#include <nlohmann/json.hpp>
#include <openssl/ec.h>
#include <openssl/evp.h>
#include <sqlite3.h>

#include <atomic>
#include <stdexcept>
#include <thread>

namespace speed {

namespace {

void demand(bool done, const char* what) {
  if (!done) throw std::runtime_error(what);
}

struct Closes {
  void operator()(sqlite3* it) const { sqlite3_close(it); }
  void operator()(sqlite3_stmt* it) const { sqlite3_finalize(it); }
  void operator()(EVP_PKEY* it) const { EVP_PKEY_free(it); }
  void operator()(EVP_MD_CTX* it) const { EVP_MD_CTX_free(it); }
};
template <typename T>
using Own = std::unique_ptr<T, Closes>;

Own<sqlite3> opened(const std::filesystem::path& file, int flags) {
  sqlite3* made = nullptr;
  const int code = sqlite3_open_v2(file.c_str(), &made, flags, nullptr);
  Own<sqlite3> out(made);
  demand(code == SQLITE_OK, "SQLite cannot open its file");
  return out;
}

Own<sqlite3_stmt> prepared(sqlite3* db, const std::string& sql) {
  sqlite3_stmt* made = nullptr;
  demand(sqlite3_prepare_v2(db, sql.c_str(), -1, &made, nullptr) == SQLITE_OK, sqlite3_errmsg(db));
  return Own<sqlite3_stmt>(made);
}

const unsigned char* bytes(std::string_view text) {
  return reinterpret_cast<const unsigned char*>(text.data());
}

template <typename Take>
void each_row(const std::filesystem::path& shop, const std::string& sql, const std::string& chain, Take take) {
  const auto db = opened(shop, SQLITE_OPEN_READONLY);
  const auto rows = prepared(db.get(), sql);
  if (sqlite3_bind_parameter_count(rows.get()) > 0)
    sqlite3_bind_text(rows.get(), 1, chain.data(), static_cast<int>(chain.size()), SQLITE_STATIC);
  while (sqlite3_step(rows.get()) == SQLITE_ROW) {
    const void* const text = sqlite3_column_blob(rows.get(), 0);
    take(std::string_view(static_cast<const char*>(text),
                          static_cast<std::size_t>(sqlite3_column_bytes(rows.get(), 0))));
  }
}

} // namespace

struct PlainTable::State {
  Own<sqlite3> db;
  Own<sqlite3_stmt> insert;
};

PlainTable::PlainTable(const std::filesystem::path& file) : state_(std::make_unique<State>()) {
  state_->db = opened(file, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE);
  const char* const begin = "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; CREATE TABLE texts(text TEXT)";
  demand(sqlite3_exec(state_->db.get(), begin, nullptr, nullptr, nullptr) == SQLITE_OK, "SQLite cannot make its table");
  state_->insert = prepared(state_->db.get(), "INSERT INTO texts(text) VALUES(?)");
}

PlainTable::~PlainTable() = default;

void PlainTable::insert(std::string_view text) {
  sqlite3_stmt* const insert = state_->insert.get();
  sqlite3_bind_text(insert, 1, text.data(), static_cast<int>(text.size()), SQLITE_STATIC);
  demand(sqlite3_step(insert) == SQLITE_DONE, "SQLite cannot insert");
  sqlite3_reset(insert);
}

struct PlainKey::State {
  Own<EVP_PKEY> key;
};

PlainKey::PlainKey() : state_(std::make_unique<State>()) {
  state_->key.reset(EVP_EC_gen("P-256"));
  demand(state_->key != nullptr, "OpenSSL makes no key");
}

PlainKey::~PlainKey() = default;

std::string PlainKey::sign(std::string_view text) const {
  const Own<EVP_MD_CTX> context(EVP_MD_CTX_new());
  std::size_t size = 80; // of the DER of two numbers of 32 bytes
  std::string out(size, '\0');
  demand(EVP_DigestSignInit(context.get(), nullptr, EVP_sha256(), nullptr, state_->key.get()) == 1 &&
             EVP_DigestSign(context.get(), reinterpret_cast<unsigned char*>(out.data()), &size, bytes(text),
                            text.size()) == 1,
         "OpenSSL does not sign");
  out.resize(size);
  return out;
}

bool PlainKey::verify(std::string_view text, const std::string& signature) const {
  const Own<EVP_MD_CTX> context(EVP_MD_CTX_new());
  return EVP_DigestVerifyInit(context.get(), nullptr, EVP_sha256(), nullptr, state_->key.get()) == 1 &&
         EVP_DigestVerify(context.get(), bytes(signature), signature.size(), bytes(text), text.size()) == 1;
}

void hash(std::string_view text) {
  static const EVP_MD* const sha256 = EVP_MD_fetch(nullptr, "SHA256", nullptr);
  unsigned char digest[EVP_MAX_MD_SIZE];
  demand(EVP_Digest(text.data(), text.size(), digest, nullptr, sha256, nullptr) == 1, "OpenSSL does not hash");
}

void parse(std::string_view text) {
  demand(!nlohmann::json::parse(text).is_null(), "nlohmann/json read nothing");
}

void read_rows(const std::filesystem::path& shop, const std::string& chain) {
  each_row(shop, "SELECT event FROM events WHERE chain = ? ORDER BY seq", chain, [](std::string_view text) {
    hash(text);
    parse(text);
  });
  each_row(shop, "SELECT bytes FROM blobs", chain, [](std::string_view text) {
    hash(text);
    parse(text);
  });
}

std::vector<std::string> rows_of(const std::filesystem::path& shop) {
  std::vector<std::string> out;
  each_row(shop, "SELECT event FROM events ORDER BY id", "", [&](std::string_view text) { out.emplace_back(text); });
  return out;
}

std::string newest_rows(const std::filesystem::path& shop, int count) {
  std::string out;
  each_row(shop, "SELECT event FROM events ORDER BY id DESC LIMIT " + std::to_string(count), "",
           [&](std::string_view text) { out += text; });
  return out;
}

void check(const std::vector<Signed>& texts, const PlainKey& key, unsigned cores) {
  constexpr std::size_t at_once = 32; // so that no core waits long for another
  std::atomic<std::size_t> next = 0;
  std::atomic<bool> good = true;
  const auto work = [&] {
    for (std::size_t from = next.fetch_add(at_once); from < texts.size(); from = next.fetch_add(at_once))
      for (std::size_t i = from; i < std::min(from + at_once, texts.size()); ++i) {
        hash(texts[i].text);
        parse(texts[i].text);
        if (!texts[i].signature.empty() && !key.verify(texts[i].text, texts[i].signature)) good = false;
      }
  };
  std::vector<std::thread> others;
  for (unsigned core = 1; core < cores; ++core) others.emplace_back(work);
  work();
  for (auto& other : others) other.join();
  demand(good, "a signature made a moment ago does not verify");
}

} // namespace speed
