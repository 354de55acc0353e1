#include "procedure/check.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <set>

namespace procedure {

using json::Kind;
using json::shown;
using json::Value;

namespace {

std::string unescaped(std::string_view token) {
  std::string key;
  for (std::size_t i = 0; i < token.size(); ++i) {
    if (token[i] == '~' && i + 1 < token.size()) {
      key += token[++i] == '1' ? '/' : '~';
    } else {
      key += token[i];
    }
  }
  return key;
}

const Value* child(const Value& value, std::string_view token) {
  if (value.is(Kind::object)) return value.find(unescaped(token));
  if (!value.is(Kind::array)) return nullptr;
  std::size_t index = 0;
  const auto [end, error] = std::from_chars(token.data(), token.data() + token.size(), index);
  const bool whole = error == std::errc() && end == token.data() + token.size();
  return whole && index < value.items().size() ? &value.items()[index] : nullptr;
}

using Child = std::function<const Value*(const Value& of, std::string_view token)>;

// The values from the document down to what the pointer names, as far as it leads; each with its own pointer.
std::vector<std::pair<const Value*, std::string>> way_to(const Value& document, std::string_view pointer,
                                                         const Child& look_up = child) {
  std::vector<std::pair<const Value*, std::string>> way = {{&document, ""}};
  while (!pointer.empty()) {
    pointer.remove_prefix(1);
    const std::size_t end = std::min(pointer.find('/'), pointer.size());
    const Value* next = look_up(*way.back().first, pointer.substr(0, end));
    if (!next) break;
    way.emplace_back(next, fmt::format("{}/{}", way.back().second, pointer.substr(0, end)));
    pointer.remove_prefix(end);
  }
  return way;
}

// Codes and pointers of all warnings that are accepted with a reason. Pointers are put together on the way back up, as
// they are seldom wanted.
using AllAccepted = std::vector<std::pair<std::string, std::string>>;

void find_accepted(const Value& value, AllAccepted& found);

void find_accepted_in(const Value& value, const auto& token, AllAccepted& found) {
  const std::size_t before = found.size();
  find_accepted(value, found);
  for (std::size_t i = before; i < found.size(); ++i) found[i].second = fmt::format("/{}{}", token(), found[i].second);
}

void find_accepted(const Value& value, AllAccepted& found) {
  if (value.is(Kind::array))
    for (std::size_t i = 0; i < value.items().size(); ++i)
      find_accepted_in(
          value.items()[i], [i] { return i; }, found);
  if (!value.is(Kind::object)) return;
  for (const auto& member : value.members()) {
    if (member.key == "accepted" && member.value.is(Kind::object)) {
      for (const auto& one : member.value.members())
        if (one.value.is(Kind::text) && !one.value.as_text().empty() && !explain(one.key).empty())
          found.emplace_back(one.key, fmt::format("/accepted/{}", one.key));
    } else {
      find_accepted_in(
          member.value, [&] { return json::pointer_token(member.key); }, found);
    }
  }
}

void refuse_twice(std::set<std::string_view>& seen, std::string_view noun, const std::string& id,
                  const std::string& pointer, Notes& notes) {
  if (!id.empty() && !seen.insert(id).second)
    notes.error(pointer + "/id", fmt::format("a second {} has the id {}; each needs its own", noun, shown(id)));
}

} // namespace

json::Place place_in(const Value& document, std::string_view pointer) {
  return way_to(document, pointer).back().first->place();
}

const Value* Notes::member(const Value& of, const std::string& key) const {
  constexpr std::size_t few = 50;
  if (of.members().size() <= few) return of.find(key);
  auto& members = large_[&of];
  if (members.empty())
    for (const auto& member : of.members()) members.emplace(member.key, &member.value);
  const auto it = members.find(key);
  return it == members.end() ? nullptr : it->second;
}

std::vector<std::pair<const Value*, std::string>> Notes::way(std::string_view pointer) const {
  return way_to(document_, pointer, [this](const Value& of, std::string_view token) {
    return of.is(Kind::object) ? member(of, unescaped(token)) : child(of, token);
  });
}

void Notes::error(const std::string& pointer, std::string message) {
  remarks_.push_back({Severity::error, "", {way(pointer).back().first->place(), pointer, std::move(message)}});
}

void Notes::warning(std::string_view code, const std::string& pointer, std::string message) {
  const auto led = way(pointer);
  for (const auto& [value, its] : led) {
    const Value* accepted = value->is(Kind::object) ? member(*value, "accepted") : nullptr;
    if (!accepted || !accepted->is(Kind::object) || !accepted->find(code)) continue;
    used_.insert(fmt::format("{}/accepted/{}", its, code));
    return;
  }
  remarks_.push_back({Severity::warning, std::string(code), {led.back().first->place(), pointer, std::move(message)}});
}

std::string Notes::written(const std::string& pointer) const {
  const auto [value, its] = way(pointer).back();
  return its == pointer && value->is(Kind::number) ? value->number_text() : "";
}

void Notes::needless() {
  AllAccepted all;
  find_accepted(document_, all);
  std::erase_if(all, [&](const auto& one) { return used_.contains(one.second); });
  for (const auto& [code, pointer] : all)
    warning("W31", pointer, fmt::format("{} is accepted, but there is no such warning here any more", code));
}

std::string EntryView::what() const {
  return fmt::format("step {}, entry {}", shown(step.id), shown(entry.id));
}

Index::Index(const Procedure& procedure) : procedure_(procedure) {
  for (std::size_t i = 0; i < procedure.sections.size(); ++i) {
    const Section& section = procedure.sections[i];
    for (std::size_t s = 0; s < section.steps.size(); ++s)
      steps_.push_back({section, section.steps[s], fmt::format("/sections/{}/steps/{}", i, s)});
  }
  for (const StepView& at : steps_)
    for (std::size_t e = 0; e < at.step.entries.size(); ++e) {
      const Entry& entry = at.step.entries[e];
      entries_.emplace(Name{at.step.id, entry.id}, &entry);
      views_.push_back({at.step, entry, at.pointer + "/entries/" + std::to_string(e)});
    }
}

const Entry* Index::entry(std::string_view step, std::string_view entry) const {
  const auto at = entries_.find(Name{step, entry});
  return at == entries_.end() ? nullptr : at->second;
}

void Index::each_step(const std::function<void(const Section&, const Step&, const std::string& pointer)>& look) const {
  for (const StepView& at : steps_) look(at.section, at.step, at.pointer);
}

void Index::each_entry(const std::function<void(const EntryView&)>& look) const {
  for (const EntryView& at : views_) look(at);
}

std::string pointer_of_limit(const Limit& limit) {
  return "/limits/" + json::pointer_token(limit.id);
}

void each_values(const Limit& limit,
                 const std::function<void(const LimitValues& values, const std::string& pointer)>& look) {
  look(limit.values, pointer_of_limit(limit));
  for (std::size_t i = 0; i < limit.cases.size(); ++i)
    look(limit.cases[i].values, fmt::format("{}/when/{}", pointer_of_limit(limit), i));
}

void check_names(const Index& index, Notes& notes) {
  const Procedure& procedure = index.procedure();
  std::set<std::string_view> options, parts, findings, work, sections, steps;
  for (std::size_t i = 0; i < procedure.options.size(); ++i)
    refuse_twice(options, "option", procedure.options[i].id, fmt::format("/options/{}", i), notes);
  for (std::size_t i = 0; i < procedure.parts.size(); ++i)
    refuse_twice(parts, "part", procedure.parts[i].id, fmt::format("/parts/{}", i), notes);
  for (std::size_t i = 0; i < procedure.findings.size(); ++i)
    refuse_twice(findings, "finding", procedure.findings[i].id, fmt::format("/findings/{}", i), notes);
  for (std::size_t i = 0; i < procedure.machine_work.size(); ++i)
    refuse_twice(work, "machine work", procedure.machine_work[i].id, fmt::format("/machine-work/{}", i), notes);
  for (std::size_t i = 0; i < procedure.sections.size(); ++i)
    refuse_twice(sections, "section", procedure.sections[i].id, fmt::format("/sections/{}", i), notes);
  index.each_step([&](const Section&, const Step& step, const std::string& pointer) {
    refuse_twice(steps, "step", step.id, pointer, notes);
    std::set<std::string_view> entries;
    for (std::size_t e = 0; e < step.entries.size(); ++e)
      refuse_twice(entries, "entry of the step", step.entries[e].id, fmt::format("{}/entries/{}", pointer, e), notes);
  });
}

void check(const Procedure& procedure, const Value& document, std::vector<Remark>& remarks) {
  const Index index(procedure);
  Notes notes(document, remarks);
  check_names(index, notes);
  check_conditions(index, notes);
  check_references(index, notes);
  check_limits(index, notes);
  check_calculated(index, notes);
  check_findings(index, notes);
  check_machine_work(index, notes);
  check_order(index, notes);
  check_use(index, notes);
  check_ring_gaps(index, notes);
  check_fastening(index, notes);
  check_fits(index, notes);
  check_usual(index, notes);
  check_habits(index, notes);
  notes.needless();
}

} // namespace procedure
