// Reads JSON text (RFC 8259) strictly: refuses duplicate keys, nesting over 64, more than 16 MB, a byte order mark,
// invalid UTF-8, lone surrogates and anything after the document. nlohmann/json does the parsing (SAX).
#pragma once

#include "json/value.h"

#include <filesystem>

namespace json {

struct Fault {
  Place place;
  std::string pointer; // JSON pointer (RFC 6901) of what is wrong, "" for the document
  std::string message; // one sentence
};

std::string pointer_token(std::string_view key); // a key as part of a JSON pointer: ~ and / escaped

struct Document {
  Value root;                // null when faults is not empty
  std::vector<Fault> faults; // a syntax error stops at the first; every duplicate key is told
};

constexpr std::size_t largest_text = 16u << 20;
constexpr int deepest_nesting = 64;

Document read(std::string_view text);

// The first fault as an Error (code "not-json", "line 3, column 7: ..."), for callers that want one answer. The values
// do not know where they stood.
Result<Value> read_one(std::string_view text);

// A whole regular file of at most `largest` bytes; code "unreadable" names the file and what is wrong with it
// (absent, a folder, a device, too large).
Result<std::string> read_file(const std::filesystem::path& path, std::size_t largest = largest_text);

} // namespace json
