// A text file changed as a whole: it holds the old text or the new one, whatever happens in between.
#pragma once

#include "quantity/result.h"

#include <filesystem>
#include <string_view>

namespace record {

// Writes `fresh` beside the file, puts it on the disk, and gives it the file's name and rights. Nothing is done when
// the file no longer holds `old` (code "changed-meanwhile") or cannot be written ("store-failed"). A link is followed.
quantity::Result<void> replace_file(const std::filesystem::path& file, std::string_view old, std::string_view fresh);

} // namespace record
