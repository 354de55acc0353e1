#include "build/event.h"

#include "quantity/quoted.h"
#include "json/read.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <limits>
#include <optional>
#include <set>

namespace build {

namespace {

constexpr std::int64_t two_to_53 = std::int64_t{1} << 53;
constexpr int minutes_of_a_day = 24 * 60;

constexpr std::array<std::string_view, 6> all_meanings = {meaning_done,          meaning_checked,  meaning_witnessed,
                                                          meaning_checked_again, meaning_conceded, meaning_released};
constexpr std::array<std::string_view, 11> members_always = {"v",      "rules",  "chain", "seq",  "prev", "time",
                                                             "offset", "person", "name",  "cert", "kind"};

Error bad(const std::string& what) {
  return {"bad-event", "this is no event of the record: " + what};
}

bool is_hash(std::string_view text) {
  return text.size() == 64 &&
         std::ranges::all_of(text, [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); });
}

bool holds_twice(const std::vector<json::Member>& members) {
  constexpr std::size_t few = 24;
  if (members.size() > few) {
    std::set<std::string_view> keys;
    return !std::ranges::all_of(members, [&](const auto& member) { return keys.insert(member.key).second; });
  }
  for (auto later = members.begin(); later != members.end(); ++later)
    if (std::find_if(members.begin(), later, [&](const auto& it) { return it.key == later->key; }) != later)
      return true;
  return false;
}

bool is_known(std::string_view meaning) {
  return std::ranges::find(all_meanings, meaning) != all_meanings.end();
}

// What a body may hold so that its canonical form is one and the same everywhere: whole numbers below 2^53 in their
// only spelling, and keys of visible ASCII characters.
// `depth`: of how many objects and lists it is inside.
Result<void> check_canonical(const json::Value& value, int depth) {
  const bool holds_others = value.is(json::Kind::array) || value.is(json::Kind::object);
  if (holds_others && depth == json::deepest_nesting) return bad("its body is nested too deep");
  if (value.is(json::Kind::number)) {
    const auto whole = value.as_integer();
    if (!whole || *whole <= -two_to_53 || *whole >= two_to_53 || value.number_text() != std::to_string(*whole))
      return bad(fmt::format("{} in its body is no whole number below 2^53 (decimals are written as text)",
                             quantity::quoted(value.number_text())));
  } else if (value.is(json::Kind::array)) {
    for (const json::Value& item : value.items())
      if (auto checked = check_canonical(item, depth + 1); !checked) return checked;
  } else if (value.is(json::Kind::object)) {
    if (holds_twice(value.members())) return bad("a key in its body is there twice");
    for (const json::Member& member : value.members()) {
      if (!std::ranges::all_of(member.key, [](char c) { return c >= ' ' && c <= '~'; }))
        return bad(fmt::format("the key {} in its body is not plain ASCII", quantity::quoted(member.key)));
      if (auto checked = check_canonical(member.value, depth + 1); !checked) return checked;
    }
  }
  return {};
}

// Takes the members of one event by name and keeps the first fault; after a fault everything reads as empty.
class Taking {
public:
  explicit Taking(const json::Value& object) : object_(object) {}

  const json::Value& any(std::string_view key, json::Kind kind) {
    static const json::Value none;
    const json::Value* found = object_.find(key);
    if (found && found->is(kind)) return *found;
    fault(found ? fmt::format("{} is {}, not {}", quantity::quoted(key), name_of(found->kind()), name_of(kind))
                : fmt::format("it has no {}", quantity::quoted(key)));
    return none;
  }

  std::string text(std::string_view key) {
    const json::Value& value = any(key, json::Kind::text);
    return value.is(json::Kind::text) ? value.as_text() : std::string();
  }

  std::string filled(std::string_view key) {
    std::string value = text(key);
    if (value.empty()) fault(fmt::format("{} is empty", quantity::quoted(key)));
    return value;
  }

  std::string hash(std::string_view key) {
    std::string value = text(key);
    if (!is_hash(value)) fault(fmt::format("{} is no SHA-256 of 64 lower-case hex digits", quantity::quoted(key)));
    return value;
  }

  std::int64_t whole(std::string_view key, std::int64_t least, std::int64_t most) {
    const json::Value& value = any(key, json::Kind::number);
    const auto number = value.as_integer();
    if (number && *number >= least && *number <= most && value.number_text() == std::to_string(*number)) return *number;
    fault(fmt::format("{} is no whole number from {} to {}", quantity::quoted(key), least, most));
    return 0;
  }

  void fault(const std::string& what) {
    if (!fault_) fault_ = bad(what);
  }
  void fault(const Error& error) {
    if (!fault_) fault_ = error;
  }

