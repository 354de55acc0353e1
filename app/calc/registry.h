// Every computation, described once: the command line, the checks of a procedure, calculated entries, the window's
// calculators and --help all come from here.
#pragma once

#include "calc/inputs.h"

#include <variant>

namespace calc {

struct Outcome; // one result
using Outcomes = std::vector<Outcome>;
struct Outcome : std::variant<std::monostate, bool, Exact, std::string, Quantity, Outcomes> {
  using variant::variant;
  bool is_null() const { return index() == 0; }
  const Quantity* quantity() const { return std::get_if<Quantity>(this); }
};

struct NamedOutcome {
  std::string name;
  Outcome outcome;
};

struct Answer {
  std::vector<NamedOutcome> results; // in the description's order
  std::vector<std::string> notes;
  const Outcome* find(std::string_view name) const;
};

enum class ResultKind { quantity, quantities, number, text, truth, any };

struct ResultField {
  std::string_view name;
  ResultKind kind = ResultKind::quantity;
  std::optional<Dimension> dimension; // of a quantity; none: that of the inputs
  std::string_view meaning;
};

struct Example {
  std::string_view input;  // JSON
  std::string_view answer; // JSON, as `compute` gives it; a test runs it
};

struct Computation {
  std::string_view name;
  std::string_view group;   // file of app/calc it lives in: "form", "clearance", ...
  std::string_view purpose; // one sentence
  std::vector<Field> inputs;
  std::vector<ResultField> results; // any may be null where its meaning says so
  std::string_view formula;         // as text
  std::string_view source;          // document and place, "common practice, no source" or "from memory"
  Example example;
  Result<Answer> (*work)(const Given& given);
};

const std::vector<Computation>& all_computations();
const Computation* find_computation(std::string_view name);

// Reads the inputs, checks them and computes. Code "bad-input" names the field; never a number from bad input.
Result<Answer> compute(const Computation& computation, const json::Value& input);

json::Value to_json(const Outcome& outcome);
// {"calculation": NAME, "results": {...}, "notes": [...]}
json::Value to_json(const Computation& computation, const Answer& answer);

} // namespace calc
