// The procedures there are, and the numbers of the one that is open. Letters narrow them down, Up and Down choose.
#include "bench/number_form.h"
#include "bench/numbers_table.h"
#include "bench/procedure_files.h"
#include "bench/shop_screens.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using procedure::Transcribed;

namespace {

float room_now() {
  return ImGui::GetContentRegionAvail().x - px(24);
}

void refuse(Ui& ui, const std::string& why) {
  ui.refused = true;
  ui.message = why;
  ui.again = true;
}

// --- those there are ------------------------------------------------------------------------------------------------

void one_file(const ProceduresState& its, std::size_t i, bool here) {
  const ProcedureFile& file = its.files[i];
  say(fonts().large, theme().ink, file.title);
  const bool good = !file.model.empty();
  say(good ? fonts().text : fonts().strong, good ? theme().ink : theme().shout,
      good ? fmt::format("For {}. {}: {}.", file.model, i < its.own ? "The shop's own" : "Shipped with the program",
                         its.standing[i])
           : file.path.filename().string());
  if (here) say(fonts().text, theme().soft_ink, file.path.string());
}

void open(Ui& ui, const ProcedureFile& file, bool own) {
  ProceduresState& its = ui.procedures;
  if (const auto opened = open_procedure(its, file.path); !opened) return refuse(ui, opened.error().message);
  its.may_fill = own;
  ui.again = true;
  ui.message.clear();
}

void files(Ui& ui) {
  ProceduresState& its = ui.procedures;
  screen_head("Procedures", ui.desk.shop().practice);
  message_line(ui);
  if (narrowing_field("procedures", its.narrowed, its.focus, "Letters of its title or engine narrow them down.")) {
    its.files_list.begin_anew();
    ui.again = true;
  }
  std::vector<std::size_t> those;
  for (std::size_t i = 0; i < its.files.size(); ++i)
    if (narrows(its.narrowed, its.files[i].title + " " + its.files[i].model)) those.push_back(i);
  if (its.files.empty()) say("There are none beside the program or the shop file.");
  if (those.empty() && !its.files.empty()) say("None is called that; try fewer letters.");
  if (its.files_list.move(those.size())) ui.again = true;
  const std::size_t chosen = those.empty() ? 0 : those[std::min(its.files_list.chosen, those.size() - 1)];
  const bool good = !those.empty() && !its.files[chosen].model.empty();
  std::vector<KeyLabel> row;
  if (good) row = {{"numbers", "Its numbers", "Enter"}, {"new", "A new one from it", "Insert"}};
  row.push_back({"back", "Back", "Esc"});
  const float room = room_now();
  const Fit fit = fit_of(row, room);
  const auto clicked = its.files_list.show(those.size(), height_of(row, room, fit) + px(6),
                                           [&](std::size_t i, bool here) { one_file(its, those[i], here); });
  if (clicked) ui.again = true;
  const KeyLabel* button = key_row(row, room, fit);
  const auto struck = [&](const char* id, bool key) { return key || (button && button->id == id); };
  if (struck("back", pressed(key::escape))) return back_to_shop(ui);
  if (!good) return;
  if (struck("numbers", enter_pressed())) return open(ui, its.files[chosen], chosen < its.own);
  if (struck("new", pressed(key::insert))) ask_for_procedure(ui, its.files[chosen]);
}

// --- the numbers of one ---------------------------------------------------------------------------------------------

void narrow(ProceduresState& its) {
  its.shown.clear();
  for (std::size_t i = 0; i < its.numbers.size(); ++i) {
    const NumberLine& line = its.numbers[i];
    if (narrows(its.narrowed, fmt::format("{} {} {}", line.set.limit, line.title, procedure::name_of(line.standing))))
      its.shown.push_back(i);
  }
}

void one_set(const NumberLine& line, const std::string& person) {
  const bool differs = line.standing == Transcribed::differs;
  const bool hidden = hidden_from(line, person);
  say(fonts().large, theme().ink,
      fmt::format("{}   {}", line.title, hidden ? "entered, not shown until it is checked" : line.numbers));
  say(differs ? fonts().strong : fonts().text, differs ? theme().shout : theme().ink,
      differs ? fmt::format("differs: {}", fmt::join(line.differ, "; "))
              : std::string(procedure::name_of(line.standing)));
  std::string from = "basis: " + line.origin;
  if (!line.hands.empty()) from += "; " + line.hands;
  say(fonts().text, theme().soft_ink, from);
}

std::vector<KeyLabel> keys(const ProceduresState& its, const NumberLine* line) {
  std::vector<KeyLabel> row;
  if (line && its.may_fill) {
    row.push_back({"enter", "Enter the numbers", "Enter"});
    if (line->standing != Transcribed::empty) row.push_back({"check", "Check them", "Insert"});
    if (line->standing == Transcribed::empty) row.push_back({"none", "Maker gives none", "End"});
  }
  row.push_back({"back", "Back", "Esc"});
  return row;
}

void act(Ui& ui, const NumberLine* line, const KeyLabel* clicked) {
  ProceduresState& its = ui.procedures;
  const auto struck = [&](const char* id, bool key) { return key || (clicked && clicked->id == id); };
  if (struck("back", pressed(key::escape))) {
    its.file.clear();
    procedures_entered(ui);
    return;
  }
  if (!line || !its.may_fill) return;
  const NumberLine chosen = *line; // what is typed changes the table
  if (struck("enter", enter_pressed())) return ask_for_numbers(ui, chosen, false);
  if (chosen.standing != Transcribed::empty && struck("check", pressed(key::insert)))
    return ask_for_numbers(ui, chosen, true);
  if (chosen.standing != Transcribed::empty || !struck("none", pressed(key::end))) return;
  if (!ui.desk.signed_in()) return refuse(ui, "Sign in first, so that it is known who looked: Enter asks for it.");
  maker_gives_none(ui, chosen);
}

void numbers(Ui& ui) {
  ProceduresState& its = ui.procedures;
  screen_head(its.procedure->title, ui.desk.shop().practice);
  message_line(ui);
  if (!its.may_fill)
    say(fonts().text, theme().soft_ink, "Shipped with the program, and not filled in: begin a new procedure from it.");
  if (narrowing_field("numbers", its.narrowed, its.focus, standing_words(its.numbers))) {
    its.numbers_list.begin_anew();
    ui.again = true;
  }
  narrow(its);
  if (its.shown.empty()) say("No limit is called that; try fewer letters.");
  // Behind the numbers stands what else is of the engine the procedure was begun from.
  const std::size_t count = its.shown.size() + (its.narrowed.empty() ? its.of_old_engine.size() : 0);
  if (its.numbers_list.move(count)) ui.again = true;
  const std::size_t chosen = its.numbers_list.chosen;
  const NumberLine* line = chosen < its.shown.size() ? &its.numbers[its.shown[chosen]] : nullptr;
  const auto row = keys(its, line);
  const float room = room_now();
  const Fit fit = fit_of(row, room);
  const std::string person = ui.desk.signed_in() ? ui.desk.signed_in()->name : "";
  const auto clicked = its.numbers_list.show(count, height_of(row, room, fit) + px(6), [&](std::size_t i, bool) {
    if (i < its.shown.size())
      one_set(its.numbers[its.shown[i]], person);
    else
      say("Of the other engine: " + its.of_old_engine[i - its.shown.size()]);
  });
  if (clicked) ui.again = true;
  act(ui, line, key_row(row, room, fit));
}

} // namespace

void procedures_entered(Ui& ui) {
  ProceduresState& its = ui.procedures;
  its.form = NumberForm();
  its.fresh = NewProcedure();
  its.focus = ui.again = true;
  its.narrowed.clear();
  its.of_old_engine.clear();
  ui.message.clear();
  if (!its.file.empty()) {
    const auto file = its.file;
    if (open_procedure(its, file)) return;
  }
  its.files_list.begin_anew();
  list_procedures(its, ui.desk.shop_file());
}

void procedures_screen(Ui& ui) {
  const SheetScope sheet("##procedures");
  ProceduresState& its = ui.procedures;
  if (its.form.open) return number_form(ui);
  if (its.fresh.open) return new_procedure(ui);
  if (its.file.empty()) return files(ui);
  numbers(ui);
}

} // namespace bench
