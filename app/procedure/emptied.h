// A procedure for another engine, begun from one that there is: its steps stay, its numbers go.
#pragma once

#include "procedure/procedure.h"

namespace procedure {

struct NewHead {
  std::string id, title, model; // "" keeps that of the procedure it begins from
};

// Every limit without numbers, its basis "not yet", no reason for a warning left; the notice says that the numbers are
// not filled in. `document` must be a procedure without errors. The conditions of a limit's cases stay.
json::Value emptied(const json::Value& document, const NewHead& head);

// What else is of the engine the procedure was written for, and stays in the file: bolts, sizes to choose from, teeth,
// option choices, times. To be looked at one by one.
struct OfOldEngine {
  std::string pointer; // into the document
  std::string words;   // "step "main-caps", entry "cap-bolts": bolt M12 x 1.25 of class 10.9"
};
std::vector<OfOldEngine> of_old_engine(const Procedure& procedure);

} // namespace procedure
