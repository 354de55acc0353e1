// Copying what events say of faults found on parts, and of photographs.
#include "build/copying.h"

#include "build/event.h"

#include <algorithm>
#include <stdexcept>

namespace build {

using json::Value;

void attach(Build& build, const Event& event) {
  const Value& facts = event.body.at("photograph");
  Photograph it;
  it.sha256 = facts.at("sha256").as_text();
  it.media = facts.at("media").as_text();
  it.width = facts.at("width").as_integer().value();
  it.height = facts.at("height").as_integer().value();
  it.finding = optional_text(event.body, "finding");
  if (it.finding.empty()) it.at = entry_of(build, event.body);
  it.name = event.name;
  it.time = event.time;
  if (it.at && build.plan->entry(*it.at).kind == procedure::EntryKind::photograph) {
    auto& entry = build.change(*it.at);
    entry.done = true;
    entry.asked = false;
  }
  build.photographs.push_back(std::move(it));
}

void finding(Build& build, const Event& event) {
  Finding it;
  it.id = event.body.at("finding").as_text();
  it.part = event.body.at("part").as_text();
  it.text = event.body.at("text").as_text();
  it.position = optional_text(event.body, "position");
  it.offered = optional_text(event.body, "offered");
  it.place = optional_text(event.body, "place");
  it.value = optional_text(event.body, "value");
  it.slight = event.body.find("slight") != nullptr;
  it.cause_asked = event.body.find("cause_asked") != nullptr;
  it.found_by = event.person;
  it.found_name = event.name;
  it.found = event.time;
  it.seq = event.seq;
  build.findings.push_back(std::move(it));
}

void clear(Build& build, const Event& event) {
  const auto at = std::find_if(build.findings.begin(), build.findings.end(),
                               [&](const Finding& one) { return one.id == event.body.at("finding").as_text(); });
  if (at == build.findings.end()) throw std::logic_error("no such finding");
  if (const auto* cause = event.body.find("cause")) at->cause = cause->as_text();
  const std::string disposition = optional_text(event.body, "disposition");
  if (disposition.empty()) return;
  at->disposition = disposition;
  at->done = event.body.at("text").as_text();
  at->cleared_name = event.name;
  at->cleared = event.time;
  at->proof.reset();
  if (const auto* proof = event.body.find("proof")) at->proof = entry_of(build, *proof);
}

} // namespace build
