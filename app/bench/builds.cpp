// The engines of the shop, the newest work first: a few letters narrow them down, Up and Down choose, Enter opens one,
// Insert a new one.
#include "bench/builds.h"

#include "bench/finding_words.h"
#include "bench/first_run.h"
#include "bench/on_bench.h"

#include "build/blockers.h"
#include "build/plan.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

namespace {

// Worked out anew when something was written, or other letters are typed.
void put_in_order(Ui& ui) {
  BuildsState& its = ui.builds;
  if (its.edition == ui.desk.edition()) return;
  const auto newest = ui.desk.newest_first();
  if (!newest) return; // while something is being written the order stays
  its.edition = ui.desk.edition();
  const auto& shop = ui.desk.shop();
  const std::string chosen = its.lines.chosen < its.order.size() ? its.order[its.lines.chosen] : "";
  its.order.clear();
  for (const auto& one : *newest) {
    const auto& opened = shop.builds.at(one);
    const auto text = fmt::format("{} {} {} {}", opened.model, opened.serial, opened.customer, opened.id);
    if (narrows(its.narrowed, text)) its.order.push_back(one);
  }
  const auto again = std::ranges::find(its.order, chosen);
  if (its.lines.chosen >= its.order.size()) its.lines.begin_anew();
  if (again != its.order.end()) its.lines.chosen = static_cast<std::size_t>(again - its.order.begin());
}

std::string standing_of(const build::Shop& shop, const build::Build& build, const calc::Moment& now) {
  const std::string last = "; last entry " + calc::local_text(build.last);
  if (build.released()) return build.outcome + last;
  int signed_off = 0;
  int on_this_engine = 0;
  for (std::size_t step = 0; step < build.plan->size(); ++step) {
    const auto standing = build::standing_of(build, step);
    on_this_engine += standing != build::StepStanding::not_on_this_engine;
    signed_off += standing == build::StepStanding::signed_off;
  }
  std::string out = fmt::format("{} of {} steps signed", signed_off, on_this_engine);
  if (!build.outcome.empty()) out = fmt::format("handed back {}; {}", build.outcome, out);
  if (const std::string found = words_of_open(shop, build, now); !found.empty()) out += "; " + found;
  return out + last;
}

// Read for the lines in sight, one in a frame; until then less is said.
const std::string& standing(Ui& ui, const build::OpenedBuild& opened, bool& looked) {
  BuildsState& its = ui.builds;
  std::string& text = its.standing[opened.id];
  if (!text.empty() && its.anchored[opened.id] == opened.seq) return text;
  if (text.empty()) text = opened.released ? "released" : "being put together";
  if (looked) {
    ui.again = true;
    return text;
  }
  looked = true;
  const auto build = ui.desk.look_at(opened.id);
  if (!build) return text;
  its.anchored[opened.id] = opened.seq;
  text = *build ? standing_of(ui.desk.shop(), **build, ui.desk.now()) : (*build).error().message;
  ui.again = true;
  return text;
}

void one_line(Ui& ui, const std::string& id, bool& looked) {
  const auto& opened = ui.desk.shop().builds.at(id);
  say(fonts().large, theme().ink, fmt::format("{}  {}", opened.model, opened.serial));
  say(fonts().strong, theme().ink, opened.customer);
  say_beside(fonts().text, theme().soft_ink, "   " + opened.id);
  say(standing(ui, opened, looked));
}

void heading(const Ui& ui) {
  const auto& shop = ui.desk.shop();
  screen_head(shop.name.empty() ? "Engines in this shop" : shop.name, shop.practice);
}

std::vector<KeyLabel> keys(const Ui& ui) {
  const bool any = !ui.desk.shop().builds.empty();
  std::vector<KeyLabel> out;
  if (any) out.push_back({"open", "Open this one", "Enter"});
  out.push_back({"new-build", any ? "A new engine" : "Open the first engine", "Insert"});
  if (!any) out.push_back({"first-gauge", "Gauges and wrenches", "F10"});
  if (ui.desk.visiting())
    out.push_back({"own-shop", "Back to your own shop", "Home"});
  else if (!any)
    out.push_back({"look-round", "Look round the demo", "End"});
  return out;
}

void open(Ui& ui, const std::string& id) {
  ui.desk.open(id);
  ui.screen = "sheet";
  ui.message.clear();
  ui.sheet.focus = true;
  ui.again = true;
}

void act(Ui& ui, const KeyLabel* clicked) {
  const auto& its = ui.builds;
  const auto struck = [&](const char* id, bool key) { return key || (clicked && clicked->id == id); };
  const bool any = !ui.desk.shop().builds.empty();
  if (struck("open", enter_pressed()) && its.lines.chosen < its.order.size())
    return open(ui, its.order[its.lines.chosen]);
  if (struck("new-build", pressed(key::insert))) return ask_for_build(ui);
  if (!any && struck("first-gauge", pressed(key::f1 + 9))) {
    ui.screen = "gauges";
    ui.again = true;
    return;
  }
  if (ui.desk.visiting()) {
    if (struck("own-shop", pressed(key::home))) back_to_own_shop(ui);
  } else if (!any && struck("look-round", pressed(key::end))) {
    look_round(ui);
  }
}

void list(Ui& ui) {
  BuildsState& its = ui.builds;
  put_in_order(ui);
  const std::size_t all = ui.desk.shop().builds.size();
  if (all > 0 && narrowing_field("builds", its.narrowed, its.focus,
                                 fmt::format("{} of {}: engine, serial, customer or name", its.order.size(), all))) {
    its.edition = -1;
    its.lines.begin_anew();
    ui.again = true;
    put_in_order(ui);
  }
  if (its.lines.move(its.order.size())) ui.again = true;
  const auto buttons = keys(ui);
  const float room = ImGui::GetContentRegionAvail().x - px(24);
  const Fit fit = fit_of(buttons, room);
  if (all == 0) {
    message_line(ui);
    say("No engine has been opened in this shop yet. Gauges may be added first, or later where they are needed.");
    gap(0.5f);
    return act(ui, key_row(buttons, room, fit));
  }
  if (its.order.empty()) say("No engine is called that; try fewer letters.");
  bool looked = false;
  const auto clicked = its.lines.show(its.order.size(), height_of(buttons, room, fit) + px(6),
                                      [&](std::size_t i, bool) { one_line(ui, its.order[i], looked); });
  const KeyLabel* button = key_row(buttons, room, fit);
  if (clicked) ui.again = true;
  act(ui, button);
}

} // namespace

void builds_entered(Ui& ui) {
  ui.builds.focus = true;
  ui.builds.narrowed.clear();
  ui.builds.edition = -1;
  ui.builds.standing.clear(); // others may have worked on them
  ui.builds.anchored.clear();
  ui.builds.lines.begin_anew(ui.builds.lines.chosen);
}

void builds_screen(Ui& ui) {
  const SheetScope sheet("##builds");
  if (first_run(ui)) return;
  heading(ui);
  if (ui.builds.fresh.open) return new_build(ui);
  list(ui);
}

} // namespace bench
