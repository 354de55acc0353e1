// Numbers of a procedure that should go together, and the one slip of digit or unit that would make them. It serves to
// doubt what was copied, never to change it.
#pragma once

#include "procedure/check.h"
#include "procedure/combinations.h"

namespace procedure {

// A bound of a limit as it is written, in the limit's unit.
struct Written {
  const Limit* limit = nullptr;
  std::string_view bound; // "low", "high", "service low", "service high", "target"
  double value = 0;
};

// Whether numbers in the order they were given go together.
using GoTogether = std::function<bool(const std::vector<double>&)>;

// "limit "main-bore" would fit with a tenth of that", of the first numbers that a single slip explains: one bound, or
// all bounds of one limit alike, ten times, a tenth, taken for inches or converted to mm once too often. "" when none
// does.
std::string likely_slip(const std::vector<Written>& numbers, const GoTogether& fit);

// For each set of numbers that the options can bring to these limits where the entry is on the engine; nothing where
// there are too many sets or an option is wrong.
void each_set(const Index& index, const EntryView& at, const std::vector<const Limit*>& limits,
              const std::function<void(const Combinations&)>& look);

const Source* input_of(const Entry& entry, std::string_view name); // of a calculated one; null when it has none
// The limit of the readings that an input takes; null when they have none.
const Limit* limit_behind(const Index& index, const Entry& entry, std::string_view input);

// A length of a limit in mm; of anything else, nothing.
std::optional<double> in_mm(const Limit& limit, const std::optional<Exact>& value);
struct Between {
  double low = 0;
  double high = 0;
};
std::optional<Between> standard_mm(const Limit& limit, const LimitValues& values); // both bounds
std::string mm(double value);                                                      // "0.042 mm"

} // namespace procedure
