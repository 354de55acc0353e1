// The computations of each file of this folder, which the registry puts together. A further computation is one
// function and one description in one of these lists.
#pragma once

#include "calc/registry.h"

namespace calc {

std::vector<Computation> form_computations();
std::vector<Computation> clearance_computations();
std::vector<Computation> strip_computations();
std::vector<Computation> selection_computations();
std::vector<Computation> sizing_computations();
std::vector<Computation> cylinder_computations();
std::vector<Computation> deck_computations();
std::vector<Computation> running_computations();
std::vector<Computation> flatness_computations();
std::vector<Computation> fit_computations();
std::vector<Computation> heat_computations();
std::vector<Computation> seal_computations();
std::vector<Computation> gear_computations();
std::vector<Computation> timing_computations();
std::vector<Computation> valve_computations();
std::vector<Computation> thread_computations();
std::vector<Computation> preload_computations();
std::vector<Computation> wrench_computations();
std::vector<Computation> pattern_computations();
std::vector<Computation> fastening_computations();
std::vector<Computation> judging_computations();
std::vector<Computation> uncertainty_computations();

} // namespace calc
