#include "bench/work_out.h"

#include "bench/work_words.h"

namespace bench {

using calc::Computation;
using calc::Field;
using json::Value;

namespace {

// A refusal begins with the field it names; that stands above it on the screen.
void place_refusal(const Computation& computation, const std::string& message, Worked& worked) {
  for (const Field& field : computation.inputs) {
    if (!message.starts_with(field.name)) continue;
    const std::string rest = message.substr(field.name.size());
    if (!rest.starts_with(": ") && !rest.starts_with(", ")) continue;
    worked.wrong.emplace(field.name, sentence_of(rest.substr(2)));
    return;
  }
  worked.refused = sentence_of(message);
}

} // namespace

Worked work_out(const Computation& computation, const TypedFields& typed) {
  Worked worked;
  worked.input = Value::object();
  for (const Field& field : computation.inputs) {
    const auto lines = typed.find(field.name);
    if (lines == typed.end() || is_blank(lines->second)) {
      if (field.required) worked.missing.emplace_back(field.name);
      continue;
    }
    const auto value = value_typed(field, lines->second);
    if (!value) {
      worked.wrong.emplace(field.name, sentence_of(value.error().message));
      continue;
    }
    worked.input.set(field.name, *value);
    // What is wrong with one field is said before the others are there.
    const auto alone = calc::read_inputs({field}, Value::object({{field.name, *value}}));
    if (!alone) place_refusal(computation, alone.error().message, worked);
  }
  if (!worked.missing.empty() || !worked.wrong.empty() || !worked.refused.empty()) return worked;
  auto answer = calc::compute(computation, worked.input);
  if (answer)
    worked.answer = std::move(*answer);
  else
    place_refusal(computation, answer.error().message, worked);
  return worked;
}

} // namespace bench
