// One sealed event of a chain: what happened, who did it and when, and what it rests on. The shop has one chain and
// each build its own. Formats: app/record/FORMAT.md.
#pragma once

#include "calc/calendar.h"
#include "json/value.h"

#include <cstdint>
#include <string>

namespace build {

using calc::Moment;
using quantity::Error;
using quantity::Result;

// The format of events, and the number raised whenever `decide` or a computation changes its answers.
constexpr int event_format = 1;
constexpr int rules_now = 6;

inline constexpr std::string_view shop_chain = "shop";
std::string chain_of_build(std::string_view build_id);   // "build:ID"
std::string_view build_of_chain(std::string_view chain); // the id back; "" for any other chain

// Why a name is put under an event. Empty meaning: the event carries no signature.
inline constexpr std::string_view meaning_done = "done";
inline constexpr std::string_view meaning_checked = "checked";
inline constexpr std::string_view meaning_witnessed = "witnessed";
inline constexpr std::string_view meaning_checked_again = "checked again"; // by the builder, not independently
inline constexpr std::string_view meaning_conceded = "conceded";
inline constexpr std::string_view meaning_released = "released";

struct Event {
  int format = event_format;
  int rules = rules_now;
  std::string chain;
  std::int64_t seq = 0; // from 1 in its chain
  std::string previous; // hash of the event before it in the chain, 64 zeros for the first
  Moment time;
  std::string person;      // id
  std::string name;        // printed name
  std::string certificate; // SHA-256 fingerprint of the person's certificate, hex
  std::string kind;
  json::Value body; // an object
  std::string meaning;
  std::string signature; // base64 of the DER of an ECDSA P-256 signature; empty when unsigned
  std::string hash;      // SHA-256 of canonical(to_json(event)), hex; not part of the JSON
};

// Members: v rules chain seq prev time offset person name cert kind body, and meaning, sig when signed.
json::Value to_json(const Event& event, bool with_signature = true);

// Strict: every member there, of its kind, none unknown; `hash` is left empty. Code "bad-event".
Result<Event> event_from_json(json::Value value);

// Whether the JSON of this event, read as JSON, would be taken by event_from_json; found without writing or reading it.
Result<void> check_event(const Event& event);

} // namespace build
