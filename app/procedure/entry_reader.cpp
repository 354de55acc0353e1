// Entries: what they have in common, then what each kind asks.
#include "procedure/reading.h"

#include "json/utf8.h"

#include <set>

namespace procedure {

using json::Fields;
using json::Kind;
using json::Value;

namespace {

TakenApart usual_taken_apart(EntryKind kind, bool loose) {
  switch (kind) {
  case EntryKind::reading:
  case EntryKind::readings: return loose ? TakenApart::keeps : TakenApart::asks;
  case EntryKind::calculated: return TakenApart::asks;
  case EntryKind::choice:
  case EntryKind::identity:
  case EntryKind::photograph: return TakenApart::keeps;
  case EntryKind::confirm:
  case EntryKind::tightening:
  case EntryKind::wait: return TakenApart::lost;
  }
  throw std::logic_error("unknown kind of entry");
}

class EntryReader {
public:
  EntryReader(Fields& fields, const Procedure& procedure, const Step& step, Faults& faults)
      : fields_(fields), procedure_(procedure), step_(step), faults_(faults) {}

  Entry read();

private:
  void read_judging();
  void read_readings();
  void read_set();
  void read_places();
  void read_rings();
  void read_choice();
  void read_wait();
  void read_calculated();
  Source read_source(const Value& item, const std::string& pointer);
  FromEntry read_from_entry(Fields& from);

