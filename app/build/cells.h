// Cells of readings as events hold them.
#pragma once

#include "build/decision.h"

namespace build {

// U of what is one's own and what is shared: root sum of squares (JCGM 100:2008, 5.1.2).
Exact both(const Exact& own, const Exact& shared);

// One cell as it is from now on: its tries, their mean, U, and the verdict (also in `verdict`; as found it is none).
Value cell_item(const Case& it, EntryAt at, std::size_t index, Cell cell, bool as_found, std::string& verdict);

} // namespace build
