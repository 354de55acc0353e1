#include "procedure/transcript.h"

#include "procedure/members.h"
#include "procedure/names.h"
#include "quantity/typed.h"
#include "json/splice.h"
#include "json/syntax.h"
#include "json/utf8.h"
#include "json/write.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace procedure {

using json::Kind;
using json::Value;

namespace {

// --- the numbers typed ----------------------------------------------------------------------------------------------

struct Numbers {
  const Unit* unit = nullptr;
  std::array<std::string, 5> written; // as JSON numbers: standard low, high, service low, high, target; "" for none
  bool empty() const {
    return std::all_of(written.begin(), written.end(), [](const auto& one) { return one.empty(); });
  }
};

std::string_view trimmed(std::string_view text) {
  const auto from = text.find_first_not_of(" \t");
  return from == std::string_view::npos ? "" : text.substr(from, text.find_last_not_of(" \t") - from + 1);
}

// As it was typed where that is a JSON number, with the zeros the manual prints at its end.
std::string as_json(std::string_view typed, const Exact& value) {
  const std::string_view digits = typed.substr(0, json::number_length(typed));
  const auto same = Exact::decimal(digits);
  return !digits.empty() && same && *same == value ? std::string(digits) : value.text();
}

Error wrong_unit(std::string message) {
  return {"bad-unit", std::move(message)};
}

Result<Numbers> read_typed(const TypedNumbers& typed, const Limit& limit) {
  Numbers numbers;
  const Unit* chosen = typed.unit.empty() ? nullptr : quantity::find_unit(typed.unit);
  if (!typed.unit.empty() && !chosen) return wrong_unit(fmt::format("There is no unit \"{}\".", typed.unit));
  if (chosen && !quantity::same_dimension(*chosen, *limit.unit))
    return quantity::wrong_dimension(typed.unit, *chosen, *limit.unit);
  numbers.unit = chosen;
  const std::array<std::string_view, 5> all = {typed.standard_low, typed.standard_high, typed.service_low,
                                               typed.service_high, typed.target};
  for (std::size_t i = 0; i < all.size(); ++i) {
    const std::string_view text = trimmed(all[i]);
    if (text.empty()) continue;
    const auto read = quantity::parse_typed(text, *limit.unit);
    if (!read) return read.error();
    numbers.written[i] = as_json(text, read->value);
    const bool named = read->unit != limit.unit;
    if (!named) continue;
    if (numbers.unit && numbers.unit != read->unit)
      return wrong_unit(fmt::format("Numbers in {} and {}: give all of one limit in one unit.", numbers.unit->name,
                                    read->unit->name));
    numbers.unit = read->unit;
  }
  if (!numbers.unit) numbers.unit = limit.unit;
  return numbers;
}

// --- the file -------------------------------------------------------------------------------------------------------

// Behind the members that come before it in a procedure, so that a limit reads the same whoever filled it in.
void put(Value& object, std::string_view kind, std::string_view key, Value value) {
  if (Value* there = object.find(key)) {
    *there = std::move(value);
    return;
  }
  const auto& order = members_of(kind);
  const auto rank = [&](std::string_view name) { return std::find(order.begin(), order.end(), name) - order.begin(); };
  auto& members = object.members();
  const auto before = std::find_if(members.begin(), members.end(),
                                   [&](const json::Member& member) { return rank(member.key) > rank(key); });
  members.insert(before, json::Member{std::string(key), std::move(value), {}});
}

Value bounds_of(const std::string& low, const std::string& high) {
  Value bounds = Value::object();
  if (!low.empty()) bounds.set("low", Value::number(low));
  if (!high.empty()) bounds.set("high", Value::number(high));
  return bounds;
}

void put_numbers(Value& object, std::string_view kind, const Numbers& numbers) {
  for (const char* key : {"standard", "service", "target"}) object.remove(key);
  const auto& n = numbers.written;
  if (!n[0].empty() || !n[1].empty()) put(object, kind, "standard", bounds_of(n[0], n[1]));
  if (!n[2].empty() || !n[3].empty()) put(object, kind, "service", bounds_of(n[2], n[3]));
  if (!n[4].empty()) put(object, kind, "target", Value::number(n[4]));
}

Value written_hand(const Hand& hand) {
  return Value::object({{"by", Value::text(hand.by)}, {"on", Value::text(hand.on)}});
}

std::string indent_of_line(std::string_view text, std::size_t offset) {
  const std::size_t before = text.rfind('\n', offset == 0 ? 0 : offset - 1);
  const std::size_t line = before == std::string_view::npos ? 0 : before + 1;
  const std::size_t first = std::min(text.find_first_not_of(" \t", line), offset);
  return std::string(text.substr(line, first - line));
}

constexpr std::size_t longest_line = 110;

// On one line where it stood on one and still has room there, else a line for each member and each line of "when".
std::string laid_out(const Value& limit, std::string_view text, json::Span span) {
  std::string line = json::spaced(limit);
  const bool was_one = text.substr(span.from, span.to - span.from).find('\n') == std::string_view::npos;
  const std::string indent = indent_of_line(text, span.from);
  if (was_one && line.size() + indent.size() <= longest_line) return line;
  std::string out = "{";
  for (const json::Member& member : limit.members()) {
    out += fmt::format("{}\n{}  {}: ", out.size() > 1 ? "," : "", indent, json::compact(Value::text(member.key)));
    if (!member.value.is(Kind::array)) {
      out += json::spaced(member.value);
      continue;
    }
    out += "[";
    for (const Value& item : member.value.items())
      out += fmt::format("{}\n{}    {}", &item == &member.value.items().front() ? "" : ",", indent, json::spaced(item));
    out += fmt::format("\n{}  ]", indent);
  }
  return out + "\n" + indent + "}";
}

// A procedure's text with what is needed to change one of its limits.
struct Opened {
  std::shared_ptr<const Procedure> procedure;
  const Limit* limit = nullptr;
  const LimitValues* values = nullptr;
  Value document;
  Value* written = nullptr; // the limit in the document

