#include "handover/chapters.h"

#include "drawing/pattern.h"

#include <algorithm>
#include <fmt/format.h>

namespace handover {

namespace {

constexpr double letters = 2.7;
constexpr double name_letters = 2.2; // in the corner of a box
constexpr double box_tall = 8;       // room to write by hand
constexpr double named_box_tall = 9.5;
constexpr double tick = 5;
constexpr double least_box = 19; // mm wide
constexpr double gap = 1.2;

void notices(Flow& flow, const std::vector<Notice>& all) {
  if (all.empty()) return;
  Columns columns(flow, margin, page_width - margin, 6);
  double tall = 12;
  for (const auto& it : all)
    tall += flow.paper().paragraph(0, 0, columns.width() - 3, it.text, letters, Weight::plain, false) + 0.6;
  columns.balance(tall);
  std::string word;
  for (const auto& it : all) {
    if (it.word != word) {
      columns.room_for(9);
      columns.text(it.word, small_text, Weight::strong);
    }
    word = it.word;
    columns.bullet(it.text, letters);
  }
  columns.end();
}

// "Idle speed: 850 to 950 rpm"
std::string asked(const ToDo& entry) {
  return entry.limits.empty() ? entry.title : fmt::format("{}: {}", entry.title, entry.limits);
}

// A box behind the words, for a single value or a tick.
void beside(Columns& columns, Paper& paper, const ToDo& entry, const Blanks& blanks) {
  const double wide = blanks.tick ? tick : least_box + 5;
  const double high = blanks.tick ? tick : box_tall;
  const double unit = blanks.unit.empty() ? 0 : paper.width_of(blanks.unit, letters) + 1.5;
  const double room = columns.width() - wide - unit - 3;
  const double tall = std::max(high, paper.paragraph(0, 0, room, asked(entry), letters, Weight::plain, false));
  columns.room_for(tall);
  paper.paragraph(columns.x(), columns.y() + 0.6, room, asked(entry), letters);
  const double right = columns.x() + columns.width();
  paper.frame({right - wide - unit, columns.y(), wide, high}, 0.2);
  if (unit > 0) paper.text(right - unit + 1, columns.y() + (high - letters) / 2, blanks.unit, letters);
  columns.down(tall + gap);
}

// Each box with its name in its corner, as many beside one another as leave room to write.
void boxes(Columns& columns, Paper& paper, const Blanks& blanks) {
  double widest = 0;
  for (const auto& name : blanks.names) widest = std::max(widest, paper.width_of(name, name_letters));
  const double least = std::max(blanks.tick ? 8.0 : least_box, widest + 2);
  const auto fit = static_cast<std::size_t>(std::max(1.0, columns.width() / least));
  const std::size_t beside_one_another = std::min(fit, blanks.names.size());
  const double wide = columns.width() / static_cast<double>(beside_one_another);
  for (std::size_t i = 0; i < blanks.names.size(); ++i) {
    const std::size_t place = i % beside_one_another;
    if (place == 0) columns.room_for(named_box_tall);
    const Area area{columns.x() + static_cast<double>(place) * wide, columns.y(), wide, named_box_tall};
    paper.frame(area, 0.2);
    paper.paragraph(area.x + 0.8, area.y + 0.4, wide - 1.2, blanks.names[i], name_letters);
    if (place + 1 == beside_one_another || i + 1 == blanks.names.size()) columns.down(named_box_tall);
  }
  columns.down(gap);
}

// A square to tick before each of the words to choose from.
void choices(Columns& columns, Paper& paper, const Blanks& blanks) {
  constexpr double square = 3.2;
  double x = 0;
  double tall = 0;
  for (const auto& name : blanks.names) {
    const double wide = std::min(paper.width_of(name, letters) * 1.03 + square + 4, columns.width());
    if (x > 0 && x + wide > columns.width()) columns.down(tall + 0.8), x = 0, tall = 0;
    tall = std::max({tall, square, paper.paragraph(0, 0, wide - square - 1.5, name, letters, Weight::plain, false)});
    if (x == 0) columns.room_for(tall);
    paper.frame({columns.x() + x, columns.y(), square, square}, 0.2);
    paper.paragraph(columns.x() + x + square + 1.5, columns.y(), wide - square - 1.5, name, letters);
    x += wide;
  }
  columns.down(tall + gap);
}

bool alone(const Blanks& blanks) {
  return blanks.label.empty() && blanks.names.size() == 1;
}

void stages(Columns& columns, Paper& paper, const std::vector<Blanks>& all) {
  for (const auto& blanks : all) {
    columns.room_for((blanks.label.empty() ? 0 : letters + 2) + named_box_tall);
    if (!blanks.label.empty()) columns.text(blanks.label, letters);
    boxes(columns, paper, blanks);
  }
}

void entry(Columns& columns, Paper& paper, const ToDo& it) {
  if (it.blanks.size() == 1 && alone(it.blanks.front())) return beside(columns, paper, it, it.blanks.front());
  columns.room_for(letters + named_box_tall + 3);
  const std::string unit = it.blanks.size() == 1 && !it.blanks.front().unit.empty() && it.limits.empty()
                               ? ", in " + it.blanks.front().unit
                               : "";
  const bool one_stage = it.blanks.size() == 1 && !it.blanks.front().label.empty();
  if (one_stage) {
    columns.text(fmt::format("{}: {}", asked(it), it.blanks.front().label), letters);
    return boxes(columns, paper, it.blanks.front());
  }
  columns.text(asked(it) + unit + (it.blanks.empty() ? ": see \"To try again\"" : ""), letters);
  if (it.blanks.size() == 1 && it.blanks.front().tick && it.blanks.front().label.empty())
    return choices(columns, paper, it.blanks.front());
  stages(columns, paper, it.blanks);
}

void line_to_sign(Columns& columns, Paper& paper, const std::string& what) {
  columns.room_for(8);
  const double x = columns.x();
  const double y = columns.y() + 3;
  paper.text(x, y, what, letters);
  paper.text(x + columns.width() - 32, y, "date", letters);
  paper.line(x + 22, y + 3.2, x + columns.width() - 34, y + 3.2, 0.2);
  paper.line(x + columns.width() - 24, y + 3.2, x + columns.width(), y + 3.2, 0.2);
  columns.down(8);
}

void step(Columns& columns, Paper& paper, const StepToDo& it) {
  columns.room_for(34); // with its first entry
  columns.down(1);
  columns.text(it.hold ? it.title + " (hold point)" : it.title, 3.1, Weight::strong);
  for (const auto& one : it.entries) entry(columns, paper, one);
  line_to_sign(columns, paper, "done by");
  if (it.hold) line_to_sign(columns, paper, "checked by");
}

void retorque(Columns& columns, Paper& paper, const Retorque& it, const Build& build) {
  constexpr double tall = 40;
  columns.room_for(it.figure ? tall + 30 : 24);
  columns.down(1);
  columns.text("To try again: " + it.title, 3.1, Weight::strong);
  if (!it.first.empty()) columns.text("First tightened in " + it.first + ".", letters);
  if (it.figure) {
    paper.figure(drawing::pattern(drawing::joint(build, it.at, false), {columns.width(), tall, name_letters}),
                 columns.x(), columns.y(), columns.width(), tall);
    columns.down(tall + 1);
  }
  stages(columns, paper, it.stages);
}

} // namespace

void sheet(Flow& flow, const Content& content, const Build& build) {
  const Sheet& all = content.sheet;
  if (all.steps.empty()) return;
  flow.title("First start, run-in and retorque", Begin::page);
  flow.down(-1.5);
  flow.text("To fill in by hand at the engine: what was left open at release. Read these first.", 0, small_text);
  notices(flow, all.notices);
  flow.down(1);
  Columns columns(flow, margin, page_width - margin, 6);
  for (const auto& one : all.steps) step(columns, flow.paper(), one);
  if (!all.retorques.empty()) columns.next();
  for (const auto& one : all.retorques) retorque(columns, flow.paper(), one, build);
  line_to_sign(columns, flow.paper(), "all of it done:");
  columns.end();
}

} // namespace handover
