#include "procedure/transcribed.h"

#include "procedure/combinations.h"
#include "json/read.h"

#include <fmt/format.h>

#include <algorithm>

namespace procedure {

namespace {

// The limit's own numbers are wanted when some engine is left to them.
bool own_wanted(const Procedure& procedure, const Limit& limit) {
  if (limit.cases.empty() || !limit.values.empty() || limit.values.entered) return true;
  Combinations combination(procedure, conditions_of(limit));
  if (!combination.known() || combination.count() >= Combinations::too_many) return true;
  do {
    const bool held = std::any_of(limit.cases.begin(), limit.cases.end(),
                                  [&](const LimitCase& one) { return combination.holds(one.when); });
    if (!held) return true;
  } while (combination.next());
  return false;
}

std::string written(const std::optional<Exact>& number) {
  return number ? number->text() : "none";
}

bool has_numbers(const Checked& checked) {
  return checked.standard || checked.service || checked.target;
}

} // namespace

std::string_view name_of(Transcribed state) {
  switch (state) {
  case Transcribed::empty: return "empty";
  case Transcribed::entered: return "entered";
  case Transcribed::checked: return "checked";
  case Transcribed::differs: return "differs";
  case Transcribed::none: return "maker gives none";
  }
  return "";
}

std::vector<std::string> differences(const Limit& limit, const LimitValues& values) {
  std::vector<std::string> all;
  if (!values.checked) return all;
  const Checked& second = *values.checked;
  if (second.unit != limit.unit && (has_numbers(second) || !values.empty()))
    all.push_back(fmt::format("unit: {} entered, {} checked", limit.unit ? limit.unit->name : "none",
                              second.unit ? second.unit->name : "none"));
  const auto compare = [&](std::string_view which, const std::optional<Exact>& one, const std::optional<Exact>& other) {
    if (one != other) all.push_back(fmt::format("{}: {} entered, {} checked", which, written(one), written(other)));
  };
  const auto bounds = [&](std::string_view which, const std::optional<Bounds>& one,
                          const std::optional<Bounds>& other) {
    const Bounds first = one.value_or(Bounds());
    const Bounds again = other.value_or(Bounds());
    compare(fmt::format("{} low", which), first.low, again.low);
    compare(fmt::format("{} high", which), first.high, again.high);
  };
  bounds("standard", values.standard, second.standard);
  bounds("service", values.service, second.service);
  compare("target", values.target, second.target);
  return all;
}

Transcribed transcribed(const Limit& limit, const LimitValues& values) {
  if (values.checked && !differences(limit, values).empty()) return Transcribed::differs;
  if (values.empty()) return limit.basis == Basis::none ? Transcribed::none : Transcribed::empty;
  return values.checked ? Transcribed::checked : Transcribed::entered;
}

bool unchecked(const Limit& limit, const LimitValues& values) {
  if (values.empty() || limit.basis == Basis::invented_example) return false;
  return transcribed(limit, values) != Transcribed::checked;
}

std::string_view doubt_of(const Limit& limit, const LimitValues& values) {
  if (!unchecked(limit, values)) return "";
  return values.checked ? "numbers entered and checked differ" : "numbers not checked by a second person";
}

std::vector<NumberSet> number_sets(const Procedure& procedure) {
  std::vector<NumberSet> all;
  for (const Limit& limit : procedure.limits) {
    if (own_wanted(procedure, limit)) all.push_back({limit.id, 0});
    for (std::size_t line = 1; line <= limit.cases.size(); ++line) all.push_back({limit.id, line});
  }
  return all;
}

const LimitValues* values_of(const Procedure& procedure, const NumberSet& set) {
  const Limit* limit = procedure.limit(set.limit);
  if (!limit || set.line > limit->cases.size()) return nullptr;
  return set.line == 0 ? &limit->values : &limit->cases[set.line - 1].values;
}

std::string pointer_of(const NumberSet& set) {
  const std::string limit = "/limits/" + json::pointer_token(set.limit);
  return set.line == 0 ? limit : fmt::format("{}/when/{}", limit, set.line - 1);
}

std::string title_of(const Procedure& procedure, const NumberSet& set) {
  const Limit* limit = procedure.limit(set.limit);
  if (!limit) return set.limit;
  std::string title = limit->title.empty() ? limit->id : limit->title;
  if (set.line > 0 && set.line <= limit->cases.size())
    for (const OptionIs& condition : limit->cases[set.line - 1].when)
      title += fmt::format(", {} {}", condition.option, fmt::join(condition.is, " or "));
  return title;
}

} // namespace procedure
