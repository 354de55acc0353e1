#include "bench/going.h"

#include <imgui.h>

#include <fmt/format.h>

namespace bench {

namespace {

constexpr double first_moment = 0.3; // s: most of what is done is over by then

// 12345 -> "12,345", as one says how many there are of something; never a measure.
std::string counted(std::size_t number) {
  std::string out = std::to_string(number);
  for (std::size_t i = out.size(); i > 3; i -= 3) out.insert(i - 3, ",");
  return out;
}

} // namespace

std::string going_words(const Going& going) {
  if (going.is_stopping) return "stopping: " + going.what;
  return going.of == 0 ? going.what : fmt::format("{}: {} of {}", going.what, counted(going.done), counted(going.of));
}

void going_strip(Ui& ui) {
  const auto going = ui.desk.going();
  if (!going) return;
  const bool offers = going->may_stop && !going->is_stopping;
  if (offers && pressed(key::escape)) ui.desk.stop();
  if (going->seconds < first_moment) return;
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  const float height = px(64);
  ImGui::SetNextWindowPos(ImVec2(0, size.y - height));
  ImGui::SetNextWindowSize(ImVec2(size.x, height));
  ImGui::Begin("##going", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                   ImGuiWindowFlags_NoFocusOnAppearing | ImGuiWindowFlags_NoNav);
  const ImVec2 at = ImGui::GetWindowPos();
  auto& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(at, ImVec2(at.x + size.x, at.y + height), theme().paper);
  list.AddRectFilled(at, ImVec2(at.x + size.x, at.y + px(4)), theme().ink);
  ImGui::SetCursorPos(ImVec2(px(24), px(18)));
  say(fonts().large, theme().ink, going_words(*going));
  if (offers) {
    ImGui::SameLine(0, px(30));
    ImGui::SetCursorPosY(px(10));
    if (key_button("stop", "Stop", "Escape")) ui.desk.stop();
  }
  ImGui::End();
}

} // namespace bench
