// From JSON back to what a person would have typed.
#include "bench/work_text.h"

#include "json/read.h"

#include <fmt/format.h>

namespace bench {

using calc::Computation;
using calc::Field;
using calc::Shape;
using json::Value;

namespace {

std::string word_of(const Value& value) {
  if (value.is(json::Kind::text)) return value.as_text();
  return value.is(json::Kind::number) ? value.number_text() : "-";
}

std::string row_of(const Value& row) {
  if (!row.is(json::Kind::array)) return word_of(row);
  std::string out;
  for (const Value& cell : row.items()) out += (out.empty() ? "" : " ") + word_of(cell);
  return out;
}

// The unit and the uncertainties, behind the first line.
std::string behind(const Field& field, const Value& quantity) {
  std::string out;
  const std::string& unit = quantity.text_or_empty("unit");
  const bool plain = field.dimension == quantity::Dimension::number;
  if (!unit.empty() && !plain) out += ' ' + unit;
  if (const Value* u = quantity.find("u")) out += " u " + word_of(*u);
  if (const Value* shared = quantity.find("u_shared")) out += " shared " + word_of(*shared);
  return out;
}

Lines quantity_lines(const Field& field, const Value& value) {
  if (value.is(json::Kind::array)) return quantity_lines(field, Value::object({{"values", value}}));
  if (!value.is(json::Kind::object)) return {word_of(value)};
  const Value* numbers = value.find("value");
  if (!numbers) numbers = value.find("values");
  if (!numbers) numbers = value.find("points");
  if (!numbers) return {};
  Lines lines;
  const bool rows =
      numbers->is(json::Kind::array) && !numbers->items().empty() && numbers->items().front().is(json::Kind::array);
  if (rows)
    for (const Value& row : numbers->items()) lines.push_back(row_of(row));
  else
    lines.push_back(row_of(*numbers));
  lines.front() += behind(field, value);
  return lines;
}

Lines record_lines(const Field& field, const Value& value) {
  Lines lines;
  const std::vector<Value> records = value.is(json::Kind::array) ? value.items() : std::vector<Value>{value};
  for (const Value& record : records) {
    std::string line;
    for (const Field& member : field.members) {
      const Lines text = lines_of(member, record);
      line += fmt::format("{}{}", &member == &field.members.front() ? "" : "; ", text.empty() ? "" : text.front());
    }
    line.erase(line.find_last_not_of("; ") + 1);
    lines.push_back(line);
  }
  return lines;
}

} // namespace

Lines lines_of(const Field& field, const Value& call) {
  const Value* value = call.find(field.name);
  if (!value) return {};
  switch (field.shape) {
  case Shape::number:
  case Shape::count:
  case Shape::text: return {word_of(*value)};
  case Shape::numbers: return {row_of(*value)};
  case Shape::records: return record_lines(field, *value);
  case Shape::one:
  case Shape::list:
  case Shape::grid:
  case Shape::pairs:
  case Shape::readings:
  case Shape::points: return quantity_lines(field, field.beside && !value->is(json::Kind::object) ? call : *value);
  }
  return {};
}

TypedFields example_typed(const Computation& computation) {
  TypedFields out;
  const auto call = json::read_one(computation.example.input);
  if (!call) return out;
  for (const Field& field : computation.inputs)
    if (Lines lines = lines_of(field, *call); !lines.empty()) out.emplace(field.name, std::move(lines));
  return out;
}

} // namespace bench
