// record.json: the record of one build as it lies inside the handover, to be checked without the shop's file. Canonical
// JSON; described by record.schema.json beside this file.
#pragma once

#include "record/excerpt.h"
#include "record/verify.h"

#include <string>
#include <string_view>
#include <vector>

namespace handover {

using quantity::Error;
using quantity::Result;

constexpr int evidence_format = 1;

struct Evidence {
  std::string build;
  std::string procedure; // its bytes
  std::vector<record::Line> lines;
};

// Code "not-written" when it would be too long to be read again (json::largest_text).
Result<std::string> evidence_text(const Evidence& evidence);

// Strict: canonical, every member known. Code "not-intact".
Result<Evidence> read_evidence(std::string_view text);

// By the record's own verifier; beyond that it must hold this build alone, released.
record::Report check_evidence(const Evidence& evidence, const record::Known& known);

} // namespace handover
