// The first start: nobody is enrolled in this shop yet. One key sets the shop up, another fills a practice shop with
// the demo and leads into it.
#pragma once

#include "bench/ui.h"

#include <filesystem>

namespace bench {

bool first_run(Ui& ui);                           // draws it; false when there is nothing of that to draw
bool shop_set_up(Ui& ui, const Answered& answer); // true when the answer was to one of its actions

void look_round(Ui& ui); // the demo, in a practice shop beside this one
void back_to_own_shop(Ui& ui);
std::filesystem::path practice_shop(const std::filesystem::path& own_shop);

// Under the top line of every screen while the demo is looked round.
void practice_band(Ui& ui);

} // namespace bench
