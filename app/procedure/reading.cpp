#include "procedure/reading.h"

#include "procedure/members.h"
#include "procedure/reader.h"
#include "json/utf8.h"

#include <algorithm>
#include <set>
#include <stdexcept>

namespace procedure {

using json::Fields;
using json::Kind;
using json::Value;

std::string named(std::string_view noun, const Value& object, std::string_view key) {
  const Value* id = object.is(Kind::object) ? object.find(key) : nullptr;
  if (!id || !id->is(Kind::text)) return std::string(noun);
  return std::string(noun) + " " + json::shown(id->as_text());
}

void close(Fields& fields, std::string_view object) {
  const auto& members = members_of(object);
  const auto was_asked = [&](std::string_view member) { return fields.is_known(member); };
  if (fields.known().size() != members.size() || !std::all_of(members.begin(), members.end(), was_asked))
    throw std::logic_error(fmt::format("the reader of \"{}\" and its list of members differ", object));
  fields.refuse_unknown();
}

bool is_identifier(std::string_view text) {
  const auto good = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; };
  return !text.empty() && text.size() <= 60 && std::all_of(text.begin(), text.end(), good);
}

std::string text_or_empty(Fields& fields, std::string_view key, bool required) {
  const std::string* text = fields.text(key, required);
  return text ? *text : "";
}

std::string identifier(Fields& fields, std::string_view key, bool required) {
  const std::string* text = fields.text(key, required);
  if (!text) return "";
  if (is_identifier(*text)) return *text;
  fields.fault(key, fmt::format("\"{}\" {}, not {}", key, identifier_rule, json::shown(*text)));
  return "";
}

bool flag(Fields& fields, std::string_view key) {
  return fields.boolean(key, false).value_or(false);
}

std::vector<std::string> texts(Fields& fields, std::string_view key, Faults& faults, bool required, TextRule rule,
                               std::size_t least) {
  std::vector<std::string> all;
  std::set<std::string_view> seen;
  const Value* list = fields.array(key, required);
  if (!list) return all;
  if (list->items().size() < least) fields.fault(key, fmt::format("\"{}\" must hold at least {}", key, least));
  for (std::size_t i = 0; i < list->items().size(); ++i) {
    const Value& item = list->items()[i];
    const auto fault = [&](const std::string& message) {
      faults.push_back({item.place(), fmt::format("{}/{}", fields.pointer_to(key), i),
                        fmt::format("{}: {}", fields.what(), message)});
    };
    if (!item.is(Kind::text) || item.as_text().empty()) {
      fault(fmt::format("\"{}\" must hold texts that are not empty", key));
    } else if (rule == TextRule::identifiers && !is_identifier(item.as_text())) {
      fault(fmt::format("{} in \"{}\" {}", json::shown(item.as_text()), key, identifier_rule));
    } else if (!seen.insert(item.as_text()).second) {
      fault(fmt::format("\"{}\" lists {} twice", key, json::shown(item.as_text())));
    } else {
      all.push_back(item.as_text());
    }
  }
  return all;
}

Accepted accepted(Fields& fields, Faults& faults) {
  Accepted out;
  const Value* object = fields.object("accepted", false);
  if (!object) return out;
  for (const json::Member& member : object->members()) {
    const auto fault = [&](const std::string& message) {
      faults.push_back({member.value.place(),
                        fmt::format("{}/{}", fields.pointer_to("accepted"), json::pointer_token(member.key)),
                        fmt::format("{}, accepted: {}", fields.what(), message)});
    };
    if (explain(member.key).empty())
      fault(fmt::format("there is no warning {}", json::shown(member.key)));
    else if (!member.value.is(Kind::text) || member.value.as_text().empty())
      fault(fmt::format("{} needs the reason why it is meant so, as a text", member.key));
    else
      out.emplace_back(member.key, member.value.as_text());
  }
  return out;
}

void each(Fields& fields, std::string_view key, bool required, const ItemReader& read) {
  const Value* list = fields.array(key, required);
  if (!list) return;
  if (required && list->items().empty()) fields.fault(key, fmt::format("\"{}\" must hold at least one", key));
  const std::string pointer = fields.pointer_to(key);
  for (std::size_t i = 0; i < list->items().size(); ++i) read(list->items()[i], pointer + '/' + std::to_string(i));
}

const Unit* unit(Fields& fields, bool required) {
  const std::string* name = fields.text("unit", required);
  if (!name) return nullptr;
  const Unit* found = quantity::find_unit(*name);
  if (!found) {
    fields.fault("unit", fmt::format("unknown unit {}", json::shown(*name)));
  } else if (found->name != *name) {
    fields.fault("unit", fmt::format("the unit {} is written \"{}\" in a procedure", json::shown(*name), found->name));
  }
  return found;
}

OptionIs read_option_is(Fields& fields, Faults& faults) {
  OptionIs condition;
  condition.option = text_or_empty(fields, "option", true);
  const Value* is = fields.any("is");
  if (is && is->is(Kind::text)) {
    condition.is.push_back(text_or_empty(fields, "is", true));
  } else if (is && is->is(Kind::array)) {
    condition.is = texts(fields, "is", faults, true);
  } else if (is) {
    fields.fault("is", "\"is\" must be a choice of the option, or a list of them");
  }
  return condition;
}

When read_when(Fields& fields, std::string_view key, Faults& faults) {
  When when;
  each(fields, key, false, [&](const Value& item, const std::string& pointer) {
    Fields condition(item, pointer, "condition", faults);
    when.push_back(read_option_is(condition, faults));
    close(condition, "condition");
  });
  return when;
}

std::optional<Place> read_place(const Value* pair, const std::function<void(const std::string&)>& fault) {
  if (!pair) return std::nullopt;
  const auto number = [](const Value& value) {
    return value.is(Kind::number) ? Exact::decimal(value.number_text()) : Result<Exact>(Error{"", ""});
  };
  if (pair->is(Kind::array) && pair->items().size() == 2) {
    const auto x = number(pair->items()[0]);
    const auto y = number(pair->items()[1]);
    if (x && y) return Place{*x, *y};
  }
  fault("a place is two numbers in mm, [x, y]");
  return std::nullopt;
}

} // namespace procedure
