#include "handover/chapters.h"
#include "handover/code.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace handover {

namespace {

constexpr double code_width = 36; // mm, with its quiet zone
double compare_tall(const Content& content) {
  return content.draft ? 27 : code_width + 3;
}
const std::string in_full = "What the cover lists, in full"; // the chapter with what did not fit

struct List {
  std::string title;
  const std::vector<std::string>* lines;
  std::size_t shown = 0; // from the first
  double tall(Paper& paper) const {
    double out = 0;
    for (std::size_t i = 0; i < shown; ++i) out += line_tall(paper, i);
    return out;
  }
  double line_tall(Paper& paper, std::size_t i) const {
    return paper.paragraph(0, 0, text_width - 4, (*lines)[i], small_text, Weight::plain, false) + 1;
  }
  bool cut() const { return shown < lines->size(); }
};

constexpr double head_tall = 7.5; // of a list: its heading, and "none" or "and 3 more" behind it

// Takes lines away, always from the list that takes most room, until all lists fit; concessions last of all.
void cut_down(std::vector<List>& lists, Paper& paper, double room) {
  for (;;) {
    double all = 0;
    for (const auto& list : lists) all += head_tall + list.tall(paper) + (list.cut() ? 4 : 0);
    if (all <= room) return;
    List* longest = nullptr;
    for (auto& list : lists) {
      const bool spared = &list == &lists.front() && std::any_of(lists.begin() + 1, lists.end(),
                                                                 [](const auto& other) { return other.shown > 1; });
      if (spared || list.shown == 0) continue;
      if (!longest || list.tall(paper) > longest->tall(paper)) longest = &list;
    }
    if (!longest) return;
    --longest->shown;
  }
}

void say(Flow& flow, const List& list) {
  flow.heading(list.lines->empty() ? list.title + ": none" : list.title);
  for (std::size_t i = 0; i < list.shown; ++i) flow.bullet((*list.lines)[i], small_text);
  if (!list.cut()) return;
  flow.text(fmt::format("{}{} more: page {}, \"{}\".", list.shown > 0 ? "and " : "", list.lines->size() - list.shown,
                        flow.page_of(in_full), in_full),
            4, small_text, Weight::strong);
}

// Short facts two a line, then the long ones.
void facts(Flow& flow, const std::vector<Fact>& all) {
  constexpr double half = text_width / 2;
  constexpr double names = 38;
  Paper& paper = flow.paper();
  const auto is_short = [&](const Fact& it) {
    return paper.width_of(it.value, small_text) < half - names - 3 &&
           paper.width_of(it.name, small_text, Weight::strong) < names - 1;
  };
  const auto put = [&](const Fact& it, double x, double wide, double name_wide) {
    const double named = paper.paragraph(x, flow.y(), name_wide - 1, it.name, small_text, Weight::strong);
    return std::max(named, paper.paragraph(x + name_wide, flow.y(), wide, it.value, small_text));
  };
  bool right = false;
  double tall = 0;
  for (const auto& it : all) {
    if (!is_short(it)) continue;
    tall = put(it, margin + (right ? half : 0), half - names - 2, names);
    if (right) flow.down(tall + 0.8);
    right = !right;
  }
  if (right) flow.down(tall + 0.8);
  for (const auto& it : all) {
    if (is_short(it)) continue;
    flow.room_for(12);
    flow.down(put(it, margin, text_width - names, names) + 0.8);
  }
}

void draw_code(Paper& paper, const std::string& text, double x, double y) {
  const auto code = code_of(text);
  if (code.empty()) return;
  const double square = code_width / (static_cast<double>(code.size()) + 2.0 * quiet_zone);
  std::vector<Area> dark;
  for (std::size_t row = 0; row < code.size(); ++row)
    for (std::size_t from = 0; from < code.size(); ++from) {
      if (!code[row][from]) continue;
      std::size_t to = from;
      while (to < code.size() && code[row][to]) ++to;
      dark.push_back({x + square * static_cast<double>(from + quiet_zone),
                      y + square * static_cast<double>(row + quiet_zone), square * static_cast<double>(to - from),
                      square});
      from = to;
    }
  paper.boxes(dark, drawing::Tone::ink);
}

void compare(Flow& flow, const Content& content) {
  const double tall = compare_tall(content);
  flow.room_for(tall);
  if (flow.left_over() > tall) flow.down(flow.left_over() - tall); // at the foot of the page
  Paper& paper = flow.paper();
  paper.line(margin, flow.y(), page_width - margin, flow.y(), 0.2);
  double y = flow.y() + 3;
  const double wide = content.draft ? text_width : text_width - code_width - 2;
  const auto put = [&](const std::string& text, Weight weight, double below) {
    y += paper.paragraph(margin, y, wide, text, small_text, weight) + below;
  };
  put("Shop key, to compare with the shop's card", Weight::strong, 0.4);
  put(in_groups(content.shop_key), Weight::plain, 1.6);
  put(fmt::format("Head of the build, event {}, to compare with one noted elsewhere", content.head_seq), Weight::strong,
      0.4);
  put(in_groups(content.head), Weight::plain, 1.6);
  if (content.draft) {
    put("A draft has no code to compare: nothing in it is final.", Weight::plain, 0);
  } else {
    put("Any camera that reads codes shows the same from the square at the right, as one line of text: WITNESSMARK 1 "
        "BUILD, the build, KEY, the shop key, HEAD, the head.",
        Weight::plain, 0);
    draw_code(paper, code_text(content), page_width - margin - code_width, flow.y() + 1.5);
  }
  flow.down(tall);
}

void headline(Flow& flow, const Content& content) {
  const std::string mark = banner(content);
  if (!mark.empty()) flow.text(mark, 0, 6, Weight::strong);
  if (content.not_yet_run) flow.text("NOT YET RUN", 0, 10, Weight::strong);
  flow.text(content.headline + ".", 0, 4.4, Weight::strong);
  if (!content.deferred.empty())
    flow.text(fmt::format("Left open at release: {}. {}", fmt::join(content.deferred, ", "), content.reason), 0,
              plain_text, Weight::strong);
}

} // namespace

