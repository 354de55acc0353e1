// The parts of the engine, position by position: what is known of each, what was found on it, and the machine shop.
#pragma once

#include "bench/ui.h"

#include <optional>
#include <string>
#include <vector>

namespace bench {

// What is said of one part, at one position.
std::string state_of_part(const build::Build& build, const std::string& part, const std::string& position);

// Parts with at least one line of the order still away: "Cylinder 1, 2, 3".
std::string still_away(const build::Build& build, const build::Order& order);

// Leads to their screen, where it is said what this one is.
void name_part(Ui& ui, const std::string& part, const std::string& position);

// The questions of their screen, asked in the place of its keys; a first one for each key.
void ask_part_named(Ui& ui);
void ask_to_send(Ui& ui, const build::Build& build);
void ask_send_to(Ui& ui);
void ask_back(Ui& ui);
void part_questions(Ui& ui, const build::Build& build);

// "Cylinder 1, 2: Bored and honed over size", of a line that is collected for an order.
std::string line_text(const build::Build& build, const json::Value& line);

// True when the answer was to one of these; says what came of it.
bool part_answered(Ui& ui, const Answered& answer);

} // namespace bench
