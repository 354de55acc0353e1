// Warnings: what nothing uses, and what is allowed but likely a slip. remark.cpp explains each code.
#include "procedure/check.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace procedure {

using json::shown;

namespace {

struct Used {
  std::set<std::string_view> limits;
  std::set<std::string_view> options;
  std::set<std::string_view> parts;
};

void note_when(Used& used, const When& when) {
  for (const OptionIs& condition : when) used.options.insert(condition.option);
}

void note_entry(Used& used, const Entry& entry) {
  note_when(used, entry.when);
  used.limits.insert(entry.limit);
  used.parts.insert(entry.parts.begin(), entry.parts.end());
  for (const Stage& stage : entry.stages) used.limits.insert(stage.limit);
  if (entry.bolt) used.limits.insert(entry.bolt->length);
  for (const auto& [result, limit] : entry.judge) used.limits.insert(limit);
  for (const auto& [name, source] : entry.inputs) {
    if (const auto* limit = std::get_if<FromLimit>(&source)) used.limits.insert(limit->limit);
    if (const auto* option = std::get_if<FromOption>(&source)) used.options.insert(option->option);
  }
}

Used used_by(const Index& index) {
  Used used;
  for (const Limit& limit : index.procedure().limits)
    for (const LimitCase& one : limit.cases) note_when(used, one.when);
  for (const OfferedFinding& finding : index.procedure().findings)
    used.parts.insert(finding.parts.begin(), finding.parts.end());
  for (const OfferedWork& work : index.procedure().machine_work) {
    used.parts.insert(work.parts.begin(), work.parts.end());
    used.limits.insert(work.limits.begin(), work.limits.end());
  }
  index.each_step([&](const Section&, const Step& step, const std::string&) {
    note_when(used, step.when);
    used.parts.insert(step.part);
    used.parts.insert(step.fits.begin(), step.fits.end());
  });
  index.each_entry([&](const EntryView& at) { note_entry(used, at.entry); });
  return used;
}

bool has_service(const Limit* limit) {
  if (!limit) return false;
  const auto service = [](const LimitCase& one) { return one.values.service.has_value(); };
  return limit->values.service || std::any_of(limit->cases.begin(), limit->cases.end(), service);
}

void warn_of_unreachable_service(const Index& index, Notes& notes, const EntryView& at) {
  if (at.entry.column != Column::by_parts || !at.entry.parts.empty()) return;
  std::vector<std::string> limits = {at.entry.limit};
  for (const auto& [result, limit] : at.entry.judge) limits.push_back(limit);
  for (const std::string& limit : limits)
    if (has_service(index.procedure().limit(limit))) {
      notes.warning("W05", at.pointer,
                    fmt::format("{}: limit {} has service bounds, but no \"parts\" say whether a part is reused, so "
                                "they never apply",
                                at.what(), shown(limit)));
      return;
    }
}

void warn_of_deferred(const Index& index, Notes& notes, const Section& section, const Step& step,
                      const std::string& pointer) {
  if (section.deferrable) return;
  for (std::size_t i = 0; i < step.after.size(); ++i) {
    const Section* before = index.procedure().section_of(step.after[i]);
    if (before && before->deferrable)
      notes.warning("W08", fmt::format("{}/after/{}", pointer, i),
                    fmt::format("step {} waits for {}, whose section may be left open at release; this one may not",
                                shown(step.id), shown(step.after[i])));
  }
}

} // namespace

void check_use(const Index& index, Notes& notes) {
  const Procedure& procedure = index.procedure();
  const Used used = used_by(index);
  for (const Limit& limit : procedure.limits)
    if (!used.limits.contains(limit.id))
      notes.warning("W01", pointer_of_limit(limit), fmt::format("limit {}: nothing uses it", shown(limit.id)));
  for (std::size_t i = 0; i < procedure.options.size(); ++i)
    if (!used.options.contains(procedure.options[i].id))
      notes.warning("W02", fmt::format("/options/{}", i),
                    fmt::format("option {}: no limit, step or entry depends on it", shown(procedure.options[i].id)));
  for (std::size_t i = 0; i < procedure.parts.size(); ++i)
    if (!used.parts.contains(procedure.parts[i].id))
      notes.warning("W03", fmt::format("/parts/{}", i),
                    fmt::format("part {}: no step, entry or finding names it", shown(procedure.parts[i].id)));
  std::set<std::string_view> fitted;
  index.each_step(
      [&](const Section&, const Step& step, const std::string&) { fitted.insert(step.fits.begin(), step.fits.end()); });
  for (std::size_t i = 0; i < procedure.parts.size(); ++i)
    if (const Part& part = procedure.parts[i]; (part.once || part.dated) && !fitted.contains(part.id))
      notes.warning("W16", fmt::format("/parts/{}", i),
                    fmt::format("part {}: no step fits it, so nothing asks which one was used", shown(part.id)));
  index.each_step([&](const Section& section, const Step& step, const std::string& pointer) {
    warn_of_deferred(index, notes, section, step, pointer);
  });
  index.each_entry([&](const EntryView& at) { warn_of_unreachable_service(index, notes, at); });
}

} // namespace procedure
