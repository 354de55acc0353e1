#include "bench/number_form.h"

#include "bench/form.h"
#include "bench/procedure_files.h"
#include "procedure/transcript.h"

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using procedure::Basis;
using procedure::Transcribed;
using quantity::Result;

namespace {

const std::vector<std::string> bases = {"the engine maker's", "a published standard's", "the shop's own"};
constexpr Basis bases_meant[] = {Basis::maker, Basis::standard, Basis::shop};

procedure::TypedNumbers typed(const NumberForm& its) {
  return {its.units[its.unit], its.low, its.high, its.service_low, its.service_high, its.target};
}

std::string all_typed(const NumberForm& its) {
  return fmt::format("{}\n{}\n{}\n{}\n{}\n{}", its.units[its.unit], its.low, its.high, its.service_low,
                     its.service_high, its.target);
}

std::vector<Field> fields(NumberForm& its) {
  const std::string& unit = its.units[its.unit];
  std::vector<Field> out = {
      {.id = "unit",
       .label = "Unit in the manual",
       .text = &its.unit_typed,
       .hint = "Up and Down choose; letters narrow them down.",
       .kind = Field::Kind::choice,
       .choices = its.units,
       .picked = &its.unit},
      {.id = "standard low",
       .label = "Standard, at least",
       .text = &its.low,
       .hint = fmt::format("In {}, for new, ground or bored parts; empty where the manual gives none.", unit)},
      {.id = "standard high", .label = "Standard, at most", .text = &its.high, .hint = "In " + unit + "."},
      {.id = "service low",
       .label = "Service, at least",
       .text = &its.service_low,
       .hint = "For parts used again; empty where the manual gives none."},
      {.id = "service high", .label = "Service, at most", .text = &its.service_high, .hint = "In " + unit + "."},
      {.id = "target",
       .label = "Set to",
       .text = &its.target,
       .hint = "A torque or an angle that is to be set; empty for what is only measured."}};
  if (its.second) return out;
  out.push_back({.id = "basis",
                 .label = "Whose numbers",
                 .text = &its.basis_typed,
                 .hint = "Up and Down choose.",
                 .kind = Field::Kind::choice,
                 .choices = bases,
                 .picked = &its.basis});
  out.push_back({.id = "source", .label = "Where they stand", .text = &its.source, .hint = "Manual, edition, page."});
  return out;
}

// "its low ... ." where the sentence begins with the limit's name: its title stands above.
std::string without_name(const std::string& message, const std::string& limit) {
  const std::string name = fmt::format("limit \"{}\": ", limit);
  std::string out = message.starts_with(name) ? message.substr(name.size()) : message;
  if (!out.empty() && out.front() >= 'a' && out.front() <= 'z') out.front() = static_cast<char>(out.front() - 32);
  return out + ".";
}

// Likely slips of what is typed so far, under the field at work.
void tell_slips(Ui& ui) {
  NumberForm& its = ui.procedures.form;
  const std::string now = all_typed(its);
  if (now == its.looked_at) return;
  its.looked_at = now;
  its.slips.clear();
  if (!typed(its).empty()) {
    const auto slips = procedure::slips_of(ui.procedures.text, its.set, typed(its));
    for (const auto& slip : slips ? *slips : std::vector<procedure::Remark>()) {
      std::string words = without_name(slip.fault.message, its.set.limit);
      if (!slip.code.empty()) words += fmt::format(" ({})", slip.code);
      if (std::ranges::find(its.slips, words) == its.slips.end()) its.slips.push_back(words);
    }
  }
  its.form.problem = fmt::format("{}", fmt::join(its.slips, " "));
  its.form.problem_at = fields(its)[its.form.at].id;
  ui.again = true;
}

procedure::Hand hand_of(const Ui& ui) {
  return {ui.desk.signed_in()->name, calc::text(calc::local_date(ui.desk.now()))};
}

void leave(Ui& ui) {
  ui.procedures.form = NumberForm();
  ui.procedures.focus = ui.again = true;
}

void tell_outcome(Ui& ui, const procedure::NumberSet& set, bool second) {
  const auto& numbers = ui.procedures.numbers;
  const auto line = std::ranges::find(numbers, set, &NumberLine::set);
  ui.refused = line->standing == Transcribed::differs;
  if (ui.refused)
    ui.message =
        fmt::format("{} differs: {}. Both are kept: look in the manual, and type the one that was wrong again.",
                    line->title, fmt::join(line->differ, "; "));
  else
    ui.message = fmt::format("{}: {}.", line->title, second ? "the second reading agrees" : "saved");
}

// "" when it was saved.
std::string save(Ui& ui, const procedure::NumberSet& set, bool second, const Result<std::string>& fresh) {
  if (!fresh) return fresh.error().message;
  if (const auto saved = save_procedure(ui.procedures, *fresh); !saved) return saved.error().message;
  leave(ui);
  tell_outcome(ui, set, second);
  return "";
}

// Told once; struck again with the same numbers, F5 saves them.
bool asks_first(NumberForm& its) {
  const std::string now = all_typed(its);
  if (its.meant == now) return false;
  if (typed(its).empty()) {
    its.meant = now;
    its.form.problem = "Nothing is typed. Strike F5 again if the manual gives no number.";
  } else if (!its.slips.empty()) {
    its.meant = now;
    its.form.problem = fmt::format("{} Strike F5 again if the numbers are meant so.", fmt::join(its.slips, " "));
  } else {
    return false;
  }
  its.form.problem_at = fields(its)[its.form.at].id;
  its.form.focus = its.form.scroll = true;
  return true;
}

void send(Ui& ui) {
  NumberForm& its = ui.procedures.form;
  if (asks_first(its)) {
    ui.again = true;
    return;
  }
  const std::string& text = ui.procedures.text;
  const procedure::NumberSet set = its.set;
  const bool second = its.second;
  const std::string problem =
      save(ui, set, second,
           second ? procedure::with_checked(text, set, typed(its), hand_of(ui))
                  : procedure::with_entered(text, set, typed(its), {bases_meant[its.basis], its.source}, hand_of(ui)));
  if (!problem.empty()) refuse(its.form, fields(its), problem);
  ui.again = true;
}

} // namespace

