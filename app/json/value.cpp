#include "json/value.h"

#include "json/syntax.h"

#include <algorithm>
#include <charconv>
#include <stdexcept>

namespace json {

namespace {

[[noreturn]] void refuse(const Value& value, Kind kind) {
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
  made.data_.emplace<bool>(value);
  return made;
}

Value Value::integer(std::int64_t value) {
  return number(std::to_string(value));
}

Value Value::number(std::string text) {
  if (text.empty() || number_length(text) != text.size()) throw std::logic_error("not a JSON number: " + text);
  Value made;
  made.data_.emplace<Number>(Number{std::move(text)});
  return made;
}

Value Value::text(std::string value) {
  Value made;
  made.data_.emplace<std::string>(std::move(value));
  return made;
}

Value Value::array() {
  return array(std::vector<Value>());
}

Value Value::array(std::vector<Value> items) {
  Value made;
  made.data_.emplace<std::vector<Value>>(std::move(items));
  return made;
}

Value Value::object(std::initializer_list<Given> members) {
  Value made;
  auto& all = made.data_.emplace<std::vector<Member>>();
  all.reserve(members.size());
  for (const Given& given : members) all.push_back({std::string(given.key), std::move(given.value), Place{}});
  return made;
}

bool Value::as_boolean() const {
  if (const bool* held = std::get_if<bool>(&data_)) return *held;
  refuse(*this, Kind::boolean);
}

const std::string& Value::as_text() const {
  if (const auto* held = std::get_if<std::string>(&data_)) return *held;
  refuse(*this, Kind::text);
}

const std::string& Value::number_text() const {
  if (const auto* held = std::get_if<Number>(&data_)) return held->as_written;
  refuse(*this, Kind::number);
}

const std::vector<Value>& Value::items() const {
  if (const auto* held = std::get_if<std::vector<Value>>(&data_)) return *held;
  refuse(*this, Kind::array);
}

std::vector<Value>& Value::items() {
  return const_cast<std::vector<Value>&>(std::as_const(*this).items());
}

const std::vector<Member>& Value::members() const {
  if (const auto* held = std::get_if<std::vector<Member>>(&data_)) return *held;
  refuse(*this, Kind::object);
}

std::vector<Member>& Value::members() {
  return const_cast<std::vector<Member>&>(std::as_const(*this).members());
}

std::optional<std::int64_t> Value::as_integer() const {
  const auto* held = std::get_if<Number>(&data_);
  if (!held) return std::nullopt;
  const std::string& text = held->as_written;
  std::int64_t whole = 0;
  const char* const end = text.data() + text.size();
  const auto [stopped, error] = std::from_chars(text.data(), end, whole);
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
  return members().emplace_back(Member{std::string(key), std::move(value), Place{}}).value;
}

void Value::remove(std::string_view key) {
  std::erase_if(members(), [&](const Member& member) { return member.key == key; });
}

Value& Value::push(Value value) {
  return items().emplace_back(std::move(value));
}

const std::string& Value::text_or_empty(std::string_view key) const {
  static const std::string empty;
  const Value* found = find(key);
  return found && found->is(Kind::text) ? found->as_text() : empty;
}

bool Value::operator==(const Value& other) const {
  if (kind() != other.kind()) return false;
  switch (kind()) {
  case Kind::null: return true;
  case Kind::boolean: return as_boolean() == other.as_boolean();
  case Kind::number: return number_text() == other.number_text();
  case Kind::text: return as_text() == other.as_text();
  case Kind::array: return items() == other.items();
  case Kind::object: return equal_members(members(), other);
  }
  throw std::logic_error("unknown kind of JSON value");
}

} // namespace json
