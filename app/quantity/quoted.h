// Foreign text inside a message: in quotes, cut to one line's worth, control characters shown as "?".
#pragma once

#include <string>
#include <string_view>

namespace quantity {

inline std::string quoted(std::string_view text) {
  constexpr std::size_t longest = 48; // bytes
  const bool cut = text.size() > longest;
  if (cut) {
    std::size_t end = longest;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0) == 0x80) --end; // never inside a UTF-8 character
    text = text.substr(0, end);
  }
  std::string shown = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    shown += byte < 0x20 || byte == 0x7F ? '?' : c;
  }
  return shown + (cut ? "...\"" : "\"");
}

} // namespace quantity