std::string in_groups(const std::string& hash) {
  std::string out;
  for (std::size_t i = 0; i < hash.size(); i += 4) out += (i ? " " : "") + hash.substr(i, 4);
  return out;
}

std::vector<Cut> cover(Flow& flow, const Content& content) {
  flow.paper().bookmark("Cover", 0);
  flow.text(content.shop, 0, 4);
  flow.text("Build record: " + content.engine, 0, 6.4, Weight::strong);
  if (!content.customer.empty()) flow.text(content.customer, 0, 4.4);
  flow.down(1);
  headline(flow, content);
  flow.down(1.5);
  auto all = content.facts;
  if (!content.procedure_notice.empty()) all.push_back({"Notice", content.procedure_notice});
  all.push_back({"Limits rest on",
                 content.bases.empty() ? "nothing judged yet" : fmt::format("{}", fmt::join(content.bases, "; "))});
  if (content.unchecked > 0)
    all.push_back({"Numbers not checked",
                   fmt::format("{} in force on this engine: numbers copied from the manual that no second person has "
                               "checked, or whose two readings differ. Each is marked at its step.",
                               content.unchecked == 1 ? "1 limit" : fmt::format("{} limits", content.unchecked))});
  facts(flow, all);
  std::vector<List> lists{{"Concessions", &content.concessions},
                          {"Repairs and replacements", &content.repairs},
                          {"Worn, within the limits of used parts, and used again", &content.worn},
                          {"Close to a limit", &content.close}};
  if (!content.notes.empty()) lists.push_back({"Added after the release", &content.notes});
  for (auto& list : lists) list.shown = list.lines->size();
  cut_down(lists, flow.paper(), flow.left_over() - compare_tall(content));
  for (const auto& list : lists) say(flow, list);
  compare(flow, content);
  std::vector<Cut> cut;
  for (const auto& list : lists)
    if (list.cut()) cut.push_back({list.title, list.lines});
  return cut;
}

void cover_in_full(Flow& flow, const std::vector<Cut>& lists) {
  if (lists.empty()) return;
  flow.title(in_full, Begin::here);
  for (const auto& list : lists) {
    flow.heading(list.title);
    for (const auto& line : *list.lines) flow.bullet(line, small_text);
  }
}

} // namespace handover
