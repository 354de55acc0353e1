// What a person types into the fields of a computation, turned into the JSON the command line takes. An input is one
// line or several:
//   a quantity     "61.962 mm", with its expanded uncertainty "61.962 mm u 0.004"
//   several        "0.1 0.2 0.15 mm": blanks between. One unit holds for all; with several each number has its own. "-"
//                  leaves a point out. u stands at the end of a line and holds for all of the input; "shared 0.002" is
//                  the U of a setting they share
//   rows           one line each; ";" begins a row too
//   records        one line each, the members in their order with ";" between. One without a unit has that of the lines
//                  before, one left empty is left out
// Every number goes on as it was typed, so that calc refuses what is wrong with it. Pure: no screen.
#pragma once

#include "bench/work_cells.h"

#include <map>
#include <string>
#include <vector>

namespace bench {

using TypedFields = std::map<std::string, Lines, std::less<>>; // by the field's name

bool is_blank(const Lines& lines);
bool same(const TypedFields& a, const TypedFields& b); // blank lines and fields do not count

// May this input have more than one line?
bool takes_lines(const calc::Field& field);

// Lines that are not blank, as the value of the field. Code "bad-input"; the message is a clause without the field.
calc::Result<json::Value> value_typed(const calc::Field& field, const Lines& lines);

// How a field of a call would have been typed; empty when the call does not hold it.
Lines lines_of(const calc::Field& field, const json::Value& call);
TypedFields example_typed(const calc::Computation& computation);

} // namespace bench
