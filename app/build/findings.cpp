#include "build/findings.h"

#include "build/fitting.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

using json::Value;

namespace {

// The newest event that recorded there, or in what it is calculated from.
std::int64_t recorded_last(const Build& build, EntryAt at) {
  std::int64_t last = build.entry(at).last_seq;
  for (const auto& [name, source] : build.plan->entry(at).inputs)
    if (const auto* from = std::get_if<procedure::FromEntry>(&source); from && !from->as_found) {
      const std::size_t step = *build.plan->find_step(from->step);
      last = std::max(last, recorded_last(build, {step, *build.plan->find_entry(step, from->entry)}));
    }
  return last;
}

std::string entry_text(const Build& build, EntryAt at) {
  return fmt::format("\"{}: {}\"", build.plan->step(at.step).title, build.plan->entry(at).title);
}

std::string what_to_do(const Shop& shop, const Build& build, const Finding& finding, const Moment& now) {
  const auto at = required_proof(build, finding);
  if (!at || proves(shop, build, finding, *at, now)) return "say what was done about it";
  if (finding.seq > recorded_last(build, *at) && has_anything(build.entry(*at)))
    return fmt::format("record {} again, as it was good before the fault was found", entry_text(build, *at));
  return fmt::format("clear it once {} is good", entry_text(build, *at));
}

} // namespace

const Finding* find_finding(const Build& build, std::string_view id) {
  const auto it =
      std::find_if(build.findings.begin(), build.findings.end(), [&](const Finding& one) { return one.id == id; });
  return it == build.findings.end() ? nullptr : &*it;
}

std::string named(const Build& build, const Finding& finding) {
  return fmt::format("{}: {} ({})", part_text(build, finding.part, finding.position), finding.text, finding.id);
}

std::optional<EntryAt> required_proof(const Build& build, const Finding& finding) {
  const auto* offered = build.plan->procedure().finding(finding.offered);
  const auto step = offered ? build.plan->find_step(offered->proof_step) : std::nullopt;
  const auto entry = step ? build.plan->find_entry(*step, offered->proof_entry) : std::nullopt;
  if (!entry || step_on(build, *step) != Holds::yes || entry_on(build, {*step, *entry}) != Holds::yes)
    return std::nullopt;
  return EntryAt{*step, *entry};
}

bool proves(const Shop& shop, const Build& build, const Finding& finding, EntryAt at, const Moment& now) {
  return step_on(build, at.step) == Holds::yes && entry_on(build, at) == Holds::yes && has_anything(build.entry(at)) &&
         recorded_last(build, at) > finding.seq && entry_blockers(shop, build, at, now).empty();
}

bool is_open(const Shop& shop, const Build& build, const Finding& finding, const Moment& now) {
  if (finding.disposition.empty()) return true;
  return finding.proof && !proves(shop, build, finding, *finding.proof, now);
}

std::vector<std::size_t> steps_held_up(const Build& build, const Finding& finding) {
  std::vector<std::size_t> out;
  if (finding.slight) return out;
  for (std::size_t s = 0; s < build.plan->size(); ++s)
    if (step_on(build, s) != Holds::no && fits_there(build, s, finding.part, finding.position)) out.push_back(s);
  return out;
}

void add_finding_blockers(const Shop& shop, const Build& build, std::size_t step, const Moment& now,
                          std::vector<Blocker>& out) {
  for (const auto& finding : build.findings)
    if (!finding.slight && fits_there(build, step, finding.part, finding.position) &&
        is_open(shop, build, finding, now))
      out.push_back({"finding-open",
                     fmt::format("{}: {}.", named(build, finding), what_to_do(shop, build, finding, now)), "",
                     build.plan->step(step).id});
}

void add_finding_blockers_of_release(const Shop& shop, const Build& build, const Moment& now,
                                     std::vector<Blocker>& out) {
  for (const auto& finding : build.findings) {
    if (finding.slight) continue;
    const bool told = std::any_of(out.begin(), out.end(), [&](const Blocker& it) {
      return it.code == "finding-open" && it.message.starts_with(named(build, finding));
    });
    if (!told && is_open(shop, build, finding, now))
      out.push_back({"finding-open",
                     fmt::format("{}: {}.", named(build, finding), what_to_do(shop, build, finding, now)), "", ""});
    if (finding.cause_asked && finding.cause.empty())
      out.push_back({"cause-missing", fmt::format("{}: write down what caused it.", named(build, finding)), "", ""});
  }
}

Value findings_status(const Shop& shop, const Build& build, const Moment& now) {
  Value out = Value::array();
  for (const auto& finding : build.findings) {
    Value item = Value::object({{"finding", Value::text(finding.id)}, {"part", Value::text(finding.part)}});
    if (!finding.position.empty()) item.set("position", Value::text(finding.position));
    item.set("text", Value::text(finding.text));
    item.set("open", Value::boolean(is_open(shop, build, finding, now)));
    Value steps = Value::array();
    for (const std::size_t step : steps_held_up(build, finding)) steps.push(Value::text(build.plan->step(step).id));
    item.set("holds_up", std::move(steps));
    out.push(std::move(item));
  }
  return out;
}

} // namespace build
