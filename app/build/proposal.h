// What the readings say an option should be: a choice that names the calculated result which proposes it.
#pragma once

#include "build/limits.h"

namespace build {

// The choice proposed at this entry; none when nothing proposes it, it is not worked out yet, or the calculation finds
// that none of the choices will do. A size is one of the choices when it is the same size: "0.50" is 0.5 mm; 0 is the
// choice that is given until somebody picks, such as "standard".
std::optional<std::string> proposed(const Build& build, EntryAt at);

// The choice that picks the option; none when it is picked by itself.
std::optional<EntryAt> choice_of_option(const Build& build, std::string_view option);

} // namespace build
