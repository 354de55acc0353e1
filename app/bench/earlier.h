// What was read before at the point at work, and at the same point beside it, so that a slip shows while it is typed.
#pragma once

#include "bench/ui.h"

namespace bench {

// One line: "Earlier here: 82.062 as found; 82.081 before the rework, 2026-05-03. The same on 1: 82.504, 2: 82.506,
// 3: 82.505." The newest reading of an earlier go at it, and up to three filled points before it. "" when there is
// nothing, and at a second look, which hides what was read.
std::string earlier_words(const Ui& ui, const build::Build& build, build::EntryAt at);

} // namespace bench
