// What the screens of the shop share: the shop itself, its people, its gauges and wrenches.
#pragma once

#include "bench/ui.h"

namespace bench {

void back_to_shop(Ui& ui);
void say_where_to_sign_in(); // where nobody is

// Neither overdue, nor found out, nor due in its future.
bool may_be_used(const build::Gauge& gauge, const calc::Date& today);
// Those not to be used first, then by the day they are due, those without one last.
std::vector<const build::Gauge*> in_order_of_need(const build::Shop& shop, const calc::Date& today);
// "due in 12 days", "due today", "OVERDUE by 3 days", "calibration not stated".
std::string due_words(const build::Gauge& gauge, const calc::Date& today);

// True when the answer was to an action of that screen.
bool settings_answered(Ui& ui, const Answered& answer);
bool people_answered(Ui& ui, const Answered& answer);
bool gauges_answered(Ui& ui, const Answered& answer);

} // namespace bench
