#include "bench/work_cells.h"

#include "quantity/typed.h"

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using calc::Exact;
using calc::Field;
using calc::Result;
using calc::Shape;
using json::Value;

quantity::Error bad_typing(std::string clause) {
  return {"bad-input", std::move(clause)};
}

std::string trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return "";
  return std::string(text.substr(first, text.find_last_not_of(" \t") + 1 - first));
}

std::vector<std::string> words_in(std::string_view line) {
  std::vector<std::string> words;
  for (std::size_t from = line.find_first_not_of(" \t"); from != std::string_view::npos;) {
    const std::size_t end = std::min(line.find_first_of(" \t", from), line.size());
    words.emplace_back(line.substr(from, end - from));
    from = line.find_first_not_of(" \t", end);
  }
  return words;
}

std::vector<std::string> parts_of(std::string_view line) {
  std::vector<std::string> parts;
  for (std::size_t from = 0; from <= line.size();) {
    const std::size_t end = std::min(line.find(';', from), line.size());
    parts.push_back(trimmed(line.substr(from, end - from)));
    from = end + 1;
  }
  return parts;
}

namespace {

bool is_unit(const std::string& word) {
  return word != "1" && quantity::find_unit(word) != nullptr;
}

bool looks_like_a_number(const std::string& word) {
  return std::string_view("0123456789.,+-").find(word[0]) != std::string_view::npos && !is_unit(word);
}

struct Cell {
  std::string number; // with its unit when both were typed without a blank
  std::string unit;   // "" while it has none of its own
  bool left_out = false;
  bool glued = false; // number holds the unit too
};

struct Typed {
  std::vector<std::vector<Cell>> rows;
  std::string u, u_shared;
};

Cell cell_of(const std::string& word) {
  Cell cell;
  cell.number = word;
  cell.left_out = word == "-";
  if (const auto whole = quantity::parse_with_unit(word)) {
    cell.unit = whole->unit->name;
    cell.glued = true;
  }
  return cell;
}

// Words of one row become its cells: a word that is no number is the unit of the number before it, two such words
// together when they are one unit ("ft lb").
std::vector<Cell> cells_of(const std::vector<std::string>& words) {
  std::vector<Cell> cells;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const bool wants_unit = !cells.empty() && cells.back().unit.empty() && !cells.back().left_out;
    if (!wants_unit || looks_like_a_number(words[i])) {
      cells.push_back(cell_of(words[i]));
      continue;
    }
    const bool two = i + 1 < words.size() && is_unit(words[i] + ' ' + words[i + 1]);
    cells.back().unit = two ? words[i] + ' ' + words[i + 1] : words[i];
    i += two;
  }
  return cells;
}

constexpr std::string_view signs_of_u[] = {"\u00B1", "+-", "+/-"};

// Does this word begin an uncertainty? Then what it holds of its number.
struct Mark {
  bool shared = false;
  std::string rest;
};
std::optional<Mark> mark_of(const std::string& word) {
  if (word == "u" || word == "U") return Mark{};
  if (word == "shared") return Mark{true, {}};
  for (const std::string_view sign : signs_of_u)
    if (word.starts_with(sign)) return Mark{false, word.substr(sign.size())};
  return std::nullopt;
}

// Takes the uncertainties off the end of a line.
Result<void> take_u(std::vector<std::string>& words, Typed& typed) {
  const auto first = std::ranges::find_if(words, [](const auto& word) { return mark_of(word).has_value(); });
  for (auto at = first; at != words.end();) {
    const Mark mark = *mark_of(*at);
    std::string text = mark.rest;
    for (++at; at != words.end() && !mark_of(*at); ++at) text += (text.empty() ? "" : " ") + *at;
    std::string& place = mark.shared ? typed.u_shared : typed.u;
    if (text.empty())
      return bad_typing(mark.shared ? "a number is wanted behind shared" : "a number is wanted behind u");
    if (!place.empty() && place != text)
      return bad_typing(fmt::format("has one uncertainty for all its numbers, not {} and {}", place, text));
    place = text;
  }
  words.erase(first, words.end());
  return {};
}

// Numbers without a unit of their own take the one there is. Between several nobody but the person can choose.
Result<void> spread_units(Typed& typed) {
  std::vector<Cell*> without;
  std::string unit;
  bool several = false;
  for (auto& row : typed.rows)
    for (Cell& cell : row) {
      if (cell.left_out) continue;
      if (cell.unit.empty()) {
        if (Exact::decimal(cell.number).ok()) without.push_back(&cell);
        continue;
      }
      several = several || (!unit.empty() && quantity::find_unit(cell.unit) != quantity::find_unit(unit));
      unit = cell.unit;
    }
  if (several && !without.empty())
    return bad_typing(fmt::format("there are several units, so {} needs its own", without.front()->number));
  for (Cell* each : without) each->unit = unit;
  return {};
}

