// Calculated entries: does every input of the computation get something it can take, and is what is judged a size that
// the limit measures?
#include "procedure/check.h"
#include "procedure/offer.h"

#include "quantity/typed.h"
#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

namespace procedure {

using calc::Field;
using calc::ResultField;
using calc::ResultKind;
using calc::Shape;
using json::shown;
using quantity::Dimension;

namespace {

const ResultField* find_result(const calc::Computation& computation, std::string_view name) {
  for (const ResultField& result : computation.results)
    if (result.name == name) return &result;
  return nullptr;
}

const Field* find_field(const calc::Computation& computation, std::string_view name) {
  for (const Field& field : computation.inputs)
    if (field.name == name) return &field;
  return nullptr;
}

bool is_readings(const Entry& entry) {
  return entry.kind == EntryKind::reading || entry.kind == EntryKind::readings;
}

class CalculatedChecks {
public:
  CalculatedChecks(const Index& index, Notes& notes) : index_(index), notes_(notes) {}
  void check(const EntryView& at);

private:
  void check_fields(const EntryView& at);
  void check_input(const EntryView& at, const Field& field, const Source& source);
  void check_presence(const EntryView& at, const FromEntry& from, const std::string& pointer);
  void check_judge(const EntryView& at);
  std::optional<Offer> offer_of(const EntryView& at, const Field& field, const Source& source);
  std::optional<Offer> offer_of_entry(const EntryView& at, const FromEntry& from);
  std::optional<Offer> offer_of_cells(const EntryView& at, const Step& step, const Entry& entry);
  std::optional<Offer> offer_of_result(const EntryView& at, const FromEntry& from, const Step& step,
                                       const Entry& entry);
  std::optional<Offer> offer_of_limit(const EntryView& at, const FromLimit& from);
  std::optional<Offer> offer_of_option(const EntryView& at, const Field& field, const FromOption& from);
  std::optional<Offer> offer_of_constant(const EntryView& at, const Field& field, const Constant& constant);

  // Of a result; nullopt when it is not known, or calculated from calculated entries without end.
  std::optional<Dimension> dimension_of(const Entry& entry, const ResultField& result, int depth = 0);
  std::optional<Dimension> dimension_of(const Source& source, int depth);
  std::optional<Offer> refuse(const EntryView& at, std::string_view message) {
    notes_.error(input_pointer_, fmt::format("{}, input {}: {}", at.what(), shown(input_), message));
    return std::nullopt;
  }

