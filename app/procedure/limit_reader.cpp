// Options, parts and limits.
#include "procedure/reading.h"

#include "calc/calendar.h"
#include "json/utf8.h"

namespace procedure {

using json::Fields;
using json::Value;

namespace {

std::optional<Bounds> read_bounds(Fields& of, std::string_view key, Faults& faults) {
  const Value* object = of.object(key, false);
  if (!object) return std::nullopt;
  Fields fields(*object, of.pointer_to(key), fmt::format("{}, {}", of.what(), key), faults);
  Bounds bounds{fields.number("low", false), fields.number("high", false)};
  if (!fields.has("low") && !fields.has("high"))
    fields.fault("", "needs a low or a high bound; a limit that is not filled in yet has none of these");
  if (bounds.low && bounds.high && *bounds.low > *bounds.high)
    fields.fault("low", fmt::format("low {} is above high {}", bounds.low->text(), bounds.high->text()));
  close(fields, "bounds");
  return bounds;
}

std::optional<Beside> read_beside(Fields& of, Faults& faults) {
  const Value* object = of.object("beside", false);
  if (!object) return std::nullopt;
  Fields fields(*object, of.pointer_to("beside"), fmt::format("{}, beside", of.what()), faults);
  Beside beside;
  beside.unit = unit(fields);
  beside.standard = read_bounds(fields, "standard", faults);
  beside.service = read_bounds(fields, "service", faults);
  beside.target = fields.number("target", false);
  close(fields, "beside");
  return beside;
}

Hand read_hand(Fields& fields) {
  Hand hand{text_or_empty(fields, "by", true), text_or_empty(fields, "on", true)};
  if (!hand.on.empty() && !calc::parse_date(hand.on)) fields.fault("on", "\"on\" must be a day, written 2026-11-26");
  return hand;
}

std::optional<Hand> read_entered(Fields& of, Faults& faults) {
  const Value* object = of.object("entered", false);
  if (!object) return std::nullopt;
  Fields fields(*object, of.pointer_to("entered"), fmt::format("{}, entered", of.what()), faults);
  Hand hand = read_hand(fields);
  close(fields, "entered");
  return hand;
}

std::optional<Checked> read_checked(Fields& of, Faults& faults) {
  const Value* object = of.object("checked", false);
  if (!object) return std::nullopt;
  Fields fields(*object, of.pointer_to("checked"), fmt::format("{}, checked", of.what()), faults);
  Checked checked;
  checked.hand = read_hand(fields);
  checked.unit = unit(fields);
  checked.standard = read_bounds(fields, "standard", faults);
  checked.service = read_bounds(fields, "service", faults);
  checked.target = fields.number("target", false);
  close(fields, "checked");
  return checked;
}

LimitValues read_values(Fields& fields, Faults& faults) {
  LimitValues values;
  values.standard = read_bounds(fields, "standard", faults);
  values.service = read_bounds(fields, "service", faults);
  values.target = fields.number("target", false);
  values.beside = read_beside(fields, faults);
  values.entered = read_entered(fields, faults);
  values.checked = read_checked(fields, faults);
  return values;
}

LimitCase read_case(const Value& item, const std::string& pointer, const std::string& limit, Faults& faults) {
  Fields fields(item, pointer, limit + ", case", faults);
  LimitCase one;
  one.when.push_back(read_option_is(fields, faults));
  for (OptionIs& condition : read_when(fields, "and", faults)) one.when.push_back(std::move(condition));
  one.values = read_values(fields, faults);
  close(fields, "limit-case");
  return one;
}

Limit read_limit(const json::Member& member, const std::string& pointer, calc::Rule rule, Faults& faults) {
  Fields fields(member.value, pointer, fmt::format("limit {}", json::shown(member.key)), faults);
  Limit limit;
  limit.id = member.key;
  if (!is_identifier(member.key)) fields.fault("", fmt::format("its name {}", identifier_rule));
  limit.title = text_or_empty(fields, "title");
  limit.unit = unit(fields);
  limit.values = read_values(fields, faults);
  limit.basis = one_of(fields, "basis", written_bases, true).value_or(Basis::shop);
  const bool must_name = limit.basis == Basis::maker || limit.basis == Basis::standard;
  limit.source = text_or_empty(fields, "source");
  if (must_name && !fields.has("source"))
    fields.fault("basis", fmt::format("basis \"{}\" needs a \"source\": document and page", name_of(limit.basis)));
  limit.rule = one_of(fields, "rule", written_rules).value_or(rule);
  limit.accepted = accepted(fields, faults);
  each(fields, "when", false, [&](const Value& item, const std::string& place) {
    limit.cases.push_back(read_case(item, place, fields.what(), faults));
  });
  close(fields, "limit");
  return limit;
}

} // namespace

// More is no list a person picks from, and each condition is compared with all of them.
constexpr std::size_t most_choices = 500;

std::vector<Option> read_options(Fields& of, Faults& faults) {
  std::vector<Option> options;
  each(of, "options", false, [&](const Value& item, const std::string& pointer) {
    Fields fields(item, pointer, named("option", item), faults);
    Option option;
    option.id = identifier(fields, "id");
    option.title = text_or_empty(fields, "title", true);
    option.text = text_or_empty(fields, "text");
    option.choices = texts(fields, "choices", faults, true, TextRule::any, 2);
    if (option.choices.size() > most_choices) {
      fields.fault("choices",
                   fmt::format("{} choices are too many; {} is the most", option.choices.size(), most_choices));
      option.choices.resize(most_choices);
    }
    option.given = text_or_empty(fields, "given");
    close(fields, "option");
    options.push_back(std::move(option));
  });
  return options;
}

std::vector<Part> read_parts(Fields& of, Faults& faults) {
  std::vector<Part> parts;
  each(of, "parts", false, [&](const Value& item, const std::string& pointer) {
    Fields fields(item, pointer, named("part", item), faults);
    Part part;
    part.id = identifier(fields, "id");
    part.title = text_or_empty(fields, "title", true);
    part.positions = texts(fields, "positions", faults);
    part.once = flag(fields, "once");
    part.dated = flag(fields, "dated");
    part.alpha = fields.number("alpha", false);
    if (part.alpha && part.alpha->sign() <= 0) fields.fault("alpha", "must be more than 0, in 1/K");
    close(fields, "part");
    parts.push_back(std::move(part));
  });
  return parts;
}

std::vector<Limit> read_limits(Fields& of, calc::Rule rule, Faults& faults) {
  std::vector<Limit> limits;
  const Value* object = of.object("limits", false);
  if (!object) return limits;
  for (const json::Member& member : object->members()) {
    const std::string pointer = of.pointer_to("limits") + "/" + json::pointer_token(member.key);
    limits.push_back(read_limit(member, pointer, rule, faults));
  }
  return limits;
}

} // namespace procedure