Result<Typed> read_typed(const Lines& lines) {
  Typed typed;
  for (const std::string& line : lines)
    for (const std::string& part : parts_of(line)) {
      std::vector<std::string> words = words_in(part);
      if (const auto taken = take_u(words, typed); !taken) return taken.error();
      const auto comma = std::ranges::find_if(words, [](const auto& word) { return word.ends_with(','); });
      if (comma != words.end()) return bad_typing(fmt::format("{}: between numbers stands a blank, no comma", *comma));
      if (!words.empty()) typed.rows.push_back(cells_of(words));
    }
  if (const auto spread = spread_units(typed); !spread) return spread.error();
  return typed;
}

// The one unit of all the cells, or null.
const quantity::Unit* common_unit(const Typed& typed) {
  const quantity::Unit* common = nullptr;
  for (const auto& row : typed.rows)
    for (const Cell& cell : row) {
      if (cell.left_out) continue;
      const quantity::Unit* unit = quantity::find_unit(cell.unit);
      if (!unit || (common && unit != common)) return nullptr;
      common = unit;
    }
  return common;
}

bool has_any_unit(const Typed& typed) {
  return std::ranges::any_of(typed.rows, [](const auto& row) {
    return std::ranges::any_of(row, [](const Cell& cell) { return !cell.unit.empty(); });
  });
}

// What a cell says, with the unit it has taken unless one stands beside all of them.
Value said(const Cell& cell, bool alone) {
  if (cell.left_out) return {};
  if (cell.glued || cell.unit.empty() || alone) return Value::text(cell.number);
  return Value::text(cell.number + ' ' + cell.unit);
}

Value arranged(const Field& field, const Typed& typed, bool alone) {
  std::vector<Value> rows;
  for (const auto& row : typed.rows) {
    std::vector<Value> cells;
    for (const Cell& cell : row) cells.push_back(said(cell, alone));
    rows.push_back(Value::array(std::move(cells)));
  }
  const bool one_row = field.shape == Shape::list || field.shape == Shape::readings;
  return one_row && rows.size() == 1 ? rows.front() : Value::array(std::move(rows));
}

Result<void> check_arrangement(const Field& field, const Typed& typed) {
  const bool may_skip = field.shape == Shape::grid || field.shape == Shape::readings;
  for (const auto& row : typed.rows)
    for (const Cell& cell : row)
      if (cell.left_out && !may_skip) return bad_typing("- leaves a point out, and here none can be");
  return {};
}

} // namespace

Result<Value> quantities_typed(const Field& field, const Lines& lines) {
  const auto typed = read_typed(lines);
  if (!typed) return typed.error();
  if (typed->rows.empty()) return bad_typing("holds no number");
  if (const auto checked = check_arrangement(field, *typed); !checked) return checked.error();
  // A plain number has no unit to be typed.
  const bool plain = field.dimension == quantity::Dimension::number && !has_any_unit(*typed);
  const bool one_unit = plain || common_unit(*typed);
  if (!one_unit && has_any_unit(*typed))
    for (const std::string& u : {typed->u, typed->u_shared})
      if (Exact::decimal(u).ok())
        return bad_typing(fmt::format("its numbers have several units, so u {} needs one too", u));
  Value out = Value::object();
  out.set(field.shape == Shape::points ? "points" : "values", arranged(field, *typed, plain));
  if (plain) out.set("unit", Value::text("1"));
  if (!typed->u.empty()) out.set("u", Value::text(typed->u));
  if (!typed->u_shared.empty()) out.set("u_shared", Value::text(typed->u_shared));
  return out;
}

// One quantity goes on as it stands, so that what is odd about it is refused with its reason.
Result<Value> quantity_typed(const Field& field, const std::string& line) {
  Typed typed;
  std::vector<std::string> words = words_in(line);
  if (const auto taken = take_u(words, typed); !taken) return taken.error();
  const std::string value = fmt::format("{}", fmt::join(words, " "));
  const bool plain = field.dimension == quantity::Dimension::number && Exact::decimal(value).ok();
  if (!plain && typed.u.empty() && typed.u_shared.empty()) return Value::text(value);
  Value out = Value::object({{"value", Value::text(value)}});
  if (plain) out.set("unit", Value::text("1"));
  if (!typed.u.empty()) out.set("u", Value::text(typed.u));
  if (!typed.u_shared.empty()) out.set("u_shared", Value::text(typed.u_shared));
  return out;
}

std::vector<std::string> quantities_in(const std::string& line) {
  const std::vector<std::string> words = words_in(line);
  if (std::ranges::any_of(words, [](const auto& word) { return mark_of(word).has_value(); })) return {line};
  std::vector<std::string> out;
  for (const Cell& cell : cells_of(words))
    out.push_back(cell.glued || cell.unit.empty() ? cell.number : cell.number + ' ' + cell.unit);
  return out;
}

} // namespace bench
