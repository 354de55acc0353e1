// Whatever is thrown at a computation, it answers with finite numbers or says which field is wrong: never a crash.
#include "calculating.h"

#include <fmt/format.h>

#include <algorithm>
#include <random>

using json::Kind;
using json::Value;

namespace {

class Vandal {
public:
  // The worked example with a few things broken, now and then something made up from nothing.
  Value broken(const calc::Computation& computation) {
    if (chance(20)) return made_up(3);
    Value input = json::read_one(computation.example.input).value();
    const int blows = chance(3) ? 3 : 1;
    for (int i = 0; i < blows; ++i) damage(input, computation);
    return input;
  }

private:
  std::size_t below(std::size_t limit) { return std::uniform_int_distribution<std::size_t>(0, limit - 1)(random_); }
  bool chance(std::size_t one_in) { return below(one_in) == 0; }
  template <typename List>
  auto pick(const List& list) {
    return *(std::begin(list) + static_cast<std::ptrdiff_t>(below(std::size(list))));
  }

  Value number() {
    static const char* const numbers[] = {"0",
                                          "-0",
                                          "1",
                                          "-1",
                                          "0.0",
                                          "2.5e3",
                                          "1e12",
                                          "1e-12",
                                          "-1e12",
                                          "1e13",
                                          "1e400",
                                          "0.3333333",
                                          "25.4",
                                          "-0.000001",
                                          "360",
                                          "61.96",
                                          "1e-400",
                                          "7",
                                          "99999999999999999999999999999",
                                          "0.00000000000000000000000000000000000001",
                                          "123456789012345678901234567890.5"};
    return Value::number(pick(numbers));
  }

  Value text() {
    static const char* const texts[] = {"",         "mm",        "bar",    "1 mm",    "1,5 mm", "2.4395 in", "-3 mm",
                                        "1e999 mm", "0 mm",      "nan mm", "inf",     "12",     "degC",      "5 degC",
                                        "1/K",      "journal",   "mean",   "guarded", "\n",     "\u202e",    "kPa",
                                        "0x10 mm",  "1 mm 2 mm", "--1 mm", "40 N"};
    return Value::text(pick(texts));
  }

  Value made_up(int depth) {
    switch (below(depth > 0 ? 7 : 5)) {
    case 0: return Value();
    case 1: return Value::boolean(chance(2));
    case 2:
    case 3: return number();
    case 4: return text();
    case 5: {
      Value list = Value::array();
      for (std::size_t i = below(4); i > 0; --i) list.push(made_up(depth - 1));
      return list;
    }
    default: {
      static const char* const keys[] = {"value",  "values", "unit", "u",      "u_shared",
                                         "points", "low",    "name", "length", ""};
      Value object = Value::object();
      for (std::size_t i = below(4); i > 0; --i) object.set(pick(keys), made_up(depth - 1));
      return object;
    }
    }
  }

  void damage(Value& value, const calc::Computation& computation) {
    if (value.is(Kind::object) && !value.members().empty() && !chance(8)) {
      auto& members = value.members();
      const std::size_t at = below(members.size());
      if (chance(12))
        value.remove(std::string(members[at].key));
      else if (chance(12))
        value.set(pick(computation.inputs).name, made_up(2));
      else if (chance(12))
        value.set("u", number());
      else
        damage(members[at].value, computation);
    } else if (value.is(Kind::array) && !value.items().empty() && !chance(8)) {
      auto& items = value.items();
      const std::size_t at = below(items.size());
      if (chance(8))
        items.erase(items.begin() + static_cast<std::ptrdiff_t>(at));
      else if (chance(8))
        items.push_back(items[at]);
      else
        damage(items[at], computation);
    } else if (value.is(Kind::number) && value.number_text()[0] != '-' && !chance(4)) {
      value = Value::number(fmt::format("{}{}", 1 + below(99), value.number_text())); // some digits more
    } else {
      value = value.is(Kind::number) && chance(2) ? number() : value.is(Kind::text) && chance(2) ? text() : made_up(2);
    }
  }

  std::mt19937_64 random_{4711};
};

bool names_a_field(const std::string& message, const calc::Computation& computation) {
  if (message.starts_with("input: ") || message.starts_with("\"")) return true; // no object at all; an unknown field
  return std::ranges::any_of(computation.inputs, [&](const calc::Field& field) {
    const auto end = field.name.size();
    return message.starts_with(field.name) && message.size() > end && (message[end] == ':' || message[end] == ',');
  });
}

} // namespace

TEST_CASE("twenty thousand damaged inputs give an answer or name a field") {
  Vandal vandal;
  std::size_t answers = 0;
  std::size_t refusals = 0;
  const auto& all = calc::all_computations();
  for (std::size_t i = 0; i < 20'000; ++i) {
    const calc::Computation& computation = all[i % all.size()];
    const Value input = vandal.broken(computation);
    const auto found = calc::compute(computation, input);
    if (found) {
      ++answers;
      const std::string text = json::compact(calc::to_json(computation, *found));
      const bool readable = json::read_one(text).ok() && found->results.size() == computation.results.size();
      if (!readable) FAIL(computation.name << " " << json::compact(input) << " " << text);
    } else {
      ++refusals;
      const std::string& message = found.error().message;
      const bool one_line = std::ranges::none_of(message, [](char c) { return static_cast<unsigned char>(c) < 0x20; });
      if (found.error().code != "bad-input" || !one_line || !names_a_field(message, computation))
        FAIL(computation.name << " " << json::compact(input) << " " << message);
    }
  }
  CHECK(answers > 1500);
  CHECK(refusals > 4000);
}
