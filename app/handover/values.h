// Every value of a build that was read or calculated, with what it was judged by: what the pages, the lists of the
// cover and the figure of all clearances are made from.
#pragma once

#include "build/limits.h"

#include <string>
#include <vector>

namespace handover {

struct OneValue {
  std::string result; // of a calculated entry; "" for a reading
  std::size_t place = 0;
  std::string where; // name of the place
  bool left_out = false;
  std::string as_found;              // the same point before strip-down, without unit; "" when it was not taken
  build::Exact value, u;             // in `unit`
  const build::Unit* unit = nullptr; // never null
  build::Applied by;                 // its bounds in the limit's unit, which may be another one
  bool judged_at_all = false;        // a limit was named
  std::string doubt;                 // of the limit's numbers, see build::doubt_of
  build::Judged judged;
  std::size_t tries = 1;
  std::vector<std::string> gauges; // those that count
  std::vector<std::string> how;    // "set at 82.000 on ring-82, back at zero: +0.001"
  bool asked = false;              // taken apart since, and not said to be still true

  build::Exact in_limit_unit() const;
  build::Exact u_in_limit_unit() const;
  std::string number() const; // rounded for reading, without unit
};

// Of a reading, readings or calculated entry; nothing for any other kind or where nothing is recorded.
std::vector<OneValue> values_of(const build::Build& build, build::EntryAt at);

void add_once(std::vector<std::string>& list, const std::string& text); // where it does not stand yet

// "0.020 to 0.062 mm (maker: manual, page 12)", with what is doubted of the numbers behind the source; "recorded, not
// judged", "limit missing".
std::string limits_text(const OneValue& value);

// The bounds alone: "0.020 to 0.062 mm, service limit". There must be some.
std::string bounds_text(const OneValue& value);

// How much room a value has to its nearest limit, as a part of the whole tolerance or of the limit itself. There must
// be bounds.
double room_of(const OneValue& value);

// Within, and nearer to a limit than its uncertainty.
bool close_to_limit(const OneValue& value);

} // namespace handover
