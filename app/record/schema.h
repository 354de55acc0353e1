// The tables and guards of a shop file, word for word. Opening compares them with what the file holds.
#pragma once

#include "record/sqlite.h"

#include <optional>
#include <span>

namespace record {

constexpr std::int64_t application_id = 0x574D524B; // "WMRK", at byte 68 of the file
constexpr std::int64_t schema_version = 1;          // user_version, at byte 60

struct SchemaItem {
  std::string_view name;
  std::string_view sql; // "" for the index that a UNIQUE makes by itself
};

std::span<const SchemaItem> schema(); // in the order they are made

// The first table, index or trigger that is not as this program makes it, as a sentence; nothing when all are.
Result<std::optional<std::string>> schema_difference(const Connection& db);

} // namespace record
