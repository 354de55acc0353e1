// What the readers of a procedure's objects share: lists, identifiers, words of a fixed set, conditions.
#pragma once

#include "procedure/names.h"
#include "json/fields.h"

#include <fmt/format.h>

#include <functional>

namespace procedure {

using Faults = std::vector<json::Fault>;

// `limit "main-clearance"`, or the bare noun when the object has no text of that name.
std::string named(std::string_view noun, const json::Value& object, std::string_view key = "id");

// Refuses unknown members. std::logic_error when the reader has asked for other members than known_members() lists.
void close(json::Fields& fields, std::string_view object);

// Small letters, digits and hyphens, 1 to 60 of them.
bool is_identifier(std::string_view text);
inline constexpr std::string_view identifier_rule = "must be 1 to 60 small letters a-z, digits and hyphens";

std::string text_or_empty(json::Fields& fields, std::string_view key, bool required = false);
std::string identifier(json::Fields& fields, std::string_view key, bool required = true); // "" when absent or wrong
bool flag(json::Fields& fields, std::string_view key);                                    // false when absent

// A list of texts, none empty, none twice. A list that is there must hold at least `least`.
enum class TextRule { any, identifiers };
std::vector<std::string> texts(json::Fields& fields, std::string_view key, Faults& faults, bool required = false,
                               TextRule rule = TextRule::any, std::size_t least = 1);

// {"W20": "reason"}; every code must be one of lint's.
Accepted accepted(json::Fields& fields, Faults& faults);

// Every item of a list, with its pointer. A required list must hold at least one.
using ItemReader = std::function<void(const json::Value& item, const std::string& pointer)>;
void each(json::Fields& fields, std::string_view key, bool required, const ItemReader& read);

// What `read` makes of each item.
template <typename Read>
auto list_of(json::Fields& fields, std::string_view key, bool required, const Read& read) {
  std::vector<std::invoke_result_t<Read, const json::Value&, const std::string&>> all;
  if (fields.has(key) && fields.value().at(key).is(json::Kind::array))
    all.reserve(fields.value().at(key).items().size());
  each(fields, key, required, [&](const json::Value& item, const std::string& at) { all.push_back(read(item, at)); });
  return all;
}

const Unit* unit(json::Fields& fields, bool required = true); // by the program's own name only

OptionIs read_option_is(json::Fields& fields, Faults& faults); // the members "option" and "is"
When read_when(json::Fields& fields, std::string_view key, Faults& faults);

template <typename Word, std::size_t Count>
std::optional<Word> one_of(json::Fields& fields, std::string_view key, const std::array<Written<Word>, Count>& words,
                           bool required = false) {
  const std::string* text = fields.text(key, required);
  if (!text) return std::nullopt;
  for (const auto& word : words)
    if (word.text == *text) return word.word;
  std::string all;
  for (const auto& word : words) {
    all += all.empty() ? "" : ", ";
    all += word.text;
  }
  fields.fault(key, fmt::format("\"{}\" must be one of: {}", key, all));
  return std::nullopt;
}

// A time {"value", "unit"}, in seconds, more than 0.
std::optional<Exact> read_seconds(json::Fields& fields, std::string_view key, Faults& faults);

// limit_reader.cpp, finding_reader.cpp, entry_reader.cpp, tightening_reader.cpp; `of`: the procedure's object
std::vector<Option> read_options(json::Fields& of, Faults& faults);
std::vector<Part> read_parts(json::Fields& of, Faults& faults);
std::vector<Limit> read_limits(json::Fields& of, calc::Rule rule, Faults& faults);
std::vector<OfferedFinding> read_findings(json::Fields& of, Faults& faults);
std::vector<OfferedWork> read_machine_work(json::Fields& of, Faults& faults);
std::vector<TrainGear> read_gear_train(json::Fields& of, Faults& faults);
std::optional<RingGaps> read_ring_gaps(json::Fields& of, Faults& faults); // of an entry
std::optional<Place> read_place(const json::Value* pair, const std::function<void(const std::string&)>& fault);
// "STEP/ENTRY"; both "" (and a fault) when it is not of that form.
std::pair<std::string, std::string> step_and_entry(json::Fields& fields, std::string_view key, bool required = false);
// `procedure` has its options, parts and limits; `step` everything but its entries.
Entry read_entry(const json::Value& item, const std::string& pointer, const Procedure& procedure, const Step& step,
                 Faults& faults);

void read_tightening(json::Fields& fields, Entry& entry, Faults& faults);
// Once every step is read: fasteners taken over from another entry, and orders worked out from places.
void settle_fasteners(Procedure& procedure);

} // namespace procedure
