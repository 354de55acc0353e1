// The build sheet: one upright sheet, the engine growing at its left. Closed sections are one striped line, the step at
// work unfolds in its place.
#include "bench/asking.h"
#include "bench/figure.h"
#include "bench/finding_words.h"
#include "bench/missing_keys.h"

#include "build/orders.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

namespace {

// The parts that are away, an order each: "away since 2026-05-03 14:10: Cylinder block is at Brook Lane Machining
// (m1)".
void away_lines(const build::Build& build, std::vector<std::string>& out) {
  for (const auto& order : build.orders) {
    const auto line = std::ranges::find_if(order.lines, &build::Sent::away);
    if (line == order.lines.end()) continue;
    out.push_back(
        fmt::format("away since {}: {}", calc::local_text(order.sent), build::away_text(build, {&order, &*line})));
  }
}

// What time alone will finish, the first of it in words.
void waiting_line(const Ui& ui, const build::Build& build, std::vector<std::string>& out) {
  const Waiting* first = nullptr;
  std::size_t others = 0;
  for (const auto& one : ui.overview.waits()) {
    if (one.until.utc_ms <= ui.desk.now().utc_ms) continue;
    if (first) ++others;
    if (!first || one.until.utc_ms < first->until.utc_ms) first = &one;
  }
  if (!first) return;
  out.push_back(fmt::format("{}: waits until {}{}", build.plan->entry(first->at).title, calc::local_text(first->until),
                            others == 0 ? "" : fmt::format("; and {} more wait", others)));
}

// Where the engine stands, a line each.
std::vector<std::string> standing_lines(const Ui& ui, const build::Build& build) {
  const SectionCount all = ui.overview.all();
  std::vector<std::string> out = {fmt::format("{} of {} steps signed", all.signed_off, all.on_this_engine)};
  if (std::string found = words_of_open(ui.desk.shop(), build, ui.desk.now()); !found.empty())
    out.push_back(std::move(found));
  away_lines(build, out);
  waiting_line(ui, build, out);
  const auto released = ui.overview.released();
  if (!build.outcome.empty())
    out.push_back(released.utc_ms > 0 ? fmt::format("{} {}", build.outcome, calc::local_text(released))
                                      : build.outcome);
  if (build.seq > 0) out.push_back("last entry " + calc::local_text(build.last));
  return out;
}

// The left margin of the bench: the engine, and in words where it stands.
void margin(const Ui& ui, const build::Build& build, float width, float height) {
  const FontScope scope(fonts().strong);
  const std::vector<std::string> lines = standing_lines(ui, build);
  float words = 0;
  for (const auto& line : lines)
    words += ImGui::CalcTextSize(line.c_str(), nullptr, false, width).y + ImGui::GetStyle().ItemSpacing.y;
  ImGui::SetCursorPos(ImVec2(px(14), below_top()));
  ImGui::BeginGroup();
  const float engine_height = std::max(1.0f, std::min(width * 2, height - below_top() - words - px(50)));
  auto& list = *ImGui::GetWindowDrawList();
  const ImVec2 at = ImGui::GetCursorScreenPos();
  list.AddRectFilled(at, ImVec2(at.x + width, at.y + engine_height + px(30)), theme().paper);
  const auto engine = drawing::engine(ui.overview.bands());
  draw(engine, ImVec2(at.x + (width - engine_height / 2) / 2, at.y + px(15)),
       engine_height / 2 / static_cast<float>(engine.width));
  ImGui::Dummy(ImVec2(width, engine_height + px(36)));
  ImGui::PushTextWrapPos(px(14) + width);
  ImGui::PushStyleColor(ImGuiCol_Text, theme().on_bench);
  for (const auto& line : lines) {
    ImGui::TextUnformatted(line.c_str());
    list_text(line, ImGui::GetItemRectMin(), ImGui::GetItemRectMax());
  }
  ImGui::PopStyleColor();
  ImGui::PopTextWrapPos();
  ImGui::EndGroup();
}

bool practice(const Ui& ui, const build::Build& build) {
  return build.practice || ui.desk.shop().practice;
}

std::string name_of(const build::Build& build) {
  return fmt::format("{}  {}", build.model, build.serial);
}

// A window, or letters, that leave little more than a few lines to the sheet: the engine's figure and its customer give
// way to the work.
bool cramped() {
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  return size.y - below_top() < px(330) || size.x < px(760);
}

// Huge where it fits on one line.
ImFont* font_of_name(const build::Build& build, float room) {
  if (cramped()) return fonts().strong;
  const FontScope scope(fonts().huge);
  return ImGui::CalcTextSize(name_of(build).c_str()).x <= room ? fonts().huge : fonts().large;
}

constexpr const char* not_a_record = "PRACTICE, NOT A RECORD";

std::string customer_line(const build::Build& build) {
  return fmt::format("{}; {} hours run", build.customer, build.hours);
}

// Beside the customer, or the name where that stands alone.
bool practice_beside(const build::Build& build, float room) {
  const auto width = [](ImFont* font, const std::string& text) {
    return font->CalcTextSizeA(font->FontSize, 1e9f, 0, text.c_str()).x;
  };
  const float before =
      cramped() ? width(font_of_name(build, room), name_of(build)) : width(fonts().text, customer_line(build));
  return before + width(fonts().strong, not_a_record) + px(40) <= room;
}

void heading(const Ui& ui, const build::Build& build, float room) {
  say(font_of_name(build, room), theme().ink, name_of(build));
  if (!cramped()) say(fonts().text, theme().soft_ink, customer_line(build));
  if (!practice(ui, build)) return;
  if (practice_beside(build, room)) ImGui::SameLine(0, px(30));
  say(fonts().strong, theme().shout, not_a_record);
}

float heading_height(const Ui& ui, const build::Build& build, float room) {
  const float spacing = ImGui::GetStyle().ItemSpacing.y;
  const float lines = (cramped() ? 0.0f : 1.0f) + (practice(ui, build) && !practice_beside(build, room) ? 1.0f : 0.0f);
  return font_of_name(build, room)->FontSize + spacing + lines * (fonts().text->FontSize + spacing) + px(8);
}

// --- lines of what is closed: each one line of the same height, drawn only where it is in sight ---------------------

bool in_sight(float height) {
  const float top = ImGui::GetCursorScreenPos().y - ImGui::GetWindowPos().y;
  return top + height >= 0 && top <= ImGui::GetWindowHeight();
}

void pass_over(float height) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  ImGui::SetCursorScreenPos(ImVec2(at.x, at.y + height));
}

