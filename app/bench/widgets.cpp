#include "bench/widgets.h"

#include "bench/keys.h"

#include <imgui.h>
#include <imgui_stdlib.h>

#include <fmt/format.h>

#include <algorithm>
#include <cfloat>
#include <utility>

namespace bench {

namespace {

std::vector<Drawn>* list = nullptr;
float top = 74;            // height of the top line, for text of 20 pixels
bool going_on = false;     // in this frame
unsigned caret_wanted = 0; // field whose caret goes behind its text once it has the keys

void note(std::string id, std::string_view text) {
  ask_for_letters(text);
  if (!list) return;
  const unsigned full = id.empty() ? 0 : ImGui::GetID(id.c_str());
  const ImVec2 low = ImGui::GetWindowPos();
  const ImVec2 size = ImGui::GetWindowSize();
  const float most = ImGui::GetScrollMaxY();
  const ImVec2 high(low.x + size.x - (most > 0 ? ImGui::GetStyle().ScrollbarSize : 0), low.y + size.y);
  list->push_back({std::move(id), std::string(text), ImGui::GetItemRectMin(), ImGui::GetItemRectMax(), full, low, high,
                   ImGui::GetScrollY(), most - ImGui::GetScrollY()});
}

} // namespace

float px(float length) {
  return length * fonts().text->FontSize / 20.0f;
}

ImVec2 px(float x, float y) {
  return ImVec2(px(x), px(y));
}

namespace {

bool shift_held() {
  return ImGui::IsKeyDown(key::left_shift) || ImGui::IsKeyDown(key::right_shift);
}

} // namespace

bool pressed(int key) {
  const bool function = key >= key::f1 && key <= key::f12; // means something else with Shift
  return ImGui::IsKeyPressed(key, false) && !(function && shift_held());
}

bool enter_pressed() {
  return pressed(key::enter) || pressed(key::keypad_enter);
}

bool pressed_with_shift(int key) {
  return ImGui::IsKeyPressed(key, false) && shift_held();
}

namespace {

// Broken between words alone: Dear ImGui would break a number at its dot.
std::string by_words(ImFont* font, std::string_view text, float room) {
  const auto width = [&](std::size_t from, std::size_t to) {
    return font->CalcTextSizeA(font->FontSize, FLT_MAX, 0, text.data() + from, text.data() + to).x;
  };
  std::string out(text);
  if (text.find('\n') == std::string_view::npos && width(0, text.size()) <= room) return out;
  std::size_t line = 0;  // where it begins
  std::size_t space = 0; // the newest in it; none while it is at its beginning
  for (std::size_t i = 0; i <= text.size(); ++i) {
    if (i < text.size() && text[i] != ' ' && text[i] != '\n') continue;
    if (space > line && width(line, i) > room) {
      out[space] = '\n';
      line = space + 1;
    }
    space = i;
    if (i < text.size() && text[i] == '\n') line = space = i + 1;
  }
  return out;
}

} // namespace

void say(ImFont* font, ImU32 colour, std::string_view text) {
  const FontScope scope(font);
  ImGui::PushStyleColor(ImGuiCol_Text, colour);
  ImGui::PushTextWrapPos(0);
  const std::string lines = by_words(font, text, ImGui::GetContentRegionAvail().x);
  ImGui::TextUnformatted(lines.data(), lines.data() + lines.size());
  ImGui::PopTextWrapPos();
  ImGui::PopStyleColor();
  note("", text);
}

void say(std::string_view text) {
  say(fonts().text, theme().ink, text);
}

void say_beside(ImFont* font, ImU32 colour, std::string_view text) {
  const float taller = ImGui::GetItemRectSize().y - font->FontSize;
  ImGui::SameLine();
  // On the same foot as larger letters before it.
  if (taller > 0 && taller < font->FontSize) ImGui::SetCursorPosY(ImGui::GetCursorPosY() + taller * 0.8f);
  say(font, colour, text);
}

namespace {

constexpr float button_height = 2.2f; // of the text

ImFont* font_of(Fit fit) {
  return fit == Fit::wide ? fonts().strong : fonts().text;
}

std::string shown_on(std::string_view label, std::string_view key, Fit fit) {
  if (key.empty()) return std::string(label);
  switch (fit) {
  case Fit::wide: return fmt::format("{}   [{}]", label, key);
  case Fit::tight: return fmt::format("{} [{}]", label, key);
  case Fit::tightest: break;
  }
  return fmt::format("{} {}", label, key);
}

float padding_of(Fit fit) {
  return fit == Fit::tightest ? px(5) : ImGui::GetStyle().FramePadding.x;
}

float spacing_of(Fit fit) {
  return fit == Fit::tightest ? px(5) : ImGui::GetStyle().ItemSpacing.x;
}

float width_of(const KeyLabel& button, Fit fit) {
  const FontScope scope(font_of(fit));
  return ImGui::CalcTextSize(shown_on(button.label, button.key, fit).c_str()).x + 2 * padding_of(fit);
}

// What is drawn next stands behind the newest thing, on its line.
bool stands_behind() {
  const ImVec2 next = ImGui::GetCursorScreenPos();
  return next.x >= ImGui::GetItemRectMax().x && next.y < ImGui::GetItemRectMax().y;
}

// On a line of its own where it does not fit behind what stands there.
bool one_button(std::string_view id, std::string_view label, std::string_view key, Fit fit) {
  const FontScope scope(font_of(fit));
  const std::string shown = shown_on(label, key, fit);
  const float width = ImGui::CalcTextSize(shown.c_str()).x + 2 * padding_of(fit);
  if (width > ImGui::GetContentRegionAvail().x && stands_behind()) ImGui::NewLine();
  const std::string full = fmt::format("{}###{}", shown, id);
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(padding_of(fit), ImGui::GetStyle().FramePadding.y));
  const bool clicked = ImGui::Button(full.c_str(), ImVec2(0, button_height * ImGui::GetFontSize()));
  ImGui::PopStyleVar();
  note(fmt::format("###{}", id), shown);
  return clicked;
}

// Without its Escape: Dear ImGui would put back what stood in a field before.
class NoEscape {
public:
  NoEscape() { std::swap(key_, ImGui::GetIO().KeyMap[ImGuiKey_Escape]); }
  ~NoEscape() { std::swap(key_, ImGui::GetIO().KeyMap[ImGuiKey_Escape]); }
  NoEscape(const NoEscape&) = delete;
  NoEscape& operator=(const NoEscape&) = delete;

private:
  int key_ = -1;
};

int caret_to_the_end(ImGuiInputTextCallbackData* data) {
  data->CursorPos = data->BufTextLen;
  data->ClearSelection();
  caret_wanted = 0;
  return 0;
}

void input_line(const char* id, std::string& text, float width, bool take_focus, bool go_on, bool secret) {
  const std::string name = std::string("##") + id;
  ImGui::SetNextItemWidth(width);
  if (take_focus) ImGui::SetKeyboardFocusHere();
  if (take_focus && go_on) caret_wanted = ImGui::GetID(name.c_str());
  const bool caret = caret_wanted != 0 && caret_wanted == ImGui::GetID(name.c_str());
  const ImGuiInputTextFlags flags =
      (secret ? ImGuiInputTextFlags_Password : 0) | (caret ? ImGuiInputTextFlags_CallbackAlways : 0);
  const NoEscape guard;
  ImGui::InputText(name.c_str(), &text, flags, caret ? caret_to_the_end : nullptr);
  note(name, secret ? "" : text);
}

} // namespace

