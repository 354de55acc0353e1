#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdint>

namespace json {

namespace {

// The length that a lead byte beyond ASCII announces, 0 when no character starts with it.
std::size_t announced_length(unsigned char lead) {
  if (lead >= 0xc2 && lead < 0xe0) return 2;
  if (lead >= 0xe0 && lead < 0xf0) return 3;
  if (lead >= 0xf0 && lead < 0xf5) return 4;
  return 0;
}

} // namespace

bool is_hidden(char32_t code) {
  const auto within = [&](char32_t low, char32_t high) { return code >= low && code <= high; };
  if (within(0x20, 0x7e)) return false;
  return code < 0x20 || within(0x7f, 0x9f)          // control characters
         || code == 0x61c || within(0x200e, 0x200f) // marks of direction
         || within(0x2028, 0x202e) /* line and paragraph separator, embeddings, overrides */ || within(0x2066, 0x2069);
}

std::optional<Character> first_character(std::string_view text) {
  if (text.empty()) return std::nullopt;
  const auto lead = static_cast<unsigned char>(text[0]);
  if (lead < 0x80) return Character{lead, 1};
  const std::size_t bytes = announced_length(lead);
  if (bytes == 0 || bytes > text.size()) return std::nullopt;
  constexpr std::array<unsigned char, 5> lead_bits = {0, 0, 0x1f, 0x0f, 0x07};
  auto code = static_cast<char32_t>(lead & lead_bits[bytes]);
  for (std::size_t i = 1; i < bytes; ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    if ((byte & 0xc0) != 0x80) return std::nullopt;
    code = (code << 6) | static_cast<char32_t>(byte & 0x3f);
  }
  constexpr std::array<char32_t, 5> smallest = {0, 0, 0x80, 0x800, 0x10000};
  const bool surrogate = code >= 0xd800 && code < 0xe000;
  if (code < smallest[bytes] || surrogate || code > 0x10ffff) return std::nullopt;
  return Character{code, bytes};
}

bool is_utf8(std::string_view text) {
  const auto ascii = [](char c) { return static_cast<unsigned char>(c) < 0x80; };
  while (!text.empty()) {
    const auto beyond = std::find_if_not(text.begin(), text.end(), ascii);
    text.remove_prefix(static_cast<std::size_t>(beyond - text.begin()));
    if (text.empty()) break;
    const auto character = first_character(text);
    if (!character) return false;
    text.remove_prefix(character->bytes);
  }
  return true;
}

std::string shown(std::string_view text, std::size_t longest) {
  std::string out = "\"";
  for (std::size_t count = 0; !text.empty(); ++count) {
    if (count == longest) {
      out += "...";
      break;
    }
    const auto character = first_character(text);
    const std::size_t bytes = character ? character->bytes : 1;
    const std::string_view piece = text.substr(0, bytes);
    if (!character) {
      out += fmt::format("\\x{:02x}", static_cast<unsigned char>(text[0]));
    } else if (is_hidden(character->code)) {
      out += fmt::format("\\u{:04x}", static_cast<std::uint32_t>(character->code));
    } else {
      out += piece;
    }
    text.remove_prefix(bytes);
  }
  return out + "\"";
}

} // namespace json