  Value& set(std::size_t line) const { return line == 0 ? *written : written->find("when")->items()[line - 1]; }
};

std::string_view kind_of(const NumberSet& set) {
  return set.line == 0 ? "limit" : "limit-case";
}

Error first_error(const Reading& reading) {
  const auto error = std::ranges::find(reading.remarks, Severity::error, &Remark::severity);
  return {"bad-procedure", fmt::format("Line {}: {}.", error->fault.place.line, error->fault.message)};
}

Result<Opened> open(std::string_view text, const NumberSet& set) {
  const Reading reading = read_procedure(text);
  if (!reading.procedure) return first_error(reading);
  Opened opened;
  opened.procedure = reading.procedure;
  opened.limit = opened.procedure->limit(set.limit);
  opened.values = values_of(*opened.procedure, set);
  if (!opened.limit) return Error{"unknown-limit", fmt::format("There is no limit {}.", json::shown(set.limit))};
  if (!opened.values)
    return Error{"unknown-limit", fmt::format("The limit {} has {} lines of \"when\".", json::shown(set.limit),
                                              opened.limit->cases.size())};
  opened.document = json::read(text).root;
  opened.written = opened.document.find("limits")->find(set.limit);
  return opened;
}

std::string with_limit(std::string_view text, const Value& limit) {
  const json::Span span = json::span_of(text, limit.place());
  return json::spliced(text, span, laid_out(limit, text, span));
}

Result<std::string> without_faults(std::string fresh) {
  const Reading reading = read_procedure(fresh);
  if (!reading.procedure) return first_error(reading);
  return fresh;
}

// --- the first reading ----------------------------------------------------------------------------------------------

bool others_have_numbers(const Limit& limit, std::size_t line) {
  bool some = line != 0 && !limit.values.empty();
  for (std::size_t i = 0; i < limit.cases.size(); ++i) some = some || (i + 1 != line && !limit.cases[i].values.empty());
  return some;
}

Result<void> put_unit(Opened& opened, const NumberSet& set, const Unit& unit) {
  if (&unit == opened.limit->unit) return {};
  if (others_have_numbers(*opened.limit, set.line))
    return wrong_unit(fmt::format("The other numbers of {} are in {}; give these in {} too.",
                                  json::shown(opened.limit->id), opened.limit->unit->name, opened.limit->unit->name));
  put(*opened.written, "limit", "unit", Value::text(std::string(unit.name)));
  return {};
}

Result<void> put_origin(Opened& opened, const Origin& origin) {
  const Basis basis = origin.basis.value_or(opened.limit->basis);
  if (basis == Basis::not_yet || basis == Basis::none)
    return Error{"bad-value", "Say where the numbers come from: maker, standard or shop, and from which document "
                              "and page."};
  put(*opened.written, "limit", "basis", Value::text(std::string(name_of(basis))));
  if (!origin.source.empty()) put(*opened.written, "limit", "source", Value::text(origin.source));
  return {};
}

void remove_all_numbers(Value& limit) {
  const auto remove = [](Value& object) {
    for (const char* key : {"standard", "service", "target", "beside", "entered"}) object.remove(key);
  };
  remove(limit);
  if (Value* cases = limit.find("when"))
    for (Value& one : cases->items()) remove(one);
}

} // namespace

