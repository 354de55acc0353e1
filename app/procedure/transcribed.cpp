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

// The trade writes both ends to the same place: 0.020 to 0.062.
std::string between(const Bounds& bounds) {
  const auto places = [](const Exact& number) {
    const std::string text = number.text();
    const auto dot = text.find('.');
    return dot == std::string::npos ? 0 : static_cast<int>(text.size() - dot - 1);
  };
  if (bounds.low && bounds.high) {
    const int most = std::max(places(*bounds.low), places(*bounds.high));
    return fmt::format("{} to {}", bounds.low->fixed(most), bounds.high->fixed(most));
  }
  return bounds.low ? "at least " + bounds.low->text() : "at most " + bounds.high->text();
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

std::string numbers_text(const Limit& limit, const LimitValues& values) {
  std::string out;
  const auto add = [&](std::string_view what, const std::string& number) {
    out += fmt::format("{}{} {} {}", out.empty() ? "" : "; ", what, number, limit.unit->name);
  };
  if (values.standard) add("standard", between(*values.standard));
  if (values.service) add("service", between(*values.service));
  if (values.target) add("target", values.target->text());
  return out.empty() ? std::string(limit.unit->name) : out;
}

std::string origin_text(const Limit& limit) {
  return fmt::format("{}{}{}", name_of(limit.basis), limit.source.empty() ? "" : ": ", limit.source);
}

std::string hands_text(const LimitValues& values) {
  std::string out;
  if (values.entered) out = fmt::format("entered by {} on {}", values.entered->by, values.entered->on);
  if (!values.checked) return out;
  const bool same = values.entered && values.entered->by == values.checked->hand.by;
  return fmt::format("{}{}read again by {} on {}{}", out, out.empty() ? "" : "; ", values.checked->hand.by,
                     values.checked->hand.on, same ? ", who entered them" : "");
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
