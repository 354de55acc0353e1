#include "build/plan.h"

#include <algorithm>

namespace build {

namespace {

template <typename Map>
const typename Map::mapped_type& found_or_empty(const Map& map, const typename Map::key_type& key) {
  static const typename Map::mapped_type empty;
  const auto it = map.find(key);
  return it == map.end() ? empty : it->second;
}

template <typename T>
void add_once(std::vector<T>& list, const T& item) {
  if (std::find(list.begin(), list.end(), item) == list.end()) list.push_back(item);
}

} // namespace

Plan::Plan(std::shared_ptr<const procedure::Procedure> procedure) : procedure_(std::move(procedure)) {
  steps_ = procedure_->steps();
  for (std::size_t s = 0; s < steps_.size(); ++s) index_.emplace(steps_[s]->id, s);
  after_.resize(steps_.size());
  resting_.resize(steps_.size());
  for (std::size_t s = 0; s < steps_.size(); ++s) {
    const auto& step = *steps_[s];
    for (const auto& id : step.after) {
      const std::size_t before = index_.at(id);
      after_[s].push_back(before);
      add_once(resting_[before], s);
    }
    for (const auto& condition : step.when) add_once(steps_of_option_[condition.option], s);
    for (std::size_t e = 0; e < step.entries.size(); ++e) note_sources({s, e});
  }
  for (const auto& limit : procedure_->limits)
    for (const auto& one : limit.cases)
      for (const auto& condition : one.when) add_once(limits_of_option_[condition.option], limit.id);
}

void Plan::note_sources(EntryAt at) {
  const auto& it = entry(at);
  for (const auto& condition : it.when) add_once(steps_of_option_[condition.option], at.step);
  if (!it.limit.empty()) add_once(of_limit_[it.limit], at);
  for (const auto& part : it.parts) add_once(of_part_[part], at);
  for (const auto& [result, limit] : it.judge) add_once(of_limit_[limit], at);
  for (const auto& stage : it.stages) add_once(of_limit_[stage.limit], at);
  for (const auto& [name, source] : it.inputs) {
    if (const auto* from = std::get_if<procedure::FromEntry>(&source)) {
      const std::size_t step = index_.at(from->step);
      const EntryAt origin{step, *find_entry(step, from->entry)};
      add_once(calculated_from_[origin], at);
      if (step != at.step && !from->as_found) add_once(resting_[step], at.step);
    } else if (const auto* limit = std::get_if<procedure::FromLimit>(&source)) {
      add_once(of_limit_[limit->limit], at);
    } else if (const auto* option = std::get_if<procedure::FromOption>(&source)) {
      add_once(calculated_from_option_[option->option], at);
    }
  }
}

std::optional<std::size_t> Plan::find_step(std::string_view id) const {
  const auto it = index_.find(id);
  if (it == index_.end()) return std::nullopt;
  return it->second;
}

std::optional<std::size_t> Plan::find_entry(std::size_t step, std::string_view id) const {
  const auto& entries = steps_[step]->entries;
  for (std::size_t e = 0; e < entries.size(); ++e)
    if (entries[e].id == id) return e;
  return std::nullopt;
}

const std::vector<EntryAt>& Plan::calculated_from(EntryAt at) const {
  return found_or_empty(calculated_from_, at);
}
const std::vector<EntryAt>& Plan::entries_of_limit(const std::string& limit) const {
  return found_or_empty(of_limit_, limit);
}
const std::vector<std::string>& Plan::limits_of_option(const std::string& option) const {
  return found_or_empty(limits_of_option_, option);
}
const std::vector<EntryAt>& Plan::calculated_from_option(const std::string& option) const {
  return found_or_empty(calculated_from_option_, option);
}
const std::vector<EntryAt>& Plan::entries_of_part(const std::string& part) const {
  return found_or_empty(of_part_, part);
}
const std::vector<std::size_t>& Plan::steps_of_option(const std::string& option) const {
  return found_or_empty(steps_of_option_, option);
}

} // namespace build
