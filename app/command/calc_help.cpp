#include "command/calc_help.h"

#include "command/output.h"

#include <fmt/format.h>

#include <stdexcept>

namespace command {

namespace {

using calc::Field;
using calc::ResultField;
using calc::Shape;

bool is_of_quantities(Shape shape) {
  switch (shape) {
  case Shape::one:
  case Shape::list:
  case Shape::grid:
  case Shape::pairs:
  case Shape::readings:
  case Shape::points: return true;
  case Shape::number:
  case Shape::numbers:
  case Shape::count:
  case Shape::text:
  case Shape::records: return false;
  }
  throw std::logic_error("a shape without help");
}

std::string quoted_words(const std::vector<std::string_view>& words) {
  return fmt::format("\"{}\"", fmt::join(words, "\" or \""));
}

std::string counts(const Field& field) {
  std::string text;
  if (field.columns > 0) text += fmt::format(", {} numbers each", field.columns);
  if (field.least > 1) text += fmt::format(", at least {}", field.least);
  if (field.most > 1) text += fmt::format(", at most {}", field.most);
  return text;
}

std::string sign(const Field& field) {
  if (field.shape == Shape::text || field.shape == Shape::records || field.shape == Shape::count) return "";
  switch (field.sign) {
  case calc::Sign::positive: return ", greater than 0";
  case calc::Sign::not_negative: return ", not negative";
  case calc::Sign::any: return "";
  }
  throw std::logic_error("a sign without help");
}

// "rows of quantities (a length), greater than 0, optional"
std::string what_it_is(const Field& field) {
  std::string text = field.words.empty() ? std::string(name_of(field.shape)) : quoted_words(field.words);
  if (field.shape == Shape::records && field.most == 1) text = "an object";
  if (is_of_quantities(field.shape))
    text += fmt::format(" ({})", field.dimension ? name_of(*field.dimension) : "any one dimension");
  text += counts(field) + sign(field);
  if (field.beside) text += "; its value, unit and u stand beside the other fields";
  return field.required ? text : text + ", optional";
}

std::string about_inputs(const std::vector<Field>& fields, std::size_t indent) {
  std::string text;
  for (const Field& field : fields) {
    text += wrapped(fmt::format("{}: {}", field.name, what_it_is(field)), indent);
    text += wrapped(field.meaning, indent + 4);
    text += about_inputs(field.members, indent + 4);
  }
  return text;
}

std::string what_comes(const ResultField& field) {
  const auto dimension = [&] { return field.dimension ? name_of(*field.dimension) : "as the inputs"; };
  switch (field.kind) {
  case calc::ResultKind::quantity: return fmt::format("a quantity ({})", dimension());
  case calc::ResultKind::quantities: return fmt::format("quantities ({})", dimension());
  case calc::ResultKind::number: return "a number";
  case calc::ResultKind::text: return "text";
  case calc::ResultKind::truth: return "true or false";
  case calc::ResultKind::any: return "depends on the inputs";
  }
  throw std::logic_error("a kind of result without help");
}

std::string about_results(const std::vector<ResultField>& fields) {
  std::string text;
  for (const ResultField& field : fields) {
    text += wrapped(fmt::format("{}: {}", field.name, what_comes(field)), 2);
    text += wrapped(field.meaning, 6);
  }
  return text;
}

} // namespace

std::string about(const calc::Computation& computation) {
  return fmt::format("witnessmark calc {}\n\n{}\nInputs:\n{}\nResults:\n{}\nFormula:\n{}\nSource:\n{}\n"
                     "Worked example, input and answer:\n  {}\n  {}\n",
                     computation.name, wrapped(computation.purpose, 0), about_inputs(computation.inputs, 2),
                     about_results(computation.results), wrapped(computation.formula, 2),
                     wrapped(computation.source, 2), computation.example.input, computation.example.answer);
}

std::string about_units() {
  std::string text = "Units:";
  const quantity::Unit* before = nullptr;
  for (const quantity::Unit& unit : quantity::all_units()) {
    text += before && same_dimension(*before, unit) ? " " : "\n  ";
    text += unit.name;
    before = &unit;
  }
  return text + '\n';
}

} // namespace command
