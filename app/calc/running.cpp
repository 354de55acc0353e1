#include "calc/groups.h"

namespace calc {

std::vector<Computation> running_computations() {
  return {};
}

} // namespace calc
