#include "json/read.h"

#include "json/syntax.h"
#include "json/utf8.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <unordered_map>

namespace json {

// Receives the parser's events in the order of the tokens and walks its own tokens beside it for place and number text.
class Builder {
public:
  Builder(std::string_view text, bool placed) : text_(text), tokens_(text) {
    if (placed) places_.emplace(text);
  }

  Document take() {
    if (!document_.faults.empty()) document_.root = Value();
    return std::move(document_);
  }

  // After the last event: the parser takes a NUL for the end of the text.
  void finish() {
    if (text_.find_first_not_of(" \t\n\r", tokens_.end()) != std::string_view::npos) stop(Expected::nothing);
  }

  bool null() { return add(Value()); }
  bool boolean(bool value) { return add(Value::boolean(value)); }
  bool number_integer(std::int64_t) { return add_number(); }
  bool number_unsigned(std::uint64_t) { return add_number(); }
  bool number_float(double, const std::string&) { return add_number(); }
  // The parser reads on into its text, which has the room by now: it is copied, not taken.
  bool string(const std::string& value) { return add(Value::text(value)); }
  bool binary(nlohmann::json::binary_t&) { throw std::logic_error("JSON text has no binary values"); }
  bool start_object(std::size_t) { return open(Kind::object); }
  bool start_array(std::size_t) { return open(Kind::array); }
  bool end_object() { return close(); }
  bool end_array() { return close(); }

  bool key(const std::string& name) {
    tokens_.advance();
    Frame& frame = top();
    const Place place = here();
    const auto first = frame.given(name, place);
    if (frame.members.capacity() == 0) frame.members.reserve(Frame::few);
    frame.members.push_back(Member{name, Value(), place});
    if (first) {
      document_.faults.push_back(
          {place, pointer(depth_),
           fmt::format("the field {} is already given on line {}, column {}; keep one of the two",
                       shown(frame.members.back().key), first->line, first->column)});
    }
    expected_ = Expected::colon;
    return true;
  }

  bool parse_error(std::size_t, const std::string&, const nlohmann::json::exception&) {
    stop(expected_);
    return false;
  }

private:
  // A container that is not closed yet. What it holds moves to a place of just its size when it is.
  struct Frame {
    // Where the key about to be added was given first, if it was.
    std::optional<Place> given(const std::string& name, const Place& place) {
      if (members.size() < few) {
        const auto found = std::ranges::find(members, name, &Member::key);
        return found == members.end() ? std::nullopt : std::optional(found->place);
      }
      if (places.empty())
        for (const Member& member : members) places.try_emplace(member.key, member.place);
      const auto [found, is_new] = places.try_emplace(name, place);
      return is_new ? std::nullopt : std::optional(found->second);
    }

    static constexpr std::size_t few = 24; // keys that are quicker looked through than looked up
    Kind kind = Kind::array;
    std::vector<Value> items = {};
    std::vector<Member> members = {};
    std::unordered_map<std::string, Place> places = {}; // of the keys, once they are more than few
  };

  Place here() { return places_ ? places_->at(tokens_.start()) : Place(); }

  Frame& top() { return frames_[depth_ - 1]; }

