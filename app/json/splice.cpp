#include "json/splice.h"

#include "json/syntax.h"
#include "json/utf8.h"

namespace json {

namespace {

std::size_t offset_of(std::string_view text, Place place) {
  std::size_t at = 0;
  for (std::uint32_t line = 1; line < place.line; ++line) at = text.find('\n', at) + 1;
  for (std::uint32_t column = 1; column < place.column; ++column) at += first_character(text.substr(at))->bytes;
  return at;
}

} // namespace

Span span_of(std::string_view text, Place place) {
  const std::size_t from = offset_of(text, place);
  Tokens tokens(text.substr(from));
  int depth = 0;
  do {
    tokens.advance();
    const char first = tokens.token().front();
    if (first == '{' || first == '[') ++depth;
    if (first == '}' || first == ']') --depth;
  } while (depth > 0);
  return {from, from + tokens.end()};
}

std::string spliced(std::string_view text, Span span, std::string_view fresh) {
  return std::string(text.substr(0, span.from)) + std::string(fresh) + std::string(text.substr(span.to));
}

} // namespace json
