#include "handover/content.h"

#include "handover/content_parts.h"

#include <fmt/format.h>

#include <algorithm>

namespace handover {

namespace {

const Event* last_of(const std::vector<Event>& events, std::string_view kind) {
  const auto it = std::find_if(events.rbegin(), events.rend(), [&](const Event& event) { return event.kind == kind; });
  return it == events.rend() ? nullptr : &*it;
}

// A PDF's dates know no fractions of a second.
std::string without_fraction(std::string moment) {
  if (const auto dot = moment.find('.'); dot != std::string::npos) moment.erase(dot, 4);
  return moment;
}

std::string joined(const std::vector<std::string>& texts, std::string_view between = ", ") {
  return fmt::format("{}", fmt::join(texts, between));
}

// Names of those who signed steps with one of the meanings, in the order they first did.
std::string names_with(const std::vector<Event>& events, std::initializer_list<std::string_view> meanings) {
  std::vector<std::string> out;
  for (const auto& event : events) {
    if (event.kind != "sign" || std::find(meanings.begin(), meanings.end(), event.meaning) == meanings.end()) continue;
    if (std::find(out.begin(), out.end(), event.name) == out.end()) out.push_back(event.name);
  }
  return joined(out);
}

std::string options_of(const Build& build) {
  std::vector<std::string> out;
  for (const auto& option : build.plan->procedure().options)
    if (const auto holds = build.option(option.id); !holds.empty()) out.push_back(option.title + ": " + holds);
  return joined(out, "; ");
}

bool deferred(const Build& build, const procedure::Section& section) {
  return std::find(build.deferred.begin(), build.deferred.end(), section.id) != build.deferred.end();
}

// ", 2026-04-28 11:37": when its newest signature was made; "" without any.
std::string last_signed(const Build& build, const procedure::Section& section) {
  const build::Signature* newest = nullptr;
  for (const auto& step : section.steps)
    for (const auto& signature : build.step(*build.plan->find_step(step.id)).signatures)
      if (!newest || newest->seq < signature.seq) newest = &signature;
  return newest ? ", " + calc::local_text(newest->time) : "";
}

void tell_facts(const Build& build, const Shop& shop, const std::vector<Event>& events, Content& out) {
  const auto fact = [&](std::string_view name, const std::string& value) {
    if (!value.empty()) out.facts.push_back({std::string(name), value});
  };
  fact("Engine", build.model);
  fact("Serial number", build.serial);
  fact("Hours run", build.hours);
  fact("Customer", build.customer);
  fact("Shop", shop.address.empty() ? shop.name : shop.name + ", " + shop.address);
  fact("Built by", names_with(events, {build::meaning_done}));
  fact("Checked by", names_with(events, {build::meaning_checked, build::meaning_witnessed}));
  fact("Checked again by the builder, not independently", names_with(events, {build::meaning_checked_again}));
  if (const auto* released = last_of(events, "release")) {
    const std::string by = fmt::format("{}, {}", released->name, calc::local_text(released->time));
    fact(build.released() ? "Released by" : "Handed back, not released, by", by);
    fact("Work", released->body.text_or_empty("work"));
  }
  if (!events.empty()) fact("Work began", calc::local_text(events.front().time));
  const auto& procedure = build.plan->procedure();
  fact("Procedure", fmt::format("{}, revision {}", procedure.title, procedure.revision));
  fact("Chosen for this engine", options_of(build));
  if (build.released())
    for (const auto& section : procedure.sections)
      if (section.deferrable && !deferred(build, section)) fact(section.title, "done" + last_signed(build, section));
}

void tell_outcome(const Build& build, const std::vector<Event>& events, Content& out) {
  const auto* release = last_of(events, "release");
  out.draft = !build.released();
  out.practice = build.practice;
  out.headline = build.released()        ? build.outcome
                 : build.outcome.empty() ? "not released: work is going on"
                                         : "handed back, not released";
  out.headline.front() = 'A' <= out.headline.front() && out.headline.front() <= 'Z'
                             ? out.headline.front()
                             : static_cast<char>(out.headline.front() - 'a' + 'A');
  for (const auto& section : build.plan->procedure().sections)
    if (deferred(build, section)) out.deferred.push_back(section.title);
  out.not_yet_run = build.released() && !out.deferred.empty();
  if (release) out.reason = release->body.at("asked").text_or_empty("reason");
}

} // namespace

std::string banner(const Content& content) {
  if (content.draft && content.practice) return "DRAFT. PRACTICE, NOT A RECORD";
  if (content.practice) return "PRACTICE, NOT A RECORD";
  return content.draft ? "DRAFT" : "";
}

Content content_of(const Build& build, const Shop& shop, const std::vector<Event>& events) {
  Content out;
  out.build = build.id;
  out.shop = shop.name;
  out.address = shop.address;
  out.engine = build.serial.empty() ? build.model : build.model + ", " + build.serial;
  out.customer = build.customer;
  out.procedure_notice = build.plan->procedure().notice;
  out.shop_key = shop.certificate;
  out.head = build.head;
  out.head_seq = build.seq;
  tell_outcome(build, events, out);
  tell_facts(build, shop, events, out);
  const auto* release = last_of(events, "release");
  out.written_at = without_fraction(calc::offset_text(release ? release->time : build.last));
  const GaugeFacts facts = gauge_facts(events);
  out.sections = sections_of(build, facts);
  tell_exceptions(build, events, out);
  out.happenings = happenings_of(build, events);
  out.parts = parts_of(build, events);
  out.gauges = gauges_of(facts);
  tell_findings(build, out);
  out.findings = findings_of(build, shop);
  tell_machine_work(build, out);
  out.machine_work = machine_work_of(build);
  out.photographs = photographs_of(build);
  out.notices = notices_of(build);
  out.bases = bases_of(build);
  out.unchecked = unchecked_of(build);
  out.sheet = sheet_of(build);
  for (const auto& event : events) {
    if (event.kind != "addendum") continue;
    const auto& asked = event.body.at("asked");
    std::string said = asked.text_or_empty("text");
    if (const auto* entries = asked.find("entries"))
      for (const auto& item : entries->items()) said += (said.empty() ? "" : " ") + item.text_or_empty("text");
    out.notes.push_back(fmt::format("{}, {}: {}", calc::local_text(event.time), event.name, said));
  }
  return out;
}

} // namespace handover
