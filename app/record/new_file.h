// A file that appears whole or not at all: written under another name in the same folder, put on the disk, then given
// its own name, never over a file that is there.
#pragma once

#include "quantity/result.h"

#include <filesystem>

namespace record {

using quantity::Error;
using quantity::Result;

class NewFile {
public:
  // An empty file in the folder of `target`, readable by its owner only. "store-exists", "store-failed".
  static Result<NewFile> for_target(const std::filesystem::path& target);
  NewFile(NewFile&& other) noexcept;
  NewFile& operator=(NewFile&&) = delete;
  ~NewFile(); // removed, unless it has got its name

  const std::filesystem::path& path() const { return path_; } // absolute
  Result<void> to_disk() const;
  Result<void> take_name(); // to_disk first

private:
  NewFile(std::filesystem::path path, std::filesystem::path target);
  std::filesystem::path path_; // empty: nothing to remove any more
  std::filesystem::path target_;
};

} // namespace record
