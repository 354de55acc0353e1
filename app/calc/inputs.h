// What a computation takes: each field described once (the reader, --help and the checks of a procedure all use the
// description), and the values read by that description from JSON.
#pragma once

#include "quantity/quantity.h"
#include "json/value.h"

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace calc {

using quantity::Dimension;
using quantity::Error;
using quantity::Exact;
using quantity::Quantity;
using quantity::Result;
using quantity::Unit;

// A cell of a list, grid or set of points is a number (in the `unit` beside it) or the text a person types. Numbers of
// one field may carry "u" and "u_shared" beside their unit. An array alone stands for {"values": array}.
enum class Shape {
  one,      // a quantity: {"value": 61.962, "unit": "mm"} or the text a person types
  list,     // quantities: {"values": [...], "unit": "mm"}; one alone is a list of one
  grid,     // {"values": [[...], ...], "unit": "mm"}, rows of one length, null where a point is left out
  pairs,    // a grid of two columns without nulls
  readings, // one, list or grid: any shape; null where a point is left out
  points,   // {"points": [[x, y, z], ...], "unit": "mm"}: rows of `columns` numbers
  number,   // a bare number
  numbers,  // an array of bare numbers
  count,    // a bare whole number >= 1
  text,     // one of `words`, or any text when there are none
  records   // an array of objects with `members`; the object alone when there is at most one
};

std::string_view name_of(Shape shape); // for --help and messages: "rows of quantities"

enum class Sign { positive, not_negative, any };

struct Field {
  std::string_view name;
  Shape shape = Shape::one;
  std::optional<Dimension> dimension = {}; // of a quantity; none: any, but one within the call
  std::string_view meaning = {};           // one line for --help
  bool required = true;
  Sign sign = Sign::positive;
  std::size_t least = 1;   // values of a list, rows of a grid, points or records
  std::size_t most = 0;    // 0: as many as there are
  std::size_t columns = 0; // of points
  bool beside = false;     // of one: its value, unit and u may stand in the call itself, beside the other fields
  std::vector<std::string_view> words = {};
  std::vector<Field> members = {};
};

// Numbers of one field, all in `unit`. `u` is the expanded uncertainty of one reading without what is shared;
// `u_shared` that of the one setting they share: it cancels in a difference of two of them and adds in any other use.
struct Readings {
  std::vector<std::vector<std::optional<Exact>>> rows; // one: 1x1; list: one row
  const Unit* unit = nullptr;
  const Unit* written_in = nullptr; // the unit the field was written in, before all of a dimension became one
  std::optional<Exact> u;
  std::optional<Exact> u_shared;

  std::vector<Exact> flat() const;                         // without the points left out
  std::optional<Exact> u_single() const;                   // of one reading used alone
  std::optional<Exact> u_difference() const;               // of a difference of two of them
  std::optional<Exact> u_mean(std::size_t how_many) const; // of the mean of so many of them
};

// The inputs of one call, read and checked: right dimension, sign, shape; no unknown field; mixed units converted to
// the unit of the first field of that dimension in the description's order.
// Asking for a field that is not there is a programming error and throws std::logic_error: ask has() first.
class Given {
public:
  bool has(std::string_view name) const;
  const Readings& readings(std::string_view name) const; // any quantity shape
  Quantity quantity(std::string_view name) const;        // Shape::one; u = u_single()
  const Exact& number(std::string_view name) const;      // number, count
  const std::vector<Exact>& numbers(std::string_view name) const;
  const std::string& text(std::string_view name) const;
  const std::vector<Given>& records(std::string_view name) const;

private:
  friend class InputReader;
  std::map<std::string, Readings, std::less<>> readings_;
  std::map<std::string, std::vector<Exact>, std::less<>> numbers_;
  std::map<std::string, std::string, std::less<>> texts_;
  std::map<std::string, std::vector<Given>, std::less<>> records_;
};

// Code "bad-input"; the message starts with the field's name.
Result<Given> read_inputs(const std::vector<Field>& fields, const json::Value& input);

// A refusal that a computation finds for itself.
Error bad_input(std::string_view field, std::string_view what);

} // namespace calc
