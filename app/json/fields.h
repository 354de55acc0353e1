// Reading the fields of an object that a person or a script wrote: what is missing, of the wrong kind or unknown is
// noted as a fault with its place and JSON pointer, and reading goes on, so that every fault is told at once.
#pragma once

#include "json/read.h"

#include "quantity/exact.h"

#include <string>
#include <vector>

namespace json {

class Fields {
public:
  // `what` names the object in messages ("limit \"main-clearance\""). The object and the sink must outlive this.
  // A value that is no object is one fault, and every field then reads as absent without further faults.
  Fields(const Value& object, std::string pointer, std::string what, std::vector<Fault>& faults);

  bool has(std::string_view key) const { return value_->is(Kind::object) && value_->find(key); }
  const Value* any(std::string_view key, bool required = true);        // marks the key as known; it outlives this
  const std::string* text(std::string_view key, bool required = true); // not empty
  std::optional<bool> boolean(std::string_view key, bool required = true);
  std::optional<std::int64_t> integer(std::string_view key, bool required = true);
  std::optional<quantity::Exact> number(std::string_view key, bool required = true); // a JSON number
  const Value* array(std::string_view key, bool required = true);
  const Value* object(std::string_view key, bool required = true);

  // A fault at a member (or at the object itself when key is "" or absent).
  void fault(std::string_view key, std::string message);
  std::string pointer_to(std::string_view key) const; // escapes ~ and /
  // Every member not asked for until now is a fault ("unknown field ..., did you mean ...?"). Call once, last.
  void refuse_unknown();

  const Value& value() const { return *value_; }
  const std::string& what() const { return what_; }
  const std::vector<std::string_view>& known() const { return known_; } // every key asked for until now, once
  bool is_known(std::string_view key) const;

private:
  const Value* wanted(std::string_view key, bool required, Kind kind);
  std::string_view nearest_known(std::string_view key) const; // empty: none is near

  const Value* value_;
  std::string pointer_;
  std::string what_;
  std::vector<Fault>& faults_;
  std::vector<std::string_view> known_;
};

// Hidden ones and bytes that are not UTF-8: refused in any text that comes from a stranger.
bool has_hidden_characters(std::string_view utf8);

} // namespace json
