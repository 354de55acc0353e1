// What follows from a procedure alone, worked out once: which steps rest on which, which calculated entries follow from
// which entries, and what a limit, an option or a part touches. Steps and entries are numbered in the file's order.
#pragma once

#include "procedure/procedure.h"

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace build {

struct EntryAt {
  std::size_t step = 0;
  std::size_t entry = 0;
  auto operator<=>(const EntryAt&) const = default;
};

class Plan {
public:
  explicit Plan(std::shared_ptr<const procedure::Procedure> procedure);

  const procedure::Procedure& procedure() const { return *procedure_; }
  std::size_t size() const { return steps_.size(); }
  const procedure::Step& step(std::size_t index) const { return *steps_[index]; }
  const procedure::Entry& entry(EntryAt at) const { return steps_[at.step]->entries[at.entry]; }
  std::optional<std::size_t> find_step(std::string_view id) const;
  std::optional<std::size_t> find_entry(std::size_t step, std::string_view id) const;

  const std::vector<std::size_t>& after(std::size_t step) const { return after_[step]; }
  // Steps that come `after` this one, and those with an entry calculated from one of its entries.
  const std::vector<std::size_t>& resting_on(std::size_t step) const { return resting_[step]; }

  // Calculated entries that take this entry (readings, choice or calculated) as an input.
  const std::vector<EntryAt>& calculated_from(EntryAt at) const;
  // Entries judged by the limit or calculated from it, in the order of the steps.
  const std::vector<EntryAt>& entries_of_limit(const std::string& limit) const;
  const std::vector<std::string>& limits_of_option(const std::string& option) const;
  const std::vector<EntryAt>& calculated_from_option(const std::string& option) const;
  const std::vector<EntryAt>& entries_of_part(const std::string& part) const;
  // Steps that the option puts on or off this engine, whole or by an entry.
  const std::vector<std::size_t>& steps_of_option(const std::string& option) const;

private:
  void note_sources(EntryAt at);
  std::shared_ptr<const procedure::Procedure> procedure_;
  std::vector<const procedure::Step*> steps_;
  std::map<std::string, std::size_t, std::less<>> index_;
  std::vector<std::vector<std::size_t>> after_;
  std::vector<std::vector<std::size_t>> resting_;
  std::map<EntryAt, std::vector<EntryAt>> calculated_from_;
  std::map<std::string, std::vector<EntryAt>> of_limit_;
  std::map<std::string, std::vector<std::string>> limits_of_option_;
  std::map<std::string, std::vector<EntryAt>> calculated_from_option_;
  std::map<std::string, std::vector<EntryAt>> of_part_;
  std::map<std::string, std::vector<std::size_t>> steps_of_option_;
};

} // namespace build
