// UTF-8 (RFC 3629) one character at a time, strictly: no surrogates, no longer form than needed, nothing above
// U+10FFFF.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace json {

struct Character {
  char32_t code = 0;
  std::size_t bytes = 0; // 1..4
};

std::optional<Character> first_character(std::string_view text); // nullopt: empty, or not valid at its start
bool is_utf8(std::string_view text);

// Control characters (line ends and tabs too), line and paragraph separators, bidirectional formatting characters
// (Unicode property Bidi_Control).
bool is_hidden(char32_t code);

// A stranger's text for a message of one line: in double quotes, hidden characters and bytes that are not UTF-8 written
// as escapes, cut after `longest` characters.
std::string shown(std::string_view text, std::size_t longest = 60);

} // namespace json