  Fields& fields_;
  const Procedure& procedure_;
  const Step& step_;
  Faults& faults_;
  Entry entry_;
};

Entry EntryReader::read() {
  entry_.id = identifier(fields_, "id");
  entry_.title = text_or_empty(fields_, "title", true);
  entry_.text = text_or_empty(fields_, "text");
  entry_.when = read_when(fields_, "when", faults_);
  entry_.accepted = accepted(fields_, faults_);
  entry_.optional = flag(fields_, "optional");
  const auto taken_apart = one_of(fields_, "taken-apart", written_taken_apart);
  const auto kind = one_of(fields_, "kind", written_entry_kinds, true);
  if (!kind) return std::move(entry_);
  entry_.kind = *kind;
  switch (*kind) {
  case EntryKind::reading: read_readings(); break;
  case EntryKind::readings:
    read_readings();
    read_set();
    break;
  case EntryKind::choice: read_choice(); break;
  case EntryKind::tightening: read_tightening(fields_, entry_, faults_); break;
  case EntryKind::identity:
  case EntryKind::photograph: entry_.loose = flag(fields_, "loose"); break;
  case EntryKind::wait: read_wait(); break;
  case EntryKind::calculated: read_calculated(); break;
  case EntryKind::confirm: break;
  }
  if (*kind == EntryKind::confirm || *kind == EntryKind::choice || *kind == EntryKind::readings) read_rings();
  entry_.taken_apart = taken_apart.value_or(usual_taken_apart(*kind, entry_.loose));
  close(fields_, name_of(*kind));
  return std::move(entry_);
}

void EntryReader::read_judging() {
  entry_.parts = texts(fields_, "parts", faults_);
  entry_.column = one_of(fields_, "judged-by", written_columns).value_or(Column::by_parts);
}

void EntryReader::read_readings() {
  read_judging();
  entry_.loose = flag(fields_, "loose");
  entry_.limit = text_or_empty(fields_, "limit");
  entry_.unit = unit(fields_, !fields_.has("limit"));
  const Limit* limit = procedure_.limit(entry_.limit);
  if (!fields_.has("unit") && limit) entry_.unit = limit->unit;
  entry_.by_eye = flag(fields_, "by-eye");
  entry_.as_found = flag(fields_, "as-found");
  entry_.gauges = texts(fields_, "gauges", faults_);
  if (entry_.by_eye && !entry_.gauges.empty()) fields_.fault("gauges", "read by eye, so no gauge can be asked for");
}

void EntryReader::read_set() {
  entry_.rows = texts(fields_, "rows", faults_, true);
  entry_.columns = texts(fields_, "columns", faults_);
  read_places();
  entry_.may_skip = flag(fields_, "may-skip");
  constexpr std::size_t most = 2000; // numbers one entry can hold
  if (cells_of(step_, entry_).count() > most)
    fields_.fault("rows", fmt::format("asks for {} numbers; {} is the most one entry can hold",
                                      cells_of(step_, entry_).count(), most));
}

void EntryReader::read_places() {
  std::size_t given = 0;
  each(fields_, "places", false, [&](const Value& item, const std::string& pointer) {
    ++given;
    const auto place = read_place(&item, [&](const std::string& why) {
      faults_.push_back({item.place(), pointer, fmt::format("{}: {}", fields_.what(), why)});
    });
    if (place) entry_.places.push_back(*place);
  });
  if (given == 0) return;
  if (!entry_.columns.empty()) fields_.fault("columns", "a height at a place is one number, so it has no columns");
  if (entry_.unit && entry_.unit->dimension != quantity::Dimension::length)
    fields_.fault("places",
                  fmt::format("\"places\" are those of heights, which are not read in {}", entry_.unit->name));
  if (given != entry_.rows.size())
    fields_.fault("places",
                  fmt::format("\"places\" has {} for {} rows; each row has its own", given, entry_.rows.size()));
}

// Readings of the gaps are one row a ring, in degrees.
void EntryReader::read_rings() {
  if (auto gaps = read_ring_gaps(fields_, faults_))
    entry_.ring_gaps = std::make_shared<const RingGaps>(*std::move(gaps));
  if (!entry_.ring_gaps || entry_.kind != EntryKind::readings) return;
  std::vector<std::string> titles;
  for (const RingGap& ring : entry_.ring_gaps->rings) titles.push_back(ring.title);
  if (titles != entry_.rows || !entry_.columns.empty())
    fields_.fault("rows", "the rows of ring gaps are the titles of the rings, in their order, without columns");
  if (entry_.unit && entry_.unit->dimension != quantity::Dimension::angle)
    fields_.fault("ring-gaps", fmt::format("ring gaps are read as angles, not in {}", entry_.unit->name));
}

void EntryReader::read_choice() {
  entry_.loose = flag(fields_, "loose");
  entry_.parts = texts(fields_, "parts", faults_);
  entry_.option = text_or_empty(fields_, "option");
  entry_.choices = texts(fields_, "choices", faults_, !fields_.has("option"), TextRule::any, 2);
  const Option* option = procedure_.option(entry_.option);
  if (!fields_.has("choices") && option) entry_.choices = option->choices;
  entry_.good = texts(fields_, "good", faults_);
  const std::set<std::string_view> choices(entry_.choices.begin(), entry_.choices.end());
  for (const std::string& good : entry_.good)
    if (!choices.contains(good)) fields_.fault("good", fmt::format("{} is not one of the choices", json::shown(good)));
  if (const Value* proposed = fields_.object("proposed-by", false)) {
    Fields from(*proposed, fields_.pointer_to("proposed-by"), fields_.what() + ", proposed-by", faults_);
    entry_.proposed_by = std::make_shared<const FromEntry>(read_from_entry(from));
  }
}

void EntryReader::read_wait() {
  entry_.least = read_seconds(fields_, "least", faults_);
  entry_.most = read_seconds(fields_, "most", faults_);
  if (!fields_.has("least") && !fields_.has("most")) fields_.fault("", "needs a \"least\" or a \"most\" time");
  if (entry_.least && entry_.most && *entry_.least > *entry_.most)
    fields_.fault("least", "the least time is longer than the most");
}

FromEntry EntryReader::read_from_entry(Fields& from) {
  FromEntry source{step_.id, text_or_empty(from, "entry", true), text_or_empty(from, "result"), flag(from, "as-found")};
  const std::size_t slash = source.entry.find('/');
  if (slash != std::string::npos) {
    source.step = source.entry.substr(0, slash);
    source.entry.erase(0, slash + 1);
  }
  close(from, "from-entry");
  return source;
}

Source EntryReader::read_source(const Value& item, const std::string& pointer) {
  Fields fields(item, pointer, fmt::format("{}, input", fields_.what()), faults_);
  if (!item.is(Kind::object)) return FromEntry(); // names no entry
  const int kinds = fields.has("entry") + fields.has("limit") + fields.has("option") + fields.has("constant");
  if (kinds != 1) {
    fields.fault("", "needs exactly one of \"entry\", \"limit\", \"option\", \"constant\"");
    return FromEntry(); // names no entry
  }
  if (fields.has("entry")) return read_from_entry(fields);
  if (fields.has("limit")) {
    FromLimit source{text_or_empty(fields, "limit", true),
                     std::string(one_of(fields, "bound", written_bounds, true).value_or(""))};
    close(fields, "from-limit");
    return source;
  }
  if (fields.has("option")) {
    FromOption source{text_or_empty(fields, "option", true)};
    close(fields, "from-option");
    return source;
  }
  Constant source{*fields.any("constant")};
  close(fields, "constant");
  return source;
}

void EntryReader::read_calculated() {
  read_judging();
  const std::string* name = fields_.text("computation");
  if (name) {
    entry_.computation = calc::find_computation(*name);
    if (!entry_.computation)
      fields_.fault("computation", fmt::format("there is no computation {}", json::shown(*name)));
  }
  if (const Value* inputs = fields_.object("inputs"))
    for (const json::Member& member : inputs->members()) {
      const std::string pointer = fields_.pointer_to("inputs") + "/" + json::pointer_token(member.key);
      entry_.inputs.emplace_back(member.key, read_source(member.value, pointer));
    }
  if (const Value* judge = fields_.object("judge", false)) {
    Fields limits(*judge, fields_.pointer_to("judge"), fmt::format("{}, judge", fields_.what()), faults_);
    for (const json::Member& member : judge->members())
      entry_.judge.emplace_back(member.key, text_or_empty(limits, member.key));
  }
  static constexpr std::array written_over = {Written<bool>{false, "each"}, Written<bool>{true, "all"}};
  entry_.over_all = one_of(fields_, "over", written_over).value_or(false);
  if (fields_.has("over") && step_.positions.empty()) fields_.fault("over", "the step has no positions to go over");
}

} // namespace

Entry read_entry(const Value& item, const std::string& pointer, const Procedure& procedure, const Step& step,
                 Faults& faults) {
  const std::string noun = step.id.empty() ? "entry" : fmt::format("step {}, entry", json::shown(step.id));
  Fields fields(item, pointer, named(noun, item), faults);
  return EntryReader(fields, procedure, step, faults).read();
}

} // namespace procedure
