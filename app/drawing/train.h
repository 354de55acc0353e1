// A train of timing gears from its real tooth counts: pitch circles in mesh, the marked tooth of each, and where the
// marks stand after the first gear has been turned.
#pragma once

#include "drawing/figure.h"
#include "procedure/procedure.h"

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

// As the procedure lists it; without gears when it lists none.
Train train_of(const procedure::Procedure& procedure);

// "All marks are together." or "Crank turned 3 teeth, 38.6 degrees; all marks are together again after 6 turns."; with
// a gear a tooth out "Camshaft is drawn one tooth out: 12.9 degrees of the crank."
std::string words_of(const Train& train, std::int64_t teeth);

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
