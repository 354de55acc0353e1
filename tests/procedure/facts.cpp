// Prints what the reader of procedures knows, as JSON, for schema_check.py: the members of every object, the units and
// words it takes, and for each file named whether it is accepted, with its resolved form.
#include "procedure/members.h"
#include "procedure/names.h"
#include "procedure/reader.h"
#include "json/write.h"

#include <cstdio>

namespace {

using json::Value;

Value members() {
  Value all = Value::object();
  for (const auto& object : procedure::known_members()) {
    Value& list = all.set(object.object, Value::array());
    for (const std::string_view member : object.members) list.push(Value::text(std::string(member)));
  }
  return all;
}

Value units() {
  Value list = Value::array();
  for (const auto& unit : quantity::all_units()) list.push(Value::text(std::string(unit.name)));
  return list;
}

template <typename Words>
Value words(const Words& written) {
  Value list = Value::array();
  for (const auto& word : written) list.push(Value::text(std::string(word.text)));
  return list;
}

Value result_of(const char* path) {
  const auto text = json::read_file(path);
  if (!text) return Value::text(text.error().message);
  const auto reading = procedure::read_procedure(*text);
  Value file = Value::object({{"accepted", Value::boolean(reading.procedure != nullptr)}});
  if (reading.procedure) file.set("resolved", procedure::resolved(*reading.procedure));
  return file;
}

} // namespace

int main(int count, char** arguments) {
  Value files = Value::object();
  for (int i = 1; i < count; ++i) files.set(arguments[i], result_of(arguments[i]));
  const Value facts = Value::object({{"members", members()},
                                     {"units", units()},
                                     {"basis", words(procedure::written_bases)},
                                     {"word", words(procedure::written_signal_words)},
                                     {"taken-apart", words(procedure::written_taken_apart)},
                                     {"judged-by", words(procedure::written_columns)},
                                     {"rule", words(procedure::written_rules)},
                                     {"bound", words(procedure::written_bounds)},
                                     {"severity", words(procedure::written_severities)},
                                     {"kind", words(procedure::written_entry_kinds)},
                                     {"files", std::move(files)}});
  std::puts(json::compact(facts).c_str());
}
