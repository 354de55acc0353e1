#include "calc/groups.h"

namespace calc {

std::vector<Computation> wrench_computations() {
  return {};
}

} // namespace calc
