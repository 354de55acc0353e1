// The screen of the builds and what leads away from it: a new engine, the demo, one's own shop again.
#pragma once

#include "bench/ui.h"

namespace bench {

void builds_entered(Ui& ui); // from another screen

// A new engine: procedure, model, serial, name, customer, hours, as the action open-build takes them.
void ask_for_build(Ui& ui);
void new_build(Ui& ui);                                  // draws what is asked
bool build_opened(Ui& ui, const Answered& answer);       // true when the answer was to that
void procedure_dropped(Ui& ui, const std::string& path); // on the window, while it is asked

// "hx4-150-0731" from "HX4-150 0731": what may stand in a build's id; "-2", "-3" behind it when it is taken.
std::string proposed_id(const build::Shop& shop, const std::string& serial);

} // namespace bench
