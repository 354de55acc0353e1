// How values, verdicts and places are put into words on the pages of a handover.
#pragma once

#include "build/limits.h"

#include <optional>
#include <string>
#include <string_view>

namespace handover {

// Rounded for reading: to two digits of its uncertainty, else to five digits; further where a rounded value would seem
// to lie on the other side of a limit. Zeros behind the last digit are kept as far as the uncertainty goes.
std::string shown(const build::Exact& value, const build::Exact& u, const std::optional<build::Bounds>& bounds);

// An uncertainty, to two digits.
std::string shown_u(const build::Exact& u);

// "outside: concession", "within, worn: used again"; "" for a value plainly within, or recorded and not judged.
std::string remark(const build::Judged& judged);

std::string unit_name(const build::Unit& unit); // "" for a plain number
std::string with_unit(const std::string& number, const build::Unit& unit);

// Numbers of more than six places are cut to six, underscores are blanks: for texts of a computation.
std::string readable(std::string_view text);

std::string place_name(const build::Build& build, build::EntryAt at, std::size_t place); // "" when there is one
std::string of_entry(const build::Build& build, build::EntryAt at);                      // "Mains: Oil clearance"

} // namespace handover
