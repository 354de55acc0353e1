// What the questions of the sheet share, in whatever file they are.
#pragma once

#include "bench/tightening.h"

#include <initializer_list>
#include <utility>

namespace bench {

bool digit(int number); // struck, on either block of keys
void leave(Ui& ui);     // the question, without what was typed

// Fields one under the other; Enter goes on to the next. True when Enter was pressed in the last.
bool fields(Ui& ui, std::initializer_list<std::pair<const char*, std::string*>> list);

// Names with commas or blanks between them.
json::Value names_of(const std::string& typed);

} // namespace bench
