// A comparator on the sheet: what it is set at is asked once, then what its dial shows is typed, and at the end what it
// shows put back on its setting. The same question holds how warm part and gauge are.
#pragma once

#include "bench/ui.h"

namespace bench {

// How the number now typed is read: from the set that is open in the entry; as it was asked; or as what stands in the
// cell was read, when that is measured or corrected again with the same gauge.
HowRead how_read(const Ui& ui, const build::Build& build, build::EntryAt at);

// "set at 82.000 on ring-82: type what the dial shows".
void setting_line(const Ui& ui, const build::Build& build, build::EntryAt at);
bool setting_keys(Ui& ui, const build::Build& build);                       // true when one was struck
void setting_buttons(Ui& ui, const build::Build& build, build::EntryAt at); // behind what was drawn last

void add_how(const Ui& ui, const build::Build& build, build::EntryAt at, json::Value& line);

// The size that a number typed stands for; what is wrong with it, in words.
quantity::Result<quantity::Exact> size_of(const Ui& ui, const build::Build& build, build::EntryAt at,
                                          const quantity::Exact& typed);

void setting_questions(Ui& ui, const build::Build& build);
std::string about_zero(const build::Build& build, const Answered& answer);

} // namespace bench
