#include "handover/content_parts.h"

#include "build/blockers.h"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace handover {

std::string_view words_of(Status status) {
  switch (status) {
  case Status::record: return "";
  case Status::draft: return "DRAFT";
  case Status::practice: return "PRACTICE, NOT A RECORD";
  }
  return "";
}

namespace {


const Event* last_of(const std::vector<Event>& events, std::string_view kind) {
  const Event* found = nullptr;
  for (const auto& event : events)
    if (event.kind == kind) found = &event;
  return found;
}

std::string asked_text(const Event& event, std::string_view key) {
  const auto* asked = event.body.find("asked");
  return asked ? asked->text_or_empty(key) : std::string();
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string headline_of(const Build& build, const Event* release) {
  if (build.outcome.empty()) return "Not released: the build is still open";
  const std::string work = release ? release->body.text_or_empty("work") : "";
  return capital(work.empty() ? build.outcome : fmt::format("{}, {}", work, build.outcome));
}

StepDone step_done(const Build& build, const Shop& shop, std::size_t s, std::vector<Scale>& scales, Found& found) {
  const auto& step = build.plan->step(s);
  StepDone out;
  out.title = step.title;
  out.standing = std::string(build::name_of(build::standing_of(build, s)));
  out.hold = step.hold;
  for (const auto& its : build.step(s).signatures)
    out.signatures.push_back({its.name, its.meaning, calc::local_text(its.time)});
  for (std::size_t e = 0; e < step.entries.size(); ++e)
    if (build::entry_on(build, {s, e}) != build::Holds::no && step.entries[e].kind != procedure::EntryKind::photograph)
      out.entries.push_back(entry_done(build, shop, {s, e}, scales, found));
  return out;
}

std::vector<SectionDone> sections_of(const Build& build, const Shop& shop, Found& found) {
  std::vector<SectionDone> out;
  std::size_t s = 0;
  for (const auto& section : build.plan->procedure().sections) {
    SectionDone its;
    its.title = section.title;
    its.deferred = std::find(build.deferred.begin(), build.deferred.end(), section.id) != build.deferred.end();
    for (std::size_t i = 0; i < section.steps.size(); ++i, ++s)
      if (build::step_on(build, s) != build::Holds::no)
        its.steps.push_back(step_done(build, shop, s, its.scales, found));
    if (!its.steps.empty()) out.push_back(std::move(its));
  }
  return out;
}

std::vector<PartFitted> parts_of(const Build& build) {
  std::vector<PartFitted> out;
  for (const auto& [where, part] : build.parts) {
    const auto* its = build.plan->procedure().part(where.first);
    std::vector<std::string> details;
    const auto add = [&](const char* name, const std::string& text) {
      if (!text.empty()) details.push_back(name + text);
    };
    add("size ", part.size);
    add("lot ", part.lot);
    add("from ", part.from);
    add("", part.text);
    out.push_back({its ? its->title : where.first, where.second, part.state == "reused" ? "used again" : part.state,
                   fmt::format("{}", fmt::join(details, "; "))});
  }
  return out;
}

// Each once, the gravest first.
std::vector<Notice> notices_of(const Build& build) {
  std::vector<Notice> out;
  for (const auto word : {procedure::SignalWord::danger, procedure::SignalWord::warning})
    for (std::size_t s = 0; s < build.plan->size(); ++s) {
      if (build::step_on(build, s) == build::Holds::no) continue;
      for (const auto& its : build.plan->step(s).cautions) {
        if (its.word != word) continue;
        Notice notice{std::string(procedure::name_of(word)),
                      fmt::format("{} {} {}", its.hazard, its.consequence, its.avoid)};
        const bool there = std::any_of(out.begin(), out.end(), [&](const auto& n) { return n.text == notice.text; });
        if (!there) out.push_back(std::move(notice));
      }
    }
  return out;
}

// Each of those who signed, in the order of their first signature.
std::string builders_of(const Build& build) {
  std::vector<std::string> names;
  for (std::size_t s = 0; s < build.plan->size(); ++s)
    for (const auto& its : build.step(s).signatures)
      if (std::find(names.begin(), names.end(), its.name) == names.end()) names.push_back(its.name);
  return names.empty() ? "nobody yet" : fmt::format("{}", fmt::join(names, ", "));
}

bool checked_alone(const Build& build) {
  for (std::size_t s = 0; s < build.plan->size(); ++s)
    for (const auto& its : build.step(s).signatures)
      if (its.meaning == build::meaning_checked_again) return true;
  return false;
}

void add_outcomes(Content& out, const Build& build, const std::vector<Event>& events) {
  for (const auto& event : events) {
    if (event.kind == "addendum")
      out.notes.push_back(
          fmt::format("{}, {}: {}", calc::local_text(event.time), event.name, asked_text(event, "text")));
    if (event.kind != "dispose") continue;
    const std::string how = event.body.text_or_empty("disposition");
    const std::string line = fmt::format("{}: {}", place_of(build, event.body), asked_text(event, "text"));
    if (how == "concession") out.concessions.push_back(line);
    if (how == "repair" || how == "replace" || how == "rework") out.repairs.push_back(line);
  }
}

void add_facts(Content& out, const Build& build, const std::vector<Event>& events, const Event* release) {
  const auto add = [&](const char* name, std::string value) {
    if (!value.empty()) out.facts.push_back({name, std::move(value)});
  };
  add("Engine", out.engine);
  add("Running hours", build.hours);
  add("Customer", build.customer);
  add("Rebuilt by", fmt::format("{}{}{}", out.shop, out.address.empty() ? "" : ", ", out.address));
  add("Steps signed by", builders_of(build));
  if (checked_alone(build)) add("Hold points", "checked again by the builder, not independently");
  const auto& procedure = build.plan->procedure();
  add("Procedure", fmt::format("{}, revision {}", procedure.title, procedure.revision));
  if (!events.empty()) add("Begun", calc::local_text(events.front().time));
  if (release)
    add(build.released() ? "Released" : "Handed back",
        fmt::format("{} by {}", calc::local_text(release->time), release->name));
}

} // namespace

Content content_of(const Build& build, const Shop& shop, const std::vector<Event>& events) {
  const Event* release = last_of(events, "release");
  Content out;
  out.status = build.practice ? Status::practice : build.released() ? Status::record : Status::draft;
  out.build = build.id;
  out.shop = shop.name;
  out.address = shop.address;
  out.engine = fmt::format("{}, number {}", build.model, build.serial);
  out.customer = build.customer;
  out.headline = headline_of(build, release);
  add_facts(out, build, events, release);
  for (const auto& section : build.plan->procedure().sections)
    if (std::find(build.deferred.begin(), build.deferred.end(), section.id) != build.deferred.end())
      out.deferred.push_back(section.title);
  out.not_yet_run = !out.deferred.empty();
  if (release) out.reason = asked_text(*release, "reason");
  out.procedure_notice = build.plan->procedure().notice;
  add_outcomes(out, build, events);
  Found found;
  out.sections = sections_of(build, shop, found);
  out.worn = std::move(found.worn);
  out.close = std::move(found.close);
  for (const auto& [basis, limits] : found.limits_by_basis)
    out.bases.push_back(fmt::format("{}: {} limit{}", basis, limits.size(), limits.size() == 1 ? "" : "s"));
  out.shop_key = shop.certificate;
  out.head = build.head;
  out.head_seq = build.seq;
  out.written_at = calc::utc_text(release ? release->time : build.last);
  out.happenings = happenings_of(build, events);
  out.parts = parts_of(build);
  out.gauges = gauges_used(events);
  out.notices = notices_of(build);
  return out;
}

} // namespace handover
