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

// A plain decimal, with or without sign.
bool is_number(std::string_view text);
int places_of(std::string_view number); // behind the dot

// An uncertainty, to two digits.
std::string shown_u(const build::Exact& u);

// "outside: concession", "within, worn: used again"; "" for a value plainly within, or recorded and not judged.
std::string remark(const build::Judged& judged);

// Places behind the dot that all numbers of a limit are written with: as many as the longest of them has.
int places_of(const procedure::Limit& limit);
// "0.020 to 0.062 mm", "at most 0.10 mm", "at least 12 mm", "4"; `of` gives unit and places.
std::string bounds_text(const build::Bounds& bounds, const procedure::Limit& of);
// What a stage aims at: "30 N.m", "88 to 94 deg", "90 deg, good from 88 to 94 deg".
std::string aim_text(const build::Build& build, const procedure::Entry& entry, const procedure::Stage& stage);

std::string unit_name(const build::Unit& unit); // "" for a plain number
std::string with_unit(const std::string& number, const build::Unit& unit);

// Numbers of more than six places are cut to six, underscores are blanks: for texts of a computation.
std::string readable(std::string_view text);
// A formula as a mechanic would read it: words for names, and signs of arithmetic. "pi strip_diameter^2 / (4 width)"
// becomes "π strip diameter² / (4 width)", "abs(a - b) <= sqrt(c)" "size of (a − b) is at most root of (c)".
std::string formula_in_words(std::string_view formula);

std::string place_name(const build::Build& build, build::EntryAt at, std::size_t place); // "" when there is one
std::string of_entry(const build::Build& build, build::EntryAt at);                      // "Mains: Oil clearance"

} // namespace handover
