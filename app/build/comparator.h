// Comparators: a bore gauge is set to a size on a ring or a micrometer, then its dial shows plus or minus. The readings
// taken from one setting are a set. It is open until the gauge has been put back on its setting and what it shows there
// is recorded: a drift no larger than one division keeps the set, a larger one gives its readings up (common practice,
// no source).
#pragma once

#include "build/state.h"

namespace build {

// The newest set that still has a reading in the entry and was not put back on its setting; null when there is none.
// Its number is its place among the entry's sets, from 1. `but`: the number of one that is left out.
const ComparatorSet* open_set(const EntryState& entry, int but = 0);
int number_of(const EntryState& entry, const ComparatorSet& set);

// Only the points of a second look are of the set: its step is signed already.
bool only_in_second_look(const EntryState& entry, int set);

// Cells among these with a reading of the set that counts.
std::vector<std::size_t> cells_of_set(const std::vector<Cell>& cells, int set);

// "82.000", with the places of a division.
std::string size_text(const ComparatorSet& set);
// "82.000 mm on ring-82".
std::string setting_text(const ComparatorSet& set, const Unit& unit);
std::string signed_text(const Exact& drift); // "+0.001", "0", "-0.002"
// How a try was read, for the handover: "set at 82.000 on ring-82, back at zero: +0.001", "at 31 degC, taken to 20
// degC".
std::vector<std::string> how_read(const EntryState& entry, const Try& one);

// A dial shows a small part of the size it was set at: more than a tenth of it is the size itself, or a slip. Common
// practice, no source.
bool beyond_a_dial(const Exact& shown, const Exact& set_at);

} // namespace build
