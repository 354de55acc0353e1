// Whether a record is untouched: chains, hashes, signatures, certificates, anchors, and every decision made again.
// Works on a list of events and a way to get blobs, not on a database, so that a record inside a PDF is checked alike.
#pragma once

#include "record/excerpt.h"
#include "record/store.h"

#include <functional>
#include <map>
#include <set>

namespace record {

struct Known {
  std::vector<std::string> hashes;     // heads printed on sheets: each must occur in the record
  std::optional<std::string> shop_key; // fingerprint that the shop's certificate must have
};

struct Report {
  bool intact = false;
  std::string fault;              // the first thing that differs: chain, event, what; "" when intact
  std::vector<std::string> notes; // decided by older rules, clock set back
  std::string shop_key;           // fingerprint of the shop's certificate, "" when there is none
  bool practice = false;
  std::int64_t events = 0;
  std::int64_t signatures = 0;
  std::vector<std::pair<std::string, Head>> heads; // chain, head

  // Of an intact record: who may release an engine at its end, by fingerprint of their certificate (nobody retired, no
  // key that was replaced), and the builds that were released.
  std::map<std::string, std::string, std::less<>> signers; // certificate, name
  std::set<std::string, std::less<>> released;             // ids
};

using BlobSource = std::function<Result<std::optional<std::string>>(std::string_view sha256)>;

// `events` in the order they were written, all chains together.
Report verify_events(const std::vector<Event>& events, const BlobSource& blobs, const Known& known);

// The same of an excerpt. What was withheld is only seen to be in its place: its content cannot be checked here, and
// the number of pulls and uses it states is taken as stated.
Report verify_excerpt(const std::vector<Line>& lines, const BlobSource& blobs, const Known& known);

// A shop file: the above, after the file's own checks (schema, columns, heads).
Result<Report> verify_shop(const std::filesystem::path& path, const Known& known);

} // namespace record
