// The lines of letters that stood on pages, and cairo alone writing them again into a PDF in memory.
#pragma once

#include "handover/paper.h"

#include <functional>
#include <vector>

namespace speed {

std::vector<handover::Written> lines_of(const std::function<void()>& draws);
void write(const std::vector<handover::Written>& lines);

} // namespace speed
