#include "bench/window.h"

#include "bench/builds.h"
#include "bench/first_run.h"
#include "bench/going.h"
#include "bench/on_bench.h"
#include "bench/photographs.h"
#include "bench/typing_gauge.h"
#include "bench/ui.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

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
  state_->ui.on_bench.build = builds.front();
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

void go(Ui& ui, const std::string& screen) {
  if (screen == "look" && ui.screen != "look") ui.look.back = ui.screen;
  if (screen == "work" && ui.screen != "work") {
    ui.work.back = ui.screen;
    ui.work.back_row = ui.row;
  }
  const auto own_message = [](const std::string& one) {
    return one == "findings" || one == "strip-down" || one == "parts" || one == "sizes" || one == "limits" ||
           one == "procedure";
  };
  const bool from_sheet = ui.screen == "sheet";
  if (screen != ui.screen && (own_message(screen) || own_message(ui.screen))) ui.message.clear();
  ui.screen = screen;
  ui.row = 0;
  ui.sheet.focus = true;
  ui.sheet.scroll = true;
  ui.sign_in_focus = true;
  ui.work.focus = true;
  ui.work.scroll = true;
  ui.parts.focus = ui.parts.scroll = true;
  ui.sizes.scroll = true;
  ui.gauges.focus = ui.limits.focus = true;
  if (screen == "builds") builds_entered(ui);
  if (screen == "procedure") procedures_entered(ui);
  if (screen == "limits") limits_entered(ui, from_sheet);
  ui.again = true;
}

struct Place {
  const char* screen;
  const char* label;
  const char* key;
  int code;
  bool needs_build = false;
  bool shift = false; // its key is struck with Shift held
  bool button = true; // on the top line; else on the screen of the shop
};
constexpr Place places[] = {{"builds", "Builds", "F1", key::f1},
                            {"sheet", "Sheet", "F2", key::f1 + 1, true},
                            {"log", "Log", "F3", key::f1 + 2, true},
                            {"shop", "Shop", "F4", key::f1 + 3},
                            {"work", "Work it out", "F9", key::f9},
                            {"keys", "Which key", "F12", key::f12},
                            {"strip-down", "Strip-down", "Shift F1", key::f1, true, true},
                            {"findings", "Findings", "Shift F2", key::f1 + 1, true, true},
                            {"parts", "Parts", "Shift F3", key::f1 + 2, true, true},
                            {"sizes", "Sizes", "Shift F4", key::f1 + 3, true, true},
                            {"limits", "Limits", "Shift F9", key::f9, true, true},
                            {"procedure", "Procedures", "Shift F11", key::f1 + 10, false, true, false},
                            {"look", "Look", "Shift F12", key::f12, false, true}};
constexpr const char* lock = "lock";

float strong_width(const std::string& text) {
  const FontScope scope(fonts().strong);
  return ImGui::CalcTextSize(text.c_str()).x;
}

// In one row where there is room for it, else what concerns this engine in a row of its own.
std::vector<std::vector<KeyLabel>> rows_of(std::vector<KeyLabel> shop, std::vector<KeyLabel> engine, float room) {
  std::vector<KeyLabel> all = shop;
  all.insert(all.end(), engine.begin(), engine.end());
  if (engine.empty() || fit_of(all, room) != Fit::tightest) return {all};
  return {std::move(shop), std::move(engine)};
}

// "Strip-down" and an arrow before F1: the arrow of the keycap, where the word has no room.
void shorten_shift(std::vector<KeyLabel>& row) {
  constexpr std::string_view word = "Shift ";
  for (KeyLabel& one : row)
    if (one.key.starts_with(word)) one.key = "\u21E7" + one.key.substr(word.size());
}

// Where one can go, as buttons, and what was asked for by a key.
struct Ways {
  std::vector<std::vector<KeyLabel>> rows;
  Fit fit = Fit::wide;
  std::string who, asked;
};

