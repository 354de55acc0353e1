// One computation: its inputs at the left, a field each; at the right the answer, which is there as soon as the last
// input is, and gone as soon as one is wrong. What is typed stays until it is emptied, whatever else is looked at.
#include "bench/ui.h"
#include "bench/work_figures.h"
#include "bench/work_words.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using calc::Computation;
using calc::Field;

namespace {

constexpr int f5 = key::f1 + 4;
constexpr int f6 = key::f1 + 5;
constexpr int f8 = key::f1 + 7;

TypedFields& typed_in(WorkForm& form) {
  return form.shows_example ? form.example : form.own;
}

Lines& lines_in(WorkForm& form, const Field& field) {
  Lines& lines = typed_in(form)[std::string(field.name)];
  if (lines.empty()) lines.emplace_back();
  return lines;
}

void work_again(Ui& ui, const Computation& computation, WorkForm& form) {
  ui.work.worked = work_out(computation, typed_in(form));
  ui.work.stale = false;
  ui.again = true;
}

// --- the inputs -----------------------------------------------------------------------------------------------------

float width_of(ImFont* font, std::string_view text) {
  const FontScope scope(font);
  return ImGui::CalcTextSize(text.data(), text.data() + text.size()).x;
}

// Large while it fits.
ImFont* font_for(const std::string& text, float width) {
  return width_of(fonts().large, text) + px(30) <= width ? fonts().large : fonts().text;
}

void label(const Field& field, float room) {
  const std::string name = in_words(field.name) + (field.required ? "" : " (may be left out)");
  const std::string meaning = meaning_of(field);
  say(fonts().strong, theme().ink, name);
  const bool fits = width_of(fonts().strong, name) + px(20) + width_of(fonts().text, meaning) <= room;
  if (fits)
    say_beside(fonts().text, theme().soft_ink, meaning);
  else
    say(fonts().text, theme().soft_ink, meaning);
}

// What is wrong with the field or, while it has the keys, how it is typed; in as much room either way, so that nothing
// jumps about while one types.
void under_field(const Field& field, const Worked& worked, bool here) {
  const auto wrong = worked.wrong.find(field.name);
  const float top = ImGui::GetCursorPosY();
  if (wrong != worked.wrong.end()) say(fonts().text, theme().shout, wrong->second);
  if (!here) return;
  const std::string how = field.words.empty() ? how_to_type(field) : "The number of a word chooses it.";
  const float room = ImGui::GetContentRegionAvail().x;
  const float tall = ImGui::CalcTextSize(how.c_str(), nullptr, false, room).y + ImGui::GetStyle().ItemSpacing.y;
  if (wrong == worked.wrong.end()) say(fonts().text, theme().soft_ink, how);
  const float left = top + tall - ImGui::GetCursorPosY();
  if (left > 1) ImGui::Dummy(ImVec2(0, left - ImGui::GetStyle().ItemSpacing.y));
}

// The line that has the keys, or any other, which takes them when it is clicked.
void line_of_field(Ui& ui, const Computation& computation, WorkForm& form, const Field& field, std::size_t place,
                   std::size_t number, float width) {
  const IdScope scope(static_cast<int>(number));
  std::string& line = lines_in(form, field)[number];
  const bool here = place == form.field && number == form.line;
  if (!here) {
    if (!resting_line("line", line, font_for(line, width), width)) return;
    form.field = place;
    form.line = number;
    ui.work.focus = true;
    ui.again = true;
    return;
  }
  const std::string before = line;
  text_line("line", line, font_for(line, width), width, ui.work.focus);
  if (ui.work.scroll) ImGui::SetScrollHereY(0.5f);
  ui.work.focus = false;
  ui.work.scroll = false;
  if (line != before) work_again(ui, computation, form);
}

// The words there are to choose from, by number.
void choice(Ui& ui, const Computation& computation, WorkForm& form, const Field& field, float width) {
  std::string& chosen = lines_in(form, field).front();
  std::vector<KeyLabel> row;
  for (std::size_t w = 0; w < field.words.size() && w < 9; ++w)
    row.push_back({std::string(field.words[w]), std::string(field.words[w]), std::to_string(w + 1)});
  if (!field.required) row.push_back({"none", "none of them", "0"});
  const KeyLabel* clicked = key_row(row, width, fit_of(row, width));
  if (ui.work.scroll) ImGui::SetScrollHereY(0.5f);
  ui.work.scroll = false;
  for (const KeyLabel& button : row) {
    const int digit = button.key[0] - '0';
    if (&button != clicked && !pressed(key::digit_0 + digit) && !pressed(key::keypad_0 + digit)) continue;
    chosen = digit == 0 ? "" : button.label;
    work_again(ui, computation, form);
  }
  say(fonts().large, theme().ink, chosen.empty() ? "nothing chosen" : chosen);
}

void input(Ui& ui, const Computation& computation, WorkForm& form, const Field& field, std::size_t place) {
  const IdScope scope(field.name);
  const IdScope edition(form.edition);
  const bool here = place == form.field;
  const ImVec2 top = ImGui::GetCursorScreenPos();
  const float room = ImGui::GetContentRegionAvail().x - px(8);
  label(field, room);
  Lines& lines = lines_in(form, field);
  if (here && !field.words.empty())
    choice(ui, computation, form, field, room);
  else
    for (std::size_t i = 0; i < lines.size(); ++i) line_of_field(ui, computation, form, field, place, i, room);
  under_field(field, ui.work.worked, here);
  if (here) {
    const float end = ImGui::GetCursorScreenPos().y - px(6);
    ImGui::GetWindowDrawList()->AddRectFilled(ImVec2(top.x - px(14), top.y), ImVec2(top.x - px(7), end), theme().ink);
  }
  gap(0.2f);
}

// --- the answer -----------------------------------------------------------------------------------------------------

std::string named(const std::vector<std::string>& fields) {
  std::string out;
  for (const std::string& field : fields) out += (out.empty() ? "" : ", ") + in_words(field);
  return out;
}

// On one line, or U under its value.
void figure(std::string text) {
  const auto u = text.find(" \u00B1");
  const bool fits = width_of(fonts().large, text) <= ImGui::GetContentRegionAvail().x;
  if (!fits && u != std::string::npos) text[u] = '\n';
  say(fonts().large, theme().ink, text);
}

void results(const Computation& computation, const calc::Answer& answer, bool whole) {
  bool any_u = false;
  for (const auto& result : answer.results) {
    const auto described = std::ranges::find(computation.results, result.name, &calc::ResultField::name);
    say(fonts().strong, theme().ink, in_words(result.name));
    if (described != computation.results.end()) say_beside(fonts().text, theme().soft_ink, meaning_of(*described));
    figure(figure_of(result.outcome, whole));
    any_u = any_u || has_u(result.outcome);
  }
  for (const std::string& note : answer.notes) say(fonts().strong, theme().ink, sentence_of(note));
  if (any_u) say(fonts().text, theme().soft_ink, "\u00B1 is the expanded uncertainty U (k = 2).");
}

void no_answer(const Computation& computation, const Worked& worked) {
  if (!worked.refused.empty()) say(fonts().strong, theme().shout, worked.refused);
  std::vector<std::string> wrong;
  for (const Field* field : in_order(computation))
    if (worked.wrong.contains(field->name)) wrong.emplace_back(field->name);
  if (!wrong.empty()) say(fonts().strong, theme().shout, fmt::format("No answer. See under: {}.", named(wrong)));
  if (!worked.missing.empty())
    say(fonts().strong, theme().ink, fmt::format("Still wanted: {}.", named(worked.missing)));
}

void answer(Ui& ui, const Computation& computation, const WorkForm& form) {
  const Worked& worked = ui.work.worked;
  if (form.shows_example) {
    const bool changed = !same(form.example, example_typed(computation));
    say(fonts().strong, theme().shout,
        changed ? "BEGUN FROM THE WORKED EXAMPLE: look at every input" : "WORKED EXAMPLE, not your numbers");
  }
  if (worked.answer)
    results(computation, *worked.answer, ui.work.whole);
  else
    no_answer(computation, worked);
  rule();
  say(fonts().strong, theme().ink, "Formula");
  say(fonts().text, theme().ink, formula_of(computation));
  say(fonts().strong, theme().ink, "Source");
  say(fonts().text, theme().ink, std::string(computation.source));
}

// The purpose only where there is room for it.
void heading(const Computation& computation, float foot) {
  say(fonts().large, theme().ink, title_of(computation));
  if (ImGui::GetContentRegionAvail().y - foot > px(260))
    say(fonts().text, theme().soft_ink, std::string(computation.purpose));
}

// --- the keys -------------------------------------------------------------------------------------------------------

void to_field(Ui& ui, WorkForm& form, std::size_t field, std::size_t line) {
  form.field = field;
  form.line = line;
  ui.work.focus = true;
  ui.work.scroll = true;
  ui.again = true;
}

// Lines that were begun and left empty go away when the field is left.
void drop_empty_lines(Lines& lines) {
  while (lines.size() > 1 && is_blank({lines.back()})) lines.pop_back();
}

void to_next(Ui& ui, WorkForm& form, const std::vector<const Field*>& fields) {
  Lines& lines = lines_in(form, *fields[form.field]);
  if (form.line + 1 < lines.size()) return to_field(ui, form, form.field, form.line + 1);
  drop_empty_lines(lines);
  if (form.field + 1 < fields.size()) return to_field(ui, form, form.field + 1, 0);
  to_field(ui, form, form.field, lines.size() - 1);
}

void to_last(Ui& ui, WorkForm& form, const std::vector<const Field*>& fields) {
  if (form.line > 0) return to_field(ui, form, form.field, form.line - 1);
  if (form.field == 0) return to_field(ui, form, 0, 0);
  drop_empty_lines(lines_in(form, *fields[form.field]));
  to_field(ui, form, form.field - 1, lines_in(form, *fields[form.field - 1]).size() - 1);
}

// Enter opens another line where there may be more; on an empty one it goes on.
void enter(Ui& ui, WorkForm& form, const std::vector<const Field*>& fields) {
  const Field& field = *fields[form.field];
  Lines& lines = lines_in(form, field);
  const bool last = form.line + 1 == lines.size();
  if (!takes_lines(field) || !last || is_blank({lines.back()})) return to_next(ui, form, fields);
  lines.emplace_back();
  to_field(ui, form, form.field, form.line + 1);
}

void move_about(Ui& ui, WorkForm& form, const std::vector<const Field*>& fields, bool next) {
  const bool back = pressed(key::up) || (pressed(key::tab) && ImGui::GetIO().KeyShift);
  if (back) return to_last(ui, form, fields);
  if (enter_pressed() || next) return enter(ui, form, fields);
  if (pressed(key::down) || pressed(key::tab)) to_next(ui, form, fields);
}

// Scrolls by keys, and says so when there is more than is seen.
void answer_column(Ui& ui, const Computation& computation, const WorkForm& form, float width, float tall) {
  const float line = fonts().text->FontSize + ImGui::GetStyle().ItemSpacing.y;
  ImGui::BeginChild("##answer", ImVec2(width, tall - line), false, ImGuiWindowFlags_NoNav);
  answer(ui, computation, form);
  scroll_by_keys();
  const float at = ImGui::GetScrollY();
  const float most = ImGui::GetScrollMaxY();
  ImGui::EndChild();
  if (most > 0) say(fonts().strong, theme().ink, at < most ? "There is more: Page Down" : "Page Up: back");
}

void change_set(Ui& ui, const Computation& computation, WorkForm& form, bool example) {
  form.shows_example = example;
  if (example && form.example.empty()) form.example = example_typed(computation);
  ++form.edition;
  to_field(ui, form, 0, 0);
  ui.work.stale = true;
}

} // namespace

