// The record of one build, taken out of a shop's whole record so that it can be checked without it: the build's own
// events, those of the shop's chain that they rest on, and of the other builds of the shop only that they were noted
// there, and what they used. What was withheld keeps its place in the chain by its hash.
#pragma once

#include "build/event.h"

#include <variant>
#include <vector>

namespace record {

using build::Event;
using quantity::Error;
using quantity::Result;

struct Withheld {
  std::int64_t seq = 0; // in the shop's chain
  std::string hash;
  json::Value used; // pulls of wrenches and uses of bolts that it noted; null when none
};

using Line = std::variant<Event, Withheld>;

// `events` of all chains, in the order they were written. Ends with the last that speaks of the build, or with the last
// about the key of `person`, whichever is later.
std::vector<Line> excerpt_of(const std::vector<Event>& events, std::string_view build_id, std::string_view person);

} // namespace record
