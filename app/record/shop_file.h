// Opening a shop file: which file it is, whether it is ours, in which way it can be read, and how SQLite is set.
#pragma once

#include "record/sqlite.h"

#include <map>

namespace record {

// Files that are read without locks must not change meanwhile.
class Stillness {
public:
  void watch(const std::filesystem::path& path);
  bool disturbed() const;

private:
  std::map<std::filesystem::path, std::string> seen_;
};

struct ShopFile {
  Connection db;
  bool writable = false;
  Stillness stillness;
};

Error changed_meanwhile(const std::filesystem::path& path); // for a disturbed stillness

// Errors as Store::open.
Result<ShopFile> open_shop_file(const std::filesystem::path& path, bool writable);
Result<void> create_shop_file(const std::filesystem::path& path);

} // namespace record