std::string state_words(const Ui& ui, const build::Build& build, std::size_t step, build::StepStanding standing) {
  std::string words(build::name_of(standing));
  if (const auto* before = build::waits_for(build, step); before && standing == build::StepStanding::not_yet)
    words += fmt::format(": first \"{}\"", before->title);
  if (const auto away = build::away_of(build, step); away && standing == build::StepStanding::away)
    words += fmt::format(": {}, since {}", build::away_text(build, *away), calc::local_text(away->order->sent));
  const auto& signatures = build.step(step).signatures;
  const bool has_name = standing == build::StepStanding::signed_off || standing == build::StepStanding::wants_second;
  if (has_name && !signatures.empty())
    words += fmt::format("{} {}, {}", standing == build::StepStanding::signed_off ? "" : "; first",
                         signatures.back().name, calc::local_text(signatures.back().time));
  if (const auto since = ui.overview.since(step, standing); since.utc_ms > 0)
    words += " since " + calc::local_text(since);
  return words;
}

void step_line(Ui& ui, const build::Build& build, std::size_t step) {
  if (step == ui.sheet.step) return open_step(ui, build);
  if (!in_sight(line_height())) return pass_over(line_height() + px(6));
  const auto standing = build::standing_of(build, step);
  closed_line(fmt::format("{}   {}", build.plan->step(step).title, state_words(ui, build, step, standing)),
              standing == build::StepStanding::signed_off ? Mark::stripe
              : standing == build::StepStanding::away     ? Mark::hatching
                                                          : Mark::none);
}

void section_line(const procedure::Section& section, const SectionCount& its, bool open) {
  if (!open && its.on_this_engine > 0 && its.signed_off == its.on_this_engine) {
    if (!in_sight(line_height())) return pass_over(line_height() + px(6));
    return closed_line(fmt::format("{}: all {} steps signed", section.title, its.on_this_engine), Mark::stripe);
  }
  const float height = fonts().large->FontSize * 1.7f;
  if (!in_sight(height)) return pass_over(height);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  rule();
  const float room = ImGui::GetContentRegionAvail().x - px(24);
  const std::string title = cut_to(fonts().large, section.title, room);
  say(fonts().large, open ? theme().ink : theme().soft_ink, title);
  const float used = fonts().large->CalcTextSizeA(fonts().large->FontSize, 1e9f, 0, title.c_str()).x;
  say_beside(fonts().text, theme().soft_ink,
             cut_to(fonts().text,
                    fmt::format("   {} of {} steps signed{}", its.signed_off, its.on_this_engine,
                                section.deferrable ? "; may be left open at release" : ""),
                    room - used - ImGui::GetStyle().ItemSpacing.x));
  ImGui::SetCursorScreenPos(ImVec2(at.x, at.y + height));
}

