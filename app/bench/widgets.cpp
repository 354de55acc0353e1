#include "bench/widgets.h"

#include "bench/keys.h"

#include <imgui.h>
#include <imgui_stdlib.h>

#include <fmt/format.h>

namespace bench {

namespace {

std::vector<Drawn>* list = nullptr;

void note(std::string id, std::string_view text) {
  if (!list) return;
  const unsigned full = id.empty() ? 0 : ImGui::GetID(id.c_str());
  list->push_back({std::move(id), std::string(text), ImGui::GetItemRectMin(), ImGui::GetItemRectMax(), full});
}

} // namespace

float px(float length) {
  return length * fonts().text->FontSize / 20.0f;
}

ImVec2 px(float x, float y) {
  return ImVec2(px(x), px(y));
}

bool pressed(int key) {
  return ImGui::IsKeyPressed(key, false);
}

bool enter_pressed() {
  return pressed(key::enter) || pressed(key::keypad_enter);
}

void say(ImFont* font, ImU32 colour, std::string_view text) {
  const FontScope scope(font);
  ImGui::PushStyleColor(ImGuiCol_Text, colour);
  ImGui::PushTextWrapPos(0);
  ImGui::TextUnformatted(text.data(), text.data() + text.size());
  ImGui::PopTextWrapPos();
  ImGui::PopStyleColor();
  note("", text);
}

void say(std::string_view text) {
  say(fonts().text, theme().ink, text);
}

void say_beside(ImFont* font, ImU32 colour, std::string_view text) {
  ImGui::SameLine();
  say(font, colour, text);
}

bool key_button(const char* id, std::string_view label, std::string_view key) {
  const FontScope scope(fonts().strong);
  const std::string shown = key.empty() ? std::string(label) : fmt::format("{}   [{}]", label, key);
  const std::string full = shown + "###" + id;
  const bool clicked = ImGui::Button(full.c_str(), ImVec2(0, 2.2f * ImGui::GetFontSize()));
  note(std::string("###") + id, shown);
  return clicked;
}

void text_field(const char* id, std::string& text, int columns, bool take_focus, bool secret) {
  const FontScope scope(fonts().large);
  ImGui::SetNextItemWidth(static_cast<float>(columns) * ImGui::GetFontSize() * 0.62f + px(24));
  if (take_focus) ImGui::SetKeyboardFocusHere();
  const std::string name = std::string("##") + id;
  ImGui::InputText(name.c_str(), &text, secret ? ImGuiInputTextFlags_Password : 0);
  note(name, secret ? "" : text);
}

SheetScope::SheetScope(const char* id) {
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  ImGui::SetCursorPos(px(40, 74));
  ImGui::BeginChild(id, ImVec2(size.x - px(80), size.y - px(94)), false,
                    ImGuiWindowFlags_AlwaysUseWindowPadding | ImGuiWindowFlags_NoNav);
  ImGui::Indent(px(24));
  gap(0.6f);
}

void rule() {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  ImGui::GetWindowDrawList()->AddLine(at, ImVec2(at.x + ImGui::GetContentRegionAvail().x, at.y), theme().faint, 2);
  gap(0.4f);
}

void gap(float text_heights) {
  ImGui::Dummy(ImVec2(0, text_heights * ImGui::GetFontSize()));
}

void list_what_is_drawn(std::vector<Drawn>* into) {
  list = into;
}

} // namespace bench
