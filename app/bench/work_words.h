// The registry of computations as a mechanic reads it: its names and meanings in words, how each input is typed, the
// computations under headings, narrowed down by typing. Pure: no screen.
#pragma once

#include "calc/registry.h"

#include <string>
#include <string_view>
#include <vector>

namespace bench {

std::string in_words(std::string_view name);                  // "gauge_bore": "Gauge bore"
std::string title_of(const calc::Computation& computation);   // "oil-clearance": "Oil clearance"
std::string heading_of(std::string_view group);               // "strip": "Sizes, clearances and play"
std::string sentence_of(std::string_view clause);             // a note or a refusal as one writes it
std::string meaning_of(const calc::Field& field);             // of an input
std::string meaning_of(const calc::ResultField& field);       // of a result
std::string formula_of(const calc::Computation& computation); // with the names as they stand on the screen
std::string how_to_type(const calc::Field& field);            // one or two sentences
std::vector<const calc::Field*> in_order(const calc::Computation& computation); // inputs, the required ones first

struct Offered {
  std::string heading; // of the first under it, else ""
  const calc::Computation* computation = nullptr;
};

// Those in which every word of `narrowed` occurs. Without one all, by heading; else those that have it in their title
// first, without headings.
std::vector<Offered> offered(std::string_view narrowed);

} // namespace bench
