#include "calc/inputs.h"

#include "calc/combine.h"
#include "quantity/quoted.h"
#include "quantity/typed.h"
#include "json/fields.h"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

namespace calc {

using json::Kind;
using json::Value;

std::string_view name_of(Shape shape) {
  switch (shape) {
  case Shape::one: return "a quantity";
  case Shape::list: return "quantities";
  case Shape::grid: return "rows of quantities";
  case Shape::pairs: return "pairs of quantities";
  case Shape::readings: return "quantities in any arrangement";
  case Shape::points: return "points";
  case Shape::number: return "a number";
  case Shape::numbers: return "numbers";
  case Shape::count: return "a whole number from 1";
  case Shape::text: return "text";
  case Shape::records: return "a list of objects";
  }
  throw std::logic_error("a shape without a name");
}

Error bad_input(std::string_view field, std::string_view what) {
  return Error{"bad-input", fmt::format("{}: {}", field, what)};
}

std::vector<Exact> Readings::flat() const {
  std::vector<Exact> all;
  for (const auto& row : rows)
    for (const auto& cell : row)
      if (cell) all.push_back(*cell);
  return all;
}

std::optional<Exact> Readings::u_single() const {
  return combined({{1, u}, {1, u_shared}});
}
std::optional<Exact> Readings::u_difference() const {
  return combined({{1, u}, {1, u}, {0, u_shared}});
}
std::optional<Exact> Readings::u_mean(std::size_t how_many) const {
  return combined({{1, u, how_many}, {1, u_shared}});
}

namespace {

template <typename Map>
const auto& in(const Map& map, std::string_view name) {
  const auto found = map.find(name);
  if (found == map.end()) throw std::logic_error(fmt::format("no input {}", name));
  return found->second;
}

} // namespace

bool Given::has(std::string_view name) const {
  return readings_.contains(name) || numbers_.contains(name) || texts_.contains(name) || records_.contains(name);
}
const Readings& Given::readings(std::string_view name) const {
  return in(readings_, name);
}
const Exact& Given::number(std::string_view name) const {
  return numbers(name).front();
}
const std::vector<Exact>& Given::numbers(std::string_view name) const {
  return in(numbers_, name);
}
const std::string& Given::text(std::string_view name) const {
  return in(texts_, name);
}
const std::vector<Given>& Given::records(std::string_view name) const {
  return in(records_, name);
}

Quantity Given::quantity(std::string_view name) const {
  const Readings& one = readings(name);
  return {one.flat().front(), one.unit, one.u_single()};
}

// Reads in the description's order, so that the first unit met of a dimension is the one the others become. Each
// function gives false after noting the first thing that is wrong.
class InputReader {
public:
  bool read(const std::vector<Field>& fields, const Value& object, const std::string& within, Given& given);
  const Error& error() const { return error_; }

private:
  using Cells = std::vector<std::vector<const Value*>>;

  bool fail(std::string_view where, std::string_view what);
  bool read_field(const Field& field, const Value& value, const std::string& where, Given& given);
  bool read_numbers(const Field& field, const Value& value, const std::string& where, Given& given);
  bool read_text(const Field& field, const Value& value, const std::string& where, Given& given);
  bool read_records(const Field& field, const Value& value, const std::string& where, Given& given);
  bool read_readings(const Field& field, const Value& value, const std::string& where, Readings& out);
  bool arrange(const Field& field, const Value& values, const std::string& where, Cells& cells);
  bool settle_unit(const Field& field, const Cells& cells, const std::string& where, Readings& out);
  std::optional<Quantity> read_one(const Value& value, const Unit& unit, const std::string& where);
  bool read_cells(const Field& field, const Cells& cells, const std::string& where, Readings& out);
  bool read_u(const Value* value, const std::string& where, const Readings& readings, std::optional<Exact>& out);
  bool check_sign(Sign sign, const Exact& value, const std::string& where);
  bool check_count(const Field& field, std::size_t count, std::string_view what, const std::string& where);

