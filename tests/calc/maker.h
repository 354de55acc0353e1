// Inputs for a computation made from its description: right in shape, dimension and sign, with sizes from everyday to
// the edge of what may be typed. And the same with one thing wrong for certain.
#pragma once

#include "calc/registry.h"

#include <fmt/format.h>

#include <algorithm>
#include <random>

namespace hostile {

using calc::Field;
using calc::Shape;
using calc::Sign;
using json::Value;

class Maker {
public:
  explicit Maker(std::uint64_t seed) : random_(seed) {}

  Value input(const std::vector<Field>& fields) {
    any_ = quantity::Dimension(below(dimensions));
    Value object = Value::object();
    for (const Field& field : fields)
      if (field.required || chance(2)) put(object, field);
    return object;
  }

  // What must be refused, and the field the refusal must name.
  struct Wrong {
    Value input;
    std::string field;
  };
  Wrong wrong(const calc::Computation& computation) {
    Wrong made{input(computation.inputs), {}};
    const Field& field = computation.inputs[below(computation.inputs.size())];
    made.field = field.name;
    switch (below(4)) {
    case 0: // not there
      if (!field.required) break;
      made.input.remove(std::string(field.name));
      if (field.beside)
        for (const char* part : {"unit", "u", "u_shared"}) made.input.remove(part);
      return made;
    case 1: // no value at all
      made.input.set(field.name, Value());
      return made;
    case 2: // of another kind altogether
      made.input.set(field.name, Value::boolean(true));
      return made;
    default: // too much
      break;
    }
    made.field = "zzz";
    made.input.set("zzz", Value::number("1"));
    return made;
  }

private:
  static constexpr std::size_t dimensions = 15;

  std::size_t below(std::size_t limit) { return std::uniform_int_distribution<std::size_t>(0, limit - 1)(random_); }
  bool chance(std::size_t one_in) { return below(one_in) == 0; }

  std::string digits(Sign sign) {
    if (sign != Sign::positive && chance(10)) return "0";
    const std::string minus = sign == Sign::any && chance(4) ? "-" : "";
    switch (below(12)) {
    case 0: return minus + fmt::format("{}e{}", 1 + below(9), static_cast<int>(below(25)) - 12);
    case 1: return minus + fmt::format("{}.{:06}", below(1000), 1 + below(999'999));
    case 2: return minus + fmt::format("{}", 1 + below(1'000'000));
    case 3: return minus + "123456789012345678901234567890";
    case 4: return minus + fmt::format("0.00000000{}", 1 + below(99));
    case 5:
    case 6: return minus + fmt::format("0.{:03}", 1 + below(999));
    case 7: return minus + "50";
    default: return minus + fmt::format("{}.{:03}", 1 + below(99), below(1000));
    }
  }

  std::string_view unit_of(quantity::Dimension dimension) {
    std::vector<std::string_view> of_it;
    for (const quantity::Unit& unit : quantity::all_units())
      if (unit.dimension == dimension) of_it.push_back(unit.name);
    return of_it[below(of_it.size())];
  }

  void put_u(Value& object) {
    if (chance(2)) object.set("u", Value::number(digits(Sign::not_negative)));
    if (chance(8)) object.set("u_shared", Value::number(digits(Sign::not_negative)));
  }

  Value row(std::size_t count, const Field& field, bool holes) {
    Value list = Value::array();
    for (std::size_t i = 0; i < count; ++i)
      list.push(holes && i > 0 && chance(10) ? Value() : Value::number(digits(field.sign)));
    return list;
  }

  std::size_t count(const Field& field) {
    const std::size_t least = std::max<std::size_t>(field.least, 1);
    const std::size_t most = field.most ? std::min(field.most, least + 5) : least + 5;
    return least + below(most - least + 1);
  }

  Value rows(const Field& field, std::size_t columns, bool holes) {
    Value list = Value::array();
    for (std::size_t i = count(field); i > 0; --i) list.push(row(columns, field, holes));
    return list;
  }

  void put(Value& object, const Field& field) {
    const auto dimension = field.dimension.value_or(any_);
    Value made = Value::object();
    switch (field.shape) {
    case Shape::one:
      if (field.beside) {
        object.set(field.name, Value::number(digits(field.sign)));
        object.set("unit", Value::text(std::string(unit_of(dimension))));
        return;
      }
      if (const auto unit = unit_of(dimension); unit != "1" && chance(2)) {
        object.set(field.name, Value::text(fmt::format("{} {}", digits(field.sign), unit)));
        return;
      }
      made.set("value", Value::number(digits(field.sign)));
      break;
    case Shape::list: made.set("values", row(count(field), field, false)); break;
    case Shape::grid: made.set("values", rows(field, 1 + below(4), true)); break;
    case Shape::pairs: made.set("values", rows(field, 2, false)); break;
    case Shape::readings: made.set("values", chance(2) ? row(count(field), field, false) : rows(field, 3, true)); break;
    case Shape::points: made.set("points", rows(field, field.columns, false)); break;
    case Shape::number: object.set(field.name, Value::number(digits(field.sign))); return;
    case Shape::numbers: object.set(field.name, row(count(field), field, false)); return;
    case Shape::count:
      object.set(field.name, Value::number(fmt::format("{}", 1 + below(chance(5) ? 100'000 : 60))));
      return;
    case Shape::text:
      object.set(field.name,
                 Value::text(field.words.empty() ? "top" : std::string(field.words[below(field.words.size())])));
      return;
    case Shape::records: {
      Value list = Value::array();
      for (std::size_t i = count(field); i > 0; --i) {
        Value record = Value::object();
        for (const Field& member : field.members)
          if (member.required || chance(2)) put(record, member);
        list.push(std::move(record));
      }
      object.set(field.name, std::move(list));
      return;
    }
    }
    made.set("unit", Value::text(std::string(unit_of(dimension))));
    put_u(made);
    object.set(field.name, std::move(made));
  }

  std::mt19937_64 random_;
  quantity::Dimension any_ = quantity::Dimension::length;
};

} // namespace hostile
