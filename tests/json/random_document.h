// Documents made from a seed: every kind of value, keys and texts from all planes of Unicode.
#pragma once

#include "json/value.h"

#include <random>

namespace json::testing {

class RandomDocuments {
public:
  explicit RandomDocuments(unsigned seed) : engine_(seed) {}

  std::size_t below(std::size_t limit) { return engine_() % limit; }

  // With `whole_numbers` the document has a canonical form.
  Value document(bool whole_numbers, int depth = 0) {
    switch (below(depth < 5 ? 7 : 4)) {
    case 0: return Value();
    case 1: return Value::boolean(below(2) == 1);
    case 2: return number(whole_numbers);
    case 3: return Value::text(text());
    case 4: {
      Value list = Value::array();
      for (std::size_t n = below(5); n > 0; --n) list.push(document(whole_numbers, depth + 1));
      return list;
    }
    default: {
      Value object = Value::object();
      for (std::size_t n = below(6); n > 0; --n) object.set(text(), document(whole_numbers, depth + 1));
      return object;
    }
    }
  }

  std::string text() {
    std::string made;
    for (std::size_t n = below(6); n > 0; --n) append_utf8(made, character());
    return made;
  }

  char32_t character() {
    const auto between = [&](char32_t low, char32_t high) {
      return low + static_cast<char32_t>(below(high - low + 1));
    };
    switch (below(6)) {
    case 0: return between(0, 0x1f);
    case 1: return between(0x20, 0x7f);
    case 2: return between(0x80, 0x7ff);
    case 3: return between(0x800, 0xd7ff);
    case 4: return between(0xe000, 0xffff);
    default: return between(0x10000, 0x10ffff);
    }
  }

  static void append_utf8(std::string& out, char32_t code) {
    const auto add = [&](char32_t byte) { out += static_cast<char>(byte); };
    if (code < 0x80) {
      add(code);
    } else if (code < 0x800) {
      add(0xc0 | code >> 6);
      add(0x80 | (code & 0x3f));
    } else if (code < 0x10000) {
      add(0xe0 | code >> 12);
      add(0x80 | (code >> 6 & 0x3f));
      add(0x80 | (code & 0x3f));
    } else {
      add(0xf0 | code >> 18);
      add(0x80 | (code >> 12 & 0x3f));
      add(0x80 | (code >> 6 & 0x3f));
      add(0x80 | (code & 0x3f));
    }
  }

private:
  Value number(bool whole) {
    std::string text = below(2) == 1 ? "-" : "";
    text += std::to_string(below(1u << 30) >> below(30));
    if (whole) return Value::number(text);
    if (below(2) == 1) text += "." + std::string(below(3), '0') + std::to_string(below(1000));
    if (below(4) == 1) text += std::string(below(2) == 1 ? "e" : "E-") + std::to_string(below(20));
    return Value::number(text);
  }

  std::mt19937 engine_;
};

} // namespace json::testing