bool key_button(const char* id, std::string_view label, std::string_view key) {
  return one_button(id, label, key, Fit::wide);
}

float width_of(std::span<const KeyLabel> row, Fit fit) {
  float width = 0;
  for (const KeyLabel& button : row) width += width_of(button, fit) + spacing_of(fit);
  return width;
}

Fit fit_of(std::span<const KeyLabel> row, float room) {
  for (const Fit fit : {Fit::wide, Fit::tight})
    if (width_of(row, fit) - spacing_of(fit) <= room) return fit;
  return Fit::tightest;
}

float height_of(std::span<const KeyLabel> row, float room, Fit fit) {
  float rows = 1;
  float used = 0;
  for (const KeyLabel& button : row) {
    const float width = width_of(button, fit);
    if (used > 0 && used + width > room) {
      ++rows;
      used = 0;
    }
    used += width + spacing_of(fit);
  }
  return rows * (button_height * fonts().text->FontSize + ImGui::GetStyle().ItemSpacing.y);
}

const KeyLabel* key_row(std::span<const KeyLabel> row, float room, Fit fit) {
  const KeyLabel* clicked = nullptr;
  float used = 0;
  for (const KeyLabel& button : row) {
    const float width = width_of(button, fit);
    if (used > 0 && used + width <= room) ImGui::SameLine(0, spacing_of(fit));
    if (used + width > room) used = 0;
    used += width + spacing_of(fit);
    if (one_button(button.id, button.label, button.key, fit)) clicked = &button;
  }
  return clicked;
}