  const std::optional<Error>& first_fault() const { return fault_; }

private:
  const json::Value& object_;
  std::optional<Error> fault_;
};

Moment take_time(Taking& from) {
  const std::string written = from.text("time");
  const int offset = static_cast<int>(from.whole("offset", 1 - minutes_of_a_day, minutes_of_a_day - 1));
  const auto moment = calc::parse_moment(written);
  if (moment && calc::utc_text(*moment) == written) return {moment->utc_ms, offset};
  from.fault(quantity::quoted(written) + " is no time such as \"2024-05-01T07:00:00.000Z\"");
  return {};
}

void take_signature(Taking& from, Event& event) {
  event.meaning = from.text("meaning");
  event.signature = from.filled("sig");
  if (!is_known(event.meaning))
    from.fault(fmt::format("nobody signs with the meaning {}", quantity::quoted(event.meaning)));
  if (event.person.empty() || event.name.empty() || event.certificate.empty())
    from.fault("it is signed, but does not say by whom");
}

void refuse_unknown(Taking& from, const json::Value& object, bool is_signed) {
  for (const json::Member& member : object.members()) {
    const std::string_view key = member.key;
    const bool known = std::ranges::find(members_always, key) != members_always.end() || key == "body" ||
                       (is_signed && (key == "meaning" || key == "sig"));
    if (!known) from.fault(fmt::format("{} is unknown", quantity::quoted(key)));
    if (object.find(key) != &member.value) from.fault(fmt::format("{} is there twice", quantity::quoted(key)));
  }
}

} // namespace

std::string_view build_of_chain(std::string_view chain) {
  constexpr std::string_view before = "build:";
  return chain.starts_with(before) ? chain.substr(before.size()) : std::string_view();
}

std::string chain_of_build(std::string_view build_id) {
  return "build:" + std::string(build_id);
}

json::Value to_json(const Event& event, bool with_signature) {
  using json::Value;
  Value value = Value::object({{"v", Value::integer(event.format)},
                               {"rules", Value::integer(event.rules)},
                               {"chain", Value::text(event.chain)},
                               {"seq", Value::integer(event.seq)},
                               {"prev", Value::text(event.previous)},
                               {"time", Value::text(calc::utc_text(event.time))},
                               {"offset", Value::integer(event.time.offset_minutes)},
                               {"person", Value::text(event.person)},
                               {"name", Value::text(event.name)},
                               {"cert", Value::text(event.certificate)},
                               {"kind", Value::text(event.kind)}});
  if (!event.meaning.empty()) {
    value.set("meaning", Value::text(event.meaning));
    if (with_signature) value.set("sig", Value::text(event.signature));
  }
  value.set("body", event.body);
  return value;
}

Result<void> check_event(const Event& event) {
  const int offset = event.time.offset_minutes;
  if (event.format < 1 || event.format > event_format || event.rules < 1 || event.seq < 1 || event.seq >= two_to_53 ||
      offset <= -minutes_of_a_day || offset >= minutes_of_a_day)
    return bad("a number in it is out of its range");
  if (event.chain.empty() || event.kind.empty()) return bad("its chain or kind is empty");
  if (!is_hash(event.previous) || (!event.certificate.empty() && !is_hash(event.certificate)))
    return bad("\"prev\" or \"cert\" is no SHA-256 of 64 lower-case hex digits");
  if (!calc::is_moment(event.time)) return bad("its time is no time");
  if (event.meaning.empty() != event.signature.empty()) return bad("meaning and signature do not go together");
  if (!event.meaning.empty() &&
      (!is_known(event.meaning) || event.person.empty() || event.name.empty() || event.certificate.empty()))
    return bad("it is signed, but does not say what for, or by whom");
  if (!event.body.is(json::Kind::object)) return bad("its body is not an object");
  return check_canonical(event.body, 1);
}

Result<Event> event_from_json(json::Value value) {
  if (!value.is(json::Kind::object)) return bad(fmt::format("it is {}, not an object", name_of(value.kind())));
  Taking from(value);
  Event event;
  event.format = static_cast<int>(from.whole("v", 1, event_format));
  event.rules = static_cast<int>(from.whole("rules", 1, std::numeric_limits<int>::max()));
  event.chain = from.filled("chain");
  event.seq = from.whole("seq", 1, two_to_53 - 1);
  event.previous = from.hash("prev");
  event.time = take_time(from);
  event.person = from.text("person");
  event.name = from.text("name");
  event.certificate = from.text("cert");
  if (!event.certificate.empty()) from.hash("cert");
  event.kind = from.filled("kind");
  const json::Value& body = from.any("body", json::Kind::object);
  const bool is_signed = value.find("meaning") || value.find("sig");
  if (is_signed) take_signature(from, event);
  refuse_unknown(from, value, is_signed);
  if (auto checked = check_canonical(body, 1); !checked) from.fault(checked.error());
  if (from.first_fault()) return *from.first_fault();
  event.body = std::move(*value.find("body"));
  return event;
}

} // namespace build
