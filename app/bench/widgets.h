// The few widgets the screens are made of. Text fields keep what is typed as text; keys are printed on the buttons;
// guards end what they began. What was drawn can be listed, for tests.
#pragma once

#include "bench/fonts.h"
#include "bench/theme.h"

#include <string>
#include <string_view>
#include <vector>

namespace bench {

// PushID and PopID in step, also on an early return.
class IdScope {
public:
  explicit IdScope(std::string_view id) { ImGui::PushID(id.data(), id.data() + id.size()); }
  explicit IdScope(int id) { ImGui::PushID(id); }
  ~IdScope() { ImGui::PopID(); }
  IdScope(const IdScope&) = delete;
  IdScope& operator=(const IdScope&) = delete;
};

class FontScope {
public:
  explicit FontScope(ImFont* font) { ImGui::PushFont(font); }
  ~FontScope() { ImGui::PopFont(); }
  FontScope(const FontScope&) = delete;
  FontScope& operator=(const FontScope&) = delete;
};

// Lengths are given for text of 20 pixels and grow with it.
float px(float length);
ImVec2 px(float x, float y);

bool pressed(int key); // once a press, never by repeat
bool enter_pressed();

// Wrapped to the room there is.
void say(std::string_view text);
void say(ImFont* font, ImU32 colour, std::string_view text);
// On the same line as what was said before.
void say_beside(ImFont* font, ImU32 colour, std::string_view text);

// A button 2.2 text heights tall that shows its key. True when clicked; the key is the caller's to watch, in one place.
bool key_button(const char* id, std::string_view label, std::string_view key);

// One line of text, at least `columns` characters wide. `secret`: shown as dots, never listed.
void text_field(const char* id, std::string& text, int columns, bool take_focus, bool secret = false);

// A sheet over the whole bench below the top line, with its margin; scrolls when there is more.
class SheetScope {
public:
  explicit SheetScope(const char* id);
  ~SheetScope() { ImGui::EndChild(); }
  SheetScope(const SheetScope&) = delete;
  SheetScope& operator=(const SheetScope&) = delete;
};

void rule(); // a thin line across the sheet
void gap(float text_heights);

// --- for tests ---------------------------------------------------------------------------------------------------
struct Drawn {
  std::string id; // of a button or field, "" for text
  std::string text;
  ImVec2 low, high;
  unsigned full_id = 0;
};
void list_what_is_drawn(std::vector<Drawn>* into); // null ends it

} // namespace bench
