#include "json/write.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

namespace json {

namespace {

constexpr std::int64_t two_to_53 = std::int64_t{1} << 53;

void write_escaped(std::string& out, char c) {
  switch (c) {
  case '"': out += "\\\""; break;
  case '\\': out += "\\\\"; break;
  case '\b': out += "\\b"; break;
  case '\t': out += "\\t"; break;
  case '\n': out += "\\n"; break;
  case '\f': out += "\\f"; break;
  case '\r': out += "\\r"; break;
  default: out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
  }
}

// Of visible ASCII characters and blanks, none to be escaped.
bool is_simple(std::string_view text) {
  return std::ranges::count_if(
             text, [](char c) { return static_cast<unsigned char>(c - 0x20) >= 0x60 || c == '"' || c == '\\'; }) == 0;
}

void write_simple(std::string& out, std::string_view text) {
  out += '"';
  out += text;
  out += '"';
}

void write_text(std::string& out, std::string_view text) {
  if (is_simple(text)) return write_simple(out, text);
  const auto plain = [](char c) { return static_cast<unsigned char>(c) >= 0x20 && c != '"' && c != '\\'; };
  out += '"';
  while (true) {
    const std::string_view::iterator end = std::find_if_not(text.begin(), text.end(), plain);
    out.append(text.begin(), end);
    if (end == text.end()) break;
    write_escaped(out, *end);
    text.remove_prefix(static_cast<std::size_t>(end - text.begin()) + 1);
  }
  out += '"';
}

// What all forms write alike; false for an array or object.
bool write_plain(std::string& out, const Value& value) {
  switch (value.kind()) {
  case Kind::null: out += "null"; return true;
  case Kind::boolean: out += value.as_boolean() ? "true" : "false"; return true;
  case Kind::number: out += value.number_text(); return true;
  case Kind::text: write_text(out, value.as_text()); return true;
  case Kind::array:
  case Kind::object: return false;
  }
  throw std::logic_error("unknown kind of JSON value");
}

// The order of UTF-16 code units, on UTF-8: it is the order of the bytes, except that characters above U+FFFF (lead
// bytes F0..F4) are surrogates D800..DFFF there and come before U+E000..U+FFFF (lead bytes EE and EF).
bool before_in_utf16(const Member* left, const Member* right) {
  const auto rank = [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte == 0xee || byte == 0xef ? byte + 0x10 : static_cast<int>(byte);
  };
  const auto [a, b] = std::ranges::mismatch(left->key, right->key);
  if (a == left->key.end() || b == right->key.end()) return b != right->key.end();
  return rank(*a) < rank(*b);
}

void write_canonical_text(std::string& out, std::string_view text) {
  if (is_simple(text)) return write_simple(out, text);
  if (!is_utf8(text)) throw std::logic_error("canonical JSON holds valid UTF-8 only: " + shown(text));
  write_text(out, text);
}

void write_canonical_number(std::string& out, const Value& value) {
  const auto whole = value.as_integer();
  if (!whole || *whole <= -two_to_53 || *whole >= two_to_53)
    throw std::logic_error("canonical JSON holds whole numbers below 2^53 only, not " + value.number_text());
  out += std::to_string(*whole);
}

void write_canonical(std::string& out, const Value& value);

void write_canonical_members(std::string& out, const std::vector<Member>& members) {
  std::vector<const Member*> sorted;
  sorted.reserve(members.size());
  for (const Member& member : members) sorted.push_back(&member);
  if (!std::is_sorted(sorted.begin(), sorted.end(), before_in_utf16))
    std::sort(sorted.begin(), sorted.end(), before_in_utf16);
  out += '{';
  for (const Member* member : sorted) {
    if (member != sorted.front()) out += ',';
    write_canonical_text(out, member->key);
    out += ':';
    write_canonical(out, member->value);
  }
  out += '}';
}

void write_canonical(std::string& out, const Value& value) {
  if (value.is(Kind::number)) return write_canonical_number(out, value);
  if (value.is(Kind::text)) return write_canonical_text(out, value.as_text());
  if (write_plain(out, value)) return;
  if (value.is(Kind::object)) return write_canonical_members(out, value.members());
  out += '[';
  for (const Value& item : value.items()) {
    if (&item != &value.items().front()) out += ',';
    write_canonical(out, item);
  }
  out += ']';
}

enum class Form { compact, spaced, indented };

class Layout {
public:
  explicit Layout(Form form) : form_(form) {}

  void write(const Value& value) {
    if (write_plain(out_, value)) return;
    if (value.is(Kind::array)) {
      write_group('[', value.items(), ']', [&](const Value& item) { write(item); });
    } else {
      write_group('{', value.members(), '}', [&](const Member& member) {
        write_text(out_, member.key);
        out_ += form_ == Form::compact ? ":" : ": ";
        write(member.value);
      });
    }
  }

  std::string take() { return std::move(out_); }

private:
  template <typename Parts, typename Write>
  void write_group(char open, const Parts& parts, char close, Write write_part) {
    out_ += open;
    ++depth_;
    for (const auto& part : parts) {
      const bool first = &part == &parts.front();
      if (!first) out_ += ',';
      if (!first && form_ == Form::spaced) out_ += ' ';
      end_line();
      write_part(part);
    }
    --depth_;
    if (!parts.empty()) end_line();
    out_ += close;
  }

  void end_line() {
    if (form_ == Form::indented) out_ += '\n' + std::string(2 * depth_, ' ');
  }

  Form form_;
  std::size_t depth_ = 0;
  std::string out_;
};

} // namespace

void add_canonical(std::string& to, const Value& value) {
  write_canonical(to, value);
}

void add_canonical(std::string& to, std::string_view text) {
  write_canonical_text(to, text);
}

std::string canonical(const Value& value) {
  std::string out;
  write_canonical(out, value);
  return out;
}

namespace {

std::string laid_out(const Value& value, Form form) {
  Layout layout(form);
  layout.write(value);
  return layout.take();
}

} // namespace

std::string compact(const Value& value) {
  return laid_out(value, Form::compact);
}

std::string spaced(const Value& value) {
  return laid_out(value, Form::spaced);
}

std::string pretty(const Value& value) {
  return laid_out(value, Form::indented);
}

} // namespace json
