// The people of the shop: who is enrolled and for what, who is retired. Insert enrols another, the keys at the foot
// are for whoever is chosen.
#include "bench/form.h"
#include "bench/shop_screens.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using json::Value;

namespace {

constexpr int f7 = key::f1 + 6;
constexpr int f8 = key::f1 + 7;
constexpr const char* differ = "The two passphrases differ; type both once more.";

// Copies: an action that is sent changes the shop at once where nobody waits for it.
std::vector<build::Person> in_order(const build::Shop& shop) {
  std::vector<build::Person> out;
  for (const auto& [id, person] : shop.people) out.push_back(person);
  std::stable_partition(out.begin(), out.end(), [](const auto& one) { return !one.retired; });
  return out;
}

std::string roles_of(const build::Person& person) {
  std::string out;
  for (const auto role : person.roles) out += fmt::format("{}{}", out.empty() ? "" : ", ", build::name_of(role));
  return out;
}

void wipe_all(PeopleState& its) {
  for (std::string* secret : {&its.passphrase, &its.again, &its.before, &its.own_passphrase}) wipe(*secret);
}

void ask(Ui& ui, PersonForm what, const std::string& person) {
  PeopleState& its = ui.people;
  wipe_all(its);
  its.asking = what;
  its.form = Form();
  its.person = person;
  its.name.clear();
  its.reason.clear();
  its.roles = {{"builder", "builder", true},
               {"inspector", "inspector", false},
               {"owner", "owner", false},
               {"visitor", "visitor", false}};
  ui.message.clear();
  ui.again = true;
}

void leave(Ui& ui) {
  wipe_all(ui.people);
  ui.people.asking = PersonForm::none;
  ui.again = true;
}

// --- the forms ----------------------------------------------------------------------------------------------------

Field secret(const char* id, const char* label, std::string& text, const char* hint = "") {
  return {.id = id, .label = label, .text = &text, .hint = hint, .kind = Field::Kind::secret};
}

std::string title_of(const Ui& ui) {
  const auto& its = ui.people;
  const auto* person = ui.desk.shop().person(its.person);
  const std::string name = person ? person->name : "";
  switch (its.asking) {
  case PersonForm::passphrase: return fmt::format("{}: another passphrase", name);
  case PersonForm::new_key: return fmt::format("{}: passphrase forgotten, a new key", name);
  case PersonForm::retire: return fmt::format("{}: retire", name);
  default: return "Enrol somebody";
  }
}

std::vector<Field> fields(PeopleState& its) {
  const Field reason = {.id = "reason", .label = "Why", .text = &its.reason, .hint = "It stands in the record."};
  const Field owner = secret("owner_passphrase", "Your passphrase", its.own_passphrase, "An owner's: it is signed.");
  const Field fresh = secret("passphrase", "New passphrase", its.passphrase, "Typed by whom it is for; 8 characters.");
  const Field again = secret("again", "The same again", its.again);
  switch (its.asking) {
  case PersonForm::passphrase: return {secret("before", "Passphrase until now", its.before), fresh, again};
  case PersonForm::new_key: return {reason, fresh, again, owner};
  case PersonForm::retire: return {reason, owner};
  default: break;
  }
  return {{.id = "person", .label = "Short name", .text = &its.person, .hint = "For signing in: a to z, 0 to 9."},
          {.id = "name", .label = "Name", .text = &its.name, .hint = "As it stands under what they sign."},
          {.id = "roles",
           .label = "For what",
           .hint = "A visitor looks at a hold point as the second person, and nothing else.",
           .kind = Field::Kind::ticks,
           .ticks = &its.roles},
          fresh,
          again,
          owner};
}

const char* send_words(PersonForm asking) {
  switch (asking) {
  case PersonForm::passphrase: return "Change it";
  case PersonForm::new_key: return "Give the new key";
  case PersonForm::retire: return "Retire";
  default: return "Enrol";
  }
}

void send(Ui& ui) {
  PeopleState& its = ui.people;
  const bool twice = its.asking != PersonForm::retire;
  if (twice && its.passphrase != its.again) return refuse_at(its.form, fields(its), "again", differ);
  Value line;
  if (its.asking == PersonForm::passphrase) {
    line = action("change-passphrase");
    line.set("passphrase", Value::text(its.before));
    line.set("new", Value::text(its.passphrase));
  } else {
    line = action(its.asking == PersonForm::new_key  ? "new-key"
                  : its.asking == PersonForm::retire ? "retire"
                                                     : "enrol");
    line.set("owner", Value::text(ui.desk.signed_in()->person));
    line.set("owner_passphrase", Value::text(its.own_passphrase));
    if (twice) line.set("passphrase", Value::text(its.passphrase));
    if (its.asking != PersonForm::enrol) line.set("reason", Value::text(its.reason));
  }
  line.set("person", Value::text(its.person));
  if (its.asking == PersonForm::enrol) {
    line.set("name", Value::text(its.name));
    std::vector<Value> roles;
    for (const auto& role : its.roles)
      if (role.on) roles.push_back(Value::text(role.id));
    line.set("roles", Value::array(std::move(roles)));
  }
  ui.send(std::move(line));
}

void form(Ui& ui) {
  PeopleState& its = ui.people;
  say(fonts().large, theme().ink, title_of(ui));
  const Filled filled = fill_in(ui, its.form, fields(its), send_words(its.asking));
  if (filled == Filled::left) return leave(ui);
  if (filled == Filled::sent && !ui.sent) send(ui);
}

// --- the list -----------------------------------------------------------------------------------------------------

void one_line(const build::Person& person, bool at_work) {
  say(fonts().large, person.retired ? theme().soft_ink : theme().ink, person.name);
  say_beside(fonts().text, theme().soft_ink, "   " + person.id);
  std::string words = person.retired ? "RETIRED; was " + roles_of(person) : roles_of(person);
  if (at_work) words += "; is working";
  say(words);
}

void act(Ui& ui, const build::Person& person, const KeyLabel* clicked) {
  const auto struck = [&](const char* id, bool key) { return key || (clicked && clicked->id == id); };
  if (ui.sent) return;
  if (struck("back", pressed(key::escape))) return back_to_shop(ui);
  if (struck("enrol", pressed(key::insert))) return ask(ui, PersonForm::enrol, "");
  if (person.retired) return;
  if (struck("passphrase", pressed(f7))) return ask(ui, PersonForm::passphrase, person.id);
  if (struck("new-key", pressed(f8))) return ask(ui, PersonForm::new_key, person.id);
  if (struck("retire", pressed(key::remove))) return ask(ui, PersonForm::retire, person.id);
}

void list(Ui& ui) {
  auto& its = ui.people;
  const auto people = in_order(ui.desk.shop());
  const auto& who = ui.desk.signed_in();
  if (its.lines.move(people.size())) ui.again = true;
  const build::Person chosen = people.empty() ? build::Person() : people[its.lines.chosen];
  std::vector<KeyLabel> keys = {{"back", "Back to the shop", "Esc"}};
  if (who) keys.insert(keys.begin(), {"enrol", "Enrol somebody", "Insert"});
  if (who && !chosen.retired) {
    keys.insert(keys.begin() + 1, {"passphrase", "Another passphrase", "F7"});
    if (who->person != chosen.id) keys.insert(keys.begin() + 2, {"new-key", "It is forgotten", "F8"});
    keys.insert(keys.end() - 1, {"retire", "Retire", "Delete"});
  }
  const float room = ImGui::GetContentRegionAvail().x - px(24);
  const Fit fit = fit_of(keys, room);
  const auto clicked = its.lines.show(people.size(), height_of(keys, room, fit) + px(6), [&](std::size_t i, bool) {
    one_line(people[i], who && who->person == people[i].id);
  });
  if (clicked) ui.again = true;
  const KeyLabel* button = key_row(keys, room, fit);
  if (who) return act(ui, chosen, button);
  if (pressed(key::escape) || button) back_to_shop(ui);
}

} // namespace

