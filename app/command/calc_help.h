// What --help says about a computation, all of it from the registry.
#pragma once

#include "calc/registry.h"

#include <string>

namespace command {

std::string about(const calc::Computation& computation);

std::string about_units(); // one line a dimension

} // namespace command
