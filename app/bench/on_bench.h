// Two engines at once: what is typed is taken for the engine on the bench alone, and a key says which one that is. A
// gauge that types digits and Enter cannot strike it.
#pragma once

#include "bench/ui.h"

namespace bench {

bool is_on_bench(const Ui& ui);                // the build that is open
bool takes_entries(const std::string& screen); // what is typed there goes into the build
void take_to_bench_screen(Ui& ui);             // in the place of such a screen, until it is

} // namespace bench
