#include "build/compare.h"

#include "build/follow.h"
#include "build/proposal.h"

#include <algorithm>

namespace build {

using json::Value;

namespace {

std::vector<Compared::Moved> moved(const Build& build, const std::string& option) {
  std::vector<Compared::Moved> out;
  for (const auto& id : build.plan->limits_of_option(option)) {
    const Effective now = effective(build, id);
    if (!now.limit) continue;
    Compared::Moved one{id, now.limit->title, "", ""};
    if (now.values) {
      const Unit& unit = *now.limit->unit;
      if (now.values->standard) one.standard = text(*now.values->standard, unit);
      if (now.values->service) one.service = text(*now.values->service, unit);
      if (now.values->target && one.standard.empty()) one.standard = quantity::text({*now.values->target, &unit, {}});
    }
    out.push_back(std::move(one));
  }
  return out;
}

void count_cells(const Build& build, EntryAt at, const std::vector<Cell>& cells, bool as_found,
                 std::vector<Compared::Standings>& out) {
  Compared::Standings its{at, as_found, {}};
  for (std::size_t c = 0; c < cells.size(); ++c) {
    if (cells[c].tries.empty()) continue;
    Value by;
    ++its.count[standing_of(build, at, c, cells[c].value, cells[c].u, by)];
  }
  if (!its.count.empty()) out.push_back(std::move(its));
}

// Every entry judged by a limit of the option, or calculated from one or from the option itself.
std::vector<EntryAt> entries_of_option(const Plan& plan, const std::string& option) {
  std::vector<EntryAt> out = plan.calculated_from_option(option);
  for (const auto& limit : plan.limits_of_option(option)) {
    const auto& its = plan.entries_of_limit(limit);
    out.insert(out.end(), its.begin(), its.end());
  }
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

std::vector<Compared::Standings> standings(const Build& build, const std::string& option) {
  std::vector<Compared::Standings> out;
  for (const EntryAt at : entries_of_option(*build.plan, option)) {
    if (entry_on(build, at) != Holds::yes) continue;
    const auto& state = build.entry(at);
    count_cells(build, at, state.as_found, true, out);
    count_cells(build, at, state.cells, false, out);
    Compared::Standings its{at, false, {}};
    for (std::size_t p = 0; p < state.calculated.size(); ++p)
      if (const Computed now = calculate(build, at, p); !now.results.is(json::Kind::null)) ++its.count[now.standing];
    if (!its.count.empty()) out.push_back(std::move(its));
  }
  return out;
}

} // namespace

std::vector<Compared> compare(const Build& build, const std::string& option) {
  const auto* its = build.plan->procedure().option(option);
  if (!its) return {};
  const auto picks = choice_of_option(build, option);
  const auto proposal = picks ? proposed(build, *picks) : std::nullopt;
  std::vector<Compared> out;
  for (const auto& choice : its->choices) {
    Build with = build;
    with.options[option] = choice;
    Compared one;
    one.choice = choice;
    one.now = build.option(option) == choice;
    one.proposed = proposal == choice;
    one.limits = moved(with, option);
    one.values = standings(with, option);
    for (const std::size_t step : build.plan->steps_of_option(option))
      if (step_on(with, step) == Holds::yes) one.steps.push_back(step);
    out.push_back(std::move(one));
  }
  return out;
}

Value to_json(const Build& build, const std::string& option, const std::vector<Compared>& all) {
  Value choices = Value::array();
  for (const auto& one : all) {
    Value limits = Value::array();
    for (const auto& limit : one.limits) {
      Value item = Value::object({{"limit", Value::text(limit.limit)}, {"title", Value::text(limit.title)}});
      if (!limit.standard.empty()) item.set("standard", Value::text(limit.standard));
      if (!limit.service.empty()) item.set("service", Value::text(limit.service));
      limits.push(std::move(item));
    }
    Value values = Value::array();
    for (const auto& its : one.values) {
      Value item = Value::object({{"step", Value::text(build.plan->step(its.at.step).id)},
                                  {"entry", Value::text(build.plan->entry(its.at).id)}});
      if (its.as_found) item.set("as_found", Value::boolean(true));
      for (const auto& [standing, count] : its.count) item.set(std::string(name_of(standing)), Value::integer(count));
      values.push(std::move(item));
    }
    Value steps = Value::array();
    for (const std::size_t step : one.steps) steps.push(Value::text(build.plan->step(step).id));
    choices.push(Value::object({{"choice", Value::text(one.choice)},
                                {"now", Value::boolean(one.now)},
                                {"proposed", Value::boolean(one.proposed)},
                                {"limits", std::move(limits)},
                                {"values", std::move(values)},
                                {"steps", std::move(steps)}}));
  }
  return Value::object({{"option", Value::text(option)}, {"choices", std::move(choices)}});
}

} // namespace build
