// The tokens of a JSON text (RFC 8259): where each stands, and what is wrong where a text stops being JSON.
// Offsets are bytes from the start of the text.
#pragma once

#include "json/value.h"

namespace json {

// Length of the longest JSON number at the start of the text, 0 when none starts there.
std::size_t number_length(std::string_view text);

// Line and column of offsets asked for in ascending order. A line ends at a line feed.
class Places {
public:
  explicit Places(std::string_view text) : text_(text) {}
  Place at(std::size_t offset);

private:
  std::string_view text_;
  std::size_t offset_ = 0;
  Place place_{1, 1};
};

// Walks over the tokens of a text that something else has found to be JSON as far as it is walked.
class Tokens {
public:
  explicit Tokens(std::string_view text) : text_(text) {}
  // On to the next bracket, key or value; commas and colons are passed over.
  void advance();
  std::size_t start() const { return start_; }
  std::size_t end() const { return end_; } // behind the last byte
  std::string_view token() const { return text_.substr(start_, end_ - start_); }

private:
  std::string_view text_;
  std::size_t start_ = 0;
  std::size_t end_ = 0;
};

// What may follow the last good token.
enum class Expected {
  value,           // at the start of the text
  key_or_end,      // behind {
  colon,           // behind a key
  value_or_end,    // behind [
  comma_in_array,  // behind an item
  comma_in_object, // behind a member
  nothing,         // behind the document
};

struct Trouble {
  std::size_t offset = 0; // at most the length of the text
  std::string message;    // one sentence
};

// Why the text is no JSON behind `from`, the end of its last good token.
Trouble explain(std::string_view text, std::size_t from, Expected expected);

} // namespace json
