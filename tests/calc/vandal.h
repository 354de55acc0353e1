// Inputs for computations that nobody would write: the worked example with a few things broken, or made up from
// nothing.
#pragma once

#include "calc/registry.h"
#include "json/read.h"

#include <fmt/format.h>

#include <iterator>
#include <random>

namespace hostile {

using json::Kind;
using json::Value;

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

} // namespace hostile
