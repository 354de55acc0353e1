// Gauges and wrenches: those not to be used first, then by the day they are due. Letters narrow them down; the keys at
// the foot are for the chosen one, F10 adds another.
#include "bench/form.h"
#include "bench/gauge_forms.h"
#include "bench/shop_screens.h"

#include "build/gauge.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

namespace {

constexpr int f5 = key::f1 + 4;
constexpr int f6 = key::f1 + 5;
constexpr int f8 = key::f1 + 7;
constexpr int f10 = key::f1 + 9;

std::chrono::days from(const calc::Date& a, const calc::Date& b) {
  return std::chrono::sys_days(b) - std::chrono::sys_days(a);
}

std::string days(std::int64_t count) {
  return fmt::format("{} day{}", count, count == 1 ? "" : "s");
}

std::string facts_of(const build::Gauge& gauge) {
  std::string out = fmt::format("{}, by {} {}", gauge.kind, gauge.resolution.text(), gauge.unit->name);
  if (gauge.low || gauge.high)
    out += fmt::format(", from {}", build::text(build::Bounds{gauge.low, gauge.high}, *gauge.unit));
  if (gauge.tool == build::Tool::setting) out += ", clicks";
  if (gauge.tool == build::Tool::indicating) out += ", shows the peak";
  if (gauge.class_error) out += fmt::format(", class error {}", gauge.class_error->text());
  if (gauge.tool == build::Tool::measuring)
    out += gauge.u ? fmt::format(", U {} {}", gauge.u->text(), gauge.unit->name) : std::string(", U assumed");
  if (gauge.tool != build::Tool::measuring && gauge.use_limit)
    out += fmt::format(", {} of {} pulls", gauge.uses, *gauge.use_limit);
  return out;
}

// For which entries of the open build each will do; worked out when something was written.
const std::string& measures(Ui& ui, const std::string& gauge) {
  GaugesState& its = ui.gauges;
  const auto* build = ui.desk.build();
  const std::string of = build ? fmt::format("{} {}", build->id, ui.desk.edition()) : "";
  if (its.measures_of != of) {
    its.measures_of = of;
    its.measures.clear();
    std::map<std::string, std::vector<std::string>> titles;
    for (std::size_t s = 0; build && s < build->plan->size(); ++s)
      for (std::size_t e = 0; e < build->plan->step(s).entries.size(); ++e)
        for (const auto* one : suitable_gauges(ui, *build, {s, e}))
          if (auto& list = titles[one->id]; std::ranges::find(list, build->plan->entry({s, e}).title) == list.end())
            list.push_back(build->plan->entry({s, e}).title);
    constexpr std::size_t most = 4;
    for (auto& [id, list] : titles) {
      const std::size_t all = list.size();
      list.resize(std::min(all, most));
      its.measures[id] = fmt::format("On {}: {}{}", build->serial, fmt::join(list, "; "),
                                     all > most ? fmt::format("; and {} more", all - most) : "");
    }
  }
  return its.measures[gauge];
}

void one_line(Ui& ui, const build::Gauge& gauge, bool here, const calc::Date& today) {
  const bool usable = may_be_used(gauge, today);
  say(fonts().large, theme().ink, gauge.id);
  say_beside(usable ? fonts().text : fonts().strong, usable ? theme().ink : theme().shout,
             "   " + due_words(gauge, today));
  say(facts_of(gauge));
  if (!gauge.unfit.empty()) say(fonts().strong, theme().shout, "NOT TO BE USED: " + gauge.unfit);
  if (!here) return;
  if (const auto& words = measures(ui, gauge.id); !words.empty()) say(fonts().text, theme().soft_ink, words);
}

void act(Ui& ui, const build::Gauge* chosen, const KeyLabel* clicked) {
  const auto struck = [&](const char* id, bool key) { return key || (clicked && clicked->id == id); };
  if (ui.sent) return;
  if (struck("back", pressed(key::escape))) return back_to_shop(ui);
  if (!ui.desk.signed_in()) return;
  if (struck("add", pressed(f10))) return ask_about_gauge(ui, GaugeForm::add, nullptr);
  if (!chosen) return;
  if (struck("calibrated", pressed(f5))) return ask_about_gauge(ui, GaugeForm::calibrated, chosen);
  if (struck("out", pressed(f8))) return ask_about_gauge(ui, GaugeForm::out, chosen);
  if (chosen->tool == build::Tool::measuring && struck("check", pressed(f6)))
    return ask_about_gauge(ui, GaugeForm::check, chosen);
}

std::vector<KeyLabel> keys(const Ui& ui, const build::Gauge* chosen) {
  std::vector<KeyLabel> out;
  if (ui.desk.signed_in()) {
    out.push_back({"add", "Add one", "F10"});
    if (chosen) out.push_back({"calibrated", "Calibrated", "F5"});
    if (chosen && chosen->tool == build::Tool::measuring) out.push_back({"check", "Check on a standard", "F6"});
    if (chosen) out.push_back({"out", "Found out", "F8"});
  }
  out.push_back({"back", "Back", "Esc"});
  return out;
}

void list(Ui& ui) {
  GaugesState& its = ui.gauges;
  const calc::Date today = calc::local_date(ui.desk.now());
  const auto all = in_order_of_need(ui.desk.shop(), today);
  std::vector<const build::Gauge*> those;
  if (!all.empty() &&
      narrowing_field("gauges", its.narrowed, its.focus, "Letters of its mark or kind narrow them down."))
    its.lines.begin_anew();
  for (const auto* gauge : all)
    if (narrows(its.narrowed, gauge->id + " " + gauge->kind)) those.push_back(gauge);
  if (all.empty()) say("There are none yet.");
  if (those.empty() && !all.empty()) say("None is called that; try fewer letters.");
  if (its.lines.move(those.size())) ui.again = true;
  its.lines.chosen = those.empty() ? 0 : std::min(its.lines.chosen, those.size() - 1);
  const build::Gauge* chosen = those.empty() ? nullptr : those[its.lines.chosen];
  const auto buttons = keys(ui, chosen);
  const float room = ImGui::GetContentRegionAvail().x - px(24);
  const Fit fit = fit_of(buttons, room);
  message_line(ui);
  const auto clicked = its.lines.show(those.size(), height_of(buttons, room, fit) + px(6),
                                      [&](std::size_t i, bool here) { one_line(ui, *those[i], here, today); });
  if (clicked) ui.again = true;
  act(ui, chosen, key_row(buttons, room, fit));
}

} // namespace

