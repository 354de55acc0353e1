// What stands behind a command's name on the command line: switches and operands, checked against what the command
// takes. "--name VALUE" and "--name=VALUE" are the same; a value that itself starts with "--" needs the second form;
// everything behind "--" is an operand.
#pragma once

#include "quantity/result.h"

#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace command {

using quantity::Error;
using quantity::Result;

enum class Takes {
  nothing,
  one,    // and stands once
  several // all that follow until the next switch; may stand more than once
};

struct Switch {
  std::string_view name; // "--shop"
  Takes takes = Takes::nothing;
  std::string_view value = {}; // what the value is called: "FILE"
  bool required = false;
};

struct Usage {
  std::string_view line; // "witnessmark backup --shop FILE --out FILE"; said in every refusal
  std::vector<Switch> switches = {};
  std::string_view operand = {}; // what an operand is called; "" when there are none
  std::size_t least = 0;         // operands
  std::size_t most = 0;
};

inline constexpr std::size_t any_number = static_cast<std::size_t>(-1);

class Arguments {
public:
  bool has(std::string_view name) const { return values_.contains(name); }
  // Of a switch that takes one and is there: std::logic_error otherwise.
  const std::string& value(std::string_view name) const;
  const std::vector<std::string>& values(std::string_view name) const; // empty when the switch is not there
  const std::vector<std::string>& operands() const { return operands_; }

private:
  friend class ArgumentReader;
  std::map<std::string, std::vector<std::string>, std::less<>> values_;
  std::vector<std::string> operands_;
};

// Code "bad-arguments"; the message names what is wrong and how the command is called. A value that was given to the
// wrong switch is never repeated in it, for it may be a secret.
Result<Arguments> read_arguments(const Usage& usage, const std::vector<std::string>& arguments);

// Whether "--help" is among them, whatever else is wrong with them.
bool ask_for_help(const std::vector<std::string>& arguments);

} // namespace command
