// Conditions, and what steps and entries refer to by name.
#include "procedure/check.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace procedure {

using json::shown;

bool all_in(const std::vector<std::string>& some, const std::vector<std::string>& all) {
  const std::set<std::string_view> known(all.begin(), all.end());
  return std::all_of(some.begin(), some.end(), [&](const std::string& one) { return known.contains(one); });
}

namespace {

void check_condition(const Index& index, Notes& notes, const OptionIs& condition, const std::string& pointer) {
  if (condition.option.empty()) return;
  const Option* option = index.procedure().option(condition.option);
  if (!option) {
    notes.error(pointer + "/option", fmt::format("there is no option {}", shown(condition.option)));
    return;
  }
  for (const std::string& choice : condition.is)
    if (std::find(option->choices.begin(), option->choices.end(), choice) == option->choices.end())
      notes.error(pointer + "/is", fmt::format("option {} has no choice {}", shown(option->id), shown(choice)));
}

void refuse_option_twice(Notes& notes, const When& when, const std::string& pointer) {
  std::set<std::string_view> options;
  for (const OptionIs& condition : when)
    if (!options.insert(condition.option).second)
      notes.error(pointer, fmt::format("the conditions name option {} twice; list its choices in one \"is\"",
                                       shown(condition.option)));
}

void check_when(const Index& index, Notes& notes, const When& when, const std::string& owner) {
  for (std::size_t i = 0; i < when.size(); ++i)
    check_condition(index, notes, when[i], fmt::format("{}/when/{}", owner, i));
  refuse_option_twice(notes, when, owner + "/when");
}

void check_limit_case(const Index& index, Notes& notes, const When& when, const std::string& pointer) {
  check_condition(index, notes, when.front(), pointer);
  for (std::size_t i = 1; i < when.size(); ++i)
    check_condition(index, notes, when[i], fmt::format("{}/and/{}", pointer, i - 1));
  refuse_option_twice(notes, when, pointer);
}

void check_step_part(const Index& index, Notes& notes, const Step& step, const std::string& pointer) {
  if (step.part.empty()) return;
  const Part* part = index.procedure().part(step.part);
  if (!part) {
    notes.error(pointer + "/part", fmt::format("step {}: there is no part {}", shown(step.id), shown(step.part)));
  } else if (!all_in(step.positions, part->positions)) {
    notes.error(pointer + "/positions", fmt::format("step {}: its positions must be positions of the part {}",
                                                    shown(step.id), shown(step.part)));
  }
}

void check_after(const Index& index, Notes& notes, const Step& step, const std::string& pointer) {
  for (std::size_t i = 0; i < step.after.size(); ++i)
    if (!index.procedure().step(step.after[i]))
      notes.error(fmt::format("{}/after/{}", pointer, i),
                  fmt::format("step {}: there is no step {} to come after", shown(step.id), shown(step.after[i])));
}

void check_parts(const Index& index, Notes& notes, const EntryView& at) {
  for (std::size_t i = 0; i < at.entry.parts.size(); ++i) {
    const std::string pointer = fmt::format("{}/parts/{}", at.pointer, i);
    const Part* part = index.procedure().part(at.entry.parts[i]);
    if (!part) {
      notes.error(pointer, fmt::format("{}: there is no part {}", at.what(), shown(at.entry.parts[i])));
    } else if (!part->positions.empty() && !all_in(at.step.positions, part->positions)) {
      notes.error(pointer,
                  fmt::format("{}: the part {} has other positions than the step", at.what(), shown(part->id)));
    }
  }
}

void check_proposal(const Index& index, Notes& notes, const EntryView& at) {
  if (!at.entry.proposed_by) return;
  const FromEntry& from = *at.entry.proposed_by;
  const std::string pointer = at.pointer + "/proposed-by";
  const Step* step = index.procedure().step(from.step);
  const Entry* entry = index.entry(from.step, from.entry);
  if (!step || !entry || !entry->computation) {
    notes.error(pointer,
                fmt::format("{}: there is no calculated entry {}", at.what(), shown(from.step + "/" + from.entry)));
    return;
  }
  const auto& results = entry->computation->results;
  if (std::none_of(results.begin(), results.end(), [&](const auto& it) { return it.name == from.result; }))
    notes.error(pointer,
                fmt::format("{}: {} has no result {}", at.what(), entry->computation->name, shown(from.result)));
  if (!step->positions.empty() && !entry->over_all)
    notes.error(pointer, fmt::format("{}: {} gives one result for each position; take it over all of them", at.what(),
                                     shown(from.step + "/" + from.entry)));
}

void check_choice(const Index& index, Notes& notes, const EntryView& at, std::set<std::string_view>& picked) {
  check_proposal(index, notes, at);
  if (at.entry.option.empty()) return;
  const std::string pointer = at.pointer + "/option";
  const Option* option = index.procedure().option(at.entry.option);
  if (!option) {
    notes.error(pointer, fmt::format("{}: there is no option {}", at.what(), shown(at.entry.option)));
    return;
  }
  if (option->choices != at.entry.choices)
    notes.error(at.pointer + "/choices",
                fmt::format("{}: the choices differ from those of the option {}; leave them out here", at.what(),
                            shown(option->id)));
  if (!at.step.positions.empty())
    notes.error(pointer,
                fmt::format("{}: the step has positions, but an option is picked once for the engine", at.what()));
  if (!picked.insert(option->id).second)
    notes.error(pointer,
                fmt::format("{}: the option {} is already picked by another entry", at.what(), shown(option->id)));
}

bool has_bounds(const LimitValues& values) {
  return values.standard || values.service;
}

} // namespace

