// Numbers for a limit that the procedure leaves empty, as the action fill-limit takes them: from the engine maker's
// manual with its place there, or the shop's own.
#pragma once

#include "bench/ui.h"

namespace bench {

void ask_for_limit(Ui& ui, const LimitLine& line);
void limit_form(Ui& ui);                           // draws what is asked, while `ui.limits.fresh.limit` is set
bool limit_filled(Ui& ui, const Answered& answer); // true when the answer was to that

} // namespace bench
