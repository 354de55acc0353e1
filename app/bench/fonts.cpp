#include "bench/fonts.h"

#include "json/utf8.h"

#include <imgui.h>

#include <algorithm>
#include <bitset>
#include <cmath>
#include <filesystem>
#include <initializer_list>

namespace bench {

namespace {

// Of Debian's package fonts-dejavu-core.
constexpr const char* plain = "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf";
constexpr const char* bold = "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf";

// Those there can be: Latin with its extensions, Greek, general punctuation, arrows, mathematics and technical signs
// (the diameter sign). Their texture fits in every OpenGL.
struct Block {
  char32_t first, last;
};
constexpr Block blocks[] = {{0x0020, 0x024F}, {0x0370, 0x03FF}, {0x2010, 0x205E}, {0x2070, 0x209F}, {0x2126, 0x2126},
                            {0x2150, 0x218F}, {0x2190, 0x21FF}, {0x2200, 0x22FF}, {0x2300, 0x23FF}};
// Of those, what the screens' own words have.
constexpr ImWchar usual[] = {0x0020, 0x007E, 0x00B0, 0x00B7, 0x00D7, 0x00D7, 0x03BC, 0x03BC, 0x03C0, 0x03C0,
                             0x2013, 0x2014, 0x21E7, 0x21E7, 0x2212, 0x2212, 0x22C5, 0x22C5, 0};
constexpr ImWchar ascii[] = {0x0020, 0x007E, 0};

Fonts loaded;
std::bitset<0x2400> others; // letters that were asked for beside the usual ones
bool lacking = false;

bool may_be_loaded(char32_t code) {
  return std::ranges::any_of(blocks, [=](Block one) { return code >= one.first && code <= one.last; });
}

// As Dear ImGui keeps them: pairs of the first and the last, then 0. It looks at them until the texture is made.
const ImWchar* letters_asked_for() {
  static ImVector<ImWchar> ranges;
  ImFontGlyphRangesBuilder builder;
  builder.AddRanges(usual);
  for (std::size_t code = 0; code < others.size(); ++code)
    if (others[code]) builder.AddChar(static_cast<ImWchar>(code));
  ranges.clear();
  builder.BuildRanges(&ranges);
  return ranges.Data;
}

} // namespace

std::string load_fonts(float scale) {
  lacking = false;
  for (const char* const file : {plain, bold})
    if (!std::filesystem::exists(file))
      return "The font DejaVu Sans is missing; install the package fonts-dejavu-core.";
  auto& atlas = *ImGui::GetIO().Fonts;
  atlas.Clear();
  atlas.Flags |= ImFontAtlasFlags_NoPowerOfTwoHeight; // else half of the texture may be empty
  const auto add = [&](const char* file, float size, const ImWchar* what) {
    return atlas.AddFontFromFileTTF(file, std::floor(size * scale), nullptr, what);
  };
  const ImWchar* const letters = letters_asked_for();
  loaded = {add(plain, 20, letters), add(bold, 20, letters), add(bold, 27, letters),
            add(bold, 44, letters),  add(bold, 72, ascii),   scale};
  return "";
}

const Fonts& fonts() {
  return loaded;
}

void ask_for_letters(std::string_view text) {
  const auto other = [](char byte) { return static_cast<unsigned char>(byte) >= 0x80; };
  auto at = std::ranges::find_if(text, other);
  while (at != text.end()) {
    const auto letter = json::first_character({at, text.end()});
    if (letter && !is_usual(letter->code) && may_be_loaded(letter->code) && !others[letter->code]) {
      others.set(letter->code);
      lacking = true;
    }
    at = std::find_if(at + static_cast<std::ptrdiff_t>(letter ? letter->bytes : 1), text.end(), other);
  }
}

bool letters_lacking() {
  return lacking;
}

bool is_usual(unsigned code_point) {
  for (const ImWchar* range = usual; *range != 0; range += 2)
    if (code_point >= range[0] && code_point <= range[1]) return true;
  return false;
}

bool has_glyph(unsigned code_point) {
  if (code_point > 0xFFFF || !loaded.text) return false;
  return loaded.text->FindGlyphNoFallback(static_cast<ImWchar>(code_point)) != nullptr;
}

} // namespace bench
