// What was typed into the fields of a computation, worked out by calc alone. Pure: no screen.
#pragma once

#include "bench/work_text.h"

#include <optional>

namespace bench {

struct Worked {
  json::Value input;                                     // what went to the computation, or would
  std::optional<calc::Answer> answer;                    // only when nothing is missing and nothing wrong
  std::vector<std::string> missing;                      // required fields that are blank
  std::map<std::string, std::string, std::less<>> wrong; // what is wrong with a field, in a sentence
  std::string refused;                                   // what is wrong with no field in particular
};
Worked work_out(const calc::Computation& computation, const TypedFields& typed);

} // namespace bench
