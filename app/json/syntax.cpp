#include "json/syntax.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace json {

namespace {

constexpr std::string_view white = " \t\n\r";

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
bool is_control(char c) {
  return static_cast<unsigned char>(c) < 0x20;
}

std::size_t digits_at(std::string_view text, std::size_t at) {
  std::size_t count = 0;
  while (at + count < text.size() && is_digit(text[at + count])) ++count;
  return count;
}

std::size_t skip(std::string_view text, std::size_t at, std::string_view what) {
  return std::min(text.find_first_not_of(what, at), text.size());
}

// Behind the closing quote of the string whose opening quote is at `at`.
std::size_t string_end(std::string_view text, std::size_t at) {
  const std::size_t begin = at + 1;
  while ((at = text.find('"', at + 1)) != std::string_view::npos) {
    std::size_t escapes = 0;
    while (at - escapes > begin && text[at - escapes - 1] == '\\') ++escapes;
    if (escapes % 2 == 0) return at + 1;
  }
  return text.size();
}

std::size_t token_length(std::string_view rest) {
  if (rest.empty()) return 0;
  switch (rest[0]) {
  case '"': return string_end(rest, 0);
  case 't':
  case 'n': return std::min<std::size_t>(4, rest.size());
  case 'f': return std::min<std::size_t>(5, rest.size());
  case '{':
  case '}':
  case '[':
  case ']': return 1;
  default: return number_length(rest);
  }
}

// The code unit of a \uXXXX escape at `at`, nullopt when there is none.
std::optional<unsigned> escaped_unit(std::string_view text, std::size_t at) {
  if (text.substr(at, 2) != "\\u") return std::nullopt;
  const std::string_view digits = text.substr(at + 2, 4);
  unsigned unit = 0;
  for (const char c : digits) {
    const char lower = static_cast<char>(c | 0x20);
    if (!is_digit(c) && !(lower >= 'a' && lower <= 'f')) return std::nullopt;
    unit = unit * 16 + static_cast<unsigned>(is_digit(c) ? c - '0' : lower - 'a' + 10);
  }
  return digits.size() == 4 ? std::optional(unit) : std::nullopt;
}

// The fault of the escape at `at`, or how many bytes a good one takes.
struct Escape {
  std::size_t bytes = 0;
  std::string fault;
};

Escape look_at_escape(std::string_view text, std::size_t at) {
  const char kind = at + 1 < text.size() ? text[at + 1] : '\0';
  if (kind != 'u') {
    if (std::string_view("\"\\/bfnrt").find(kind) != std::string_view::npos) return {2, {}};
    return {0, "behind a backslash stands one of \" \\ / b f n r t u; a backslash itself is written \\\\"};
  }
  const auto unit = escaped_unit(text, at);
  if (!unit) return {0, "\\u takes four hexadecimal digits"};
  if (*unit < 0xd800 || *unit > 0xdfff) return {6, {}};
  const auto second = *unit < 0xdc00 ? escaped_unit(text, at + 6) : std::nullopt;
  if (second && *second >= 0xdc00 && *second <= 0xdfff) return {12, {}};
  return {0, fmt::format("\\u{:04x} is half of a character; its other half is missing", *unit)};
}

Trouble explain_string(std::string_view text, std::size_t start) {
  for (std::size_t at = start + 1; at < text.size() && text[at] != '"';) {
    if (text[at] == '\\') {
      const Escape escape = look_at_escape(text, at);
      if (!escape.fault.empty() && at + 1 < text.size()) return {at, escape.fault};
      at += std::max<std::size_t>(escape.bytes, 1);
    } else if (text[at] == '\n' || text[at] == '\r') {
      return {start, "the text that starts here has no closing quote on its line; a line end inside it is written \\n"};
    } else if (is_control(text[at])) {
      const auto code = static_cast<unsigned>(static_cast<unsigned char>(text[at]));
      return {at, fmt::format("a control character inside a text is written \\u{:04x}", code)};
    } else if (const auto character = first_character(text.substr(at))) {
      at += character->bytes;
    } else {
      return {at, "these bytes are not valid UTF-8; save the file as UTF-8"};
    }
  }
  return {start, "the text that starts here has no closing quote"};
}

Trouble explain_number(std::string_view text, std::size_t at) {
  const std::size_t length = number_length(text.substr(at));
  const char next = at + length < text.size() ? text[at + length] : '\0';
  if (length == 0) return {at, "a minus sign must be followed by the digits of a number"};
  if (next == '.') return {at, "a number needs a digit behind its decimal point"};
  if (next == 'e' || next == 'E') return {at, "a number needs a digit in its exponent"};
  return {at, "this number is too large"};
}

std::string explain_word(std::string_view text, std::size_t at) {
  std::size_t end = at;
  while (end < text.size() && (is_letter(text[end]) || is_digit(text[end]) || text[end] == '_')) ++end;
  return fmt::format("{} stands without quotes, and only true, false, null and numbers may",
                     shown(text.substr(at, end - at)));
}

// A character with which neither a value nor a key can start.
std::string explain_stray(std::string_view text, std::size_t at, std::string_view wanted) {
  const char c = text[at];
  if (is_letter(c)) return explain_word(text, at);
  if (c == '\'') return "text stands in double quotes, not in single ones";
  if (c == '/' || c == '#') return "a comment has no place in JSON; remove it";
  if (c == '+' || c == '.') return "a number starts with a digit or a minus sign";
  if (is_control(c)) return "a control character stands here; remove it";
  const auto character = first_character(text.substr(at));
  if (!character) return "these bytes are not valid UTF-8; save the file as UTF-8";
  if (character->code == 0xfeff) return "a byte order mark stands here; save the file without it";
  if (character->code >= 0x2018 && character->code <= 0x201f) return "text stands in straight double quotes";
  return fmt::format("{} is missing before {}", wanted, shown(text.substr(at, character->bytes)));
}

Trouble explain_value(std::string_view text, std::size_t at) {
  if (at == text.size()) return {at, "the text ends where a value is missing; is the file whole?"};
  if (text[at] == '"') return explain_string(text, at);
  if (is_digit(text[at]) || text[at] == '-') return explain_number(text, at);
  return {at, explain_stray(text, at, "a value")};
}

Trouble explain_key(std::string_view text, std::size_t at) {
  if (at == text.size())
    return {at, "the text ends inside an object; its closing } is missing, or the file is not whole"};
  if (text[at] == '"') return explain_string(text, at);
  if (is_digit(text[at]) || text[at] == '-' || text[at] == '[' || text[at] == '{')
    return {at, "the name of a field is missing here; it stands in double quotes"};
  if (is_letter(text[at])) return {at, "the name of a field stands in double quotes"};
  return {at, explain_stray(text, at, "the name of a field")};
}

// The last good token was a number or a word, and something is written against it: 012, 1.2.3, truely.
bool runs_on(std::string_view text, std::size_t from) {
  if (from == 0 || from >= text.size()) return false;
  const auto part_of_scalar = [](char c) { return is_letter(c) || is_digit(c) || c == '.' || c == '+' || c == '-'; };
  return part_of_scalar(text[from - 1]) && part_of_scalar(text[from]);
}

Trouble explain_comma(std::string_view text, std::size_t from, bool in_array) {
  const char closing = in_array ? ']' : '}';
  const std::string_view inside = in_array ? "a list" : "an object";
  const std::size_t at = skip(text, from, white);
  if (at == text.size())
    return {at, fmt::format("the text ends inside {}; its closing {} is missing, or the file is not whole", inside,
                            closing)};
  if (text[at] != ',') return {at, fmt::format("a comma or the closing {} is missing here", closing)};
  const std::size_t next = skip(text, at + 1, white);
  if (next < text.size() && text[next] == closing) return {at, "nothing follows this comma; remove it"};
  return in_array ? explain_value(text, next) : explain_key(text, next);
}

} // namespace