Ways ways(const Ui& ui, float room) {
  Ways out;
  const auto& person = ui.desk.signed_in();
  std::vector<KeyLabel> shop;
  std::vector<KeyLabel> engine;
  for (const Place& place : places) {
    if (place.needs_build && !ui.desk.build()) continue;
    if (place.button) (place.shift ? engine : shop).push_back({place.screen, place.label, place.key});
    if (place.shift ? pressed_with_shift(place.code) : pressed(place.code)) out.asked = place.screen;
  }
  if (person) shop.push_back({lock, "Lock", "F11"});
  out.who = person ? person->name + " is working" : std::string("Nobody is signed in");
  const auto beside = [&] { return room - strong_width(out.who) - px(10); };
  out.rows = rows_of(std::move(shop), std::move(engine), beside());
  for (auto& row : out.rows)
    if (width_of(row, Fit::tightest) > room) shorten_shift(row);
  out.fit = fit_of(out.rows.back(), beside());
  if (out.fit != Fit::tightest || !person) return out;
  out.who = person->name;
  out.fit = fit_of(out.rows.back(), beside());
  return out;
}

Fit fit_in(const Ways& ways, const std::vector<KeyLabel>& row, float room) {
  return ways.rows.size() == 1 ? ways.fit : std::max(ways.fit, fit_of(row, room));
}

std::string buttons(const Ways& ways, float room) {
  std::string clicked;
  for (const auto& row : ways.rows)
    if (const auto* one = key_row(row, room, fit_in(ways, row, room))) clicked = one->id;
  return clicked;
}

float tall(const Ways& ways, float room) {
  float out = 0;
  for (const auto& row : ways.rows) out += height_of(row, room, Fit::tightest);
  return out;
}

// In a low window the buttons keep to so much of it, and scroll; all of them have their keys.
std::string buttons_that_scroll(const Ways& ways, float room, float share) {
  const float row = height_of({ways.rows.front().data(), 1}, room, Fit::tightest);
  const float height = std::max(1.0f, std::floor(share / row)) * row;
  ImGui::PushStyleColor(ImGuiCol_ChildBg, theme().bench);
  ImGui::BeginChild("##ways", ImVec2(room + px(14), height), false, ImGuiWindowFlags_NoNav);
  std::string clicked;
  const float inside = ImGui::GetContentRegionAvail().x;
  for (const auto& each : ways.rows)
    if (const auto* one = key_row(each, inside, Fit::tightest)) clicked = one->id;
  ImGui::EndChild();
  ImGui::PopStyleColor();
  return clicked;
}

// The line along the top: where one can go, and who is working; in more than one row where there is no room. Gives the
// screen that was asked for, "" for none.
std::string top_line(Ui& ui) {
  const ImVec2 display = ImGui::GetIO().DisplaySize;
  const float room = display.x - px(28);
  const float share = display.y * 0.3f;
  const Ways its = ways(ui, room);
  const bool low = tall(its, room) > share;
  ImGui::SetCursorPos(px(14, 8));
  ImGui::BeginGroup();
  const std::string clicked = low ? buttons_that_scroll(its, room, share) : buttons(its, room);
  if (!low) ImGui::SameLine();
  const bool beside = !low && ImGui::GetCursorPosX() + strong_width(its.who) <= px(14) + room;
  const float first = px(14) + width_of(its.rows.front(), fit_in(its, its.rows.front(), room)) + px(10);
  const bool above = !low && !beside && first + strong_width(its.who) <= px(14) + room; // in the row above
  if (!beside && !low) ImGui::NewLine();
  const float y = ImGui::GetCursorPosY();
  if (beside) ImGui::SetCursorPosY(y + px(3));
  if (above) ImGui::SetCursorPos(ImVec2(first, px(8 + 11)));
  say(fonts().strong, theme().on_bench, its.who);
  ImGui::EndGroup();
  const float end = beside ? y + 2.2f * fonts().text->FontSize : above ? y : ImGui::GetItemRectMax().y;
  set_below_top(end + px(beside ? 22 : 10));
  if (ui.desk.signed_in() && (clicked == lock || pressed(key::f1 + 10))) ui.send(action("sign-out"));
  return clicked.empty() || clicked == lock ? its.asked : clicked;
}

