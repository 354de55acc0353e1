#include "bench/lines.h"

#include "bench/keys.h"
#include "bench/widgets.h"

#include <imgui.h>

#include <algorithm>

namespace bench {

namespace {

constexpr float unseen = 3.4f; // text heights of a line that was not drawn yet

} // namespace

bool LineList::move(std::size_t count) {
  if (count == 0) {
    chosen = 0;
    return false;
  }
  const std::size_t before = chosen;
  if (pressed(key::down)) ++chosen;
  if (pressed(key::page_down)) chosen += page_;
  if (pressed(key::up)) chosen -= std::min<std::size_t>(chosen, 1);
  if (pressed(key::page_up)) chosen -= std::min(chosen, page_);
  chosen = std::min(chosen, count - 1);
  if (chosen == before) return false;
  bring_ = 2;
  return true;
}

void LineList::begin_anew(std::size_t at) {
  chosen = at;
  heights_.clear();
  bring_ = 2;
}

float LineList::height_of(std::size_t line) const {
  return heights_[line] > 0 ? heights_[line] : unseen * font_;
}

std::optional<std::size_t> LineList::show(std::size_t count, float foot,
                                          const std::function<void(std::size_t, bool)>& draw) {
  const ImVec2 room(0, std::max(ImGui::GetContentRegionAvail().y - foot, px(60)));
  ImGui::BeginChild("##lines", room, false, ImGuiWindowFlags_NoNav);
  const float width = ImGui::GetContentRegionAvail().x;
  if (width != width_ || font_ != ImGui::GetFontSize() || heights_.size() != count) {
    heights_.assign(count, 0);
    width_ = width;
    font_ = ImGui::GetFontSize();
  }
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ImGui::GetStyle().ItemSpacing.x, px(3)));
  ImGui::Indent(px(20));
  const float high = ImGui::GetWindowHeight();
  const float scroll = ImGui::GetScrollY();
  std::optional<std::size_t> clicked;
  std::size_t whole = 0;
  float y = 0;
  for (std::size_t i = 0; i < count; ++i) {
    const bool here = i == chosen;
    const bool in_sight = y + height_of(i) >= scroll && y <= scroll + high;
    if (!in_sight && !here) {
      y += height_of(i);
      continue;
    }
    ImGui::SetCursorPosY(y);
    const IdScope scope(static_cast<int>(i));
    const ImVec2 low = ImGui::GetCursorScreenPos();
    ImGui::BeginGroup();
    gap(0.25f);
    draw(i, here);
    gap(0.25f);
    ImGui::EndGroup();
    if (ImGui::IsItemClicked()) clicked = i;
    const float tall = ImGui::GetItemRectMax().y - low.y + px(3);
    auto& shapes = *ImGui::GetWindowDrawList();
    if (here)
      shapes.AddRectFilled(ImVec2(low.x - px(16), low.y + px(3)), ImVec2(low.x - px(8), low.y + tall - px(3)),
                           theme().ink);
    shapes.AddLine(ImVec2(low.x, low.y + tall - px(2)), ImVec2(low.x + width - px(24), low.y + tall - px(2)),
                   theme().faint, 1);
    heights_[i] = tall;
    if (y >= scroll && y + tall <= scroll + high) ++whole;
    if (here && bring_ > 0) {
      if (y < scroll) ImGui::SetScrollY(y);
      if (y + tall > scroll + high) ImGui::SetScrollY(std::min(y, y + tall - high));
      --bring_;
    }
    y += tall;
  }
  page_ = std::max<std::size_t>(whole, 2) - 1;
  ImGui::SetCursorPosY(y);
  ImGui::Dummy(ImVec2(1, px(1)));
  ImGui::PopStyleVar();
  ImGui::EndChild();
  if (clicked) chosen = *clicked;
  return clicked;
}

namespace {

std::string lower(std::string_view text) {
  std::string out(text);
  std::ranges::transform(out, out.begin(), [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  return out;
}

} // namespace

bool narrows(std::string_view typed, std::string_view text) {
  const std::string words = lower(typed);
  const std::string in = lower(text);
  for (std::size_t from = 0; from < words.size();) {
    const std::size_t end = std::min(words.find(' ', from), words.size());
    if (in.find(words.substr(from, end - from)) == std::string::npos) return false;
    from = end + 1;
  }
  return true;
}

bool narrowing_field(const char* id, std::string& typed, bool& focus, std::string_view about) {
  const std::string before = typed;
  text_line(id, typed, fonts().large, std::min(px(420), ImGui::GetContentRegionAvail().x - px(24)),
            focus || enter_pressed());
  focus = false;
  const float width = ImGui::CalcTextSize(about.data(), about.data() + about.size()).x;
  ImGui::SameLine();
  if (width > ImGui::GetContentRegionAvail().x - px(24)) ImGui::NewLine();
  say(fonts().text, theme().soft_ink, about);
  return typed != before;
}

} // namespace bench
