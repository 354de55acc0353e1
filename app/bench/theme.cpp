#include "bench/theme.h"

namespace bench {

const Theme& theme() {
  static const Theme sheet = {IM_COL32(58, 64, 66, 255),  IM_COL32(247, 243, 233, 255), IM_COL32(28, 27, 24, 255),
                              IM_COL32(84, 79, 70, 255),  IM_COL32(196, 189, 174, 255), IM_COL32(214, 209, 197, 255),
                              IM_COL32(22, 94, 125, 255), IM_COL32(255, 255, 255, 255), IM_COL32(128, 20, 60, 255)};
  return sheet;
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
  ImGui::StyleColorsLight(&style);
  style.ScaleAllSizes(scale);
  style.WindowPadding = ImVec2(0, 0);
  style.WindowBorderSize = 0;
  style.FrameBorderSize = 2 * scale;
  style.FramePadding = ImVec2(10 * scale, 8 * scale);
  style.ItemSpacing = ImVec2(10 * scale, 8 * scale);
  style.ScrollbarSize = 22 * scale;
  const auto set = [&](ImGuiCol which, ImU32 value) { style.Colors[which] = ImGui::ColorConvertU32ToFloat4(value); };
  set(ImGuiCol_WindowBg, theme().bench);
  set(ImGuiCol_ChildBg, theme().paper);
  set(ImGuiCol_Text, theme().ink);
  set(ImGuiCol_FrameBg, theme().field);
  set(ImGuiCol_Border, theme().ink);
  set(ImGuiCol_Button, theme().paper);
  set(ImGuiCol_ButtonHovered, theme().metal);
  set(ImGuiCol_ButtonActive, theme().faint);
  ImGui::GetStyle() = style;
}

} // namespace bench