// While the record of a build is being read; how far that has come is said along the lower edge.
void opening_screen(Ui& ui) {
  const SheetScope sheet("##opening");
  say(fonts().huge, theme().ink, "Opening " + ui.desk.wanted());
}

void screen(Ui& ui) {
  if (takes_entries(ui.screen) && ui.desk.build() && !is_on_bench(ui))
    take_to_bench_screen(ui);
  else if (ui.screen == "sheet" && ui.desk.build())
    sheet_screen(ui);
  else if (ui.screen == "log" && ui.desk.build())
    log_screen(ui);
  else if (ui.screen == "findings" && ui.desk.build())
    findings_screen(ui);
  else if (ui.screen == "strip-down" && ui.desk.build())
    strip_down_screen(ui);
  else if (ui.screen == "parts" && ui.desk.build())
    parts_screen(ui);
  else if (ui.screen == "sizes" && ui.desk.build())
    sizes_screen(ui);
  else if (ui.screen == "photographs" && ui.desk.build())
    photographs_screen(ui);
  else if (ui.screen == "limits" && ui.desk.build())
    limits_screen(ui);
  else if (ui.screen == "people")
    people_screen(ui);
  else if (ui.screen == "gauges")
    gauges_screen(ui);
  else if (ui.screen == "shop")
    shop_screen(ui);
  else if (ui.screen == "procedure")
    procedures_screen(ui);
  else if (ui.screen == "look")
    look_screen(ui);
  else if (ui.screen == "keys")
    keys_screen(ui);
  else if (ui.screen == "work")
    work_screen(ui);
  else if (!ui.desk.build() && !ui.desk.wanted().empty() && ui.screen != "builds")
    opening_screen(ui);
  else
    builds_screen(ui);
}

} // namespace

void Window::frame() {
  Ui& ui = state_->ui;
  ui.again = false;
  ui.sent = false;
  ui.desk.take_in();
  while (const auto answer = ui.desk.take_answer()) {
    answered(ui, *answer);
    ui.again = true;
  }
  watch_typing();
  go_on_typing(ui.returned);
  ui.returned = false;
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  ImGui::SetNextWindowPos(ImVec2(0, 0));
  ImGui::SetNextWindowSize(size);
  ImGui::SetNextWindowContentSize(size); // the bench itself never moves
  ImGui::Begin("##bench", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoNav);
  const std::string asked = top_line(ui);
  practice_band(ui);
  screen(ui); // takes in what was typed in this frame, before another screen has the keys
  ImGui::End();
  if (!asked.empty()) go(ui, asked);
  going_strip(ui);
  if (digit_waits()) ui.again = true;
}

void Window::dropped(std::vector<std::string> paths) {
  Ui& ui = state_->ui;
  if (ui.screen == "builds" && ui.builds.fresh.open && !paths.empty()) return procedure_dropped(ui, paths.front());
  if (takes_entries(ui.screen) && ui.desk.build() && !is_on_bench(ui)) return; // the screen says why
  take_dropped(ui, std::move(paths));
}

void Window::show_photographs_by(std::function<void*(const handover::Pixels&)> upload) {
  state_->ui.upload = std::move(upload);
}

void Window::begin_with(Mirror look) {
  state_->ui.look = std::move(look);
  state_->ui.again = true;
}

const Look& Window::look() const {
  return state_->ui.look.now;
}

bool Window::wants_frame() const {
  return state_->ui.again;
}

void Window::show(const std::string& screen) {
  Ui& ui = state_->ui;
  const auto builds = ui.desk.builds();
  if (ui.desk.wanted().empty() && !builds.empty()) ui.desk.open(builds.front());
  go(ui, screen);
}

void Window::work_out(const std::string& computation) {
  const auto* found = calc::find_computation(computation);
  if (!found) return;
  Ui& ui = state_->ui;
  go(ui, "work");
  open_work(ui, *found);
  WorkForm& form = ui.work.forms[computation];
  form.example = example_typed(*found);
  form.shows_example = true;
}

} // namespace bench
