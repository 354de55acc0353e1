// Parts that steps fit, and findings: on which parts they are offered, what they hold up and what proves them cleared.
#include "procedure/check.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>

namespace procedure {

using json::shown;

namespace {

bool has(const std::vector<std::string>& list, std::string_view wanted) {
  return std::find(list.begin(), list.end(), wanted) != list.end();
}

// Are the step's positions, all or some, those of the part, so that each stands for its own?
bool goes_by_position(const Step& step, const Part& part) {
  return !step.positions.empty() && all_in(step.positions, part.positions);
}

void check_fits(const Index& index, Notes& notes, const Step& step, const std::string& pointer) {
  for (std::size_t i = 0; i < step.fits.size(); ++i)
    if (!index.procedure().part(step.fits[i]))
      notes.error(fmt::format("{}/fits/{}", pointer, i),
                  fmt::format("step {}: there is no part {} to fit", shown(step.id), shown(step.fits[i])));
}

// Why no value of the entry can be called good, or "".
std::string why_no_proof(const Index& index, const Entry& entry) {
  const auto judges = [&](const std::string& name) {
    const Limit* limit = index.procedure().limit(name);
    return !name.empty() && (!limit || limit->basis != Basis::none); // an unknown limit is told where it is named
  };
  switch (entry.kind) {
  case EntryKind::confirm:
  case EntryKind::tightening: return "";
  case EntryKind::choice: return entry.good.empty() ? "its choices name no \"good\" ones" : "";
  case EntryKind::reading:
  case EntryKind::readings: return judges(entry.limit) ? "" : "no limit judges it";
  case EntryKind::calculated: {
    const auto judged = [&](const auto& result) { return judges(result.second); };
    return std::any_of(entry.judge.begin(), entry.judge.end(), judged) ? "" : "no limit judges it";
  }
  case EntryKind::identity:
  case EntryKind::wait:
  case EntryKind::photograph: return fmt::format("it is of kind {}, which nothing judges", name_of(entry.kind));
  }
  throw std::logic_error("unknown kind of entry");
}

void check_proof(const Index& index, Notes& notes, const OfferedFinding& finding, const std::string& owner) {
  if (finding.proof_step.empty()) return;
  const std::string pointer = owner + "/proof";
  const std::string what = fmt::format("finding {}", shown(finding.id));
  const std::string proof = shown(finding.proof_step + "/" + finding.proof_entry);
  const Step* step = index.procedure().step(finding.proof_step);
  const Entry* entry = index.entry(finding.proof_step, finding.proof_entry);
  if (!step || !entry) {
    notes.error(pointer, fmt::format("{}: there is no entry {}; write \"STEP/ENTRY\"", what, proof));
    return;
  }
  const std::string why = why_no_proof(index, *entry);
  if (!why.empty()) notes.error(pointer, fmt::format("{}: {} is no proof, as {}", what, proof, why));
  for (const std::string& id : finding.parts) {
    const Part* part = index.procedure().part(id);
    if (part && goes_by_position(*step, *part) && !all_in(part->positions, step->positions))
      notes.error(pointer, fmt::format("{}: {} has not all positions of the part {}, so it could not be cleared there",
                                       what, proof, shown(id)));
  }
}

using Fitting = std::map<std::string_view, std::vector<const Step*>>; // the steps that fit each part

bool is_fitted(const Fitting& fitting, const Part& part, const std::string& position) {
  const auto found = fitting.find(part.id);
  return found != fitting.end() && std::any_of(found->second.begin(), found->second.end(), [&](const Step* step) {
           return !goes_by_position(*step, part) || has(step->positions, position);
         });
}

void check_parts(const Index& index, const Fitting& fitting, Notes& notes, const OfferedFinding& finding,
                 const std::string& owner) {
  const std::string what = fmt::format("finding {}", shown(finding.id));
  for (std::size_t i = 0; i < finding.parts.size(); ++i) {
    const std::string pointer = fmt::format("{}/parts/{}", owner, i);
    const Part* part = index.procedure().part(finding.parts[i]);
    if (!part) {
      notes.error(pointer, fmt::format("{}: there is no part {}", what, shown(finding.parts[i])));
      continue;
    }
    if (finding.slight) continue;
    const auto loose = [&](const std::string& position) { return !is_fitted(fitting, *part, position); };
    const auto& positions = part->positions;
    if (positions.empty() ? loose("") : std::all_of(positions.begin(), positions.end(), loose)) {
      notes.warning("W15", pointer, fmt::format("{}: on the part {} it holds up no step", what, shown(part->id)));
    } else if (const auto at = std::find_if(positions.begin(), positions.end(), loose); at != positions.end()) {
      notes.warning("W15", pointer,
                    fmt::format("{}: on the part {} at {} it holds up no step", what, shown(part->id), shown(*at)));
    }
  }
}

// Every step that must be signed before this one, however far back.
std::set<const Step*> all_before(const Procedure& procedure, const Step& last) {
  std::set<const Step*> before;
  std::vector<const Step*> open = {&last};
  while (!open.empty()) {
    const Step* step = open.back();
    open.pop_back();
    for (const std::string& id : step->after)
      if (const Step* earlier = procedure.step(id); earlier && before.insert(earlier).second) open.push_back(earlier);
  }
  return before;
}

// A fault holds up the step that fits its part until the proof is there; a proof that waits for this step never comes.
void check_in_time(const Index& index, const Fitting& fitting, Notes& notes, const OfferedFinding& finding,
                   const std::string& owner) {
  const Step* step = index.procedure().step(finding.proof_step);
  const Entry* entry = index.entry(finding.proof_step, finding.proof_entry);
  if (!step || !entry || entry->loose || finding.slight) return;
  const auto before = all_before(index.procedure(), *step);
  for (const std::string& part : finding.parts) {
    const auto fits = fitting.find(part);
    if (fits == fitting.end()) continue;
    for (const Step* held : fits->second)
      if (held != step && before.contains(held))
        return notes.warning("W32", owner + "/proof",
                             fmt::format("finding {}: step {} fits the part {} and waits for this proof, which can be "
                                         "filled in only after that step",
                                         shown(finding.id), shown(held->id), shown(part)));
  }
}

} // namespace

void check_findings(const Index& index, Notes& notes) {
  Fitting fitting;
  index.each_step([&](const Section&, const Step& step, const std::string& pointer) {
    check_fits(index, notes, step, pointer);
    for (const std::string& part : step.fits) fitting[part].push_back(&step);
  });
  const auto& findings = index.procedure().findings;
  for (std::size_t i = 0; i < findings.size(); ++i) {
    check_parts(index, fitting, notes, findings[i], fmt::format("/findings/{}", i));
    check_proof(index, notes, findings[i], fmt::format("/findings/{}", i));
    check_in_time(index, fitting, notes, findings[i], fmt::format("/findings/{}", i));
  }
}

} // namespace procedure
