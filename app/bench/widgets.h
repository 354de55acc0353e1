// The few widgets the screens are made of. Text fields keep what is typed as text; keys are printed on the buttons;
// guards end what they began. What was drawn can be listed, for tests.
#pragma once

#include "bench/fonts.h"
#include "bench/theme.h"

#include <span>
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

bool pressed(int key); // once a press, never by repeat; a function key without Shift
bool enter_pressed();
bool pressed_with_shift(int key);

// Wrapped to the room there is.
void say(std::string_view text);
void say(ImFont* font, ImU32 colour, std::string_view text);
// On the same line as what was said before.
void say_beside(ImFont* font, ImU32 colour, std::string_view text);

// A button 2.2 text heights tall that shows its key. True when clicked; the key is the caller's to watch, in one place.
bool key_button(const char* id, std::string_view label, std::string_view key);

// Several in a row: close together, and closer, where the room asks for it, and in more rows where even that does not
// help. `key_row` gives the one that was clicked.
struct KeyLabel {
  std::string id, label, key;
};
enum class Fit { wide, tight, tightest };
Fit fit_of(std::span<const KeyLabel> row, float room);
float width_of(std::span<const KeyLabel> row, Fit fit); // side by side
float height_of(std::span<const KeyLabel> row, float room, Fit fit);
const KeyLabel* key_row(std::span<const KeyLabel> row, float room, Fit fit);

// One line of text, at least `columns` characters wide where there is room. `secret`: shown as dots, never listed.
// Escape leaves what is typed as it stands. A field that takes the keys has what stands in it replaced by what is
// typed.
void text_field(const char* id, std::string& text, int columns, bool take_focus, bool secret = false);

// A field so wide, in that font; typing goes on behind what stands in it.
void text_line(const char* id, std::string& text, ImFont* font, float width, bool take_focus);
void secret_line(const char* id, std::string& text, ImFont* font, float width,
                 bool take_focus); // as dots, never listed
// The same at rest, in as many lines as its text needs. True when clicked.
bool resting_line(const char* id, std::string_view text, ImFont* font, float width);
// In this frame fields that take the keys go on behind what stands in them: one comes back to what one was typing.
void go_on_typing(bool on);

// Where the top line ends and the sheets begin; whoever draws the top line says so.
float below_top();
void set_below_top(float y);

// A sheet over the whole bench below the top line, with its margin; scrolls when there is more.
class SheetScope {
public:
  explicit SheetScope(const char* id);
  ~SheetScope() { ImGui::EndChild(); }
  SheetScope(const SheetScope&) = delete;
  SheetScope& operator=(const SheetScope&) = delete;
};

// The name of a screen, and behind it, or below, that this is a practice shop.
void screen_head(std::string_view title, bool practice);

void scroll_by_keys(); // Page Up and Page Down, within the sheet that is being drawn

void hatch(ImVec2 low, ImVec2 high); // what is away
// One line of what is closed: with the painted stripe across it once it is signed, hatched while it waits for a part at
// the machine shop.
enum class Mark { none, stripe, hatching };
void closed_line(const std::string& text, Mark mark);
float line_height(); // of such a line
// As much of a text as there is room for, cut between words.
std::string cut_to(ImFont* font, std::string text, float room);
void rule(); // a thin line across the sheet
void gap(float text_heights);

// --- for tests ---------------------------------------------------------------------------------------------------
struct Drawn {
  std::string id; // of a button or field, "" for text
  std::string text;
  ImVec2 low, high;
  unsigned full_id = 0;
  ImVec2 room_low, room_high; // what is seen of the window it stands in
  float above = 0, below = 0; // how far that can still be scrolled
};
void list_what_is_drawn(std::vector<Drawn>* into);              // null ends it
void list_text(std::string_view text, ImVec2 low, ImVec2 high); // drawn without a widget

} // namespace bench
