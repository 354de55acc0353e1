// Numbers typed from the manual: the first reading, or the second that must not see the first. Slips are told while
// they are typed.
#pragma once

#include "bench/ui.h"

namespace bench {

void ask_for_numbers(Ui& ui, const NumberLine& line, bool second);
void number_form(Ui& ui); // draws what is asked
void maker_gives_none(Ui& ui, const NumberLine& line);

} // namespace bench
