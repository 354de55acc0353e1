#include "json/value.h"

#include "json/syntax.h"

#include <algorithm>
#include <charconv>
#include <stdexcept>

namespace json {

namespace {

void demand(const Value& value, Kind kind) {
  if (value.is(kind)) return;
  throw std::logic_error("JSON value is " + std::string(name_of(value.kind())) + ", not " + std::string(name_of(kind)));
}

bool equal_members(const std::vector<Member>& ours, const Value& other) {
  const std::vector<Member>& theirs = other.members();
  if (ours.size() != theirs.size()) return false;
  for (std::size_t i = 0; i < ours.size(); ++i) {
    const Value* found = theirs[i].key == ours[i].key ? &theirs[i].value : other.find(ours[i].key);
    if (!found || !(ours[i].value == *found)) return false;
  }
  return true;
}

} // namespace

std::string_view name_of(Kind kind) {
  switch (kind) {
  case Kind::null: return "null";
  case Kind::boolean: return "true or false";
  case Kind::number: return "a number";
  case Kind::text: return "a text";
  case Kind::array: return "a list";
  case Kind::object: return "an object";
  }
  throw std::logic_error("unknown kind of JSON value");
}

Value Value::boolean(bool value) {
  Value made;
  made.kind_ = Kind::boolean;
  made.boolean_ = value;
  return made;
}

Value Value::integer(std::int64_t value) {
  return number(std::to_string(value));
}

Value Value::number(std::string text) {
  if (text.empty() || number_length(text) != text.size()) throw std::logic_error("not a JSON number: " + text);
  Value made;
  made.kind_ = Kind::number;
  made.text_ = std::move(text);
  return made;
}

Value Value::text(std::string value) {
  Value made;
  made.kind_ = Kind::text;
  made.text_ = std::move(value);
  return made;
}

Value Value::array() {
  return array(std::vector<Value>());
}

Value Value::array(std::vector<Value> items) {
  Value made;
  made.kind_ = Kind::array;
  made.items_ = std::move(items);
  return made;
}

Value Value::object(std::initializer_list<std::pair<std::string_view, Value>> members) {
  Value made;
  made.kind_ = Kind::object;
  for (const auto& [key, value] : members) made.set(key, value);
  return made;
}

bool Value::as_boolean() const {
  demand(*this, Kind::boolean);
  return boolean_;
}

const std::string& Value::as_text() const {
  demand(*this, Kind::text);
  return text_;
}

const std::string& Value::number_text() const {
  demand(*this, Kind::number);
  return text_;
}

const std::vector<Value>& Value::items() const {
  demand(*this, Kind::array);
  return items_;
}

std::vector<Value>& Value::items() {
  demand(*this, Kind::array);
  return items_;
}

const std::vector<Member>& Value::members() const {
  demand(*this, Kind::object);
  return members_;
}

std::vector<Member>& Value::members() {
  demand(*this, Kind::object);
  return members_;
}

std::optional<std::int64_t> Value::as_integer() const {
  if (kind_ != Kind::number) return std::nullopt;
  std::int64_t whole = 0;
  const char* const end = text_.data() + text_.size();
  const auto [stopped, error] = std::from_chars(text_.data(), end, whole);
  if (error != std::errc() || stopped != end) return std::nullopt;
  return whole;
}

const Value* Value::find(std::string_view key) const {
  const auto& all = members();
  const auto found = std::find_if(all.begin(), all.end(), [&](const Member& member) { return member.key == key; });
  return found == all.end() ? nullptr : &found->value;
}

Value* Value::find(std::string_view key) {
  return const_cast<Value*>(std::as_const(*this).find(key));
}

const Value& Value::at(std::string_view key) const {
  const Value* found = find(key);
  if (!found) throw std::logic_error("JSON object has no member " + std::string(key));
  return *found;
}

Value& Value::set(std::string_view key, Value value) {
  if (Value* found = find(key)) return *found = std::move(value);
  return members_.emplace_back(Member{std::string(key), std::move(value), Place{}}).value;
}

void Value::remove(std::string_view key) {
  demand(*this, Kind::object);
  std::erase_if(members_, [&](const Member& member) { return member.key == key; });
}

Value& Value::push(Value value) {
  demand(*this, Kind::array);
  return items_.emplace_back(std::move(value));
}

std::string Value::text_or_empty(std::string_view key) const {
  const Value* found = find(key);
  return found && found->is(Kind::text) ? found->text_ : std::string();
}

bool Value::operator==(const Value& other) const {
  if (kind_ != other.kind_) return false;
  switch (kind_) {
  case Kind::null: return true;
  case Kind::boolean: return boolean_ == other.boolean_;
  case Kind::number:
  case Kind::text: return text_ == other.text_;
  case Kind::array: return items_ == other.items_;
  case Kind::object: return equal_members(members_, other);
  }
  throw std::logic_error("unknown kind of JSON value");
}

} // namespace json
