// A photograph as it is kept: the bytes of the camera, never changed, by their SHA-256.
#pragma once

#include "json/value.h"

#include <filesystem>
#include <string>
#include <string_view>

namespace record {

using quantity::Error;
using quantity::Result;

constexpr std::size_t largest_photograph = 20u << 20; // bytes

struct Photograph {
  std::string bytes;
  json::Value facts; // {sha256, size, media: "image/jpeg" or "image/png", width, height}
};

// Kind and size in pixels come from the file's own header; the picture itself is not decoded.
// Codes: "unreadable" (absent, too large), "no-photograph" (neither JPEG nor PNG, or cut off in its header).
Result<Photograph> read_photograph(const std::filesystem::path& path);

// Of bytes that may be one; code "no-photograph".
Result<json::Value> photograph_facts(std::string_view bytes);

} // namespace record
