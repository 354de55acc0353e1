// What the tests of the record share: a folder that goes away, events, and a second connection with nothing of ours.
#pragma once

#include "record/store.h"

#include <filesystem>
#include <string>
#include <vector>

struct sqlite3;

namespace example {

class Folder {
public:
  Folder();
  ~Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::filesystem::path operator/(std::string_view name) const { return path_ / name; }
  std::vector<std::string> names() const; // of what is in it, sorted

private:
  std::filesystem::path path_;
};

std::string content(const std::filesystem::path& path);
void write(const std::filesystem::path& path, std::string_view content);

record::Store opened(const std::filesystem::path& path, record::Store::Mode mode = record::Store::Mode::read_write);

// Adds an unsigned event of its own transaction that follows the chain's head.
record::Result<void> add(record::Store& store, std::string_view chain, std::string_view text);
// A closed shop file with the events "1" to `events` in the shop's chain. Made once, then copied.
void make_shop(const std::filesystem::path& path, int events);
// The texts of a chain, or the code of the error.
std::vector<std::string> texts(const record::Store& store, std::string_view chain = build::shop_chain);

// Everything a forger without a key can put right again: sequence, links and hashes of all chains, and the shop's
// notes.
void rehash(std::vector<build::Event>& events);

// SQLite as any other program would use it.
class Raw {
public:
  explicit Raw(const std::filesystem::path& path);
  ~Raw();
  Raw(const Raw&) = delete;
  Raw& operator=(const Raw&) = delete;
  std::string run(const std::string& sql);   // the library's message, "" when it went well
  std::string first(const std::string& sql); // first column of the first row
  // Runs `sql` with the guards of `table` taken away and put back word for word, as a forger would.
  void forge(const std::string& table, const std::string& sql);

private:
  sqlite3* handle_ = nullptr;
};

} // namespace example
