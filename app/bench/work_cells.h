// Quantities as a person types them, one or many, and the JSON they become. Every number goes on as it was typed. Pure:
// no screen.
#pragma once

#include "calc/registry.h"

#include <string>
#include <string_view>
#include <vector>

namespace bench {

using Lines = std::vector<std::string>;

std::string trimmed(std::string_view text);
std::vector<std::string> words_in(std::string_view line);
std::vector<std::string> parts_of(std::string_view line); // between ";"
quantity::Error bad_typing(std::string clause);           // code "bad-input", without the field

// The value of a field of Shape::one, and of one with more numbers. They refuse what has no place in such a field; what
// is wrong with a number itself is left to calc.
calc::Result<json::Value> quantity_typed(const calc::Field& field, const std::string& line);
calc::Result<json::Value> quantities_typed(const calc::Field& field, const Lines& lines);

// The numbers of a line, each with its unit; the whole line when it says an uncertainty.
std::vector<std::string> quantities_in(const std::string& line);

} // namespace bench
