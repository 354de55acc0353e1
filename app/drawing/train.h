// A train of timing gears from its real tooth counts: pitch circles in mesh, the marked tooth of each, and where the
// marks stand after the first gear has been turned.
#pragma once

#include "drawing/figure.h"

#include <cstdint>
#include <optional>

namespace drawing {

struct Gear {
  std::string name;
  int teeth = 0;
  std::size_t meshes = 0; // index of an earlier gear; of the first gear nothing
  double direction = 90;  // of its centre from that gear's, degrees anticlockwise from the right
  int off = 0;            // teeth by which it is meshed wrong, + against its own turning
};

struct Train {
  std::vector<Gear> gears; // the first one drives
};

// Turns of the first gear until every mark is back at its mesh; 0 for a train without gears or teeth.
// turns = lcm of all tooth counts / teeth of the first.
std::int64_t turns_until_marks_meet(const Train& train);

// How far each gear has turned, as a fraction of its own turn in [0, 1), when the first has gone through `teeth` teeth.
std::vector<double> turned(const Train& train, std::int64_t teeth);

// Whether every mark stands at its mesh then.
bool marks_meet(const Train& train, std::int64_t teeth);

// The first turned by `teeth` of its teeth.
Figure gears(const Train& train, std::int64_t teeth, Room room);

} // namespace drawing
