#include "procedure/procedure.h"

#include "procedure/names.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace procedure {

namespace {

template <typename Word, std::size_t Count>
std::string_view written(const std::array<Written<Word>, Count>& names, Word word) {
  for (const auto& name : names)
    if (name.word == word) return name.text;
  throw std::logic_error("a word of a procedure without its name");
}

template <typename Things, typename Places>
auto* found(const Things& things, const Places& places, std::string_view id) {
  const auto at = places.find(id);
  return at == places.end() ? nullptr : &things[at->second];
}

} // namespace

std::string_view name_of(Basis basis) {
  return written(written_bases, basis);
}
std::string_view name_of(SignalWord word) {
  return written(written_signal_words, word);
}
std::string_view name_of(EntryKind kind) {
  return written(written_entry_kinds, kind);
}
std::string_view name_of(TakenApart taken_apart) {
  return written(written_taken_apart, taken_apart);
}
std::string_view name_of(StageKind kind) {
  return written(written_stage_kinds, kind);
}
std::string_view name_of(By by) {
  return written(written_bys, by);
}
std::string_view name_of(Beyond beyond) {
  return written(written_beyonds, beyond);
}
std::string_view name_of(Lubrication lubrication) {
  return written(written_lubrications, lubrication);
}

bool has_limit(StageKind kind) {
  return kind == StageKind::torque || kind == StageKind::angle || kind == StageKind::stretch ||
         kind == StageKind::check;
}

std::string thread_text(const Bolt& bolt) {
  return "M" + bolt.diameter.text() + " x " + bolt.pitch.text();
}
std::string_view name_of(Column column) {
  return written(written_columns, column);
}

const Entry* Step::find(std::string_view entry_id) const {
  const auto at =
      std::find_if(entries.begin(), entries.end(), [&](const Entry& entry) { return entry.id == entry_id; });
  return at == entries.end() ? nullptr : &*at;
}

const Option* Procedure::option(std::string_view wanted) const {
  return found(options, option_places, wanted);
}
const Part* Procedure::part(std::string_view wanted) const {
  return found(parts, part_places, wanted);
}
const Limit* Procedure::limit(std::string_view wanted) const {
  return found(limits, limit_places, wanted);
}

const OfferedWork* Procedure::work(std::string_view wanted) const {
  const auto at =
      std::find_if(machine_work.begin(), machine_work.end(), [&](const auto& it) { return it.id == wanted; });
  return at == machine_work.end() ? nullptr : &*at;
}
const OfferedFinding* Procedure::finding(std::string_view wanted) const {
  return found(findings, finding_places, wanted);
}

const Step* Procedure::step(std::string_view wanted) const {
  const auto at = step_places.find(wanted);
  return at == step_places.end() ? nullptr : &sections[at->second.first].steps[at->second.second];
}

const Section* Procedure::section_of(std::string_view step_id) const {
  const auto at = step_places.find(step_id);
  return at == step_places.end() ? nullptr : &sections[at->second.first];
}

std::vector<const Step*> Procedure::steps() const {
  std::vector<const Step*> all;
  for (const Section& section : sections)
    for (const Step& step : section.steps) all.push_back(&step);
  return all;
}

void Procedure::index() {
  for (std::size_t i = 0; i < options.size(); ++i) option_places.emplace(options[i].id, i);
  for (std::size_t i = 0; i < parts.size(); ++i) part_places.emplace(parts[i].id, i);
  for (std::size_t i = 0; i < findings.size(); ++i) finding_places.emplace(findings[i].id, i);
  for (std::size_t i = 0; i < limits.size(); ++i) limit_places.emplace(limits[i].id, i);
  for (std::size_t s = 0; s < sections.size(); ++s)
    for (std::size_t i = 0; i < sections[s].steps.size(); ++i)
      step_places.emplace(sections[s].steps[i].id, std::pair(s, i));
}

CellShape cells_of(const Step& step, const Entry& entry) {
  const auto at_least_one = [](const std::vector<std::string>& names) {
    return std::max<std::size_t>(names.size(), 1);
  };
  return {at_least_one(step.positions), at_least_one(entry.rows), at_least_one(entry.columns)};
}

std::string name_of_cell(const Step& step, const Entry& entry, std::size_t cell) {
  const CellShape shape = cells_of(step, entry);
  std::string name;
  const auto add = [&](const std::vector<std::string>& names, std::size_t index) {
    if (names.empty()) return;
    if (!name.empty()) name += ", ";
    name += names.at(index);
  };
  add(step.positions, cell / shape.per_position());
  add(entry.rows, cell % shape.per_position() / shape.columns);
  add(entry.columns, cell % shape.columns);
  return name;
}

double between_angles(double a, double b) {
  return std::abs(std::remainder(a - b, 360.0));
}

} // namespace procedure
