// The numbers of each limit, and whether some numbers hold for every engine the procedure is for.
#include "procedure/check.h"
#include "procedure/combinations.h"
#include "procedure/transcribed.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace procedure {

using json::shown;

namespace {

void check_service(Notes& notes, const Limit& limit, const LimitValues& values, const std::string& pointer) {
  if (!values.service || !values.standard) return;
  const Bounds& standard = *values.standard;
  const Bounds& service = *values.service;
  const bool low_inside = service.low && (!standard.low || *service.low > *standard.low);
  const bool high_inside = service.high && (!standard.high || *service.high < *standard.high);
  if (low_inside || high_inside)
    notes.error(pointer + "/service", fmt::format("limit {}: service must be wider than standard, but its {} bound is "
                                                  "inside it",
                                                  shown(limit.id), low_inside ? "low" : "high"));
}

void check_target(Notes& notes, const Limit& limit, const LimitValues& values, const std::string& pointer) {
  if (!values.target || !values.standard) return;
  const Bounds& bounds = *values.standard;
  if ((bounds.low && *values.target < *bounds.low) || (bounds.high && *values.target > *bounds.high))
    notes.error(pointer + "/target", fmt::format("limit {}: the target {} is outside its standard bounds",
                                                 shown(limit.id), values.target->text()));
}

void check_cases(const Procedure& procedure, Notes& notes, const Limit& limit) {
  if (limit.cases.empty()) return;
  Combinations combination(procedure, conditions_of(limit));
  if (!combination.known()) return; // told where it is named
  const std::string pointer = pointer_of_limit(limit) + "/when";
  if (combination.count() >= Combinations::too_many) {
    notes.error(pointer, fmt::format("limit {}: its cases name options with {} combinations or more; use fewer options",
                                     shown(limit.id), Combinations::too_many));
    return;
  }
  std::vector<bool> reached(limit.cases.size());
  std::string without;
  std::size_t without_count = 0;
  do {
    const auto it = std::find_if(limit.cases.begin(), limit.cases.end(),
                                 [&](const LimitCase& one) { return combination.holds(one.when); });
    if (it != limit.cases.end()) {
      reached[static_cast<std::size_t>(it - limit.cases.begin())] = true;
    } else if (++without_count == 1) {
      without = combination.text();
    }
  } while (combination.next());
  const bool answered = limit.basis == Basis::none && limit.values.entered; // the maker gives none
  if (limit.basis != Basis::not_yet && !answered && limit.values.empty() && without_count > 0)
    notes.error(pointer, fmt::format("limit {}: no limits for {}{}; add a case, or numbers that hold when no case does",
                                     shown(limit.id), without,
                                     without_count > 1 ? fmt::format(" and {} more", without_count - 1) : ""));
  for (std::size_t i = 0; i < reached.size(); ++i)
    if (!reached[i])
      notes.warning("W06", fmt::format("{}/{}", pointer, i),
                    fmt::format("limit {}: a case before this one always holds first", shown(limit.id)));
}

void check_second_reading(Notes& notes, const Limit& limit, const LimitValues& values, const std::string& pointer) {
  if (!values.checked || !values.checked->unit || !limit.unit) return; // told where it is read
  if (values.checked->unit->dimension != limit.unit->dimension) {
    notes.error(pointer + "/checked/unit", fmt::format("limit {}: checked in {}, which measures something else than {}",
                                                       shown(limit.id), values.checked->unit->name, limit.unit->name));
    return;
  }
  const auto differ = differences(limit, values);
  if (!differ.empty())
    notes.warning("W33", pointer + "/checked",
                  fmt::format("limit {}: what {} checked is not what was entered: {}", shown(limit.id),
                              shown(values.checked->hand.by), fmt::join(differ, "; ")));
}

} // namespace

void check_limits(const Index& index, Notes& notes) {
  for (const Limit& limit : index.procedure().limits) {
    bool filled = false;
    each_values(limit, [&](const LimitValues& values, const std::string& pointer) {
      check_service(notes, limit, values, pointer);
      check_target(notes, limit, values, pointer);
      check_second_reading(notes, limit, values, pointer);
      filled = filled || !values.empty();
    });
    check_cases(index.procedure(), notes, limit);
    if (limit.basis == Basis::not_yet && filled)
      notes.error(pointer_of_limit(limit) + "/basis",
                  fmt::format("limit {}: it has numbers, so \"not yet\" is no basis; say where they come from",
                              shown(limit.id)));
    if (limit.basis == Basis::none && filled)
      notes.warning(
          "W04", pointer_of_limit(limit) + "/basis",
          fmt::format("limit {}: its basis is none, so its numbers are shown but judge nothing", shown(limit.id)));
  }
}

} // namespace procedure
