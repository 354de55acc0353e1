#include "build/findings.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

using json::Value;

namespace {

// Every position of the step is one of the part's: each then fits its own, and not all of it.
bool position_by_position(const procedure::Step& step, const procedure::Part& part) {
  return !step.positions.empty() && std::all_of(step.positions.begin(), step.positions.end(), [&](const auto& it) {
    return std::find(part.positions.begin(), part.positions.end(), it) != part.positions.end();
  });
}

bool fits(const Build& build, std::size_t index, const Finding& finding) {
  const auto& step = build.plan->step(index);
  if (std::find(step.fits.begin(), step.fits.end(), finding.part) == step.fits.end()) return false;
  const auto* part = build.plan->procedure().part(finding.part);
  if (finding.position.empty() || !part || !position_by_position(step, *part)) return true;
  return std::find(step.positions.begin(), step.positions.end(), finding.position) != step.positions.end();
}

std::string what_to_do(const Build& build, const Finding& finding) {
  const auto at = required_proof(build, finding);
  return at ? fmt::format("clear it once \"{}: {}\" is good", build.plan->step(at->step).title,
                          build.plan->entry(*at).title)
            : "say what was done about it";
}

} // namespace

const Finding* find_finding(const Build& build, std::string_view id) {
  const auto it =
      std::find_if(build.findings.begin(), build.findings.end(), [&](const Finding& one) { return one.id == id; });
  return it == build.findings.end() ? nullptr : &*it;
}

std::string named(const Build& build, const Finding& finding) {
  const auto* part = build.plan->procedure().part(finding.part);
  const std::string& title = part ? part->title : finding.part;
  return fmt::format("{}{}{}: {} ({})", title, finding.position.empty() ? "" : " ", finding.position, finding.text,
                     finding.id);
}

std::optional<EntryAt> required_proof(const Build& build, const Finding& finding) {
  const auto* offered = build.plan->procedure().finding(finding.offered);
  const auto step = offered ? build.plan->find_step(offered->proof_step) : std::nullopt;
  const auto entry = step ? build.plan->find_entry(*step, offered->proof_entry) : std::nullopt;
  if (!entry || step_on(build, *step) != Holds::yes || entry_on(build, {*step, *entry}) != Holds::yes)
    return std::nullopt;
  return EntryAt{*step, *entry};
}

bool proves(const Shop& shop, const Build& build, EntryAt at, const Moment& now) {
  return step_on(build, at.step) == Holds::yes && entry_on(build, at) == Holds::yes && has_anything(build.entry(at)) &&
         entry_blockers(shop, build, at, now).empty();
}

bool is_open(const Shop& shop, const Build& build, const Finding& finding, const Moment& now) {
  if (finding.disposition.empty()) return true;
  return finding.proof && !proves(shop, build, *finding.proof, now);
}

std::vector<std::size_t> steps_held_up(const Build& build, const Finding& finding) {
  std::vector<std::size_t> out;
  if (finding.slight) return out;
  for (std::size_t s = 0; s < build.plan->size(); ++s)
    if (step_on(build, s) != Holds::no && fits(build, s, finding)) out.push_back(s);
  return out;
}

void add_finding_blockers(const Shop& shop, const Build& build, std::size_t step, const Moment& now,
                          std::vector<Blocker>& out) {
  for (const auto& finding : build.findings)
    if (!finding.slight && fits(build, step, finding) && is_open(shop, build, finding, now))
      out.push_back({"finding-open", fmt::format("{}: {}.", named(build, finding), what_to_do(build, finding)), "",
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
      out.push_back(
          {"finding-open", fmt::format("{}: {}.", named(build, finding), what_to_do(build, finding)), "", ""});
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
