#include "bench/work_text.h"

#include "bench/work_words.h"
#include "quantity/typed.h"
#include "json/read.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace bench {

using calc::Exact;
using calc::Field;
using calc::Result;
using calc::Shape;
using json::Value;

namespace {

// As it was typed where JSON writes it the same way: ".5" is written "0.5".
Result<Value> number_typed(const std::string& word) {
  const auto number = Exact::decimal(word);
  if (!number) return bad_typing(number.error().message);
  const auto written = json::read_one(word);
  return written ? *written : Value::number(number->text());
}

Result<Value> numbers_typed(const Lines& lines) {
  Value out = Value::array();
  for (const std::string& line : lines)
    for (const std::string& word : words_in(line)) {
      const auto number = number_typed(word);
      if (!number) return number.error();
      out.push(*number);
    }
  return out;
}

bool is_of_words(const Field& field) {
  return std::ranges::any_of(
      field.members, [](const Field& member) { return member.shape == Shape::text || member.shape == Shape::records; });
}

// The members of one line. Quantities alone may stand without ";".
std::vector<std::string> members_in(const Field& field, const std::string& line) {
  if (line.find(';') != std::string::npos || is_of_words(field)) return parts_of(line);
  return quantities_in(line);
}

std::string unit_in(const std::string& text) {
  const auto typed = quantity::parse_with_unit(text);
  return typed ? std::string(typed->unit->name) : std::string();
}

std::string names_of(const std::vector<Field>& members) {
  std::string out;
  for (const Field& member : members) out += fmt::format("{}{}", out.empty() ? "" : "; ", in_words(member.name));
  return out;
}

Result<Value> records_typed(const Field& field, const Lines& lines) {
  Value out = Value::array();
  std::vector<std::set<std::string>> units(field.members.size()); // of each member, so far
  for (const std::string& line : lines) {
    if (trimmed(line).empty()) continue;
    const std::size_t number = out.items().size() + 1;
    std::vector<std::string> parts = members_in(field, line);
    if (parts.size() > field.members.size())
      return bad_typing(fmt::format("number {} has more than {}", number, names_of(field.members)));
    Value& record = out.push(Value::object());
    for (std::size_t m = 0; m < parts.size(); ++m) {
      const Field& member = field.members[m];
      if (parts[m].empty() || parts[m] == "-") continue;
      const bool lacks_unit = member.shape == Shape::one && Exact::decimal(parts[m]).ok();
      if (lacks_unit && units[m].size() == 1) parts[m] += ' ' + *units[m].begin();
      if (const std::string unit = unit_in(parts[m]); !unit.empty()) units[m].insert(unit);
      const auto value = value_typed(member, {parts[m]});
      if (!value) return bad_typing(fmt::format("number {}, {}: {}", number, member.name, value.error().message));
      record.set(member.name, *value);
    }
  }
  return field.most == 1 && out.items().size() == 1 ? out.items().front() : out;
}

} // namespace

bool is_blank(const Lines& lines) {
  return std::ranges::all_of(lines, [](const std::string& line) { return trimmed(line).empty(); });
}

bool same(const TypedFields& a, const TypedFields& b) {
  const auto filled = [](const TypedFields& typed) {
    TypedFields out;
    for (const auto& [name, lines] : typed)
      for (const std::string& line : lines)
        if (!trimmed(line).empty()) out[name].push_back(trimmed(line));
    return out;
  };
  return filled(a) == filled(b);
}

bool takes_lines(const Field& field) {
  switch (field.shape) {
  case Shape::grid:
  case Shape::pairs:
  case Shape::readings:
  case Shape::points: return true;
  case Shape::records: return field.most != 1;
  case Shape::one:
  case Shape::list:
  case Shape::number:
  case Shape::numbers:
  case Shape::count:
  case Shape::text: return false;
  }
  return false;
}

Result<Value> value_typed(const Field& field, const Lines& lines) {
  switch (field.shape) {
  case Shape::one: return quantity_typed(field, lines.front());
  case Shape::list:
  case Shape::grid:
  case Shape::pairs:
  case Shape::readings:
  case Shape::points: return quantities_typed(field, lines);
  case Shape::number:
  case Shape::count: return number_typed(trimmed(lines.front()));
  case Shape::numbers: return numbers_typed(lines);
  case Shape::text: return Value::text(trimmed(lines.front()));
  case Shape::records: return records_typed(field, lines);
  }
  return bad_typing("is of no known kind");
}

} // namespace bench