void sections(Ui& ui, const build::Build& build) {
  const auto& procedure = build.plan->procedure();
  const auto* here = procedure.section_of(build.plan->step(ui.sheet.step).id);
  std::size_t step = 0;
  for (std::size_t i = 0; i < procedure.sections.size(); ++i) {
    const auto& section = procedure.sections[i];
    section_line(section, ui.overview.sections()[i], &section == here);
    if (&section == here)
      for (std::size_t s = 0; s < section.steps.size(); ++s) step_line(ui, build, step + s);
    step += section.steps.size();
  }
}

bool can_be_worked_at(const build::Build& build, std::size_t step) {
  const auto standing = build::standing_of(build, step);
  return standing == build::StepStanding::open || standing == build::StepStanding::half_done ||
         standing == build::StepStanding::reopened || standing == build::StepStanding::wants_second;
}

// The next one behind it, round to the beginning; itself when there is no other.
std::size_t next_to_work_at(const build::Build& build, std::size_t step) {
  for (std::size_t i = 1; i < build.plan->size(); ++i)
    if (const std::size_t s = (step + i) % build.plan->size(); can_be_worked_at(build, s)) return s;
  return step;
}

void change_step(Ui& ui, const build::Build& build) {
  const std::size_t count = build.plan->size();
  const std::size_t here = ui.sheet.step;
  if (pressed_with_shift(key::page_up)) {
    go_to_what_is_in_the_way(ui, build);
  } else if (pressed_with_shift(key::page_down)) {
    if (const std::size_t next = next_to_work_at(build, here); next != here) go_to_step(ui, next);
  } else if (pressed(key::page_down) && here + 1 < count) {
    go_to_step(ui, here + 1);
  } else if (pressed(key::page_up) && here > 0) {
    go_to_step(ui, here - 1);
  }
}

// The first step that can be worked on.
void begin_build(Ui& ui, const build::Build& build) {
  ui.sheet = SheetState();
  ui.sheet.build = build.id;
  for (std::size_t s = 0; s < build.plan->size(); ++s)
    if (can_be_worked_at(build, s)) {
      ui.sheet.step = s;
      break;
    }
  move_to_next(ui);
}

} // namespace

void go_to_step(Ui& ui, std::size_t step) {
  ui.sheet.step = step;
  ui.sheet.typed.clear();
  ui.sheet.not_taken.clear();
  ui.sheet.held = false;
  ui.sheet.asking = Asking::nothing;
  ui.message.clear();
  ui.sheet.entry = 0;
  ui.sheet.cell = 0;
  move_to_next(ui);
}

void sheet_screen(Ui& ui) {
  const auto& build = *ui.desk.build();
  if (build.plan->size() == 0) return;
  ui.overview.look(build, ui.desk.log());
  if (ui.sheet.build != build.id) begin_build(ui, build);
  if (ui.sheet.as_found || screen_of(ui.sheet.asking) != "sheet") leave(ui);
  ui.sheet.as_found = false;
  if (ui.sheet.asking == Asking::nothing) change_step(ui, build);
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  const float left = cramped() ? -px(14) : std::clamp(size.x * 0.17f, px(150), px(330));
  if (!cramped()) margin(ui, build, left, size.y);
  // The engine's name stays in sight; only the sheet below it moves.
  ImGui::SetCursorPos(ImVec2(left + px(28), below_top()));
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float room = size.x - left - px(42) - px(48);
  const float top = heading_height(ui, build, room);
  ImGui::GetWindowDrawList()->AddRectFilled(at, ImVec2(at.x + size.x - left - px(42), at.y + top), theme().paper);
  ImGui::SetCursorPos(ImVec2(left + px(52), below_top() + px(4)));
  ImGui::BeginGroup();
  heading(ui, build, room);
  ImGui::EndGroup();
  ImGui::SetCursorPos(ImVec2(left + px(28), below_top() + top));
  ImGui::BeginChild("##sheet", ImVec2(size.x - left - px(42), size.y - below_top() - px(10) - top), false,
                    ImGuiWindowFlags_AlwaysUseWindowPadding | ImGuiWindowFlags_NoNav);
  ImGui::Indent(px(24));
  const auto& procedure = build.plan->procedure();
  say(fonts().text, theme().soft_ink,
      fmt::format("{}, revision {}. {}", procedure.title, procedure.revision, procedure.notice));
  if (cramped())
    for (const auto& line : standing_lines(ui, build)) say(fonts().strong, theme().ink, line);
  sections(ui, build);
  // Room enough beneath the last step to bring it up to where it can be worked on.
  ImGui::Dummy(ImVec2(0, ImGui::GetWindowHeight() * 0.4f));
  ImGui::EndChild();
}

} // namespace bench
