#include "calc/groups.h"

namespace calc {

std::vector<Computation> timing_computations() {
  return {};
}

} // namespace calc
