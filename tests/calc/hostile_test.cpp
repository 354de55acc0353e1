// Whatever is thrown at a computation, it answers with finite numbers or says which field is wrong: never a crash, and
// never a number from bad input.
#include "calc/maker.h"
#include "calc/vandal.h"
#include "calculating.h"

#include <algorithm>

using json::Value;

namespace {

bool names_a_field(const std::string& message, const calc::Computation& computation) {
  if (message.starts_with("input: ") || message.starts_with("\"")) return true; // no object at all; an unknown field
  return std::ranges::any_of(computation.inputs, [&](const calc::Field& field) {
    const auto end = field.name.size();
    return message.starts_with(field.name) && message.size() > end && (message[end] == ':' || message[end] == ',');
  });
}

struct Count {
  std::size_t answers = 0;
  std::size_t refusals = 0;
};

// What came of one input: counted when it is sound, else the test fails and shows it.
void try_one(const calc::Computation& computation, const Value& input, Count& count) {
  const auto found = calc::compute(computation, input);
  if (found) {
    ++count.answers;
    const std::string text = json::compact(calc::to_json(computation, *found));
    const bool readable = json::read_one(text).ok() && found->results.size() == computation.results.size();
    if (!readable) FAIL(computation.name << " " << json::compact(input) << " " << text);
    return;
  }
  ++count.refusals;
  const std::string& message = found.error().message;
  const bool one_line = std::ranges::none_of(message, [](char c) { return static_cast<unsigned char>(c) < 0x20; });
  if (found.error().code != "bad-input" || !one_line || !names_a_field(message, computation))
    FAIL(computation.name << " " << json::compact(input) << " " << message);
}

// Each computation in turn: one input made to its description, one damaged.
Count try_many(std::size_t inputs, std::uint64_t seed) {
  hostile::Vandal vandal;
  hostile::Maker maker(seed);
  Count count;
  const auto& all = calc::all_computations();
  for (std::size_t i = 0; i < inputs; ++i) {
    const calc::Computation& computation = all[i / 2 % all.size()];
    try_one(computation, i % 2 ? vandal.broken(computation) : maker.input(computation.inputs), count);
  }
  return count;
}

} // namespace

TEST_CASE("forty thousand inputs, made up or damaged, give an answer or name a field") {
  const Count count = try_many(40'000, 7);
  CHECK(count.answers > 10'000);
  CHECK(count.refusals > 10'000);
}

TEST_CASE("a million inputs, made up or damaged, give an answer or name a field", "[.long]") {
  const Count count = try_many(1'000'000, 8);
  CHECK(count.answers > 250'000);
}

TEST_CASE("what is wrong for certain is refused by the name of its field") {
  hostile::Maker maker(9);
  const auto& all = calc::all_computations();
  for (std::size_t i = 0; i < 5'000; ++i) {
    const calc::Computation& computation = all[i % all.size()];
    const auto wrong = maker.wrong(computation);
    const auto found = calc::compute(computation, wrong.input);
    INFO(computation.name << " " << json::compact(wrong.input));
    if (found) FAIL("answered");
    if (found.error().message.find(wrong.field) == std::string::npos) FAIL(found.error().message);
  }
}