void work_form(Ui& ui, const Computation& computation) {
  const SheetScope sheet("##computation");
  const IdScope scope(computation.name);
  WorkState& work = ui.work;
  WorkForm& form = work.forms[std::string(computation.name)];
  const auto fields = in_order(computation);
  form.field = std::min(form.field, fields.size() - 1);
  form.line = std::min(form.line, lines_in(form, *fields[form.field]).size() - 1);
  if (work.stale) work_again(ui, computation, form);

  std::vector<KeyLabel> keys = {{"next", "Next", "Enter"},
                                {"example", form.shows_example ? "Your numbers" : "Example", "F5"},
                                {"empty", form.shows_example ? "Begin anew" : "Empty all", "F6"},
                                {"whole", work.whole ? "Rounded" : "All digits", "F8"},
                                {"back", "The list", "Esc"}};
  const float across = ImGui::GetContentRegionAvail().x - px(24);
  const Fit fit = fit_of(keys, across);
  if (fit == Fit::tightest) keys.erase(keys.begin()); // Enter is known
  const float foot = height_of(keys, across, fit) + px(6);
  heading(computation, foot);
  const float tall = ImGui::GetContentRegionAvail().y - foot;
  const float left = across * 0.54f;

  ImGui::BeginChild("##inputs", ImVec2(left, tall), false, ImGuiWindowFlags_NoNav);
  ImGui::Indent(px(14));
  for (std::size_t i = 0; i < fields.size(); ++i) input(ui, computation, form, *fields[i], i);
  ImGui::EndChild();
  ImGui::SameLine();
  ImGui::BeginGroup();
  answer_column(ui, computation, form, across - left, tall);
  ImGui::EndGroup();

  const KeyLabel* clicked = key_row(keys, across, fit);
  const auto asked = [&](std::string_view id, int number) { return pressed(number) || (clicked && clicked->id == id); };
  move_about(ui, form, fields, clicked && clicked->id == "next");
  if (asked("example", f5)) change_set(ui, computation, form, !form.shows_example);
  if (asked("empty", f6)) {
    typed_in(form).clear();
    change_set(ui, computation, form, form.shows_example);
  }
  if (asked("whole", f8)) work.whole = !work.whole;
  if (!asked("back", key::escape)) return;
  work.open.clear();
  work.focus = true;
  work.scroll = true;
  ui.again = true;
}

} // namespace bench
