// The numbers of each limit, and whether some numbers hold for every engine the procedure is for.
#include "procedure/check.h"

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

bool all_choices_known(const Option& option, const OptionIs& condition) {
  return std::all_of(condition.is.begin(), condition.is.end(), [&](const std::string& choice) {
    return std::find(option.choices.begin(), option.choices.end(), choice) != option.choices.end();
  });
}

// The options that the cases of one limit name, and a walk through every combination of their choices.
class Combinations {
public:
  Combinations(const Procedure& procedure, const Limit& limit);
  bool known() const { return known_; }        // every option exists
  std::size_t count() const { return count_; } // stops at too_many
  bool next();                                 // to the next combination; false after the last
  bool holds(const When& when) const;
  std::string text() const; // `bore is "0.25", crank is "standard"`
  static constexpr std::size_t too_many = 2000;

private:
  std::vector<const Option*> options_;
  std::vector<std::size_t> chosen_;
  std::size_t count_ = 1;
  bool known_ = true;
};

Combinations::Combinations(const Procedure& procedure, const Limit& limit) {
  for (const LimitCase& one : limit.cases)
    for (const OptionIs& condition : one.when) {
      const Option* option = procedure.option(condition.option);
      known_ = known_ && option && !option->choices.empty() && all_choices_known(*option, condition);
      if (known_ && std::find(options_.begin(), options_.end(), option) == options_.end() && count_ < too_many) {
        options_.push_back(option);
        count_ = std::min(too_many, count_ * option->choices.size());
      }
    }
  chosen_.resize(options_.size());
}

bool Combinations::next() {
  for (std::size_t i = options_.size(); i-- > 0;) {
    if (++chosen_[i] < options_[i]->choices.size()) return true;
    chosen_[i] = 0;
  }
  return false;
}

bool Combinations::holds(const When& when) const {
  return std::all_of(when.begin(), when.end(), [&](const OptionIs& condition) {
    for (std::size_t i = 0; i < options_.size(); ++i)
      if (options_[i]->id == condition.option)
        return std::find(condition.is.begin(), condition.is.end(), options_[i]->choices[chosen_[i]]) !=
               condition.is.end();
    return false;
  });
}

std::string Combinations::text() const {
  std::string all;
  for (std::size_t i = 0; i < options_.size(); ++i)
    all += fmt::format("{}{} is {}", i == 0 ? "" : ", ", options_[i]->id, shown(options_[i]->choices[chosen_[i]]));
  return all;
}

void check_cases(const Procedure& procedure, Notes& notes, const Limit& limit) {
  if (limit.cases.empty()) return;
  Combinations combination(procedure, limit);
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
  if (limit.values.empty() && without_count > 0)
    notes.error(pointer, fmt::format("limit {}: no limits for {}{}; add a case, or numbers that hold when no case does",
                                     shown(limit.id), without,
                                     without_count > 1 ? fmt::format(" and {} more", without_count - 1) : ""));
  for (std::size_t i = 0; i < reached.size(); ++i)
    if (!reached[i])
      notes.warning("W06", fmt::format("{}/{}", pointer, i),
                    fmt::format("limit {}: a case before this one always holds first", shown(limit.id)));
}

} // namespace

void check_limits(const Index& index, Notes& notes) {
  for (const Limit& limit : index.procedure().limits) {
    bool filled = false;
    each_values(limit, [&](const LimitValues& values, const std::string& pointer) {
      check_service(notes, limit, values, pointer);
      check_target(notes, limit, values, pointer);
      filled = filled || !values.empty();
    });
    check_cases(index.procedure(), notes, limit);
    if (limit.basis == Basis::none && filled)
      notes.warning(
          "W04", pointer_of_limit(limit) + "/basis",
          fmt::format("limit {}: its basis is none, so its numbers are shown but judge nothing", shown(limit.id)));
  }
}

} // namespace procedure