void ask_for_numbers(Ui& ui, const NumberLine& line, bool second) {
  NumberForm& its = ui.procedures.form;
  its = NumberForm();
  its.open = true;
  its.second = second;
  its.set = line.set;
  its.title = line.title;
  const auto& limit = *ui.procedures.procedure->limit(line.set.limit);
  for (const auto& unit : quantity::all_units())
    if (quantity::same_dimension(unit, *limit.unit)) {
      if (&unit == limit.unit) its.unit = its.units.size();
      its.units.emplace_back(unit.name);
    }
  its.source = limit.source;
  for (std::size_t i = 0; i < std::size(bases_meant); ++i)
    if (bases_meant[i] == limit.basis) its.basis = i;
  its.looked_at = all_typed(its);
  ui.message.clear();
  ui.again = true;
}

void number_form(Ui& ui) {
  NumberForm& its = ui.procedures.form;
  if (const auto nobody = nobody_yet(ui, its.form)) {
    if (*nobody == Filled::left) leave(ui);
    return;
  }
  say(fonts().large, theme().ink, its.title);
  say(fonts().text, theme().soft_ink,
      its.second ? "A second reading, from the manual: what was entered is not shown until you have typed it."
                 : "As the manual has it, digit by digit.");
  const Filled filled = fill_in(ui, its.form, fields(its), its.second ? "Check them" : "Enter them");
  if (filled == Filled::left) return leave(ui);
  tell_slips(ui);
  if (filled == Filled::sent) send(ui);
}

void maker_gives_none(Ui& ui, const NumberLine& line) {
  const procedure::NumberSet set = line.set;
  const std::string problem =
      save(ui, set, false, procedure::with_entered(ui.procedures.text, set, {}, {}, hand_of(ui)));
  if (problem.empty()) return;
  ui.refused = true;
  ui.message = problem;
}

} // namespace bench
