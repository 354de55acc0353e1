// How far the numbers of each limit have been copied from the manual: by whom, and whether a second reading agrees.
#pragma once

#include "procedure/procedure.h"

namespace procedure {

enum class Transcribed {
  empty,   // no numbers, and nobody has said that there are none
  entered, // once; nobody has read them a second time
  checked, // two readings agree
  differs, // two readings do not agree, or one was changed since
  none     // the maker gives none
};
std::string_view name_of(Transcribed state); // "entered", ..., "maker gives none"

Transcribed transcribed(const Limit& limit, const LimitValues& values);

// "standard high: 0.062 entered, 0.026 checked": each number, and the unit, in which two readings differ. Empty when
// they agree, or when there is only one. Compared exactly.
std::vector<std::string> differences(const Limit& limit, const LimitValues& values);

// Numbers that judge an engine although nobody read them a second time, or two readings of them differ. Not those of an
// example.
bool unchecked(const Limit& limit, const LimitValues& values);
// "numbers not checked by a second person", "numbers entered and checked differ", or "".
std::string_view doubt_of(const Limit& limit, const LimitValues& values);

// As one line tells them: "standard 0.020 to 0.062 mm; service at most 0.1 mm", the unit alone where there are none;
// "maker: Workshop manual, page 3-12"; "entered by Maud Fenwick on 2026-11-26; read again by Ivo Tarrant on
// 2026-11-27".
std::string numbers_text(const Limit& limit, const LimitValues& values);
std::string origin_text(const Limit& limit);
std::string hands_text(const LimitValues& values);

// One set of numbers that somebody has to copy: a limit's own, or those of one line of its "when".
struct NumberSet {
  std::string limit;
  std::size_t line = 0; // 0: when no line of "when" holds; else the line, from 1
  auto operator<=>(const NumberSet&) const = default;
};
// Those of every limit in the file's order; the limit's own are left out where its lines leave no engine to them.
std::vector<NumberSet> number_sets(const Procedure& procedure);
const LimitValues* values_of(const Procedure& procedure, const NumberSet& set); // null when there is no such set
std::string pointer_of(const NumberSet& set);
// "Main journal" or the limit's name; with a line, "Main journal, main-undersize 0.25"
std::string title_of(const Procedure& procedure, const NumberSet& set);

} // namespace procedure
