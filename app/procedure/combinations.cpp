#include "procedure/combinations.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace procedure {

namespace {

bool all_choices_known(const Option& option, const OptionIs& condition) {
  return std::all_of(condition.is.begin(), condition.is.end(), [&](const std::string& choice) {
    return std::find(option.choices.begin(), option.choices.end(), choice) != option.choices.end();
  });
}

} // namespace

Combinations::Combinations(const Procedure& procedure, const std::vector<const When*>& conditions) {
  for (const When* when : conditions)
    for (const OptionIs& condition : *when) {
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

const LimitValues& Combinations::values_of(const Limit& limit) const {
  const auto it =
      std::find_if(limit.cases.begin(), limit.cases.end(), [&](const LimitCase& one) { return holds(one.when); });
  return it == limit.cases.end() ? limit.values : it->values;
}

std::string Combinations::text() const {
  std::string all;
  for (std::size_t i = 0; i < options_.size(); ++i)
    all +=
        fmt::format("{}{} is {}", i == 0 ? "" : ", ", options_[i]->id, json::shown(options_[i]->choices[chosen_[i]]));
  return all;
}

std::vector<const When*> conditions_of(const Limit& limit) {
  std::vector<const When*> all;
  for (const LimitCase& one : limit.cases) all.push_back(&one.when);
  return all;
}

} // namespace procedure
