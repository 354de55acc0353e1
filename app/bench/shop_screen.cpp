// The shop: its name, its settings and the key that names it in the world; from here to its people and its gauges.
#include "bench/form.h"
#include "bench/shop_screens.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using json::Value;

namespace {

constexpr int f5 = key::f1 + 4;
constexpr int f6 = key::f1 + 5;
constexpr int f8 = key::f1 + 7;

void ask_settings(Ui& ui) {
  const auto& shop = ui.desk.shop();
  SettingsState& its = ui.settings;
  its = SettingsState();
  its.open = true;
  its.name = shop.name;
  its.address = shop.address;
  its.ticks = {{"one_person", "one person alone closes hold points", shop.one_person},
               {"calibration_needed", "a gauge without calibration is refused", shop.calibration_needed}};
  ui.message.clear();
  ui.again = true;
}

std::vector<Field> fields(SettingsState& its) {
  return {{.id = "name", .label = "Name", .text = &its.name, .hint = "As it stands on a handover."},
          {.id = "address", .label = "Address", .text = &its.address},
          {.id = "settings", .label = "Settings", .kind = Field::Kind::ticks, .ticks = &its.ticks},
          {.id = "owner_passphrase",
           .label = "Your passphrase",
           .text = &its.own_passphrase,
           .hint = "An owner's: settings are signed.",
           .kind = Field::Kind::secret}};
}

void settings(Ui& ui) {
  SettingsState& its = ui.settings;
  say(fonts().large, theme().ink, "Name and settings of the shop");
  const Filled filled = fill_in(ui, its.form, fields(its), "Set them");
  if (filled == Filled::left) {
    wipe(its.own_passphrase);
    its.open = false;
    ui.again = true;
  }
  if (filled != Filled::sent || ui.sent) return;
  Value line = action("set-shop");
  line.set("name", Value::text(its.name));
  line.set("address", Value::text(its.address));
  for (const auto& one : its.ticks) line.set(one.id, Value::boolean(one.on));
  line.set("owner", Value::text(ui.desk.signed_in()->person));
  line.set("owner_passphrase", Value::text(its.own_passphrase));
  wipe(its.own_passphrase);
  ui.send(std::move(line));
}

void go(Ui& ui, const char* screen) {
  ui.screen = screen;
  ui.message.clear();
  ui.gauges.focus = true;
  ui.again = true;
}

std::string counted(std::size_t number, const char* one, const char* several) {
  return fmt::format("{} {}", number, number == 1 ? one : several);
}

void places(Ui& ui) {
  const auto& shop = ui.desk.shop();
  const auto here = std::ranges::count_if(shop.people, [](const auto& one) { return !one.second.retired; });
  const auto unusable = std::ranges::count_if(
      shop.gauges, [&](const auto& one) { return !may_be_used(one.second, calc::local_date(ui.desk.now())); });
  const KeyLabel keys[] = {{"to-people", "People", "F5"},
                           {"to-gauges", "Gauges and wrenches", "F6"},
                           {"settings", "Name and settings", "F8"},
                           {"to-procedures", "Procedures", "Shift F11"}}; // the key is the window's
  const float room = ImGui::GetContentRegionAvail().x - px(24);
  const KeyLabel* clicked = key_row(keys, room, fit_of(keys, room));
  gap(0.3f);
  say(fonts().large, theme().ink, counted(static_cast<std::size_t>(here), "person enrolled", "people enrolled"));
  say(fonts().large, unusable > 0 ? theme().shout : theme().ink,
      counted(shop.gauges.size(), "gauge or wrench", "gauges and wrenches") +
          (unusable > 0 ? fmt::format(", {} of them not to be used now", unusable) : ""));
  if (ui.sent) return;
  if (pressed(f5) || clicked == &keys[0]) return go(ui, "people");
  if (pressed(f6) || clicked == &keys[1]) return go(ui, "gauges");
  if (clicked == &keys[3]) {
    go(ui, "procedure");
    return procedures_entered(ui);
  }
  if ((pressed(f8) || clicked == &keys[2]) && ui.desk.signed_in()) return ask_settings(ui);
}

} // namespace

void back_to_shop(Ui& ui) {
  go(ui, "shop");
}

void say_where_to_sign_in() {
  say(fonts().text, theme().soft_ink, "To change anything, sign in on the screen of the shop (Escape).");
}

void shop_screen(Ui& ui) {
  const SheetScope sheet("##shop");
  const auto& shop = ui.desk.shop();
  screen_head(shop.name.empty() ? "The shop" : shop.name, shop.practice);
  if (!shop.address.empty()) say(fonts().text, theme().soft_ink, shop.address);
  if (!shop.exists()) return say("There is no shop here yet; F1 leads to setting one up.");
  if (ui.settings.open && ui.desk.signed_in()) return settings(ui);
  scroll_by_keys();
  rule();
  places(ui);
  message_line(ui);
  rule();
  if (!ui.desk.signed_in()) sign_in(ui);
  say(shop.one_person ? "One person alone may close a hold point here, half an hour later, measured again."
                      : "A hold point is closed by a second person.");
  if (shop.calibration_needed) say("A gauge without a stated calibration is refused.");
  rule();
  say(fonts().text, theme().soft_ink, "Shop key: " + shop.certificate);
}

bool settings_answered(Ui& ui, const Answered& answer) {
  if (answer.action.text_or_empty("do") != "set-shop" || !ui.settings.open) return false;
  ui.again = true;
  if (!answer.ok()) {
    refuse(ui.settings.form, fields(ui.settings), answer.message());
    return true;
  }
  ui.settings = SettingsState();
  ui.refused = false;
  ui.message = "Set.";
  return true;
}

} // namespace bench