std::size_t number_length(std::string_view text) {
  std::size_t at = text.substr(0, 1) == "-" ? 1 : 0;
  const std::size_t whole = digits_at(text, at);
  if (whole == 0) return 0;
  at += text[at] == '0' ? 1 : whole;
  if (text.substr(at, 1) == ".") {
    const std::size_t places = digits_at(text, at + 1);
    if (places == 0) return at;
    at += 1 + places;
  }
  if (at < text.size() && (text[at] == 'e' || text[at] == 'E')) {
    const bool sign = at + 1 < text.size() && (text[at + 1] == '+' || text[at + 1] == '-');
    const std::size_t digits = digits_at(text, at + (sign ? 2 : 1));
    if (digits > 0) at += (sign ? 2 : 1) + digits;
  }
  return at;
}

Place Places::at(std::size_t offset) {
  std::string_view passed = text_.substr(offset_, offset - offset_);
  offset_ = offset;
  if (const auto feed = passed.rfind('\n'); feed != std::string_view::npos) {
    place_.line += static_cast<std::uint32_t>(std::ranges::count(passed, '\n'));
    place_.column = 1;
    passed.remove_prefix(feed + 1);
  }
  const auto begins_character = [](char c) { return (static_cast<unsigned char>(c) & 0xc0) != 0x80; };
  place_.column += static_cast<std::uint32_t>(std::ranges::count_if(passed, begins_character));
  return place_;
}

void Tokens::advance() {
  const auto between = [](char c) { return c == ',' || c == ':' || c == ' ' || c == '\n' || c == '\t' || c == '\r'; };
  for (start_ = end_; start_ < text_.size() && between(text_[start_]);) ++start_;
  end_ = start_ + token_length(text_.substr(start_));
}

Trouble explain(std::string_view text, std::size_t from, Expected expected) {
  const std::size_t at = skip(text, from, white);
  if (runs_on(text, from)) return {from, "this does not belong to the number or word before it"};
  switch (expected) {
  case Expected::value:
    return at == text.size() ? Trouble{at, "the text is empty; is it the right file?"} : explain_value(text, at);
  case Expected::key_or_end: return explain_key(text, at);
  case Expected::colon:
    if (at == text.size()) return {at, "the text ends behind the name of a field; is the file whole?"};
    if (text[at] != ':') return {at, "a colon is missing here, between a field's name and its value"};
    return explain_value(text, skip(text, at + 1, white));
  case Expected::value_or_end:
    if (at == text.size())
      return {at, "the text ends inside a list; its closing ] is missing, or the file is not whole"};
    return explain_value(text, at);
  case Expected::comma_in_array: return explain_comma(text, from, true);
  case Expected::comma_in_object: return explain_comma(text, from, false);
  case Expected::nothing: return {at, "something stands behind the end of the document; remove it"};
  }
  throw std::logic_error("unknown expectation");
}

} // namespace json
