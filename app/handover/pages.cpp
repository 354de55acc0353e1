#include "handover/pages.h"

#include "build/blockers.h"
#include "drawing/pattern.h"
#include "handover/glance.h"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace handover {

namespace {

// A fingerprint or hash in groups that can be compared by eye.
std::string grouped(const std::string& hash) {
  std::string out;
  for (std::size_t i = 0; i < hash.size(); i += 4) out += (i ? " " : "") + hash.substr(i, 4);
  return out;
}

void listed(Flow& flow, const std::string& title, const std::vector<std::string>& lines, const std::string& none) {
  flow.heading(title);
  if (lines.empty()) flow.text(none);
  flow.bullets(lines);
}

void cover(Flow& flow, const Content& content) {
  flow.paper().bookmark("Cover", 0);
  flow.text(content.shop, 0, 4.4);
  flow.text("Build record", 0, 8, Weight::strong);
  flow.text(content.engine, 0, 5.5, Weight::strong);
  if (!content.customer.empty()) flow.text(content.customer, 0, 4.4);
  flow.down(2);
  const std::string mark = banner(content);
  if (!mark.empty()) flow.text(mark, 0, 6, Weight::strong);
  flow.text(content.headline + ".", 0, 4.4, Weight::strong);
  if (content.not_yet_run)
    flow.text(
        fmt::format("NOT YET RUN. Left open at release: {}. {}", fmt::join(content.deferred, ", "), content.reason), 0,
        4, Weight::strong);
  flow.down(3);
  for (const auto& fact : content.facts) flow.fact(fact.name, fact.value);
  if (!content.procedure_notice.empty()) flow.fact("Notice", content.procedure_notice);
  flow.fact("Limits rest on",
            content.bases.empty() ? "nothing judged yet" : fmt::format("{}", fmt::join(content.bases, "; ")));
  listed(flow, "Concessions", content.concessions, "None.");
  listed(flow, "Repairs and replacements", content.repairs, "None.");
  listed(flow, "Worn, within the limits of used parts, and used again", content.worn, "None.");
  listed(flow, "Close to a limit", content.close, "None.");
  if (!content.notes.empty()) listed(flow, "Added after the release", content.notes, "");
  flow.heading("To compare");
  flow.fact("Shop key", grouped(content.shop_key));
  flow.fact("Head of the build", fmt::format("event {}: {}", content.head_seq, grouped(content.head)));
}

// Values beside one another, as many as fit.
void values(Flow& flow, const std::vector<Shown>& list, double indent) {
  std::vector<std::string> words;
  double widest = 0;
  for (const auto& it : list) {
    std::string text = it.name.empty() ? it.text : it.name + ": " + it.text;
    if (!it.note.empty()) text += " (" + it.note + ")";
    widest = std::max(widest, flow.paper().width_of(text, small_text));
    words.push_back(std::move(text));
  }
  const double room = text_width - indent;
  const auto columns = static_cast<std::size_t>(std::clamp(room / (widest + 5), 1.0, 6.0));
  const double wide = room / static_cast<double>(columns);
  for (std::size_t first = 0; first < words.size(); first += columns) {
    const std::size_t last = std::min(first + columns, words.size());
    double tall = 0;
    for (std::size_t i = first; i < last; ++i)
      tall = std::max(tall, flow.paper().paragraph(0, 0, wide - 2, words[i], small_text, Weight::plain, false));
    flow.room_for(tall);
    for (std::size_t i = first; i < last; ++i)
      flow.paper().paragraph(margin + indent + static_cast<double>(i - first) * wide, flow.y(), wide - 2, words[i],
                             small_text);
    flow.down(tall + 0.4);
  }
}

void tightened(Flow& flow, const EntryDone& entry, const Build& build) {
  if (entry.figure) {
    constexpr double tall = 46;
    flow.room_for(tall + 8);
    flow.paper().figure(drawing::pattern(drawing::joint(build, entry.at, false), {120, tall, 2.2}), margin + 4,
                        flow.y(), 120, tall);
    flow.down(tall + 1);
  }
  for (const auto& stage : entry.stages) {
    std::string head = stage.title;
    if (!stage.unit.empty() && !head.ends_with(stage.unit)) head += ", in " + stage.unit;
    if (!stage.gauges.empty()) head += "; " + stage.gauges;
    flow.text(head, 4, small_text);
    values(flow, stage.fasteners, 8);
  }
}

void entry_pages(Flow& flow, const EntryDone& entry, const Build& build) {
  flow.room_for(entry.figure ? 72 : 10); // with its heading, the figure stays on one page
  if (entry.groups.empty() && entry.stages.empty() && entry.lines.size() == 1)
    return flow.text(fmt::format("{}: {}", entry.title, entry.lines.front()), 2, small_text);
  flow.text(entry.title, 2, small_text, Weight::strong);
  for (const auto& group : entry.groups) {
    flow.room_for(8);
    const bool judged = !group.verdict.empty() && group.verdict != "recorded";
    const std::string verdict = judged ? ": " + group.verdict : "";
    const std::string name = group.name.empty() || group.unit.empty() ? group.name + group.unit
                                                                      : fmt::format("{} in {}", group.name, group.unit);
    flow.text(fmt::format("{}{}{}{}{}", name, name.empty() ? "" : "; ", group.limits, verdict,
                          group.measured.empty() ? "" : "; " + group.measured),
              4, small_text);
    values(flow, group.values, 8);
  }
  for (const auto& line : entry.lines) flow.text(line, 4, small_text);
  tightened(flow, entry, build);
}

std::string unsigned_text(const std::string& standing) {
  const bool away = standing == build::name_of(build::StepStanding::not_on_this_engine);
  return away ? "Not on this engine." : fmt::format("Not signed: {}.", standing);
}

void steps(Flow& flow, const Content& content, const Build& build) {
  flow.title("The work, step by step");
  for (const auto& section : content.sections) {
    flow.section(section.deferred ? section.title + " (left open at release)" : section.title);
    for (const auto& step : section.steps) {
      flow.heading(step.hold ? step.title + " (hold point)" : step.title);
      if (step.signatures.empty()) flow.text(unsigned_text(step.standing), 2, small_text);
      for (const auto& its : step.signatures)
        flow.text(fmt::format("{}: {}, {}", its.meaning, its.name, its.when), 2, small_text);
      for (const auto& entry : step.entries) entry_pages(flow, entry, build);
    }
  }
}

void happenings(Flow& flow, const Content& content) {
  flow.title("What went otherwise, and what was done");
  flow.text("Values found outside or undecided, what was decided about them, what was taken apart again, and notes. "
            "Typing slips are in the log only.",
            0, small_text);
  if (content.happenings.empty()) flow.text("Nothing.");
  for (const auto& it : content.happenings) {
    flow.room_for(12);
    flow.down(1);
    flow.text(fmt::format("{}, {}: {}", it.when, it.who, it.where), 0, small_text, Weight::strong);
    flow.text(it.what, 3);
  }
}

void lists(Flow& flow, const Content& content) {
  flow.title("Parts fitted");
  if (content.parts.empty()) flow.text("None stated.");
  for (const auto& it : content.parts)
    flow.text(fmt::format("{}{}{}: {}{}{}", it.part, it.position.empty() ? "" : ", ", it.position, it.state,
                          it.details.empty() ? "" : "; ", it.details));
  flow.title("Gauges and wrenches used");
  if (content.gauges.empty()) flow.text("None.");
  for (const auto& it : content.gauges)
    flow.text(fmt::format("{} {}: {}{}{}", it.kind, it.id, it.calibration, it.uncertainty.empty() ? "" : "; ",
                          it.uncertainty));
}

void notices(Flow& flow, const Content& content) {
  flow.title("Safety notices");
  flow.text("The engine maker's manual, local codes and licensed practice come first.", 0, plain_text, Weight::strong);
  for (const auto& it : content.notices) {
    flow.room_for(14);
    flow.text(it.word, 0, plain_text, Weight::strong);
    flow.text(it.text, 4);
  }
}

void checking(Flow& flow, const Content& content) {
  flow.title("How to check this file");
  if (content.draft)
    flow.text("This is a draft of a build that is still open. It is not signed; nothing in it is final.");
  if (content.practice)
    flow.text("This comes from a practice shop: names, times and values may be made up. It is not a record.");
  flow.text("Compare the fingerprint of the shop key on the cover with the one on the shop's card, and the head of the "
            "build with one noted earlier. Whoever has the shop's file can run \"witnessmark verify\" on it with "
            "\"--known\" and the head below: any change to what is written here shows there.");
  flow.fact("Shop key", grouped(content.shop_key));
  flow.fact("Head of the build", grouped(content.head));
}

quantity::Result<int> drawn(Paper& paper, const Content& content, const Build& build, int pages) {
  paper.about({fmt::format("Build record {}", content.build), content.shop, content.engine, content.written_at});
  Flow flow(paper, content, pages);
  cover(flow, content);
  glance(flow, content);
  steps(flow, content, build);
  happenings(flow, content);
  lists(flow, content);
  notices(flow, content);
  checking(flow, content);
  const int count = flow.finish();
  if (const auto closed = paper.close(); !closed) return closed.error();
  return count;
}

} // namespace

quantity::Result<std::string> pages_of(const Content& content, const Build& build) {
  Paper counting = Paper::in_memory();
  const auto pages = drawn(counting, content, build, 0);
  if (!pages) return pages.error();
  Paper paper = Paper::in_memory();
  if (const auto done = drawn(paper, content, build, *pages); !done) return done.error();
  return paper.bytes();
}

} // namespace handover
