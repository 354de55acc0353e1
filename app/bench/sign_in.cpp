#include "bench/ui.h"

#include <fmt/format.h>

namespace bench {

// Person and passphrase, one under the other; Enter goes from the first to the second and then signs in.
void message_line(const Ui& ui) {
  if (!ui.message.empty()) say(fonts().strong, ui.refused ? theme().shout : theme().ink, ui.message);
}

void sign_in(Ui& ui) {
  say(fonts().large, theme().ink, "Who is working?");
  std::string names;
  for (const auto& [id, person] : ui.desk.shop().people)
    if (!person.retired) names += fmt::format("{}{} ({})", names.empty() ? "" : ", ", id, person.name);
  say(fonts().text, theme().soft_ink, names.empty() ? "Nobody is enrolled yet." : "Enrolled: " + names);
  const bool enter = enter_pressed() || pressed(key::tab);
  say(fonts().strong, theme().ink, "Person");
  text_field("person", ui.person, 22, ui.sign_in_focus && ui.sign_in_line == 0);
  say(fonts().strong, theme().ink, "Passphrase");
  text_field("passphrase", ui.passphrase, 22, ui.sign_in_focus && ui.sign_in_line == 1, true);
  ui.sign_in_focus = false;
  const bool clicked = key_button("sign-in", "Sign in", "Enter");
  if (!enter && !clicked) return;
  ui.again = true;
  if (ui.sign_in_line == 0 && !clicked) {
    ui.sign_in_line = 1;
    ui.sign_in_focus = true;
    return;
  }
  json::Value line = action("sign-in");
  line.set("person", json::Value::text(ui.person));
  line.set("passphrase", json::Value::text(ui.passphrase));
  ui.passphrase.assign(ui.passphrase.size(), '\0');
  ui.passphrase.clear();
  ui.sign_in_line = 0;
  ui.sign_in_focus = true;
  ui.send(std::move(line));
}

} // namespace bench
