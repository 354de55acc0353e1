// The numbers of an action: "value" or "values", nested as the entry asks, position by position, row by row.
#pragma once

#include "build/state.h"

namespace build {

// One number of an action and the cell it is for.
struct Given {
  std::size_t cell = 0;
  json::Value typed;
  bool skipped = false;
  Exact value; // in the entry's unit
};

// Codes "bad-value" and "bad-unit", with the place and what was typed in the message.
Result<std::vector<Given>> given_numbers(const Build& build, EntryAt at, const json::Value& action);

} // namespace build
