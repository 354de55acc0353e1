// The timing gears of the step that has them as its figure, turned by hand on the screen: nothing of it is recorded.
#pragma once

#include "bench/ui.h"

namespace bench {

bool has_gear_train(const build::Build& build, std::size_t step);

// The figure with its keys: Left and Right turn the crank by a tooth, Shift with them shows the next gear a tooth out.
void gear_train(Ui& ui, const build::Build& build);

} // namespace bench
