#include "build/asked.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

using json::Kind;
using json::Value;

Error bad_value(std::string message) {
  return Error{"bad-value", std::move(message)};
}

Asked::Asked(const Value& action, std::initializer_list<std::string_view> known) : action_(action) {
  for (const auto& member : action.members())
    if (member.key != "do" && std::find(known.begin(), known.end(), member.key) == known.end())
      fault(member.key, fmt::format("takes no field \"{}\"; it takes: {}", member.key, fmt::join(known, ", ")));
}

void Asked::fault(std::string_view, std::string message) {
  if (!wrong_) wrong_ = bad_value(fmt::format("{}: {}.", action_.text_or_empty("do"), message));
}

bool Asked::has(std::string_view key) const {
  return action_.find(key) != nullptr;
}

const Value* Asked::any(std::string_view key, bool required) {
  const Value* value = action_.find(key);
  if (!value && required) fault(key, fmt::format("the field \"{}\" is missing", key));
  return value;
}

std::string Asked::text(std::string_view key, bool required) {
  const Value* value = any(key, required);
  if (!value) return {};
  if (!value->is(Kind::text)) {
    fault(key, fmt::format("\"{}\" must be text, not {}", key, json::name_of(value->kind())));
    return {};
  }
  if (value->as_text().empty()) {
    if (required) fault(key, fmt::format("\"{}\" is empty", key));
    return {};
  }
  if (json::has_hidden_characters(value->as_text()))
    fault(key, fmt::format("\"{}\" holds control or hidden characters; type it again without them", key));
  if (value->as_text().size() > 2000) fault(key, fmt::format("\"{}\" is longer than 2,000 characters", key));
  return value->as_text();
}

std::string Asked::line(std::string_view key, bool required) {
  std::string out = text(key, required);
  if (required && !wrong_ && out.find_first_not_of(' ') == std::string::npos)
    fault(key, fmt::format("\"{}\" is empty", key));
  return out;
}

std::string Asked::id(std::string_view key) {
  std::string out = text(key);
  const bool good = out.size() <= 64 && std::all_of(out.begin(), out.end(), [](char c) {
                      return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-' || c == '_' || c == '.';
                    });
  if (!good) fault(key, fmt::format("\"{}\" must be at most 64 of a-z, 0-9, - _ and .", key));
  return out;
}

std::optional<bool> Asked::truth(std::string_view key) {
  const Value* value = any(key, false);
  if (!value) return std::nullopt;
  if (value->is(Kind::boolean)) return value->as_boolean();
  fault(key, fmt::format("\"{}\" must be true or false", key));
  return std::nullopt;
}

std::optional<Exact> Asked::decimal(std::string_view key, bool required) {
  const Value* value = any(key, required);
  if (!value) return std::nullopt;
  if (!value->is(Kind::number) && !value->is(Kind::text)) {
    fault(key, fmt::format("\"{}\" must be a number", key));
    return std::nullopt;
  }
  const auto number = Exact::decimal(value->is(Kind::number) ? value->number_text() : value->as_text());
  if (number) return *number;
  fault(key, fmt::format("\"{}\": {}", key, number.error().message));
  return std::nullopt;
}

std::optional<calc::Date> Asked::date(std::string_view key) {
  if (!has(key)) return std::nullopt;
  const std::string value = text(key, false);
  if (wrong_) return std::nullopt;
  const auto date = calc::parse_date(value);
  if (date) return *date;
  fault(key, fmt::format("\"{}\": {}", key, date.error().message));
  return std::nullopt;
}

std::vector<std::string> Asked::texts(std::string_view key, bool required) {
  const Value* value = any(key, required);
  std::vector<std::string> out;
  if (!value) return out;
  const auto is_text = [](const Value& item) { return item.is(Kind::text); };
  if (!value->is(Kind::array) || !std::all_of(value->items().begin(), value->items().end(), is_text)) {
    fault(key, fmt::format("\"{}\" must be a list of texts", key));
    return out;
  }
  for (const auto& item : value->items()) out.push_back(item.as_text());
  return out;
}

std::optional<Error> Asked::wrong() const {
  return wrong_;
}

Result<quantity::Quantity> typed_value(const Value& value, const Unit& unit) {
  if (value.is(Kind::text)) return quantity::parse_typed(value.as_text(), unit);
  if (!value.is(Kind::number))
    return bad_value(fmt::format("A number in {} is wanted here, not {}.", unit.name, json::name_of(value.kind())));
  const auto number = Exact::decimal(value.number_text());
  if (!number) return number.error();
  return quantity::Quantity{*number, &unit, std::nullopt};
}

Value as_recorded(const Value& action) {
  switch (action.kind()) {
  case Kind::number: {
    constexpr std::int64_t two_to_53 = std::int64_t{1} << 53;
    const auto whole = action.as_integer();
    const bool kept =
        whole && *whole > -two_to_53 && *whole < two_to_53 && std::to_string(*whole) == action.number_text();
    return kept ? action : Value::text(action.number_text());
  }
  case Kind::array: {
    Value out = Value::array();
    for (const auto& item : action.items()) out.push(as_recorded(item));
    return out;
  }
  case Kind::object: {
    Value out = Value::object();
    for (const auto& member : action.members())
      if (member.key != "passphrase" && member.key != "owner_passphrase" && member.key != "new")
        out.set(member.key, as_recorded(member.value));
    return out;
  }
  default: return action;
  }
}

} // namespace build
