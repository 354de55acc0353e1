// Reading the fields of an action line. Decimals may be numbers or typed text; what is wrong is one "bad-value".
#pragma once

#include "build/state.h"
#include "quantity/typed.h"
#include "json/fields.h"

namespace build {

class Asked {
public:
  // `known`: every field that the action may carry beside `do`; an unknown one is refused.
  Asked(const json::Value& action, std::initializer_list<std::string_view> known);

  std::string text(std::string_view key, bool required = true); // "" when absent
  std::string line(std::string_view key,
                   bool required = true); // the same, free text: no hidden characters, 2,000 at most
  std::string id(std::string_view key);   // a-z 0-9 - _ . and at most 64
  std::optional<bool> truth(std::string_view key);
  std::optional<Exact> decimal(std::string_view key, bool required = false);
  std::optional<calc::Date> date(std::string_view key);
  const json::Value* any(std::string_view key, bool required = true);
  std::vector<std::string> texts(std::string_view key, bool required = false); // a list of texts
  bool has(std::string_view key) const;

  // The first thing that was wrong so far.
  std::optional<Error> wrong() const;

private:
  void fault(std::string_view key, std::string message);
  const json::Value& action_;
  std::optional<Error> wrong_;
};

// A number as written in JSON, or the text a person types, in `unit` (converted when typed in another).
Result<quantity::Quantity> typed_value(const json::Value& value, const Unit& unit);

// The action as it goes into the event: without secrets, decimals as text.
json::Value as_recorded(const json::Value& action);

Error bad_value(std::string message);

} // namespace build