  const Index& index_;
  Notes& notes_;
  std::map<const Entry*, std::optional<Dimension>> free_dimensions_;
  std::string input_; // being checked
  std::string input_pointer_;
};

void CalculatedChecks::check(const EntryView& at) {
  if (!at.entry.computation) return;
  check_fields(at);
  check_judge(at);
}

void CalculatedChecks::check_fields(const EntryView& at) {
  const calc::Computation& computation = *at.entry.computation;
  std::set<std::string_view> given;
  for (const auto& [name, source] : at.entry.inputs) {
    given.insert(name);
    input_ = name;
    input_pointer_ = at.pointer + "/inputs/" + json::pointer_token(name);
    if (const Field* field = find_field(computation, name)) {
      check_input(at, *field, source);
    } else {
      refuse(at, fmt::format("the computation {} has no such input", computation.name));
    }
  }
  for (const Field& field : computation.inputs)
    if (field.required && !given.contains(field.name))
      notes_.error(at.pointer + "/inputs", fmt::format("{}: the computation {} needs the input {} ({})", at.what(),
                                                       computation.name, shown(field.name), field.meaning));
}

void CalculatedChecks::check_input(const EntryView& at, const Field& field, const Source& source) {
  const auto offer = offer_of(at, field, source);
  if (!offer) return;
  const std::string problem = misfit(field, *offer);
  if (!problem.empty()) {
    refuse(at, problem);
    return;
  }
  if (!measures(field) || !offer->dimension) return;
  const auto wanted = field.dimension ? field.dimension : free_dimensions_[&at.entry];
  if (!wanted) free_dimensions_[&at.entry] = offer->dimension;
  if (wanted && *wanted != *offer->dimension)
    refuse(at, fmt::format("needs {}, not {}", name_of(*wanted), name_of(*offer->dimension)));
}

std::optional<Offer> CalculatedChecks::offer_of(const EntryView& at, const Field& field, const Source& source) {
  if (const auto* entry = std::get_if<FromEntry>(&source)) return offer_of_entry(at, *entry);
  if (const auto* limit = std::get_if<FromLimit>(&source)) return offer_of_limit(at, *limit);
  if (const auto* option = std::get_if<FromOption>(&source)) return offer_of_option(at, field, *option);
  return offer_of_constant(at, field, std::get<Constant>(source));
}

std::optional<Offer> CalculatedChecks::offer_of_entry(const EntryView& at, const FromEntry& from) {
  if (from.entry.empty()) return std::nullopt; // told when it was read
  const Step* step = index_.procedure().step(from.step);
  const Entry* entry = index_.entry(from.step, from.entry);
  if (!step || !entry) return refuse(at, fmt::format("there is no entry {}/{}", from.step, from.entry));
  check_presence(at, from, input_pointer_);
  if (entry->kind == EntryKind::calculated && from.as_found)
    return refuse(at, fmt::format("entry {} is calculated; only readings are taken as found", shown(from.entry)));
  if (entry->kind == EntryKind::calculated) return offer_of_result(at, from, *step, *entry);
  if (from.as_found && !entry->as_found)
    return refuse(at,
                  fmt::format("entry {} does not ask for a value as found; give it \"as-found\"", shown(from.entry)));
  if (!from.result.empty())
    return refuse(at, fmt::format("entry {} is no calculated entry, so it has no results", shown(from.entry)));
  if (is_readings(*entry)) return offer_of_cells(at, *step, *entry);
  if (entry->kind == EntryKind::choice && step->positions.empty()) {
    Offer offer{Offer::What::text, 1, 1, false, {}, entry->choices};
    return offer;
  }
  return refuse(at,
                fmt::format("nothing can be calculated from entry {}, a {}", shown(from.entry), name_of(entry->kind)));
}

Offer::What what_is(ResultKind kind) {
  switch (kind) {
  case ResultKind::quantities: return Offer::What::quantities;
  case ResultKind::number: return Offer::What::number;
  case ResultKind::text: return Offer::What::text;
  case ResultKind::truth: return Offer::What::nothing;
  default: return Offer::What::quantity;
  }
}

bool goes_over_all(const EntryView& at) {
  return at.step.positions.empty() || at.entry.over_all;
}

std::optional<Offer> CalculatedChecks::offer_of_cells(const EntryView& at, const Step& step, const Entry& entry) {
  const CellShape cells = cells_of(step, entry);
  Offer offer{Offer::What::readings, cells.rows, cells.columns, entry.may_skip, {}, {}, !entry.places.empty()};
  if (entry.unit) offer.dimension = entry.unit->dimension;
  if (step.positions.empty()) return offer;
  if (goes_over_all(at)) {
    offer.placed = false;
    offer.rows = cells.positions;
    offer.columns = cells.per_position();
    return offer;
  }
  if (step.positions == at.step.positions) return offer;
  return refuse(at, fmt::format("step {} has other positions; take it over all of them, or give both steps the same",
                                shown(step.id)));
}

std::optional<Offer> CalculatedChecks::offer_of_result(const EntryView& at, const FromEntry& from, const Step& step,
                                                       const Entry& entry) {
  if (!entry.computation) return std::nullopt; // told there
  if (from.result.empty()) return refuse(at, fmt::format("say which \"result\" of {}", entry.computation->name));
  const ResultField* result = find_result(*entry.computation, from.result);
  if (!result) return refuse(at, fmt::format("{} has no result {}", entry.computation->name, shown(from.result)));

  const bool one_each = !step.positions.empty() && !entry.over_all;
  const bool list = one_each && goes_over_all(at);
  if (one_each && !list && step.positions != at.step.positions)
    return refuse(at, fmt::format("step {} has other positions; take it over all of them, or give both steps the same",
                                  shown(step.id)));
  Offer offer;
  offer.dimension = dimension_of(entry, *result);
  if (list) { // one row a position
    if (what_is(result->kind) == Offer::What::quantity) offer.what = Offer::What::readings;
    offer.rows = step.positions.size();
  } else {
    offer.what = what_is(result->kind);
  }
  return offer;
}

std::optional<Offer> CalculatedChecks::offer_of_limit(const EntryView& at, const FromLimit& from) {
  if (from.limit.empty() || from.bound.empty()) return std::nullopt; // told when it was read
  const Limit* limit = index_.procedure().limit(from.limit);
  if (!limit) return refuse(at, fmt::format("there is no limit {}", shown(from.limit)));
  const auto bound_of = [&](const LimitValues& values) -> std::optional<Exact> {
    const Bounds standard = values.standard.value_or(Bounds{});
    const Bounds service = values.service.value_or(Bounds{});
    if (from.bound == "low") return standard.low;
    if (from.bound == "high") return standard.high;
    if (from.bound == "target") return values.target;
    return from.bound == "service low" ? service.low : service.high;
  };
  bool there = true;
  each_values(*limit, [&](const LimitValues& values, const std::string&) {
    there = there && (values.empty() || bound_of(values).has_value());
  });
  if (!there)
    return refuse(at, fmt::format("limit {} has no {} in one of its sets of numbers", shown(limit->id), from.bound));
  Offer offer;
  offer.what = Offer::What::quantity;
  if (limit->unit) offer.dimension = limit->unit->dimension;
  return offer;
}

std::optional<Offer> CalculatedChecks::offer_of_option(const EntryView& at, const Field& field,
                                                       const FromOption& from) {
  if (from.option.empty()) return std::nullopt; // told when it was read
  const Option* option = index_.procedure().option(from.option);
  if (!option) return refuse(at, fmt::format("there is no option {}", shown(from.option)));
  if (field.shape != Shape::one) return Offer{Offer::What::text, 1, 1, false, {}, option->choices};
  Offer offer{Offer::What::quantity, 1, 1, false, {}, {}};
  for (const std::string& choice : option->choices) {
    const auto size = quantity::parse_with_unit(choice);
    if (!size)
      return refuse(
          at, fmt::format("needs a size with its unit, but option {} can be {}", shown(option->id), shown(choice)));
    if (offer.dimension && *offer.dimension != size->unit->dimension)
      return refuse(at, fmt::format("the choices of option {} measure different things", shown(option->id)));
    offer.dimension = size->unit->dimension;
  }
  return offer;
}

std::optional<Offer> CalculatedChecks::offer_of_constant(const EntryView& at, const Field& field,
                                                         const Constant& constant) {
  const json::Value input = json::Value::object({{field.name, constant.value}});
  const auto given = calc::read_inputs({field}, input);
  if (!given) return refuse(at, given.error().message);
  if (!measures(field) || field.dimension) return std::nullopt; // read_inputs has checked all there is
  const auto wanted = free_dimensions_[&at.entry];
  const Dimension dimension = given->readings(field.name).unit->dimension;
  if (wanted && *wanted != dimension)
    return refuse(at, fmt::format("needs {}, not {}", name_of(*wanted), name_of(dimension)));
  free_dimensions_[&at.entry] = dimension;
  return std::nullopt;
}

// What is calculated must be on every engine that the entry using it is on.
void CalculatedChecks::check_presence(const EntryView& at, const FromEntry& from, const std::string& pointer) {
  const Step& step = *index_.procedure().step(from.step);
  const Entry& entry = *index_.entry(from.step, from.entry);
  const auto implied = [&](const OptionIs& condition) {
    for (const When* ours : {&at.step.when, &at.entry.when})
      for (const OptionIs& own : *ours) {
        const auto allowed = [&](const std::string& choice) {
          return std::find(condition.is.begin(), condition.is.end(), choice) != condition.is.end();
        };
        if (own.option == condition.option && std::all_of(own.is.begin(), own.is.end(), allowed)) return true;
      }
    return false;
  };
  for (const When* theirs : {&step.when, &entry.when})
    for (const OptionIs& condition : *theirs)
      if (!implied(condition)) {
        refuse(at, fmt::format("entry {}/{} is not on every engine this is calculated for: it depends on option {}",
                               from.step, from.entry, shown(condition.option)));
        return;
      }
  if ((entry.optional || from.as_found) && !at.entry.optional)
    notes_.warning("W07", pointer,
                   fmt::format("{}, input {}: entry {}/{} may be left empty, but then this cannot be calculated",
                               at.what(), shown(input_), from.step, from.entry));
}

std::optional<Dimension> CalculatedChecks::dimension_of(const Source& source, int depth) {
  if (const auto* limit = std::get_if<FromLimit>(&source)) {
    const Limit* found = index_.procedure().limit(limit->limit);
    return found && found->unit ? std::optional(found->unit->dimension) : std::nullopt;
  }
  const auto* from = std::get_if<FromEntry>(&source);
  const Entry* entry = from ? index_.entry(from->step, from->entry) : nullptr;
  if (!entry) return std::nullopt;
  if (entry->unit) return entry->unit->dimension;
  const ResultField* result = entry->computation ? find_result(*entry->computation, from->result) : nullptr;
  return result ? dimension_of(*entry, *result, depth + 1) : std::nullopt;
}

std::optional<Dimension> CalculatedChecks::dimension_of(const Entry& entry, const ResultField& result, int depth) {
  constexpr int deepest = 100;
  if (result.dimension || depth > deepest) return result.dimension;
  if (result.kind == ResultKind::number) return Dimension::number;
  for (const auto& [name, source] : entry.inputs) {
    const Field* field = find_field(*entry.computation, name);
    if (!field || !measures(*field) || field->dimension) continue;
    if (const auto dimension = dimension_of(source, depth)) return dimension;
  }
  return std::nullopt;
}

void CalculatedChecks::check_judge(const EntryView& at) {
  for (const auto& [name, limit] : at.entry.judge) {
    const std::string pointer = at.pointer + "/judge/" + json::pointer_token(name);
    const ResultField* result = find_result(*at.entry.computation, name);
    if (!result) {
      notes_.error(pointer, fmt::format("{}: the computation {} has no result {}", at.what(),
                                        at.entry.computation->name, shown(name)));
    } else if (result->kind == ResultKind::text || result->kind == ResultKind::truth) {
      notes_.error(pointer, fmt::format("{}: the result {} is no number and cannot be judged", at.what(), shown(name)));
    } else {
      check_judging_limit(index_, notes_, at, pointer, limit, dimension_of(at.entry, *result));
    }
  }
}

} // namespace

void check_calculated(const Index& index, Notes& notes) {
  CalculatedChecks checks(index, notes);
  index.each_entry([&](const EntryView& at) { checks.check(at); });
}

} // namespace procedure
