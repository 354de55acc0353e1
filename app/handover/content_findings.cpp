// Faults found on parts and photographs, as the pages tell them.
#include "build/findings.h"
#include "handover/content_parts.h"
#include "handover/words.h"

#include <fmt/format.h>

namespace handover {

namespace {

std::string said_by(const std::string& name, const build::Moment& when) {
  return fmt::format("{}, {}", name, calc::local_text(when));
}

} // namespace

std::vector<FindingTold> findings_of(const Build& build, const Shop& shop) {
  std::vector<FindingTold> out;
  for (const auto& it : build.findings) {
    FindingTold told;
    told.what = build::named(build, it);
    told.open = !it.slight && build::is_open(shop, build, it, build.last);
    const auto line = [&](std::string_view name, const std::string& text) {
      if (!text.empty()) told.lines.push_back(fmt::format("{}: {}", name, text));
    };
    line(it.slight ? "Noted" : "Found", said_by(it.found_name, it.found));
    line("Where on it", it.place);
    line("Measured", it.value);
    if (!it.disposition.empty())
      line("Done", fmt::format("{}: {} {}", it.disposition, it.done, said_by(it.cleared_name, it.cleared)));
    if (it.proof) line("Proved by", of_entry(build, *it.proof));
    line("Cause", it.cause);
    out.push_back(std::move(told));
  }
  return out;
}

void tell_findings(const Build& build, Content& content) {
  for (const auto& it : build.findings) {
    if (it.disposition.empty()) continue;
    auto& list = it.disposition == "concession" ? content.concessions : content.repairs;
    list.push_back(fmt::format("{}, {}: {}", build::named(build, it), it.disposition, it.done));
  }
}

std::vector<PhotographKept> photographs_of(const Build& build) {
  std::vector<PhotographKept> out;
  for (const auto& it : build.photographs)
    out.push_back({of_photograph(build, it),
                   fmt::format("{}; {} x {} pixels", said_by(it.name, it.time), it.width, it.height), it.sha256});
  return out;
}

std::string of_photograph(const Build& build, const build::Photograph& photograph) {
  if (photograph.at) return of_entry(build, *photograph.at);
  const auto* finding = build::find_finding(build, photograph.finding);
  return finding ? build::named(build, *finding) : photograph.finding;
}

} // namespace handover