  template <typename T>
  static std::vector<T> taken_from(std::vector<T>& from) {
    std::vector<T> all(std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
    from.clear();
    return all;
  }

  bool add_number() {
    tokens_.advance();
    return place_value(Value::number(std::string(tokens_.token())));
  }

  bool add(Value&& value) {
    tokens_.advance();
    return place_value(std::move(value));
  }

  bool place_value(Value&& value) {
    put(std::move(value));
    expect_more();
    return true;
  }

  void put(Value&& value) {
    value.place_ = here();
    if (depth_ > 0 && top().kind == Kind::array)
      top().items.push_back(std::move(value));
    else
      newest() = std::move(value);
  }

  // What was put last into the container that is open, or is to be put behind its last key.
  Value& newest() {
    if (depth_ == 0) return document_.root;
    return top().kind == Kind::array ? top().items.back() : top().members.back().value;
  }

  bool open(Kind kind) {
    tokens_.advance();
    expected_ = kind == Kind::array ? Expected::value_or_end : Expected::key_or_end;
    put(Value());
    if (depth_ == static_cast<std::size_t>(deepest_nesting)) {
      document_.faults.push_back({newest().place_, pointer(depth_),
                                  fmt::format("lists and objects may be nested {} deep at most", deepest_nesting)});
      return false;
    }
    if (depth_ == frames_.size()) frames_.resize(2 * depth_ + 4);
    ++depth_;
    top().kind = kind;
    return true;
  }

  bool close() {
    tokens_.advance();
    Frame& closed = top();
    --depth_;
    if (closed.kind == Kind::array) {
      newest().data_ = taken_from(closed.items);
    } else {
      newest().data_ = taken_from(closed.members);
      closed.places.clear();
    }
    expect_more();
    return true;
  }

  void expect_more() {
    if (depth_ == 0) {
      expected_ = Expected::nothing;
    } else {
      expected_ = top().kind == Kind::array ? Expected::comma_in_array : Expected::comma_in_object;
    }
  }

  void stop(Expected expected) {
    const Trouble trouble = explain(text_, tokens_.end(), expected);
    // Behind a key the member is at fault, else the container that is open.
    const std::size_t aside = depth_ == 0 || expected == Expected::colon ? 0 : 1;
    document_.faults.push_back({Places(text_).at(trouble.offset), pointer(depth_ - aside), trouble.message});
  }

  // Through the last item or member of this many of the open containers.
  std::string pointer(std::size_t through) const {
    std::string path;
    for (std::size_t i = 0; i < through; ++i) {
      const Frame& frame = frames_[i];
      path += '/';
      path +=
          frame.kind == Kind::array ? std::to_string(frame.items.size() - 1) : pointer_token(frame.members.back().key);
    }
    return path;
  }

  std::string_view text_;
  Tokens tokens_;
  std::optional<Places> places_; // none where nobody asks where a value stood
  Expected expected_ = Expected::value;
  std::vector<Frame> frames_; // kept for the next at this depth
  std::size_t depth_ = 0;     // how many are
  Document document_;
};

namespace {

constexpr std::string_view byte_order_mark = "\xef\xbb\xbf";

Document refused(std::string message) {
  return {Value(), {{Place{1, 1}, "", std::move(message)}}};
}

// UTF-16 and UTF-32 hold NUL bytes wherever a character is one of ASCII, and JSON begins with such characters.
bool of_wider_characters(std::string_view text) {
  return text.substr(0, 2) == "\xff\xfe" || text.substr(0, 2) == "\xfe\xff" ||
         text.substr(0, 2).find('\0') != std::string_view::npos;
}

Document read(std::string_view text, bool placed) {
  if (text.size() > largest_text) return refused(fmt::format("the text is larger than {} MB", largest_text >> 20));
  if (text.substr(0, byte_order_mark.size()) == byte_order_mark)
    return refused("the text starts with a byte order mark; save the file without it");
  if (of_wider_characters(text))
    return refused("the text is UTF-16 or not text at all; open it in the editor that wrote it and save it as UTF-8");
  Builder builder(text, placed);
  if (nlohmann::json::sax_parse(text.begin(), text.end(), &builder)) builder.finish();
  return builder.take();
}

} // namespace

std::string pointer_token(std::string_view key) {
  std::string token;
  for (const char c : key) {
    if (c == '~') {
      token += "~0";
    } else if (c == '/') {
      token += "~1";
    } else {
      token += c;
    }
  }
  return token;
}

Document read(std::string_view text) {
  return read(text, true);
}

Result<Value> read_one(std::string_view text) {
  Document document = read(text, false);
  if (document.faults.empty()) return std::move(document.root);
  const Fault first = read(text, true).faults.front();
  return Error{"not-json", fmt::format("line {}, column {}: {}", first.place.line, first.place.column, first.message)};
}

} // namespace json
