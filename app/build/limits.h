// Which limit holds for a value on this build (options, new or reused parts) and what the value's standing is by it.
#pragma once

#include "build/state.h"

namespace build {

using calc::Bounds;

// Whether a condition on options holds: yes, no, or not known since an option is not picked yet.
enum class Holds { yes, no, unset };
Holds holds(const Build& build, const procedure::When& when);

// On this engine: the step's and the entry's own condition. An entry of a step that is off is off.
Holds step_on(const Build& build, std::size_t step);
Holds entry_on(const Build& build, EntryAt at);

// The numbers that hold under the picked options; null with `unset` set when an option is missing.
struct Effective {
  const procedure::Limit* limit = nullptr;
  const procedure::LimitValues* values = nullptr; // null: not filled in, or an option is unset
  bool unset = false;
};
Effective effective(const Build& build, std::string_view limit);

// "numbers not checked by a second person", "numbers entered and checked differ", or "" when there is nothing to say of
// the numbers that hold now. A limit filled in on the build was entered once.
std::string_view doubt_of(const Build& build, std::string_view limit);

// The bounds a value at this position is judged by. A reused part is judged by `service` (a bound that service does not
// state is the standard's); where any of the entry's parts is new or remade, or not stated, by `standard`.
struct Applied {
  std::optional<Bounds> bounds;          // what blocks
  std::optional<Bounds> standard;        // when judged by service: beyond this the value is "within, worn"
  std::string column;                    // "standard", "service" or ""
  Standing lacking = Standing::recorded; // recorded, limit_missing or option_unset, when there are no bounds
  const procedure::Limit* limit = nullptr;
};
Applied applied(const Build& build, EntryAt at, std::string_view limit, std::size_t position);

// `value` and `u` are in the limit's unit.
Standing judge(const Applied& applied, const Exact& value, const Exact& u);

// "0.020 to 0.062 mm", "at most 0.10 mm", "at least 0.020 mm".
std::string text(const Bounds& bounds, const Unit& unit);

// The part of the verdict that goes into an event: limit, low, high, unit, column, basis, source, rule.
json::Value facts(const Applied& applied);

} // namespace build
