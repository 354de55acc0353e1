// The least that storing, checking and reading could cost: the libraries by themselves, as directly as they can be
// used, on the same bytes. Nothing of ours is in it but these bytes.
#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace speed {

// A table of its own in WAL with synchronous=FULL; each text is put on the disk by itself.
class PlainTable {
public:
  explicit PlainTable(const std::filesystem::path& file);
  ~PlainTable();
  PlainTable(const PlainTable&) = delete;
  PlainTable& operator=(const PlainTable&) = delete;
  void insert(std::string_view text);

private:
  struct State;
  std::unique_ptr<State> state_;
};

// P-256 with SHA-256.
class PlainKey {
public:
  PlainKey();
  ~PlainKey();
  PlainKey(const PlainKey&) = delete;
  PlainKey& operator=(const PlainKey&) = delete;
  std::string sign(std::string_view text) const;
  bool verify(std::string_view text, const std::string& signature) const;

private:
  struct State;
  std::unique_ptr<State> state_;
};

void hash(std::string_view text);
void parse(std::string_view text); // nlohmann/json, into its own document

// The first column of every row of a shop file, each hashed and parsed. `chain` "" takes all chains.
void read_rows(const std::filesystem::path& shop, const std::string& chain);
std::vector<std::string> rows_of(const std::filesystem::path& shop);
std::string newest_rows(const std::filesystem::path& shop, int count); // one behind the other

// Each text hashed and parsed, and verified where it has a signature, on as many cores.
struct Signed {
  std::string text;
  std::string signature; // "" without
};
void check(const std::vector<Signed>& texts, const PlainKey& key, unsigned cores);

} // namespace speed
