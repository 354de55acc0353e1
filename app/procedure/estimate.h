// How far a torque loads a bolt, by the facts of the joint: an estimate, as nobody has measured the friction. It serves
// to doubt a number, never to judge a reading.
#pragma once

#include "procedure/procedure.h"

namespace procedure {

// Coefficient of friction assumed for thread and head alike, 0.10 to 0.16. Common practice, no source; real joints
// scatter by a quarter and more about it.
Exact assumed_friction(Lubrication lubrication);

struct Estimate {
  Quantity preload;                      // N
  std::optional<Exact> percent_of_proof; // of the proof stress of ISO 898-1; none without a class
  Lubrication lubrication = Lubrication::dry;
  bool face_assumed = false; // the bolt says no head diameter: 1.25 times the thread is taken
};

// `torque` at the fastener, above 0. Nothing for a bolt that cannot be: no size, a class that has no proof stress at
// its size.
std::optional<Estimate> estimate_preload(const Bolt& bolt, const Quantity& torque);

// What the estimate rests on: "friction 0.12 assumed for oiled".
std::string assumptions(const Estimate& estimate);
// "about 62 % of proof, friction 0.12 assumed for oiled", or the preload in kN where there is no class.
std::string in_words(const Estimate& estimate);

} // namespace procedure
