// Writes JSON. The canonical form is RFC 8785 for documents whose numbers are whole and below 2^53: every decimal of a
// record is a string, so nothing else occurs in one.
#pragma once

#include "json/value.h"

namespace json {

// Members sorted by UTF-16 code units, no white space. std::logic_error for a number that is not whole or not below
// 2^53.
std::string canonical(const Value& value);
void add_canonical(std::string& to, const Value& value);
void add_canonical(std::string& to, std::string_view text); // as a JSON string

std::string compact(const Value& value); // members in their order, numbers as written, one line
std::string spaced(const Value& value);  // the same with a blank behind each comma and colon
std::string pretty(const Value& value);  // the same, indented by two

} // namespace json