void check_judging_limit(const Index& index, Notes& notes, const EntryView& at, const std::string& pointer,
                         const std::string& name, std::optional<quantity::Dimension> dimension) {
  if (name.empty()) return;
  const Limit* limit = index.procedure().limit(name);
  if (!limit) {
    notes.error(pointer, fmt::format("{}: there is no limit {}", at.what(), shown(name)));
    return;
  }
  if (dimension && limit->unit && limit->unit->dimension != *dimension)
    notes.error(pointer, fmt::format("{}: {} is judged by limit {}, which is in {}", at.what(), name_of(*dimension),
                                     shown(name), limit->unit->name));
  bool judges = true;
  bool has_column = true;
  each_values(*limit, [&](const LimitValues& values, const std::string&) {
    if (values.empty()) return;
    judges = judges && has_bounds(values);
    if (at.entry.column == Column::standard && !values.standard) has_column = false;
    if (at.entry.column == Column::service && !values.service) has_column = false;
  });
  if (!judges) {
    notes.error(pointer,
                fmt::format("{}: limit {} has a target but no low or high to judge by", at.what(), shown(name)));
  } else if (!has_column) {
    notes.error(pointer, fmt::format("{}: limit {} has no {} bounds, by which this entry is judged", at.what(),
                                     shown(name), name_of(at.entry.column)));
  }
}

void check_conditions(const Index& index, Notes& notes) {
  const Procedure& procedure = index.procedure();
  for (std::size_t i = 0; i < procedure.options.size(); ++i) {
    const Option& option = procedure.options[i];
    if (!option.given.empty() && !all_in({option.given}, option.choices))
      notes.error(fmt::format("/options/{}/given", i),
                  fmt::format("option {}: {} is not one of its choices", shown(option.id), shown(option.given)));
  }
  for (const Limit& limit : procedure.limits)
    for (std::size_t i = 0; i < limit.cases.size(); ++i)
      check_limit_case(index, notes, limit.cases[i].when, fmt::format("{}/when/{}", pointer_of_limit(limit), i));
  index.each_step([&](const Section&, const Step& step, const std::string& pointer) {
    check_when(index, notes, step.when, pointer);
  });
  index.each_entry([&](const EntryView& at) { check_when(index, notes, at.entry.when, at.pointer); });
}

void check_references(const Index& index, Notes& notes) {
  index.each_step([&](const Section&, const Step& step, const std::string& pointer) {
    check_step_part(index, notes, step, pointer);
    check_after(index, notes, step, pointer);
  });
  std::set<std::string_view> picked;
  index.each_entry([&](const EntryView& at) {
    const Entry& entry = at.entry;
    check_parts(index, notes, at);
    check_choice(index, notes, at, picked);
    check_tightening(index, notes, at);
    const auto dimension = entry.unit ? std::optional(entry.unit->dimension) : std::nullopt;
    check_judging_limit(index, notes, at, at.pointer + "/limit", entry.limit, dimension);
  });
}

} // namespace procedure
