#include "bench/fonts.h"

#include <fontconfig/fontconfig.h>
#include <imgui.h>

#include <cmath>

namespace bench {

namespace {

Fonts loaded;

std::string font_file(FcConfig* config, const char* style) {
  FcPattern* pattern = FcPatternCreate();
  FcPatternAddString(pattern, FC_FAMILY, reinterpret_cast<const FcChar8*>("DejaVu Sans"));
  FcPatternAddString(pattern, FC_STYLE, reinterpret_cast<const FcChar8*>(style));
  FcConfigSubstitute(config, pattern, FcMatchPattern);
  FcDefaultSubstitute(pattern);
  FcResult result = FcResultNoMatch;
  FcPattern* match = FcFontMatch(config, pattern, &result);
  std::string file;
  FcChar8* path = nullptr;
  if (match && FcPatternGetString(match, FC_FILE, 0, &path) == FcResultMatch)
    file = reinterpret_cast<const char*>(path);
  if (match) FcPatternDestroy(match);
  FcPatternDestroy(pattern);
  return file.find("DejaVuSans") == std::string::npos ? std::string() : file;
}

// Latin with its extensions, Greek, general punctuation, arrows, mathematics and technical signs (the diameter sign).
constexpr ImWchar ranges[] = {0x0020, 0x024F, 0x0370, 0x03FF, 0x2010, 0x205E, 0x2070, 0x209F, 0x2126, 0x2126,
                              0x2150, 0x218F, 0x2190, 0x21FF, 0x2200, 0x22FF, 0x2300, 0x23FF, 0};

constexpr ImWchar ascii[] = {0x0020, 0x007E, 0};

} // namespace

std::string load_fonts(float scale) {
  FcConfig* config = FcInitLoadConfigAndFonts();
  const std::string plain = font_file(config, "Book");
  const std::string bold = font_file(config, "Bold");
  FcConfigDestroy(config); // everything it has read of the other fonts; those of pages, drawn beside it, stay
  if (plain.empty() || bold.empty()) return "The font DejaVu Sans is missing; install the package fonts-dejavu-core.";
  auto& atlas = *ImGui::GetIO().Fonts;
  atlas.Clear();
  atlas.Flags |= ImFontAtlasFlags_NoPowerOfTwoHeight; // else half of the texture may be empty
  const auto add = [&](const std::string& file, float size, const ImWchar* what) {
    return atlas.AddFontFromFileTTF(file.c_str(), std::floor(size * scale), nullptr, what);
  };
  loaded = {add(plain, 20, ranges), add(bold, 20, ranges), add(bold, 27, ranges),
            add(bold, 44, ranges),  add(bold, 72, ascii),  scale};
  return "";
}

const Fonts& fonts() {
  return loaded;
}

bool has_glyph(unsigned code_point) {
  if (code_point > 0xFFFF || !loaded.text) return false;
  return loaded.text->FindGlyphNoFallback(static_cast<ImWchar>(code_point)) != nullptr;
}

} // namespace bench
