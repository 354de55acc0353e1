#include "bench/ui.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

namespace {

std::string what_happened(const record::Event& event) {
  std::string out = event.kind;
  const auto add = [&](const char* key, const char* before) {
    const std::string text = event.body.text_or_empty(key);
    if (!text.empty()) out += before + text;
  };
  add("step", "  ");
  add("entry", " / ");
  add("state", ": ");
  add("disposition", ": ");
  add("outcome", ": ");
  add("verdict", ": ");
  if (const auto* asked = event.body.find("asked")) {
    for (const char* key : {"reason", "text"})
      if (!asked->text_or_empty(key).empty()) out += "  \"" + asked->text_or_empty(key) + "\"";
  }
  return out;
}

} // namespace

// What happened, the newest first; a name put under something carries the painted stripe.
void log_screen(Ui& ui) {
  ImGui::SetCursorPos(ImVec2(40, 74));
  ImGui::BeginChild("##log", ImVec2(ImGui::GetIO().DisplaySize.x - 80, ImGui::GetIO().DisplaySize.y - 94), false,
                    ImGuiWindowFlags_AlwaysUseWindowPadding | ImGuiWindowFlags_NoNav);
  ImGui::Indent(24);
  gap(0.6f);
  const auto& build = *ui.desk.build();
  say(fonts().huge, theme().ink, fmt::format("{}  {}", build.model, build.serial));
  say(fonts().text, theme().soft_ink, fmt::format("{} events, the newest first", ui.desk.log().size()));
  const auto& log = ui.desk.log();
  const float line = ImGui::GetTextLineHeightWithSpacing();
  if (pressed(key::page_down)) ImGui::SetScrollY(ImGui::GetScrollY() + 12 * line);
  if (pressed(key::page_up)) ImGui::SetScrollY(std::max(0.0f, ImGui::GetScrollY() - 12 * line));
  ImGuiListClipper clipper;
  clipper.Begin(static_cast<int>(log.size()));
  while (clipper.Step()) {
    for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i) {
      const auto& event = log[log.size() - 1 - static_cast<std::size_t>(i)];
      if (!event.meaning.empty()) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        ImGui::GetWindowDrawList()->AddLine(ImVec2(at.x - 12, at.y), ImVec2(at.x - 7, at.y + ImGui::GetFontSize()),
                                            theme().paint, 4);
      }
      const std::string text =
          fmt::format("{}  {}  {}{}", calc::local_text(event.time), event.name, what_happened(event),
                      event.meaning.empty() ? "" : fmt::format("   signed: {}", event.meaning));
      ImGui::TextUnformatted(text.c_str());
    }
  }
  ImGui::EndChild();
}

} // namespace bench
