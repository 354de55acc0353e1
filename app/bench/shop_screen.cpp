#include "bench/ui.h"

#include <imgui.h>

#include <fmt/format.h>

namespace bench {

namespace {

bool overdue(const build::Gauge& gauge, const calc::Date& today) {
  return gauge.due && today > *gauge.due;
}

std::string facts_of(const build::Gauge& gauge, const calc::Date& today) {
  std::string out = fmt::format("{}, {} {}", gauge.kind, gauge.resolution.text(), gauge.unit->name);
  out += gauge.u ? fmt::format(", U {}", gauge.u->text()) : std::string(", U assumed");
  out += gauge.due ? fmt::format(", due {}", calc::text(*gauge.due)) : std::string(", calibration not stated");
  if (overdue(gauge, today)) out += "; OVERDUE: have it calibrated";
  if (!gauge.unfit.empty()) out += "; NOT TO BE USED: " + gauge.unfit;
  return out;
}

std::string roles_of(const build::Person& person) {
  std::string out;
  for (const auto role : person.roles) out += fmt::format("{}{}", out.empty() ? "" : ", ", build::name_of(role));
  return person.retired ? out + "; retired" : out;
}

} // namespace

void shop_screen(Ui& ui) {
  const SheetScope sheet("##shop");
  scroll_by_keys();
  const auto& shop = ui.desk.shop();
  say(fonts().huge, theme().ink, shop.name.empty() ? "The shop" : shop.name);
  if (!shop.address.empty()) say(fonts().text, theme().soft_ink, shop.address);
  if (shop.practice) say(fonts().strong, theme().shout, "PRACTICE, NOT A RECORD");
  if (!ui.desk.signed_in()) {
    rule();
    sign_in(ui);
    if (!ui.message.empty()) say(fonts().strong, ui.refused ? theme().shout : theme().ink, ui.message);
  }
  rule();
  say(fonts().large, theme().ink, "People");
  for (const auto& [id, person] : shop.people) say(fmt::format("{}  ({}): {}", person.name, id, roles_of(person)));
  rule();
  say(fonts().large, theme().ink, "Gauges and wrenches");
  const calc::Date today = calc::local_date(ui.desk.now());
  for (const auto& [id, gauge] : shop.gauges) {
    say(fonts().strong, theme().ink, id);
    const bool usable = gauge.unfit.empty() && !overdue(gauge, today);
    say_beside(fonts().text, usable ? theme().ink : theme().shout, facts_of(gauge, today));
  }
  rule();
  say(fonts().text, theme().soft_ink, "Shop key: " + shop.certificate);
}

} // namespace bench
