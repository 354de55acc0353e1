#include "procedure/emptied.h"

#include "procedure/check.h"
#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace procedure {

using json::Kind;
using json::shown;
using json::Value;

namespace {

constexpr const char* notice = "Numbers of this procedure are being filled in. The engine maker's manual, local codes "
                               "and licensed practice come first.";

void remove_numbers(Value& values) {
  for (const char* name : {"standard", "service", "target", "beside", "entered", "checked"}) values.remove(name);
}

void empty_limit(Value& limit) {
  remove_numbers(limit);
  for (const char* name : {"source", "accepted"}) limit.remove(name);
  limit.set("basis", Value::text("not yet"));
  if (Value* cases = limit.find("when"))
    for (Value& one : cases->items()) remove_numbers(one);
}

void drop_accepted(Value& value) {
  if (value.is(Kind::array))
    for (Value& item : value.items()) drop_accepted(item);
  if (!value.is(Kind::object)) return;
  value.remove("accepted");
  for (auto& member : value.members()) drop_accepted(member.value);
}

std::string constant_text(const Value& value) {
  if (value.is(Kind::number)) return value.number_text();
  if (value.is(Kind::text)) return value.as_text();
  std::vector<std::string> all;
  if (value.is(Kind::array))
    for (const Value& item : value.items()) all.push_back(constant_text(item));
  if (value.is(Kind::object))
    for (const auto& member : value.members())
      if (member.key != "unit") all.push_back(constant_text(member.value));
  const std::string unit = value.is(Kind::object) ? value.text_or_empty("unit") : "";
  return fmt::format("{}{}{}", fmt::join(all, ", "), unit.empty() ? "" : " ", unit);
}

void look_at_entry(const EntryView& at, std::vector<OfOldEngine>& all) {
  const Entry& entry = at.entry;
  if (entry.bolt && entry.fasteners_of.empty())
    all.push_back(
        {at.pointer + "/bolt",
         fmt::format("{}: {} fasteners, bolt {}{}", at.what(), entry.fasteners.size(), thread_text(*entry.bolt),
                     entry.bolt->strength.empty() ? "" : " of class " + entry.bolt->strength)});
  for (const auto& [input, source] : entry.inputs)
    if (const auto* constant = std::get_if<Constant>(&source))
      all.push_back({fmt::format("{}/inputs/{}", at.pointer, input),
                     fmt::format("{}: {} is {}", at.what(), input, constant_text(constant->value))});
  if (entry.least) all.push_back({at.pointer + "/least", fmt::format("{}: a time to wait", at.what())});
}

} // namespace

Value emptied(const Value& document, const NewHead& head) {
  Value root = document;
  drop_accepted(root);
  if (!head.id.empty()) root.set("id", Value::text(head.id));
  if (!head.title.empty()) root.set("title", Value::text(head.title));
  if (!head.model.empty()) root.set("engine", Value::object({{"model", Value::text(head.model)}}));
  root.set("revision", Value::text("0"));
  root.set("notice", Value::text(notice));
  if (Value* limits = root.find("limits"))
    for (auto& member : limits->members()) empty_limit(member.value);
  return root;
}

std::vector<OfOldEngine> of_old_engine(const Procedure& procedure) {
  std::vector<OfOldEngine> all;
  for (std::size_t i = 0; i < procedure.options.size(); ++i)
    all.push_back({fmt::format("/options/{}", i), fmt::format("option {}: {}", shown(procedure.options[i].id),
                                                              fmt::join(procedure.options[i].choices, ", "))});
  for (std::size_t i = 0; i < procedure.parts.size(); ++i)
    if (const Part& part = procedure.parts[i]; !part.positions.empty())
      all.push_back(
          {fmt::format("/parts/{}", i), fmt::format("part {}: {}", shown(part.id), fmt::join(part.positions, ", "))});
  for (std::size_t i = 0; i < procedure.gear_train.size(); ++i)
    all.push_back({fmt::format("/gear-train/{}", i),
                   fmt::format("gear {}: {} teeth", shown(procedure.gear_train[i].id), procedure.gear_train[i].teeth)});
  Index(procedure).each_entry([&](const EntryView& at) { look_at_entry(at, all); });
  return all;
}

} // namespace procedure