  Error error_;
  std::map<Dimension, const Unit*> units_;
  std::optional<Dimension> free_; // the one dimension of the fields that leave it open
};

bool InputReader::fail(std::string_view where, std::string_view what) {
  error_ = bad_input(where, what);
  return false;
}

namespace {

constexpr std::string_view quantity_fields[] = {"value", "values", "points", "unit", "u", "u_shared"};

bool is_quantity_field(std::string_view key) {
  return std::ranges::find(quantity_fields, key) != std::end(quantity_fields);
}

std::string listed(const std::vector<Field>& fields) {
  std::string names;
  for (const Field& field : fields) names += (names.empty() ? "" : ", ") + std::string(field.name);
  return names;
}

std::string listed(const std::vector<std::string_view>& words) {
  return fmt::format("{}", fmt::join(words, ", "));
}

std::string place(const std::string& within, std::string_view name) {
  return within.empty() ? std::string(name) : fmt::format("{}, {}", within, name);
}

bool stands_beside(const Field& field, const Value& call) {
  const Value* value = call.find(field.name);
  return field.beside && !(value && value->is(Kind::object));
}

// A quantity whose members stand beside the other fields of the call, as an object of its own.
Value set_apart(const Value& call) {
  Value quantity = Value::object();
  for (const json::Member& member : call.members())
    if (is_quantity_field(member.key)) quantity.set(member.key, member.value);
  return quantity;
}

} // namespace

bool InputReader::read(const std::vector<Field>& fields, const Value& object, const std::string& within, Given& given) {
  if (!object.is(Kind::object))
    return fail(within.empty() ? "input" : within, "must be an object holding " + listed(fields));
  const bool beside = std::ranges::any_of(fields, [&](const Field& field) { return stands_beside(field, object); });
  for (const json::Member& member : object.members()) {
    const bool known = std::ranges::any_of(fields, [&](const Field& field) { return field.name == member.key; });
    if (!known && !(beside && is_quantity_field(member.key)))
      return fail(place(within, quantity::quoted(member.key)), "unknown field, known are " + listed(fields));
  }
  for (const Field& field : fields) {
    const std::string where = place(within, field.name);
    const Value* value = object.find(field.name);
    if (!value && field.required) return fail(where, "missing");
    if (!value) continue;
    if (!read_field(field, stands_beside(field, object) ? set_apart(object) : *value, where, given)) return false;
  }
  return true;
}

bool InputReader::read_field(const Field& field, const Value& value, const std::string& where, Given& given) {
  switch (field.shape) {
  case Shape::number:
  case Shape::numbers:
  case Shape::count: return read_numbers(field, value, where, given);
  case Shape::text: return read_text(field, value, where, given);
  case Shape::records: return read_records(field, value, where, given);
  default: return read_readings(field, value, where, given.readings_[std::string(field.name)]);
  }
}

bool InputReader::check_sign(Sign sign, const Exact& value, const std::string& where) {
  if (sign == Sign::positive && value.sign() <= 0) return fail(where, "must be greater than 0");
  if (sign == Sign::not_negative && value.sign() < 0) return fail(where, "must not be negative");
  return true;
}

bool InputReader::check_count(const Field& field, std::size_t count, std::string_view what, const std::string& where) {
  if (count == 0) return fail(where, "is empty");
  if (count < field.least) return fail(where, fmt::format("wants at least {} {}, not {}", field.least, what, count));
  if (field.most && count > field.most)
    return fail(where, fmt::format("wants at most {} {}, not {}", field.most, what, count));
  return true;
}

bool InputReader::read_numbers(const Field& field, const Value& value, const std::string& where, Given& given) {
  const bool many = field.shape == Shape::numbers;
  if (many && !value.is(Kind::array))
    return fail(where, fmt::format("must be an array of numbers, not {}", name_of(value.kind())));
  const std::vector<Value> written = many ? value.items() : std::vector<Value>{value};
  if (!check_count(field, written.size(), "numbers", where)) return false;
  std::vector<Exact>& numbers = given.numbers_[std::string(field.name)];
  for (const Value& each : written) {
    if (!each.is(Kind::number))
      return fail(where, fmt::format("must be a number without unit, not {}", name_of(each.kind())));
    const Result<Exact> number = Exact::decimal(each.number_text());
    if (!number) return fail(where, number.error().message);
    if (!check_sign(field.sign, *number, where)) return false;
    if (field.shape == Shape::count && (!number->is_whole() || number->sign() <= 0))
      return fail(where, "must be a whole number from 1");
    numbers.push_back(*number);
  }
  return true;
}

bool InputReader::read_text(const Field& field, const Value& value, const std::string& where, Given& given) {
  if (!value.is(Kind::text)) return fail(where, fmt::format("must be text, not {}", name_of(value.kind())));
  const std::string& text = value.as_text();
  if (!field.words.empty() && std::ranges::find(field.words, text) == field.words.end())
    return fail(where, "must be one of " + listed(field.words));
  if (text.empty()) return fail(where, "is empty");
  if (json::has_hidden_characters(text)) return fail(where, "holds characters that cannot be seen");
  given.texts_[std::string(field.name)] = text;
  return true;
}

bool InputReader::read_records(const Field& field, const Value& value, const std::string& where, Given& given) {
  std::vector<Given>& records = given.records_[std::string(field.name)];
  if (field.most == 1) return read(field.members, value, where, records.emplace_back());
  if (!value.is(Kind::array))
    return fail(where, fmt::format("must be an array of objects, not {}", name_of(value.kind())));
  if (!check_count(field, value.items().size(), "objects", where)) return false;
  for (const Value& item : value.items()) {
    const std::string which = fmt::format("{}, number {}", where, records.size() + 1);
    if (!read(field.members, item, which, records.emplace_back())) return false;
  }
  return true;
}

bool InputReader::read_readings(const Field& field, const Value& value, const std::string& where, Readings& out) {
  const std::string_view many = field.shape == Shape::points ? "points" : "values";
  const Value* numbers = &value;
  const Value* unit = nullptr;
  if (value.is(Kind::object)) {
    for (const json::Member& member : value.members())
      if (!is_quantity_field(member.key) || (member.key.ends_with('s') && member.key != many))
        return fail(where, fmt::format("unknown field {}", quantity::quoted(member.key)));
    const Value* one = value.find("value");
    const Value* several = value.find(many);
    if (!one == !several) return fail(where, fmt::format("must hold value or {}, one of them", many));
    numbers = one ? one : several;
    if (one && one->is(Kind::array)) return fail(where, "value must be one number");
    if (several && !several->is(Kind::array)) return fail(where, fmt::format("{} must be an array", many));
    unit = value.find("unit");
  } else if (value.is(Kind::number)) {
    return fail(where, "says no unit");
  } else if (!value.is(Kind::text) && !value.is(Kind::array)) {
    return fail(where, fmt::format("must be {}, not {}", name_of(field.shape), name_of(value.kind())));
  }
  if (unit) {
    if (!unit->is(Kind::text)) return fail(where, "unit must be text");
    out.written_in = quantity::find_unit(unit->as_text());
    if (!out.written_in) return fail(where, fmt::format("unit {} is unknown", quantity::quoted(unit->as_text())));
  }
  Cells cells;
  if (!arrange(field, *numbers, where, cells) || !settle_unit(field, cells, where, out)) return false;
  if (!read_cells(field, cells, where, out)) return false;
  if (!value.is(Kind::object)) return true;
  return read_u(value.find("u"), where + ", u", out, out.u) &&
         read_u(value.find("u_shared"), where + ", u_shared", out, out.u_shared);
}

// The arrangement the field's shape asks for.
bool InputReader::arrange(const Field& field, const Value& values, const std::string& where, Cells& cells) {
  const bool rows_only = field.shape == Shape::grid || field.shape == Shape::pairs || field.shape == Shape::points;
  const bool no_rows = field.shape == Shape::one || field.shape == Shape::list;
  if (!values.is(Kind::array)) {
    if (rows_only) return fail(where, "must be rows: an array of arrays");
    cells = {{&values}};
    return check_count(field, 1, "values", where);
  }
  if (field.shape == Shape::one) return fail(where, "must be one quantity, not several");
  const std::vector<Value>& items = values.items();
  const bool nested =
      !items.empty() && std::ranges::all_of(items, [](const Value& item) { return item.is(Kind::array); });
  if (rows_only && !items.empty() && !nested) return fail(where, "must be rows: an array of arrays");
  if (no_rows && nested) return fail(where, "must be one row of values, not several");
  if (!nested) cells.emplace_back();
  for (const Value& item : items) {
    if (!nested) {
      cells.back().push_back(&item);
      continue;
    }
    cells.emplace_back();
    for (const Value& cell : item.items()) cells.back().push_back(&cell);
  }
  if (!check_count(field, items.size(), rows_only ? "rows" : "values", where)) return false;
  for (const auto& row : cells) {
    if (row.empty()) return fail(where, "holds an empty row");
    if (row.size() != cells.front().size()) return fail(where, "has rows of different length");
  }
  const std::size_t columns = field.shape == Shape::pairs ? 2 : field.columns;
  if (columns && cells.front().size() != columns)
    return fail(where, fmt::format("wants {} values in each row", columns));
  return true;
}

// The unit the numbers are written in (that of the first one typed when none stands beside them: then each must say
// its own), and the one they become.
bool InputReader::settle_unit(const Field& field, const Cells& cells, const std::string& where, Readings& out) {
  const bool each_says = !out.written_in;
  for (const auto& row : cells) {
    for (const Value* cell : row) {
      if (!each_says || cell->is(Kind::null)) continue;
      if (!cell->is(Kind::text)) return fail(where, "says no unit");
      const Result<Quantity> typed = quantity::parse_with_unit(cell->as_text());
      if (!typed) return fail(where, typed.error().message);
      if (!out.written_in) out.written_in = typed->unit;
    }
  }
  if (!out.written_in) return fail(where, "says no unit");
  if (!field.dimension && !free_) free_ = out.written_in->dimension;
  const Dimension wanted = field.dimension ? *field.dimension : *free_;
  if (out.written_in->dimension != wanted)
    return fail(where, fmt::format("{} measures {}, {} is wanted", out.written_in->name,
                                   name_of(out.written_in->dimension), name_of(wanted)));
  out.unit = units_.try_emplace(wanted, out.written_in).first->second;
  return true;
}

std::optional<Quantity> InputReader::read_one(const Value& value, const Unit& unit, const std::string& where) {
  if (value.is(Kind::text)) {
    const Result<Quantity> typed = quantity::parse_typed(value.as_text(), unit);
    if (typed) return *typed;
    fail(where, typed.error().message);
  } else if (value.is(Kind::number)) {
    const Result<Exact> number = Exact::decimal(value.number_text());
    if (number) return Quantity{*number, &unit, {}};
    fail(where, number.error().message);
  } else {
    fail(where, fmt::format("holds {} where a number is wanted", name_of(value.kind())));
  }
  return {};
}

bool InputReader::read_cells(const Field& field, const Cells& cells, const std::string& where, Readings& out) {
  const bool may_skip = field.shape == Shape::grid || field.shape == Shape::readings;
  bool any = false;
  for (const auto& row : cells) {
    out.rows.emplace_back();
    for (const Value* cell : row) {
      std::optional<Exact>& place = out.rows.back().emplace_back();
      if (cell->is(Kind::null) && may_skip) continue;
      const std::optional<Quantity> read = read_one(*cell, *out.written_in, where);
      if (!read || !check_sign(field.sign, read->value, where)) return false;
      place = quantity::convert(read->value, *read->unit, *out.unit);
      any = true;
    }
  }
  return any || fail(where, "holds no reading at all");
}

bool InputReader::read_u(const Value* value, const std::string& where, const Readings& readings,
                         std::optional<Exact>& out) {
  if (!value) return true;
  const std::optional<Quantity> read = read_one(*value, *readings.written_in, where);
  if (!read) return false;
  out = quantity::convert_difference(read->value, *read->unit, *readings.unit);
  return check_sign(Sign::not_negative, *out, where);
}

Result<Given> read_inputs(const std::vector<Field>& fields, const Value& input) {
  InputReader reader;
  Given given;
  if (!reader.read(fields, input, "", given)) return reader.error();
  return given;
}

} // namespace calc