bool TypedNumbers::empty() const {
  return standard_low.empty() && standard_high.empty() && service_low.empty() && service_high.empty() && target.empty();
}

Result<std::string> with_entered(std::string_view text, const NumberSet& set, const TypedNumbers& typed,
                                 const Origin& origin, const Hand& hand) {
  auto opened = open(text, set);
  if (!opened) return opened.error();
  const auto numbers = read_typed(typed, *opened->limit);
  if (!numbers) return numbers.error();
  if (numbers->empty()) {
    remove_all_numbers(*opened->written);
    put(*opened->written, "limit", "basis", Value::text(std::string(name_of(Basis::none))));
    if (!origin.source.empty()) put(*opened->written, "limit", "source", Value::text(origin.source));
    put(*opened->written, "limit", "entered", written_hand(hand));
    return without_faults(with_limit(text, *opened->written));
  }
  if (const auto unit = put_unit(*opened, set, *numbers->unit); !unit) return unit.error();
  if (const auto known = put_origin(*opened, origin); !known) return known.error();
  Value& its = opened->set(set.line);
  its.remove("beside");
  put_numbers(its, kind_of(set), *numbers);
  put(its, kind_of(set), "entered", written_hand(hand));
  return without_faults(with_limit(text, *opened->written));
}

Result<std::string> with_checked(std::string_view text, const NumberSet& set, const TypedNumbers& typed,
                                 const Hand& hand) {
  auto opened = open(text, set);
  if (!opened) return opened.error();
  const auto numbers = read_typed(typed, *opened->limit);
  if (!numbers) return numbers.error();
  const bool answered = opened->limit->basis == Basis::none;
  if (opened->values->empty() && !answered)
    return Error{"not-entered",
                 fmt::format("{} has no numbers yet; enter them first.", title_of(*opened->procedure, set))};
  Value second = written_hand(hand);
  second.set("unit", Value::text(std::string(numbers->unit->name)));
  put_numbers(second, "checked", *numbers);
  put(opened->set(set.line), kind_of(set), "checked", std::move(second));
  return without_faults(with_limit(text, *opened->written));
}

Result<std::vector<Remark>> slips_of(std::string_view text, const NumberSet& set, const TypedNumbers& typed) {
  auto opened = open(text, set);
  if (!opened) return opened.error();
  const auto numbers = read_typed(typed, *opened->limit);
  if (!numbers) return numbers.error();
  Value& its = opened->set(set.line);
  const auto remarks_with = [&](const Numbers& those) {
    put_numbers(its, kind_of(set), those);
    return read_procedure(with_limit(text, *opened->written)).remarks;
  };
  for (const char* key : {"entered", "checked", "beside"}) its.remove(key);
  if (opened->limit->basis == Basis::not_yet || opened->limit->basis == Basis::none)
    put(*opened->written, "limit", "basis", Value::text("shop"));
  put(*opened->written, "limit", "unit", Value::text(std::string(numbers->unit->name)));
  const auto without = remarks_with(Numbers());
  std::vector<Remark> fresh;
  for (Remark& remark : remarks_with(*numbers)) {
    const bool known = std::any_of(without.begin(), without.end(), [&](const Remark& other) {
      return other.code == remark.code && other.fault.pointer == remark.fault.pointer &&
             other.fault.message == remark.fault.message;
    });
    if (!known) fresh.push_back(std::move(remark));
  }
  return fresh;
}

} // namespace procedure
