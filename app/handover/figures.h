// Which figures stand beside what an entry says, and how large: only those that tell more than the numbers do. The
// functions that draw them on screen draw them here.
#pragma once

#include "handover/flow.h"

namespace handover {

// Bores in three planes at least and with limits with their profile, faces with their gaps or heights, seals with their
// lean, ring gaps once they are seen, stacks of shims, torques to turn, the timing marks once they are together, a
// reading that is not plainly within its limits.
std::vector<OnPage> figures_of(const build::Build& build, build::EntryAt at);

// Beside one another as many as fit, each row on one page.
void put_figures(Flow& flow, const std::vector<OnPage>& list, double indent);
// How tall their first row is.
double first_row(const std::vector<OnPage>& list);

} // namespace handover