bool may_be_used(const build::Gauge& gauge, const calc::Date& today) {
  return gauge.unfit.empty() && !(gauge.due && today > *gauge.due) && !(gauge.calibrated && today < *gauge.calibrated);
}

std::vector<const build::Gauge*> in_order_of_need(const build::Shop& shop, const calc::Date& today) {
  std::vector<const build::Gauge*> out;
  for (const auto& [id, gauge] : shop.gauges) out.push_back(&gauge);
  const auto need = [&](const build::Gauge* one) {
    return std::pair(may_be_used(*one, today), one->due ? from(today, *one->due).count() : 1'000'000);
  };
  std::stable_sort(out.begin(), out.end(), [&](const auto* a, const auto* b) { return need(a) < need(b); });
  return out;
}

std::string due_words(const build::Gauge& gauge, const calc::Date& today) {
  if (gauge.calibrated && today < *gauge.calibrated)
    return fmt::format("calibrated {}: that is still to come, correct its dates", calc::text(*gauge.calibrated));
  if (!gauge.due) return gauge.calibrated ? "calibrated " + calc::text(*gauge.calibrated) : "calibration not stated";
  const auto left = from(today, *gauge.due).count();
  if (left == 0) return "due today";
  if (left > 0) return fmt::format("due in {} ({})", days(left), calc::text(*gauge.due));
  return fmt::format("OVERDUE by {} ({}): not to be used", days(-left), calc::text(*gauge.due));
}

void gauges_screen(Ui& ui) {
  const SheetScope sheet("##gauges");
  screen_head("Gauges and wrenches", ui.desk.shop().practice);
  if (!ui.desk.signed_in()) {
    ui.gauges.asking = GaugeForm::none;
    say_where_to_sign_in();
  }
  if (ui.gauges.asking != GaugeForm::none) return gauge_form(ui);
  list(ui);
}

} // namespace bench
