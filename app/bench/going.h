// What takes a while, said along the lower edge of the window.
#pragma once

#include "bench/ui.h"

namespace bench {

// "reading the record: 1,200 of 5,000   [Stop Escape]"; nothing in the first moment. Over whatever screen is up.
void going_strip(Ui& ui);

std::string going_words(const Going& going); // without the key

} // namespace bench
