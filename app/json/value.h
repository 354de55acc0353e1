// A JSON document that remembers how each number was written and where everything stood, so that a fault can be
// reported by line and column and "2.500" stays "2.500". Members keep the file's order.
#pragma once

#include "quantity/result.h"

#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace json {

using quantity::Error;
using quantity::Result;

enum class Kind { null, boolean, number, text, array, object };
std::string_view name_of(Kind kind); // "a number", "an object", ... for messages

struct Place {
  std::uint32_t line = 0;   // from 1; 0: not read from a file
  std::uint32_t column = 0; // from 1, in characters (code points)
};

class Value;
struct Member;
struct Given; // a member of an object that is made

class Value {
public:
  Value() = default; // null
  static Value boolean(bool value);
  static Value integer(std::int64_t value);
  static Value number(std::string text); // text must be a JSON number
  static Value text(std::string value);
  static Value array(); // empty
  static Value array(std::vector<Value> items);
  static Value object(std::initializer_list<Given> members = {}); // each key once

  Kind kind() const { return static_cast<Kind>(data_.index()); }
  bool is(Kind kind) const { return this->kind() == kind; }
  Place place() const { return place_; }

  // Each throws std::logic_error when the value is of another kind: ask kind() first.
  bool as_boolean() const;
  const std::string& as_text() const;     // text
  const std::string& number_text() const; // number, exactly as written
  const std::vector<Value>& items() const;
  std::vector<Value>& items();
  const std::vector<Member>& members() const;
  std::vector<Member>& members();

  // A whole number that fits, else nullopt (1.0 and 1e2 are not taken for whole).
  std::optional<std::int64_t> as_integer() const;

  // Objects only; null when absent. `at` throws std::logic_error when absent (for our own documents).
  const Value* find(std::string_view key) const;
  Value* find(std::string_view key);
  const Value& at(std::string_view key) const;
  Value& set(std::string_view key, Value value); // adds or replaces; returns the member's value
  void remove(std::string_view key);
  Value& push(Value value); // arrays

  // Text of a member of our own documents, or "" when absent or no text.
  const std::string& text_or_empty(std::string_view key) const;

  bool operator==(const Value& other) const; // places do not count; objects compare without order

private:
  friend class Builder;
  struct Number {
    std::string as_written;
  };
  // One for each kind, in the order of Kind.
  std::variant<std::monostate, bool, Number, std::string, std::vector<Value>, std::vector<Member>> data_;
  Place place_;
};

struct Member {
  std::string key;
  Value value;
  Place place; // of the key
};

struct Given {
  std::string_view key;
  mutable Value value; // moved out of the list it is written in
};

} // namespace json
