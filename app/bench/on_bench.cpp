#include "bench/on_bench.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace bench {

namespace {

// Characters as UTF-8. ImGui 1.86 holds nothing above U+FFFF.
void add(std::string& text, ImWchar character) {
  const unsigned code = character;
  if (code < 0x20 || code == 0x7F) return;
  if (code < 0x80) {
    text += static_cast<char>(code);
  } else if (code < 0x800) {
    text += static_cast<char>(0xC0 | (code >> 6));
    text += static_cast<char>(0x80 | (code & 0x3F));
  } else {
    text += static_cast<char>(0xE0 | (code >> 12));
    text += static_cast<char>(0x80 | ((code >> 6) & 0x3F));
    text += static_cast<char>(0x80 | (code & 0x3F));
  }
}

constexpr std::size_t longest = 40; // of what is told

void tell(OnBench& its) {
  if (its.typed.empty()) return;
  its.told = fmt::format("{} was typed before this engine was taken to the bench: not recorded.", its.typed);
  its.typed.clear();
}

void take_in(OnBench& its) {
  for (const ImWchar character : ImGui::GetIO().InputQueueCharacters)
    if (its.typed.size() < longest) add(its.typed, character);
  if (enter_pressed() || pressed(key::tab)) tell(its);
}

// The largest that has its letters, and room for it.
ImFont* font_for(const std::string& text) {
  const auto fits = [&](ImFont* font) {
    return font->CalcTextSizeA(font->FontSize, 1e9f, 0, text.c_str()).x < ImGui::GetContentRegionAvail().x - px(24);
  };
  const bool plain = std::ranges::all_of(text, [](char c) { return c >= 0x20 && c < 0x7F; });
  return plain && fits(fonts().giant) ? fonts().giant : fits(fonts().huge) ? fonts().huge : fonts().large;
}

std::string where_it_was(const Ui& ui) {
  const auto& builds = ui.desk.shop().builds;
  const auto last = builds.find(ui.on_bench.build);
  if (last == builds.end()) return "There are several engines in this shop; none is on the bench yet.";
  return fmt::format("On the bench until now: {}  {}, {}.", last->second.model, last->second.serial,
                     last->second.customer);
}

} // namespace

bool is_on_bench(const Ui& ui) {
  return ui.desk.build() && ui.desk.build()->id == ui.on_bench.build;
}

bool takes_entries(const std::string& screen) {
  constexpr std::array<std::string_view, 5> those = {"sheet", "strip-down", "parts", "sizes", "findings"};
  return std::ranges::find(those, screen) != those.end();
}

void take_to_bench_screen(Ui& ui) {
  const SheetScope sheet("##take-to-bench");
  OnBench& its = ui.on_bench;
  const auto& build = *ui.desk.build();
  ui.sheet = SheetState(); // nothing half typed for the other engine comes along
  take_in(its);
  gap(0.5f);
  say(font_for(build.model), theme().ink, build.model);
  say(font_for(build.serial), theme().ink, build.serial);
  say(fonts().large, theme().ink, build.customer);
  if (build.practice || ui.desk.shop().practice) say(fonts().strong, theme().shout, "PRACTICE, NOT A RECORD");
  gap(0.5f);
  say(fonts().large, theme().ink, "Is this the engine on the bench? Look at the number on the block.");
  const bool struck = key_button("take-to-bench", "This is the engine on the bench", "F5") || pressed(key::f1 + 4);
  gap(0.3f);
  say(fonts().text, theme().soft_ink,
      where_it_was(ui) + " Until F5 nothing that is typed is taken, by hand or by a gauge.");
  if (!its.told.empty()) say(fonts().large, theme().shout, its.told);
  if (!struck) return;
  ui.again = true;
  if (!its.typed.empty()) { // a gauge may be in the middle of it
    tell(its);
    its.told += " Strike F5 once more.";
    return;
  }
  its.build = build.id;
  ui.message = its.told;
  ui.refused = !its.told.empty();
  its.told.clear();
  ui.sheet.focus = ui.sheet.scroll = true;
}

} // namespace bench
