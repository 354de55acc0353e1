// The rows of the table, by what they measure. Each call measures anew, in the folder given.
#pragma once

#include "speed/row.h"
#include "speed/yard.h"

namespace speed {

struct Setting {
  const Folder& folder;
  std::filesystem::path program; // witnessmark itself
  bool quick = false;
  unsigned cores = 2;
  int rounds(int in_full, int when_quick) const { return quick ? when_quick : in_full; }
};

std::vector<Row> recording(const Setting& setting);  // a reading, a signature, the last actions of many
std::vector<Row> opening(const Setting& setting);    // a build of 5,000 events
std::vector<Row> verifying(const Setting& setting);  // released builds
std::vector<Row> procedures(const Setting& setting); // reading and checking
std::vector<Row> standing(const Setting& setting);   // blockers
std::vector<Row> large_shop(const Setting& setting); // list, search, open; memory
std::vector<Row> computing(const Setting& setting);  // flatness
std::vector<Row> pages(const Setting& setting);      // of a handover
std::vector<Row> frames(const Setting& setting);     // of the window, without one
std::vector<Row> windows(const Setting& setting);    // the window itself: start, idle, memory

Growth growth_of_opening(const Setting& setting);
Growth growth_of_verifying(const Setting& setting);
Growth growth_of_reading(const Setting& setting);
Growth growth_of_blockers(const Setting& setting);
Growth growth_of_pages(const Setting& setting);
Growth growth_of_shops(const Setting& setting);

} // namespace speed
