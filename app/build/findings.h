// Faults found on parts: noted once, never forgotten. One is open until it is cleared, and opens again when what proved
// it no longer holds (taken apart, measured otherwise, the gauge found out). While open it holds up the steps that fit
// that part there, and the release.
#pragma once

#include "build/blockers.h"

namespace build {

const Finding* find_finding(const Build& build, std::string_view id);

// "Crankshaft: Groove worn where the lip seal ran (f1)"; with the position where the part has several.
std::string named(const Build& build, const Finding& finding);

// The entry that the procedure names as the proof, where it is on this engine.
std::optional<EntryAt> required_proof(const Build& build, const Finding& finding);

// Whether the entry holds a good value, recorded since the fault was found: everything asked for is there, and nothing
// in it blocks. Of a calculated entry one of its readings must be newer.
bool proves(const Shop& shop, const Build& build, const Finding& finding, EntryAt at, const Moment& now);

bool is_open(const Shop& shop, const Build& build, const Finding& finding, const Moment& now);

// Steps on this engine that fit the part at that position, signed or not, in order.
std::vector<std::size_t> steps_held_up(const Build& build, const Finding& finding);

// What keeps a step from being signed, and the engine from release.
void add_finding_blockers(const Shop& shop, const Build& build, std::size_t step, const Moment& now,
                          std::vector<Blocker>& out);
void add_finding_blockers_of_release(const Shop& shop, const Build& build, const Moment& now,
                                     std::vector<Blocker>& out);

// For `status`: [{finding, part, position, text, open, holds_up: [step]}], in the order they were found.
json::Value findings_status(const Shop& shop, const Build& build, const Moment& now);

} // namespace build
