// A handover as a file: pages with other files attached (ISO 32000-2, 14.13) and one signature over everything but its
// own place (ISO 32000-1, 12.8.1). Written in one form, and read again in no other:
// - one signature field, invisible, certifying that nothing may be changed (DocMDP, P 1);
// - its ByteRange reaches from the first byte to the last, but for the value of Contents with its < and >;
// - that value is lower-case hex of exactly the signature, then zeros.
#pragma once

#include "quantity/result.h"

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace handover {

using quantity::Error;
using quantity::Result;

struct Attached {
  std::string name;        // "record.json"
  std::string media_type;  // "application/json"
  std::string description; // shown by a reader's program
  std::string relation;    // AFRelationship: "Data", "Supplement"
  std::string bytes;
};

struct SignedBy {
  std::string name;       // of the person
  std::string reason;     // what for
  std::string signed_at;  // ISO 8601 in UTC, "2026-11-26T10:15:00.000Z": the time claimed
  std::string written_at; // the same: date of the attachments
};

constexpr std::size_t room_for_signature = 8192; // bytes; one of P-256 with two certificates takes 1,500
constexpr std::size_t largest_attachment = 64u << 20;

// `pages` is a PDF without signature; `sign` gives the DER over what it is handed. The same pages and attachments give
// the same bytes but for the time and the signature. Code "not-written".
Result<std::string> enclosed(const std::string& pages, const std::vector<Attached>& attached, const SignedBy& by,
                             const std::function<std::string(std::string_view)>& sign);

// A file taken apart.
struct Enclosure {
  std::string content;   // what was signed
  std::string signature; // DER
  std::vector<Attached> attached;
  std::string signed_at; // as claimed: "2026-11-26 10:15:00 UTC"
};

// Codes: "foreign" (no PDF, or none with a signature of this kind), "not-intact" (one that is not in the one form; the
// message says how it differs).
Result<Enclosure> taken_apart(const std::string& pdf);

} // namespace handover
