// The parts of content.cpp: what was read at an entry, and what went otherwise than hoped. For files of this folder.
#pragma once

#include "handover/content.h"

#include <map>
#include <set>

namespace handover {

// What the pages about entries add up to on the way, for the cover.
struct Found {
  std::vector<std::string> worn, close;
  std::map<std::string, std::set<std::string>> limits_by_basis;
};

// A number as it is read: what an uncertainty of two digits leaves of it, never more places than it has.
std::string readable(const build::Exact& value, const build::Exact& u);
// Nothing for the plain number.
std::string unit_text(std::string_view unit);
// "within, worn: used again"; "" for what is plainly within or only recorded.
std::string note_of(const build::Judged& judged);

EntryDone entry_done(const Build& build, const Shop& shop, build::EntryAt at, std::vector<Scale>& scales, Found& found);

std::vector<Happening> happenings_of(const Build& build, const std::vector<Event>& events);
std::string place_of(const Build& build, const json::Value& body); // "Main bearings, oil clearance"
std::vector<GaugeUsed> gauges_used(const std::vector<Event>& events);

} // namespace handover
