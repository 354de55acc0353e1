// Whether a shop file agrees with itself: schema, SQLite's own checks, columns against JSON, heads against events,
// blobs against their names. What the events say and who signed them is the verifier's to judge.
#pragma once

#include "build/event.h"
#include "record/sqlite.h"

#include <optional>

namespace record {

// An event from its JSON text; "bad-event" or "not-json".
Result<build::Event> event_of(std::string_view text);

// The first thing that differs, as a sentence, or nothing. All is read from one moment of the file.
Result<std::optional<std::string>> difference_in(const Connection& db, std::vector<build::Event>* events = nullptr);

} // namespace record
