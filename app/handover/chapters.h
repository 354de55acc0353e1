// The chapters that have a file of their own.
#pragma once

#include "handover/flow.h"

namespace handover {

// A list that was too long for the cover.
struct Cut {
  std::string title;
  const std::vector<std::string>* lines; // all of them
};
// One page, as long as the facts leave room; the lists that it does not show to their end.
std::vector<Cut> cover(Flow& flow, const Content& content);
// These lists to their end; nothing when there are none.
void cover_in_full(Flow& flow, const std::vector<Cut>& lists);
// Boxes to write in at the engine; nothing when the release left nothing open.
void sheet(Flow& flow, const Content& content, const Build& build);

// A fingerprint or hash in groups that can be compared by eye.
std::string in_groups(const std::string& hash);

} // namespace handover
