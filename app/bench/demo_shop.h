// A practice shop to look round in: the demo's action lines, played up to where its main caps are tight, with the dates
// moved so that they end on the day before today.
#pragma once

#include "calc/calendar.h"
#include "record/progress.h"

#include <filesystem>
#include <string>

namespace bench {

// Who is at work where the demo is left: its own, no secret. Code "no-demo".
struct AtWork {
  std::string person, passphrase;
};
quantity::Result<AtWork> at_work_in_demo();

// Plays the demo beside the program into `shop`, which must not be there yet. On a refusal, or when it is stopped,
// nothing is left. Codes: "no-demo" (its files are not beside the program), "stopped", "demo-refused", and those of the
// record.
quantity::Result<void> play_demo(const std::filesystem::path& shop, const calc::Moment& now,
                                 const record::Progress& progress);

// "2026-04-13" or "2026-04-13T08:00:00+01:00", so many days later; other text as it is.
std::string days_later(const std::string& text, int days);

} // namespace bench
