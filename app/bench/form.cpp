#include "bench/form.h"

#include "bench/asking.h"
#include "bench/lines.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

namespace {

constexpr std::size_t choices_shown = 6;

std::vector<std::size_t> offered(const Field& field) {
  std::vector<std::size_t> out;
  for (std::size_t i = 0; i < field.choices.size(); ++i)
    if (narrows(*field.text, field.choices[i])) out.push_back(i);
  return out;
}

// Letters narrow the choices down, Up and Down choose among those that are left.
void choice_at_work(Ui& ui, const Field& field, bool focus, float width) {
  text_line(field.id.c_str(), *field.text, fonts().large, width, focus);
  const auto those = offered(field);
  if (those.empty()) return say(fonts().strong, theme().shout, "None is called that; try fewer letters.");
  auto here = std::ranges::find(those, *field.picked);
  std::size_t row = here == those.end() ? 0 : static_cast<std::size_t>(here - those.begin());
  if (pressed(key::down) && row + 1 < those.size()) ++row;
  if (pressed(key::up) && row > 0) --row;
  if (*field.picked != those[row]) ui.again = true;
  *field.picked = those[row];
  const std::size_t first =
      std::min(row - std::min(row, choices_shown / 2), those.size() - std::min(those.size(), choices_shown));
  for (std::size_t i = first; i < std::min(first + choices_shown, those.size()); ++i) {
    const bool chosen = i == row;
    say(chosen ? fonts().strong : fonts().text, chosen ? theme().ink : theme().soft_ink,
        (chosen ? "> " : "   ") + field.choices[those[i]]);
    if (ImGui::IsItemClicked()) *field.picked = those[i];
  }
  if (those.size() > choices_shown) say(fonts().text, theme().soft_ink, fmt::format("{} of {}", row + 1, those.size()));
}

void ticks_at_work(Ui& ui, const Field& field, float room) {
  std::vector<KeyLabel> keys;
  for (std::size_t i = 0; i < field.ticks->size(); ++i) {
    const auto& one = (*field.ticks)[i];
    keys.push_back(
        {"tick-" + one.id, fmt::format("{}: {}", one.label, one.on ? field.on : field.off), std::to_string(i + 1)});
  }
  const KeyLabel* clicked = key_row(keys, room, Fit::tight);
  for (std::size_t i = 0; i < keys.size(); ++i)
    if (clicked == &keys[i] || digit(static_cast<int>(i) + 1)) {
      (*field.ticks)[i].on = !(*field.ticks)[i].on;
      ui.again = true;
    }
}

std::string at_rest(const Field& field) {
  switch (field.kind) {
  case Field::Kind::line: return *field.text;
  case Field::Kind::secret: return std::string(field.text->size(), '*');
  case Field::Kind::choice: return field.choices.empty() ? "" : field.choices[*field.picked];
  case Field::Kind::ticks: break;
  }
  std::string out;
  for (const auto& one : *field.ticks)
    if (one.on) out += (out.empty() ? "" : ", ") + one.label;
  return out.empty() ? field.none : out;
}

// Large where it stands on one line.
ImFont* font_at_rest(const std::string& text, float width) {
  const float wide = fonts().large->CalcTextSizeA(fonts().large->FontSize, 1e9f, 0, text.c_str()).x;
  return wide + px(24) <= width ? fonts().large : fonts().text;
}

void at_work(Ui& ui, const Field& field, bool focus, float width) {
  switch (field.kind) {
  case Field::Kind::line: text_line(field.id.c_str(), *field.text, fonts().large, width, focus); break;
  case Field::Kind::secret: secret_line(field.id.c_str(), *field.text, fonts().large, width, focus); break;
  case Field::Kind::choice: choice_at_work(ui, field, focus, width); break;
  case Field::Kind::ticks: ticks_at_work(ui, field, width); break;
  }
}

float margin() {
  return px(24); // left of the labels, for the bar beside the field at work
}

// Label at the left where there is room for both. True when it was clicked.
bool one_field(Ui& ui, Form& form, const Field& field, bool here) {
  const IdScope scope(field.id);
  const float room = ImGui::GetContentRegionAvail().x - px(24);
  const float column = px(300);
  const bool beside = room > px(760);
  const ImVec2 top = ImGui::GetCursorScreenPos();
  ImGui::BeginGroup();
  if (beside) ImGui::SetCursorPosY(ImGui::GetCursorPosY() + px(9)); // level with what stands in the field
  if (beside) ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + column - px(10));
  say(fonts().strong, here ? theme().ink : theme().soft_ink, field.label);
  if (beside) ImGui::PopTextWrapPos();
  ImGui::EndGroup();
  if (beside) ImGui::SameLine(column + margin());
  ImGui::BeginGroup();
  const float width = std::min(px(560), ImGui::GetContentRegionAvail().x - px(24));
  bool clicked = false;
  if (here)
    at_work(ui, field, form.focus, width);
  else
    clicked = resting_line(field.id.c_str(), at_rest(field), font_at_rest(at_rest(field), width), width);
  if (here && !field.hint.empty()) say(fonts().text, theme().soft_ink, field.hint);
  if (form.problem_at == field.id) say(fonts().strong, theme().shout, form.problem);
  ImGui::EndGroup();
  if (here) {
    const float end = ImGui::GetCursorScreenPos().y;
    ImGui::GetWindowDrawList()->AddRectFilled(ImVec2(top.x - px(16), top.y), ImVec2(top.x - px(8), end - px(6)),
                                              theme().ink);
    if (form.scroll) ImGui::SetScrollHereY(0.6f);
    form.scroll = false;
  }
  return clicked;
}

