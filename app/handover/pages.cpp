#include "handover/pages.h"

#include "build/blockers.h"
#include "drawing/pattern.h"
#include "handover/chapters.h"
#include "handover/figures.h"
#include "handover/glance.h"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace handover {

namespace {

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

// "min; within; limits 0.020 to 0.062 mm (invented example); with micrometer mic, U 0.003 mm"
std::string group_head(const Group& group) {
  std::vector<std::string> parts;
  const auto add = [&](const std::string& text) {
    if (!text.empty()) parts.push_back(text);
  };
  add(group.name);
  if (group.verdict.empty()) {
    add(group.unit.empty() ? "" : "in " + group.unit);
    add(group.limits);
  } else {
    add(group.verdict);
    add("limits " + group.limits);
  }
  add(group.measured);
  return fmt::format("{}", fmt::join(parts, "; "));
}

void entry_pages(Flow& flow, const EntryDone& entry, const Build& build) {
  const auto& figures = entry.figures;
  flow.room_for(entry.figure ? 72 : 10); // with its heading, the figure stays on one page
  if (entry.groups.empty() && entry.stages.empty() && entry.lines.size() == 1) {
    flow.room_for(6 + first_row(figures));
    flow.text(fmt::format("{}: {}", entry.title, entry.lines.front()), 2, small_text);
    return put_figures(flow, figures, 4);
  }
  const bool few = entry.groups.size() == 1 && entry.groups.front().values.size() <= 9;
  if (few && !figures.empty()) flow.room_for(22 + first_row(figures)); // beside its numbers
  flow.text(entry.title, 2, small_text, Weight::strong);
  for (const auto& group : entry.groups) {
    flow.room_for(8);
    flow.text(group_head(group), 4, small_text);
    values(flow, group.values, 8);
  }
  for (const auto& line : entry.lines) flow.text(line, 4, small_text);
  put_figures(flow, figures, 4);
  tightened(flow, entry, build);
}

std::string unsigned_text(const std::string& standing) {
  const bool away = standing == build::name_of(build::StepStanding::not_on_this_engine);
  return away ? "Not on this engine." : fmt::format("Not signed: {}.", standing);
}

void steps(Flow& flow, const Content& content, const Build& build, const record::Progress& progress,
           std::string_view what) {
  flow.title("The work, step by step", Begin::page);
  std::size_t done = 0;
  for (const auto& section : content.sections) {
    if (!progress.goes_on(what, done++, content.sections.size())) return;
    flow.section(section.deferred ? section.title + " (left open at release)" : section.title);
    for (const auto& step : section.steps) {
      if (progress.stopped() || !progress.goes_on(what, done, content.sections.size())) return;
      if (!step.entries.empty())
        flow.room_for(32 + 4 * static_cast<double>(step.signatures.size())); // not its head alone
      flow.heading(step.hold ? step.title + " (hold point)" : step.title);
      if (step.signatures.empty()) flow.text(unsigned_text(step.standing), 2, small_text);
      for (const auto& its : step.signatures)
        flow.text(fmt::format("{}: {}, {}", its.meaning, its.name, its.when), 2, small_text);
      for (const auto& entry : step.entries) entry_pages(flow, entry, build);
    }
  }
}

void happenings(Flow& flow, const Content& content) {
  flow.title("What went otherwise, and what was done", Begin::here);
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

bool alike(const PartFitted& a, const PartFitted& b) {
  return a.part == b.part && a.state == b.state && a.details == b.details;
}

void lists(Flow& flow, const Content& content) {
  flow.title("Parts fitted", Begin::here);
  if (content.parts.empty()) flow.text("None stated.");
  for (std::size_t first = 0; first < content.parts.size();) {
    std::size_t last = first;
    std::string positions;
    while (last < content.parts.size() && alike(content.parts[first], content.parts[last])) {
      const auto& position = content.parts[last++].position;
      if (!position.empty()) positions += ", " + position;
    }
    const auto& it = content.parts[first];
    flow.text(fmt::format("{}{}: {}{}{}", it.part, positions, it.state, it.details.empty() ? "" : "; ", it.details), 0,
              small_text);
    first = last;
  }
  flow.title("Gauges and wrenches used", Begin::here);
  if (content.gauges.empty()) flow.text("None.");
  for (const auto& it : content.gauges)
    flow.text(fmt::format("{} {}: {}{}{}", it.kind, it.id, it.calibration, it.uncertainty.empty() ? "" : "; ",
                          it.uncertainty),
              0, small_text);
}

void findings(Flow& flow, const Content& content) {
  if (content.findings.empty()) return;
  flow.title("Faults found, and what became of them", Begin::here);
  for (const auto& it : content.findings) {
    flow.room_for(14);
    flow.down(1);
    flow.text(it.open ? it.what + ": STILL OPEN" : it.what, 0, small_text, Weight::strong);
    for (const auto& line : it.lines) flow.text(line, 3, small_text);
  }
}

void machine_work(Flow& flow, const Content& content) {
  if (content.machine_work.empty()) return;
  flow.title("Done by a machine shop", Begin::here);
  for (const auto& it : content.machine_work) {
    flow.room_for(14);
    flow.down(1);
    flow.text(it.what, 0, small_text, Weight::strong);
    for (const auto& line : it.lines) flow.bullet(line, small_text);
  }
}

void photographs(Flow& flow, const Content& content) {
  if (content.photographs.empty()) return;
  flow.title("Photographs", Begin::here);
  flow.text("The shop keeps the originals; the hash is theirs. Where photographs are attached to this file they are "
            "scaled down, numbered as here.",
            0, small_text);
  int number = 0;
  for (const auto& it : content.photographs) {
    flow.room_for(12);
    flow.down(1);
    flow.text(fmt::format("{}. {}", ++number, it.where), 0, small_text, Weight::strong);
    flow.text(it.taken, 3, small_text);
    flow.text("SHA-256 " + in_groups(it.sha256), 3, small_text);
  }
}

void notices(Flow& flow, const Content& content) {
  flow.title("Safety notices", Begin::here);
  flow.text("The engine maker's manual, local codes and licensed practice come first.", 0, plain_text, Weight::strong);
  std::string word;
  for (const auto& it : content.notices) {
    if (it.word != word) flow.heading(it.word);
    word = it.word;
    flow.bullet(it.text, small_text);
  }
}

void checking(Flow& flow, const Content& content) {
  flow.title("How to check this file", Begin::here);
  if (content.draft)
    flow.text("This is a draft of a build that is still open. It is not signed; nothing in it is final.");
  if (content.practice)
    flow.text("This comes from a practice shop: names, times and values may be made up. It is not a record.");
  if (content.draft) {
    flow.text("Compare the fingerprint of the shop key on the cover with the one on the shop's card, and the head of "
              "the build with one noted earlier. Whoever has the shop's file can run \"witnessmark verify\" on it with "
              "\"--known\" and the head below: any change to what is written here shows there.");
  } else {
    flow.text("This file is signed over all of it, pages and attachments. Any program that shows PDF files and checks "
              "signatures says whether a single byte was changed since. It may add that it does not know who signed: a "
              "shop makes its own key, and comparing the fingerprint is what tells whose it is.");
    flow.bullet("Compare the fingerprint of the shop key, below and on the cover, with the one on the shop's card, or "
                "ask the shop for it by telephone.");
    flow.bullet("Compare the head of the build with one noted elsewhere: on an earlier copy, on paper, or by the code "
                "on the cover.");
    flow.bullet("The record itself is attached, and a reader's list of attachments shows it: record.json holds every "
                "event of this build with its signature, record.csv every value as a table that a spreadsheet opens.");
    flow.bullet(
        "\"witnessmark verify FILE.pdf --shop-key FINGERPRINT\" checks signature and fingerprint, follows every "
        "event of the attached record and decides each again. With \"--known HEAD\" it looks for a head noted "
        "elsewhere too.");
  }
  flow.down(1);
  for (const auto& [name, value] : {std::pair{"Shop key", content.shop_key}, {"Head of the build", content.head}}) {
    flow.text(name, 0, small_text, Weight::strong);
    flow.text(in_groups(value), 0, small_text);
  }
}

quantity::Result<Places> drawn(Paper& paper, const Content& content, const Build& build, const Places& known,
                               const record::Progress& progress, std::string_view what) {
  paper.about({fmt::format("Build record {}", content.build), content.shop, content.engine, content.written_at});
  Flow flow(paper, content, known);
  if (!progress.goes_on(what)) return record::stopped();
  const auto cut = cover(flow, content);
  glance(flow, content);
  sheet(flow, content, build);
  steps(flow, content, build, progress, what);
  if (progress.stopped()) return record::stopped();
  cover_in_full(flow, cut);
  findings(flow, content);
  machine_work(flow, content);
  happenings(flow, content);
  lists(flow, content);
  photographs(flow, content);
  notices(flow, content);
  checking(flow, content);
  Places found = flow.finish();
  if (const auto closed = paper.close(); !closed) return closed.error();
  return found;
}

} // namespace

quantity::Result<std::string> pages_of(const Content& content, const Build& build, const record::Progress& progress) {
  Paper measuring = Paper::for_measuring();
  const auto places = drawn(measuring, content, build, {}, progress, "laying out the pages");
  if (!places) return places.error();
  Paper paper = Paper::in_memory(measuring);
  if (const auto done = drawn(paper, content, build, *places, progress, "writing the pages"); !done)
    return done.error();
  return paper.bytes();
}

} // namespace handover
