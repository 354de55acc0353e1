#include "bench/finding_words.h"

#include "build/fitting.h"
#include "build/limits.h"

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using build::Build;
using build::Finding;
using build::Shop;
using calc::Moment;

namespace {

std::vector<std::size_t> unsigned_steps(const Build& build, const Finding& finding) {
  auto steps = build::steps_held_up(build, finding);
  std::erase_if(steps, [&](std::size_t step) { return build.step(step).signed_off; });
  return steps;
}

std::string name_of_entry(const Build& build, build::EntryAt at) {
  return fmt::format("\"{}: {}\"", build.plan->step(at.step).title, build.plan->entry(at).title);
}

std::string found_words(const Finding& finding) {
  std::string out = fmt::format("Found by {}, {}.", finding.found_name, calc::local_text(finding.found));
  if (!finding.place.empty()) out += fmt::format(" Where: {}.", finding.place);
  if (!finding.value.empty()) out += fmt::format(" Reading: {}.", finding.value);
  return out;
}

std::string holds_up_words(const Build& build, const Finding& finding) {
  if (finding.slight) return "It holds nothing up.";
  const auto steps = unsigned_steps(build, finding);
  if (steps.empty())
    return build::steps_held_up(build, finding).empty() ? "It holds up the release; no step fits this part."
                                                        : "It holds up the release; what fits this part is signed.";
  std::string out = fmt::format("It holds up \"{}\"", build.plan->step(steps.front()).title);
  if (steps.size() == 2) out += fmt::format(" and \"{}\"", build.plan->step(steps.back()).title);
  if (steps.size() > 2) out += fmt::format(" and {} more steps", steps.size() - 1);
  return out + ".";
}

std::string proof_words(const Shop& shop, const Build& build, const Finding& finding, const Moment& now) {
  const auto at = build::required_proof(build, finding);
  if (!at) return "Cleared by a sentence: what was done about it.";
  return fmt::format("Proved by {}, which is {}.", name_of_entry(build, *at),
                     build::proves(shop, build, finding, *at, now) ? "good now" : "not good yet");
}

std::string done_words(const Build& build, const Finding& finding) {
  if (finding.disposition.empty()) return "";
  std::string out = fmt::format("Done: {}, \"{}\" ({}, {})", finding.disposition, finding.done, finding.cleared_name,
                                calc::local_text(finding.cleared));
  if (finding.proof) out += fmt::format("; proved by {}", name_of_entry(build, *finding.proof));
  return out + ".";
}

std::string standing_words(const Finding& finding, bool open) {
  if (!open) return "Cleared";
  return finding.disposition.empty() ? "Open" : "Open again: what proved it is not good any more";
}

// Counts up in the order of `findings_in_order`.
std::size_t rank(const Shop& shop, const Build& build, const Finding& finding, const Moment& now) {
  const std::size_t steps = build.plan->size();
  if (!build::is_open(shop, build, finding, now)) return lacks_cause(finding) ? steps + 2 : steps + 3;
  if (finding.slight) return steps + 1;
  const auto held_up = unsigned_steps(build, finding);
  return held_up.empty() ? steps : held_up.front();
}

std::string counted(std::size_t count, std::string_view one, std::string_view several, std::string_view what) {
  return fmt::format("{} {} {}", count, count == 1 ? one : several, what);
}

} // namespace

bool lacks_cause(const Finding& finding) {
  return finding.cause_asked && finding.cause.empty();
}

std::vector<Finding> findings_in_order(const Shop& shop, const Build& build, const Moment& now) {
  std::vector<std::pair<std::size_t, const Finding*>> ranked;
  for (const auto& finding : build.findings) ranked.emplace_back(rank(shop, build, finding, now), &finding);
  std::ranges::stable_sort(ranked, {}, [](const auto& one) { return one.first; });
  std::vector<Finding> out;
  for (const auto& one : ranked) out.push_back(*one.second);
  return out;
}

std::string words_of_open(const Shop& shop, const Build& build, const Moment& now) {
  std::size_t open = 0;
  std::size_t causes = 0;
  for (const auto& finding : build.findings) {
    if (!finding.slight && build::is_open(shop, build, finding, now))
      ++open;
    else if (!finding.slight && lacks_cause(finding))
      ++causes;
  }
  std::string out;
  if (open > 0) out = counted(open, "finding", "findings", "open");
  if (causes > 0) out += (out.empty() ? "" : ", ") + counted(causes, "cause", "causes", "not written");
  return out;
}

Told told(const Shop& shop, const Build& build, const Finding& finding, const Moment& now) {
  const bool open = build::is_open(shop, build, finding, now);
  Told out;
  out.standing = standing_words(finding, open);
  out.found = found_words(finding);
  if (open) out.holds_up = holds_up_words(build, finding);
  if (open) out.proof = proof_words(shop, build, finding, now);
  out.done = done_words(build, finding);
  if (!finding.cause.empty()) out.cause = fmt::format("Cause: {}.", finding.cause);
  if (lacks_cause(finding))
    out.cause = finding.slight ? "What caused it is not written yet."
                               : "What caused it is not written yet; the release waits for that.";
  if (const auto* offered = build.plan->procedure().finding(finding.offered); offered && !offered->usually.empty())
    out.usually = fmt::format("Usually: {}.", offered->usually);
  return out;
}

std::vector<std::string> open_though_signed(const Shop& shop, const Build& build, std::size_t step, const Moment& now) {
  std::vector<std::string> out;
  for (const auto& finding : build.findings) {
    const bool fits = !finding.slight && build::fits_there(build, step, finding.part, finding.position);
    if (fits && build::step_on(build, step) != build::Holds::no && build::is_open(shop, build, finding, now))
      out.push_back(
          fmt::format("{}: open although this step is signed; it holds up the release.", build::named(build, finding)));
  }
  return out;
}

} // namespace bench
