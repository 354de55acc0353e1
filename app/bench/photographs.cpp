#include "bench/photographs.h"

#include "bench/asking.h"

#include "build/findings.h"
#include "handover/scaled.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

namespace bench {

using build::Photograph;
using json::Value;

namespace {

constexpr int f10 = key::f1 + 9;

template <typename Test>
std::vector<Photograph> those(const build::Build& build, const Test& test) {
  std::vector<Photograph> out;
  std::ranges::copy_if(build.photographs, std::back_inserter(out), test);
  return out;
}

// "attach" to what is at work on that screen.
Value attach_action(const Ui& ui, bool to_finding) {
  Value line = to_finding ? build_action(ui, "attach") : entry_action(ui, "attach");
  if (to_finding) {
    line.remove("step");
    line.set("finding", Value::text(ui.finding));
  }
  return line;
}

// A path that begins with ~/ lies in one's own folder, as in a shell.
std::string whole_path(const std::string& typed) {
  const char* home = std::getenv("HOME");
  return typed.starts_with("~/") && home != nullptr ? home + typed.substr(1) : typed;
}

const procedure::Entry& entry_at_work(const Ui& ui) {
  return ui.desk.build()->plan->entry({ui.sheet.step, ui.sheet.entry});
}

void send_next(Ui& ui) {
  Value line = ui.attaching;
  line.set("path", Value::text(ui.dropped.front()));
  ui.dropped.erase(ui.dropped.begin());
  ui.send(std::move(line));
}

void look(Ui& ui, Looking at) {
  at.back = ui.screen;
  ui.looking = std::move(at);
  ui.screen = "photographs";
  ui.message.clear();
  ui.again = true;
}

std::vector<Photograph> looked_at(const Ui& ui, const build::Build& build) {
  return ui.looking.at ? photographs_of(build, *ui.looking.at) : photographs_of(build, ui.looking.finding);
}

std::string title_of(const Ui& ui, const build::Build& build) {
  if (const auto& at = ui.looking.at)
    return fmt::format("{}: {}", build.plan->step(at->step).title, build.plan->entry(*at).title);
  const auto* finding = build::find_finding(build, ui.looking.finding);
  return finding ? build::named(build, *finding) : ui.looking.finding;
}

void go_back(Ui& ui) {
  ui.screen = ui.looking.back;
  ui.looking = {};
  ui.returned = true;
  ui.sheet.focus = true;
  ui.sheet.scroll = true;
  ui.again = true;
}

// Makes a texture of it, once.
void prepare(Ui& ui, const Photograph& photograph) {
  Looking& it = ui.looking;
  if (it.sha256 == photograph.sha256) return;
  const ImVec2 room = ImGui::GetIO().DisplaySize;
  const auto seen = ui.desk.photograph(photograph.sha256, static_cast<int>(std::max(room.x, room.y)));
  if (!seen) {
    it.texture = nullptr;
    it.trouble.clear();
    return;
  }
  it.sha256 = photograph.sha256;
  it.texture = nullptr;
  it.trouble.clear();
  const auto& pixels = *seen;
  if (!pixels) {
    it.trouble = pixels.error().message;
    return;
  }
  it.width = static_cast<float>(pixels->width);
  it.height = static_cast<float>(pixels->height);
  if (ui.upload) it.texture = ui.upload(*pixels);
  if (!it.texture) it.trouble = "This window cannot show photographs.";
}

// As large as it goes into the room that is left, never larger than it is.
void show_picture(const Looking& it) {
  ImVec2 room = ImGui::GetContentRegionAvail();
  room.y = ImGui::GetWindowHeight() - ImGui::GetCursorPosY() - px(12);
  const float scale = std::min({1.0f, room.x / it.width, room.y / it.height});
  if (scale <= 0) return;
  ImGui::Image(it.texture, ImVec2(it.width * scale, it.height * scale));
  list_text("(photograph)", ImGui::GetItemRectMin(), ImGui::GetItemRectMax());
}

} // namespace

std::vector<Photograph> photographs_of(const build::Build& build, build::EntryAt at) {
  return those(build, [&](const auto& it) { return it.at == at; });
}

std::vector<Photograph> photographs_of(const build::Build& build, const std::string& finding) {
  return those(build, [&](const auto& it) { return !it.at && it.finding == finding; });
}

std::string count_of(std::size_t photographs) {
  if (photographs == 0) return "";
  return photographs == 1 ? "1 photograph" : fmt::format("{} photographs", photographs);
}

void photographs_beside(Ui& ui, const build::Build& build, build::EntryAt at, bool here) {
  const std::string count = count_of(photographs_of(build, at).size());
  if (count.empty()) return;
  if (!here || asks_for_keys(ui.sheet.asking)) return say(fonts().text, theme().soft_ink, count);
  if (key_button("look", "Look at " + count, "Shift F10") || pressed_with_shift(f10)) look_at(ui, at);
}

void ask_photograph(Ui& ui, bool of_finding) {
  ask(ui, of_finding ? Asking::finding_photograph : Asking::photograph);
}

void photograph_question(Ui& ui) {
  say(fonts().text, theme().soft_ink, "JPEG or PNG, up to 20 MB. Or drop the file on this window.");
  if (!fields(ui, {{"The photograph's file", &ui.sheet.typed}}) || ui.sheet.typed.empty()) return;
  Value line = attach_action(ui, ui.sheet.asking == Asking::finding_photograph);
  line.set("path", Value::text(whole_path(ui.sheet.typed)));
  leave(ui);
  ui.send(std::move(line));
}

void take_dropped(Ui& ui, std::vector<std::string> paths) {
  if (paths.empty() || !ui.dropped.empty()) return;
  ui.again = true;
  const bool to_finding = ui.screen == "findings" && !ui.finding.empty();
  const bool to_entry = ui.screen == "sheet" || ui.screen == "strip-down";
  if (!ui.desk.build() || !(to_finding || to_entry)) {
    ui.message = "A photograph is dropped on the sheet, beside an entry, or on the findings.";
    ui.refused = true;
    if (ui.desk.build()) ui.screen = "sheet";
    return;
  }
  ui.attaching = attach_action(ui, to_finding);
  ui.dropped = std::move(paths);
  send_next(ui);
}

void attached(Ui& ui, const Answered& answer) {
  ui.returned = true; // to what one was typing
  if (!ui.refused) {
    const std::string of = answer.action.text_or_empty("finding");
    ui.message = of.empty() ? "The photograph is laid beside it." : "The photograph is laid beside " + of + ".";
    if (!ui.dropped.empty()) return send_next(ui);
    const bool all_there = of.empty() && ui.sheet.typed.empty() && ui.screen == "sheet" && ui.desk.build();
    if (all_there && entry_at_work(ui).kind == procedure::EntryKind::photograph) move_to_next(ui);
    return;
  }
  if (!ui.dropped.empty()) ui.message += fmt::format(" {} more were dropped and are not attached.", ui.dropped.size());
  ui.dropped.clear();
}

void look_at(Ui& ui, build::EntryAt at) {
  Looking it;
  it.at = at;
  look(ui, std::move(it));
}

void look_at(Ui& ui, const std::string& finding) {
  Looking it;
  it.finding = finding;
  look(ui, std::move(it));
}

void photographs_screen(Ui& ui) {
  const SheetScope sheet("##photographs");
  const auto& build = *ui.desk.build();
  const auto all = looked_at(ui, build);
  if (pressed(key::escape) || all.empty()) return go_back(ui);
  Looking& it = ui.looking;
  if (pressed(key::right) && it.row + 1 < all.size()) ++it.row;
  if (pressed(key::left) && it.row > 0) --it.row;
  it.row = std::min(it.row, all.size() - 1);
  const Photograph& photograph = all[it.row];
  const float room = ImGui::GetContentRegionAvail().x - px(24);
  if (!ImGui::BeginTable("##beside", 2, ImGuiTableFlags_NoSavedSettings, ImVec2(room, 0))) return;
  ImGui::TableSetupColumn("words", ImGuiTableColumnFlags_WidthFixed, room * 0.27f);
  ImGui::TableSetupColumn("picture", ImGuiTableColumnFlags_WidthStretch);
  ImGui::TableNextRow();
  ImGui::TableSetColumnIndex(0);
  say(fonts().large, theme().ink, title_of(ui, build));
  say(fonts().text, theme().soft_ink,
      fmt::format("{} of {}, by {}, {}; {} x {} pixels", it.row + 1, all.size(), photograph.name,
                  calc::local_text(photograph.time), photograph.width, photograph.height));
  std::vector<KeyLabel> keys = {{"back", "Back", "Escape"}};
  if (it.row + 1 < all.size()) keys.push_back({"next", "The next", "Right"});
  if (it.row > 0) keys.push_back({"before", "The one before", "Left"});
  const auto* clicked = key_row(keys, ImGui::GetContentRegionAvail().x, Fit::tight);
  ImGui::TableSetColumnIndex(1);
  prepare(ui, photograph);
  if (!it.trouble.empty())
    say(fonts().strong, theme().shout, it.trouble);
  else if (it.texture && it.sha256 == photograph.sha256)
    show_picture(it);
  ImGui::EndTable();
  if (!clicked) return;
  if (clicked->id == "back") return go_back(ui);
  clicked->id == "next" ? ++it.row : --it.row;
  ui.again = true;
}

} // namespace bench
