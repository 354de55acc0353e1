// What a source of a calculated entry hands to an input of its computation, and whether the input can take it.
#pragma once

#include "calc/registry.h"

#include <optional>
#include <string>
#include <vector>

namespace procedure {

struct Offer {
  enum class What { readings, quantity, quantities, number, text, nothing };
  What what = What::nothing;
  std::size_t rows = 1;    // of readings
  std::size_t columns = 1; // of readings
  bool gaps = false;       // a point may be left out
  std::optional<quantity::Dimension> dimension;
  std::vector<std::string> words; // texts it can be
  bool placed = false;            // each row is a height at a known place of a face
};

// Does the field take quantities (of one or many)?
bool measures(const calc::Field& field);

// Why the offer does not fit the field by its shape, or "". Dimensions are not looked at.
std::string misfit(const calc::Field& field, const Offer& offer);

} // namespace procedure
