// Photographs beside an entry or a finding: laid there by a path that is typed or a file dropped on the window,
// counted, and looked at on a screen of their own.
#pragma once

#include "bench/ui.h"

namespace bench {

// Those beside the entry, or the finding, in the order they were attached.
std::vector<build::Photograph> photographs_of(const build::Build& build, build::EntryAt at);
std::vector<build::Photograph> photographs_of(const build::Build& build, const std::string& finding);

std::string count_of(std::size_t photographs); // "1 photograph", "2 photographs"; "" for none

// Under an entry of the sheet: how many there are; at the entry at work also the key to look at them.
void photographs_beside(Ui& ui, const build::Build& build, build::EntryAt at, bool here);

// Asks for the path of one to lay beside the entry at work, or the chosen finding.
void ask_photograph(Ui& ui, bool of_finding);
// Draws that question.
void photograph_question(Ui& ui);

// Files dropped on the window: for the entry at work or the chosen finding, whichever is on the screen.
void take_dropped(Ui& ui, std::vector<std::string> paths);
void attached(Ui& ui, const Answered& answer); // says so, and goes on with the next that was dropped

void look_at(Ui& ui, build::EntryAt at);
void look_at(Ui& ui, const std::string& finding);
void photographs_screen(Ui& ui);

} // namespace bench