void go_to(Ui& ui, Form& form, std::size_t at) {
  form.at = at;
  form.focus = form.scroll = ui.again = true;
}

// All of them, in so much room that what stands under them stays in sight; gives the one clicked.
std::optional<std::size_t> all_fields(Ui& ui, Form& form, const std::vector<Field>& fields, float foot) {
  const float room = std::max(ImGui::GetContentRegionAvail().y - foot, px(120));
  ImGui::SetCursorPosX(ImGui::GetCursorPosX() - margin());
  ImGui::BeginChild("##fields", ImVec2(0, form.tall > 0 ? std::min(form.tall, room) : room), false,
                    ImGuiWindowFlags_NoNav);
  ImGui::Indent(margin());
  ImGui::SetCursorPosY(px(2)); // room for the frame of the first
  std::optional<std::size_t> clicked;
  for (std::size_t i = 0; i < fields.size(); ++i)
    if (one_field(ui, form, fields[i], i == form.at)) clicked = i;
  form.focus = false;
  if (!form.problem.empty() && form.problem_at.empty()) say(fonts().strong, theme().shout, form.problem);
  const float tall = ImGui::GetCursorPosY() + px(6);
  if (tall != form.tall) ui.again = true;
  form.tall = tall;
  ImGui::EndChild();
  return clicked;
}

} // namespace

Filled fill_in(Ui& ui, Form& form, std::vector<Field> fields, const std::string& send) {
  form.at = std::min(form.at, fields.size() - 1);
  const Field& now = fields[form.at];
  const bool enter = enter_pressed();
  const bool back = pressed_with_shift(key::tab) || (now.kind != Field::Kind::choice && pressed(key::up));
  const bool on = !back && (enter || pressed(key::tab) || (now.kind != Field::Kind::choice && pressed(key::down)));
  const KeyLabel keys[] = {{"form-send", send, "F5"}, {"form-leave", "Leave it", "Esc"}};
  const float room = ImGui::GetContentRegionAvail().x - px(24);
  const Fit fit = fit_of(keys, room);
  const auto clicked = all_fields(ui, form, fields, height_of(keys, room, fit) + px(10));
  const KeyLabel* button = key_row(keys, room, fit);
  const bool last = form.at + 1 == fields.size();
  if (pressed(key::escape) || button == &keys[1]) return Filled::left;
  if (pressed(key::f1 + 4) || button == &keys[0] || (enter && last)) {
    form.problem.clear();
    form.problem_at.clear();
    go_to(ui, form, form.at); // Enter has taken the keys from the field
    return Filled::sent;
  }
  if (clicked) go_to(ui, form, *clicked);
  if (on) go_to(ui, form, last ? form.at : form.at + 1);
  if (back && form.at > 0) go_to(ui, form, form.at - 1);
  return Filled::going_on;
}

std::optional<Filled> nobody_yet(Ui& ui, Form& form) {
  if (ui.desk.signed_in()) return std::nullopt;
  sign_in(ui);
  message_line(ui);
  form.focus = true;
  return pressed(key::escape) ? Filled::left : Filled::going_on;
}

namespace {

// As a person reads it: without the action's name before it, the field by its label.
std::string in_words(std::string message, const std::vector<Field>& fields) {
  const std::size_t colon = message.find(": ");
  const bool name = colon != std::string::npos && std::ranges::all_of(message.substr(0, colon), [](char c) {
                      return (c >= 'a' && c <= 'z') || c == '-';
                    });
  if (name) message.erase(0, colon + 2);
  for (const Field& field : fields)
    if (const auto at = message.find('"' + field.id + '"'); at != std::string::npos)
      message.replace(at + 1, field.id.size(), field.label);
  return message;
}

} // namespace

void refuse_at(Form& form, const std::vector<Field>& fields, const std::string& id, const std::string& message) {
  form.problem = in_words(message, fields);
  form.problem_at = id;
  form.focus = form.scroll = true;
  const auto at = std::ranges::find(fields, id, &Field::id);
  if (at != fields.end()) form.at = static_cast<std::size_t>(at - fields.begin());
}

void refuse(Form& form, const std::vector<Field>& fields, const std::string& message) {
  const auto quotes = [&](const std::string& text) {
    return !text.empty() && message.find('"' + text + '"') != std::string::npos;
  };
  for (const Field& field : fields)
    if (quotes(field.id)) return refuse_at(form, fields, field.id, message);
  for (const Field& field : fields)
    if (field.kind == Field::Kind::line && quotes(*field.text)) return refuse_at(form, fields, field.id, message);
  for (const Field& field : fields)
    if (field.kind == Field::Kind::secret && message.find("passphrase") != std::string::npos)
      return refuse_at(form, fields, field.id, message);
  form.problem = in_words(message, fields);
  form.problem_at.clear();
}

void wipe(std::string& secret) {
  secret.assign(secret.size(), '\0');
  secret.clear();
}

void set_if_typed(json::Value& line, std::string_view key, const std::string& text) {
  if (!text.empty()) line.set(key, json::Value::text(text));
}

} // namespace bench