void people_screen(Ui& ui) {
  const SheetScope sheet("##people");
  screen_head("People", ui.desk.shop().practice);
  if (!ui.desk.signed_in()) {
    if (ui.people.asking != PersonForm::none) leave(ui);
    say_where_to_sign_in();
  }
  if (ui.people.asking != PersonForm::none) return form(ui);
  message_line(ui);
  list(ui);
}

bool people_answered(Ui& ui, const Answered& answer) {
  const std::string done = answer.action.text_or_empty("do");
  if (done != "enrol" && done != "change-passphrase" && done != "new-key" && done != "retire") return false;
  PeopleState& its = ui.people;
  ui.again = true;
  if (!answer.ok()) {
    if (answer.answer.text_or_empty("error") == "wrong-passphrase")
      refuse_at(its.form, fields(its), done == "change-passphrase" ? "before" : "owner_passphrase", answer.message());
    else
      refuse(its.form, fields(its), answer.message());
    return true;
  }
  const auto* person = ui.desk.shop().person(answer.action.text_or_empty("person"));
  const std::string name = person ? person->name : "";
  leave(ui);
  ui.refused = false;
  ui.message = done == "enrol"     ? name + " is enrolled."
               : done == "retire"  ? name + " is retired; what they signed stays valid."
               : done == "new-key" ? name + " has a new key; what the old one signed stays valid."
                                   : name + " has another passphrase.";
  return true;
}

} // namespace bench