void text_field(const char* id, std::string& text, int columns, bool take_focus, bool secret) {
  const FontScope scope(fonts().large);
  const float wanted = static_cast<float>(columns) * ImGui::GetFontSize() * 0.62f + px(24);
  const float width = std::min(wanted, ImGui::GetContentRegionAvail().x);
  input_line(id, text, width, take_focus, going_on, secret);
}

void text_line(const char* id, std::string& text, ImFont* font, float width, bool take_focus) {
  const FontScope scope(font);
  input_line(id, text, width, take_focus, true, false);
}

void secret_line(const char* id, std::string& text, ImFont* font, float width, bool take_focus) {
  const FontScope scope(font);
  input_line(id, text, width, take_focus, true, true);
}

bool resting_line(const char* id, std::string_view text, ImFont* font, float width) {
  const FontScope scope(font);
  const ImVec2 padding = ImGui::GetStyle().FramePadding;
  const char* end = text.data() + text.size();
  const float wrap = width - 2 * padding.x;
  const float tall = std::max(ImGui::CalcTextSize(text.data(), end, false, wrap).y, ImGui::GetFontSize());
  const ImVec2 low = ImGui::GetCursorScreenPos();
  const ImVec2 high(low.x + width, low.y + tall + 2 * padding.y);
  const std::string name = std::string("##") + id;
  const bool clicked = ImGui::InvisibleButton(name.c_str(), ImVec2(width, tall + 2 * padding.y));
  auto& shapes = *ImGui::GetWindowDrawList();
  shapes.AddRect(low, high, theme().soft_ink, 0, 0, ImGui::GetStyle().FrameBorderSize);
  shapes.AddText(font, font->FontSize, ImVec2(low.x + padding.x, low.y + padding.y), theme().ink, text.data(), end,
                 wrap);
  note(name, text);
  return clicked;
}

void go_on_typing(bool on) {
  going_on = on;
}

float below_top() {
  return px(top);
}

void set_below_top(float y) {
  top = y / px(1);
}

SheetScope::SheetScope(const char* id) {
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  const float beside = std::min(px(40), size.x / 32);
  const float beneath = std::min(px(20), size.y / 40);
  ImGui::SetCursorPos(ImVec2(beside, below_top()));
  ImGui::BeginChild(id, ImVec2(size.x - 2 * beside, size.y - below_top() - beneath), false,
                    ImGuiWindowFlags_AlwaysUseWindowPadding | ImGuiWindowFlags_NoNav);
  ImGui::Indent(px(24));
  gap(0.6f);
}

