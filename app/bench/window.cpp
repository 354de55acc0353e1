#include "bench/window.h"

#include "bench/ui.h"

#include <imgui.h>

#include <fmt/format.h>

namespace bench {

struct Window::State {
  explicit State(Desk& desk) : ui(desk) {}
  Ui ui;
};

Window::Window(Desk& desk) : state_(std::make_unique<State>(desk)) {
  // One build: the sheet at once; the person at the bench has nothing to look for.
  const auto builds = desk.builds();
  if (builds.size() != 1) return;
  desk.open(builds.front());
  state_->ui.screen = "sheet";
}

Window::~Window() = default;

json::Value action(std::string_view name) {
  return json::Value::object({{"do", json::Value::text(std::string(name))}});
}

json::Value build_action(const Ui& ui, std::string_view name) {
  json::Value out = action(name);
  const auto& build = *ui.desk.build();
  out.set("build", json::Value::text(build.id));
  out.set("step", json::Value::text(build.plan->step(ui.sheet.step).id));
  return out;
}

json::Value entry_action(const Ui& ui, std::string_view name) {
  json::Value out = build_action(ui, name);
  out.set("entry", json::Value::text(ui.desk.build()->plan->entry({ui.sheet.step, ui.sheet.entry}).id));
  return out;
}

namespace {

void go(Ui& ui, const char* screen) {
  ui.screen = screen;
  ui.row = 0;
  ui.sheet.focus = true;
  ui.sheet.scroll = true;
  ui.sign_in_focus = true;
  ui.again = true;
}

// The line along the top: where one can go, and who is working.
void top_line(Ui& ui) {
  ImGui::SetCursorPos(px(14, 8));
  struct Place {
    const char* screen;
    const char* label;
    const char* key;
    int code;
  };
  const Place places[] = {{"builds", "Builds", "F1", key::f1},
                          {"sheet", "Sheet", "F2", key::f1 + 1},
                          {"log", "Log", "F3", key::f1 + 2},
                          {"shop", "Shop", "F4", key::f1 + 3},
                          {"keys", "Which key", "F12", key::f1 + 11}};
  for (const auto& place : places) {
    const bool needs_build = std::string_view(place.screen) == "sheet" || std::string_view(place.screen) == "log";
    if (needs_build && !ui.desk.build()) continue;
    if (key_button(place.screen, place.label, place.key) || pressed(place.code)) go(ui, place.screen);
    ImGui::SameLine();
  }
  const auto& person = ui.desk.signed_in();
  ImGui::AlignTextToFramePadding();
  say(fonts().strong, theme().paper,
      person ? fmt::format("{} is working", person->name) : std::string("Nobody is signed in"));
  if (!person) return;
  ImGui::SameLine();
  if (key_button("lock", "Lock", "F11") || pressed(key::f1 + 10)) ui.send(action("sign-out"));
}

} // namespace

void Window::frame() {
  Ui& ui = state_->ui;
  ui.again = false;
  while (const auto answer = ui.desk.take_answer()) {
    answered(ui, *answer);
    ui.again = true;
  }
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  ImGui::SetNextWindowPos(ImVec2(0, 0));
  ImGui::SetNextWindowSize(size);
  ImGui::Begin("##bench", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                   ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoNav);
  top_line(ui);
  if (ui.screen == "sheet" && ui.desk.build())
    sheet_screen(ui);
  else if (ui.screen == "log" && ui.desk.build())
    log_screen(ui);
  else if (ui.screen == "shop")
    shop_screen(ui);
  else if (ui.screen == "keys")
    keys_screen(ui);
  else
    builds_screen(ui);
  ImGui::End();
  if (ui.desk.busy()) ui.again = true;
}

bool Window::wants_frame() const {
  return state_->ui.again;
}
void Window::show(const std::string& screen) {
  Ui& ui = state_->ui;
  const auto builds = ui.desk.builds();
  if (!ui.desk.build() && !builds.empty()) ui.desk.open(builds.front());
  go(ui, screen.c_str());
}

} // namespace bench
