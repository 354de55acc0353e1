#include "build/proposal.h"

#include "quantity/typed.h"

#include <algorithm>

namespace build {

namespace {

// Nothing to be taken off: what holds until somebody picks stays as it is.
std::string unchanged(const Build& build, const procedure::Entry& entry, const Exact& size) {
  const auto* option = build.plan->procedure().option(entry.option);
  return option && size.sign() == 0 ? option->given : std::string();
}

bool same_size(const std::string& choice, const Exact& size, const Unit& unit) {
  if (const auto bare = Exact::decimal(choice)) return *bare == size;
  const auto typed = quantity::parse_with_unit(choice);
  return typed && typed->unit->dimension == unit.dimension &&
         quantity::convert(typed->value, *typed->unit, unit) == size;
}

} // namespace

std::optional<std::string> proposed(const Build& build, EntryAt at) {
  const auto& entry = build.plan->entry(at);
  if (!entry.proposed_by) return std::nullopt;
  const auto step = build.plan->find_step(entry.proposed_by->step);
  const auto from = step ? build.plan->find_entry(*step, entry.proposed_by->entry) : std::nullopt;
  if (!from) return std::nullopt;
  const auto& calculated = build.entry({*step, *from}).calculated;
  if (calculated.size() != 1 || !calculated.front().filled() || calculated.front().asked) return std::nullopt;
  const auto* result = calculated.front().results.find(entry.proposed_by->result);
  if (!result) return std::nullopt;
  const auto is_it = [&](const std::string& choice) {
    if (result->is(json::Kind::text)) return result->as_text() == choice;
    if (!result->is(json::Kind::object)) return false;
    const auto size = Exact::written(result->at("value").as_text());
    const auto* unit = quantity::find_unit(result->at("unit").as_text());
    return size && unit && (same_size(choice, *size, *unit) || choice == unchanged(build, entry, *size));
  };
  const auto found = std::find_if(entry.choices.begin(), entry.choices.end(), is_it);
  if (found == entry.choices.end()) return std::nullopt;
  return *found;
}

std::optional<EntryAt> choice_of_option(const Build& build, std::string_view option) {
  for (std::size_t s = 0; s < build.plan->size(); ++s)
    for (std::size_t e = 0; e < build.plan->step(s).entries.size(); ++e)
      if (!option.empty() && build.plan->entry({s, e}).option == option) return EntryAt{s, e};
  return std::nullopt;
}

} // namespace build
