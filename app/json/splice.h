// One value of a JSON text exchanged for another, every other byte left as it is, so that a file written by hand keeps
// its look.
#pragma once

#include "json/value.h"

namespace json {

// From the first byte of the value at this place to behind its last; the place must be that of a value which was read
// from this text.
struct Span {
  std::size_t from = 0;
  std::size_t to = 0;
};
Span span_of(std::string_view text, Place place);

std::string spliced(std::string_view text, Span span, std::string_view fresh);

} // namespace json
