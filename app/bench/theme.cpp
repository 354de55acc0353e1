#include "bench/theme.h"

#include <algorithm>

namespace bench {

namespace {

constexpr ImU32 rgb(unsigned red, unsigned green, unsigned blue) {
  return IM_COL32(red, green, blue, 255);
}

constexpr Theme all[] = {{.name = "light",
                          .title = "Light",
                          .bench = rgb(58, 64, 66),
                          .on_bench = rgb(247, 243, 233),
                          .paper = rgb(247, 243, 233),
                          .ink = rgb(28, 27, 24),
                          .soft_ink = rgb(84, 79, 70),
                          .faint = rgb(196, 189, 174),
                          .metal = rgb(214, 209, 197),
                          .paint = rgb(22, 94, 125),
                          .field = rgb(255, 255, 255),
                          .shout = rgb(128, 20, 60),
                          .line = 1},
                         {.name = "dark",
                          .title = "Dark",
                          .bench = rgb(16, 18, 19),
                          .on_bench = rgb(236, 230, 216),
                          .paper = rgb(38, 41, 43),
                          .ink = rgb(236, 230, 216),
                          .soft_ink = rgb(196, 190, 176),
                          .faint = rgb(98, 99, 96),
                          .metal = rgb(68, 73, 75),
                          .paint = rgb(104, 192, 228),
                          .field = rgb(18, 20, 21),
                          .shout = rgb(255, 150, 162),
                          .line = 1},
                         {.name = "contrast",
                          .title = "High contrast",
                          .bench = rgb(0, 0, 0),
                          .on_bench = rgb(255, 255, 255),
                          .paper = rgb(255, 255, 255),
                          .ink = rgb(0, 0, 0),
                          .soft_ink = rgb(36, 36, 36),
                          .faint = rgb(96, 96, 96),
                          .metal = rgb(216, 216, 216),
                          .paint = rgb(0, 0, 150),
                          .field = rgb(255, 255, 255),
                          .shout = rgb(140, 0, 40),
                          .line = 2}};

const Theme* in_use = all;

} // namespace

std::span<const Theme> themes() {
  return all;
}

const Theme* find_theme(std::string_view name) {
  const auto* const found = std::ranges::find(all, name, &Theme::name);
  return found == std::end(all) ? nullptr : found;
}

void use_theme(const Theme& one) {
  in_use = &one;
}

const Theme& theme() {
  return *in_use;
}

ImU32 colour(drawing::Tone tone) {
  switch (tone) {
  case drawing::Tone::ink: return theme().ink;
  case drawing::Tone::faint: return theme().faint;
  case drawing::Tone::metal: return theme().metal;
  case drawing::Tone::paint: return theme().paint;
  case drawing::Tone::here: return theme().ink;
  case drawing::Tone::paper: return theme().paper;
  }
  return theme().ink;
}

void apply_style(float scale) {
  ImGuiStyle style;
  style.ScaleAllSizes(scale);
  style.WindowPadding = ImVec2(0, 0);
  style.WindowBorderSize = 0;
  style.FrameBorderSize = 2 * scale * theme().line;
  style.FramePadding = ImVec2(10 * scale, 8 * scale);
  style.ItemSpacing = ImVec2(10 * scale, 8 * scale);
  style.ScrollbarSize = 22 * scale;
  for (ImVec4& one : style.Colors) one = ImGui::ColorConvertU32ToFloat4(theme().ink); // nothing of Dear ImGui's own
  const auto set = [&](ImGuiCol which, ImU32 value) { style.Colors[which] = ImGui::ColorConvertU32ToFloat4(value); };
  set(ImGuiCol_WindowBg, theme().bench);
  set(ImGuiCol_ChildBg, theme().paper);
  set(ImGuiCol_PopupBg, theme().paper);
  set(ImGuiCol_FrameBg, theme().field);
  set(ImGuiCol_FrameBgHovered, theme().field);
  set(ImGuiCol_FrameBgActive, theme().field);
  set(ImGuiCol_Button, theme().paper);
  set(ImGuiCol_ButtonHovered, theme().metal);
  set(ImGuiCol_ButtonActive, theme().metal);
  set(ImGuiCol_ScrollbarBg, theme().metal);
  set(ImGuiCol_ScrollbarGrab, theme().soft_ink);
  set(ImGuiCol_ScrollbarGrabHovered, theme().ink);
  set(ImGuiCol_ScrollbarGrabActive, theme().ink);
  set(ImGuiCol_TextSelectedBg, theme().metal);
  set(ImGuiCol_TableBorderLight, theme().faint);
  set(ImGuiCol_TableBorderStrong, theme().faint);
  style.Colors[ImGuiCol_TableRowBg] = style.Colors[ImGuiCol_TableRowBgAlt] = ImVec4(0, 0, 0, 0);
  style.Colors[ImGuiCol_BorderShadow] = ImVec4(0, 0, 0, 0);
  style.Colors[ImGuiCol_NavHighlight] = ImVec4(0, 0, 0, 0);
  ImGui::GetStyle() = style;
}

} // namespace bench
