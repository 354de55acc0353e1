// The limits of an entry as the trade writes them, beside its title.
#pragma once

#include "build/state.h"

#include <optional>
#include <string>

namespace bench {

// "0.020 to 0.062 mm, standard", "at most 0.08 mm, service", "limit missing"; behind it "numbers not checked by a
// second person" where nobody did; of a calculated entry that is judged by
// several limits each with its result: "min: at least 0.02 mm, standard; max: at most 0.08 mm, standard". "" when
// nothing judges it. `position`: of the point at work; none: of all, and where they differ each is named:
// "1, 2: 47.964 to 47.980 mm, standard; 3: 47.940 to 47.980 mm, service".
std::string limit_words(const build::Build& build, build::EntryAt at, std::optional<std::size_t> position);

} // namespace bench
