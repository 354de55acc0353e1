// The numbers that a procedure needs, as lines.
#pragma once

#include "bench/procedures_state.h"

namespace bench {

std::vector<NumberLine> numbers_of(const procedure::Procedure& procedure);
std::string standing_words(const std::vector<NumberLine>& numbers); // "27 empty, 3 entered"; "no limits"

// What of its numbers this person may see: one who is to read them in the manual is not shown them here.
bool hidden_from(const NumberLine& line, const std::string& person);

} // namespace bench
