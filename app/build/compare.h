// An option's choices side by side: which limits move and to what, and how all that is recorded would stand under each.
// Changes nothing.
#pragma once

#include "build/limits.h"

#include <map>

namespace build {

struct Compared {
  std::string choice;
  bool now = false;      // it holds now
  bool proposed = false; // by the calculation
  struct Moved {
    std::string limit; // id
    std::string title;
    std::string standard; // "82.500 to 82.518 mm"; "" when it has none
    std::string service;
  };
  std::vector<Moved> limits; // those that depend on the option
  // How many values recorded there would stand so; as found or now.
  struct Standings {
    EntryAt at;
    bool as_found = false;
    std::map<Standing, int> count;
  };
  std::vector<Standings> values;
  std::vector<std::size_t> steps; // on this engine under this choice alone, or not under every one
};

// One for each choice, in the procedure's order; empty when there is no such option.
std::vector<Compared> compare(const Build& build, const std::string& option);

// For the query `compare`: {option, choices: [{choice, now, proposed, limits, values, steps}]}.
json::Value to_json(const Build& build, const std::string& option, const std::vector<Compared>& all);

} // namespace build