void screen_head(std::string_view title, bool practice) {
  constexpr std::string_view words = "PRACTICE, NOT A RECORD";
  say(fonts().huge, theme().ink, title);
  if (!practice) return;
  const auto width = [](ImFont* font, std::string_view text) {
    return font->CalcTextSizeA(font->FontSize, FLT_MAX, 0, text.data(), text.data() + text.size()).x;
  };
  if (width(fonts().huge, title) + width(fonts().strong, words) + px(40) < ImGui::GetContentRegionAvail().x)
    ImGui::SameLine(0, px(30));
  say(fonts().strong, theme().shout, words);
}

void scroll_by_keys() {
  const float page = ImGui::GetWindowHeight() * 0.8f;
  if (pressed(key::page_down)) ImGui::SetScrollY(std::min(ImGui::GetScrollY() + page, ImGui::GetScrollMaxY()));
  if (pressed(key::page_up)) ImGui::SetScrollY(std::max(ImGui::GetScrollY() - page, 0.0f));
}

void hatch(ImVec2 low, ImVec2 high) {
  auto& shapes = *ImGui::GetWindowDrawList();
  shapes.PushClipRect(low, high, true);
  const float tall = high.y - low.y;
  for (float x = low.x - tall; x < high.x; x += px(8))
    shapes.AddLine(ImVec2(x, high.y), ImVec2(x + tall, low.y), theme().ink, px(2));
  shapes.PopClipRect();
  shapes.AddRect(low, high, theme().ink, 0, 0, px(2) * theme().line);
}

float line_height() {
  return fonts().text->FontSize * 1.5f;
}

std::string cut_to(ImFont* font, std::string text, float room) {
  const auto width = [&] { return font->CalcTextSizeA(font->FontSize, 1e9f, 0, text.c_str()).x; };
  if (width() <= room) return text;
  do {
    const auto space = text.find_last_of(' ', text.size() - std::min<std::size_t>(text.size(), 5));
    if (space == std::string::npos) break;
    text = text.substr(0, space) + " ...";
  } while (width() > room);
  return text;
}

void closed_line(const std::string& text, Mark mark) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float height = line_height();
  const float room = ImGui::GetContentRegionAvail().x - px(24);
  auto& shapes = *ImGui::GetWindowDrawList();
  if (mark == Mark::stripe) {
    shapes.AddRectFilled(at, ImVec2(at.x + room, at.y + height), theme().metal);
    shapes.AddLine(ImVec2(at.x + px(8), at.y + height), ImVec2(at.x + px(16), at.y), theme().paint, px(7));
  }
  if (mark == Mark::hatching) hatch(at, ImVec2(at.x + px(22), at.y + height));
  const float left = mark == Mark::none ? 0 : px(30);
  ImFont* font = mark == Mark::stripe ? fonts().strong : fonts().text;
  ImGui::SetCursorScreenPos(ImVec2(at.x + left, at.y + height * 0.15f));
  say(font, mark == Mark::none ? theme().soft_ink : theme().ink, cut_to(font, text, room - left));
  ImGui::SetCursorScreenPos(ImVec2(at.x, at.y + height + px(6)));
}

void rule() {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  ImGui::GetWindowDrawList()->AddLine(at, ImVec2(at.x + ImGui::GetContentRegionAvail().x, at.y), theme().faint,
                                      px(1.5f) * theme().line);
  gap(0.4f);
}

void gap(float text_heights) {
  ImGui::Dummy(ImVec2(0, text_heights * ImGui::GetFontSize()));
}

void list_what_is_drawn(std::vector<Drawn>* into) {
  list = into;
}

void list_text(std::string_view text, ImVec2 low, ImVec2 high) {
  ask_for_letters(text);
  if (list) list->push_back({"", std::string(text), low, high, 0, low, high});
}

} // namespace bench
