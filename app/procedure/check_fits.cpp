// Warnings of sizes that must go together: a clearance and the two sizes it is between, the sizes of one fit among
// which is chosen, an oversize and the limits it moves, the grades of a gasket, and one number printed in two units.
// remark.cpp explains each code.
#include "procedure/slip.h"

#include "calc/plausible.h"
#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace procedure {

using json::shown;

namespace {

const Limit* judged_by(const Procedure& procedure, const Entry& entry, std::string_view result) {
  for (const auto& [name, limit] : entry.judge)
    if (name == result) return procedure.limit(limit);
  return nullptr;
}

// --- W20: a clearance that does not follow from its sizes -----------------------------------------------------------

struct Pair {
  std::string_view computation, outer, inner;
};
constexpr std::array pairs = {Pair{"oil-clearance", "bore", "journal"}, Pair{"clearance", "outer", "inner"},
                              Pair{"piston-clearance", "bore", "piston"}};

// Numbers: outer low and high, inner low and high, clearance low and high. A selective fit may be closer than any two
// parts come out, so either end may be off by the tolerances of both parts together (common practice, no source).
bool clearance_follows(const std::vector<double>& it) {
  constexpr double widest = 1.05; // of one size
  if (it[1] > widest * it[0] || it[3] > widest * it[2]) return false;
  const double either = std::abs(it[1] - it[0]) + std::abs(it[3] - it[2]);
  const double slack = std::max(either, 0.004);
  return it[0] <= it[1] && it[2] <= it[3] && it[4] <= it[5] && std::abs(it[0] - it[3] - it[4]) <= slack &&
         std::abs(it[1] - it[2] - it[5]) <= slack;
}

void check_clearance(const Index& index, Notes& notes, const EntryView& at) {
  const auto pair = std::find_if(pairs.begin(), pairs.end(), [&](const Pair& one) {
    return at.entry.computation && at.entry.computation->name == one.computation;
  });
  if (pair == pairs.end()) return;
  const Limit* outer = limit_behind(index, at.entry, pair->outer);
  const Limit* inner = limit_behind(index, at.entry, pair->inner);
  const Limit* least = judged_by(index.procedure(), at.entry, "min");
  const Limit* most = judged_by(index.procedure(), at.entry, "max");
  if (!outer || !inner || !least || least != most) return;
  bool told = false;
  each_set(index, at, {outer, inner, least}, [&](const Combinations& combination) {
    const auto o = standard_mm(*outer, combination.values_of(*outer));
    const auto i = standard_mm(*inner, combination.values_of(*inner));
    const auto c = standard_mm(*least, combination.values_of(*least));
    if (told || !o || !i || !c || clearance_follows({o->low, o->high, i->low, i->high, c->low, c->high})) return;
    told = true;
    const std::vector<Written> numbers = {{outer, "low", o->low},   {outer, "high", o->high}, {inner, "low", i->low},
                                          {inner, "high", i->high}, {least, "low", c->low},   {least, "high", c->high}};
    notes.warning("W20", at.pointer,
                  fmt::format("{}: {} ({} to {}) and {} ({} to {}) leave {} to {}, but limit {} says {} to {}{}",
                              at.what(), shown(outer->id), mm(o->low), mm(o->high), shown(inner->id), mm(i->low),
                              mm(i->high), mm(o->low - i->high), mm(o->high - i->low), shown(least->id), mm(c->low),
                              mm(c->high), likely_slip(numbers, clearance_follows)));
  });
}

// --- W24: an oversize that does not move its limits -----------------------------------------------------------------

// A size in mm among choices, "0.50": not a grade ("2") or a word.
std::optional<double> size_of_choice(const std::string& choice) {
  if (choice.find('.') == std::string::npos) return std::nullopt;
  const auto size = Exact::written(choice);
  return size && size->sign() > 0 ? std::optional(size->to_double()) : std::nullopt;
}

// What the limit says when nothing is over or under size: under the option's `given`.
const LimitValues& unmoved(const Limit& limit, const Option& option) {
  for (const LimitCase& one : limit.cases)
    if (one.when.size() == 1 && one.when.front().option == option.id &&
        std::ranges::find(one.when.front().is, option.given) != one.when.front().is.end())
      return one.values;
  return limit.values;
}

// A size moves by the oversize, a shell's wall by half of it; either end alike, within a tenth.
bool moves_by(double size, double low, double high) {
  const auto near = [&](double wanted) {
    return std::abs(std::abs(low) - wanted) <= 0.1 * wanted && std::abs(std::abs(high) - wanted) <= 0.1 * wanted &&
           low * high > 0;
  };
  return near(size) || near(size / 2);
}

void check_moved(Notes& notes, const Limit& limit, const Option& option, const LimitCase& one,
                 const std::string& pointer) {
  if (one.when.size() != 1 || one.when.front().option != option.id || one.when.front().is.size() != 1) return;
  const auto size = size_of_choice(one.when.front().is.front());
  const auto base = standard_mm(limit, unmoved(limit, option));
  const auto now = standard_mm(limit, one.values);
  if (!size || !base || !now || moves_by(*size, now->low - base->low, now->high - base->high)) return;
  notes.warning("W24", pointer,
                fmt::format("limit {}: under {} {} its bounds move by {} and {} from {} to {}; they should move by the "
                            "size, or a wall by half of it",
                            shown(limit.id), shown(option.id), shown(one.when.front().is.front()),
                            mm(now->low - base->low), mm(now->high - base->high), mm(base->low), mm(base->high)));
}

void check_oversizes(const Index& index, Notes& notes, const Limit& limit) {
  for (const Option& option : index.procedure().options) {
    if (option.given.empty() || size_of_choice(option.given)) continue;
    for (std::size_t i = 0; i < limit.cases.size(); ++i)
      check_moved(notes, limit, option, limit.cases[i], fmt::format("{}/when/{}", pointer_of_limit(limit), i));
  }
}

// --- W26, W27: what is chosen from ----------------------------------------------------------------------------------

const json::Value* constant_of(const Entry& entry, std::string_view input) {
  const Source* source = input_of(entry, input);
  const auto* constant = source ? std::get_if<Constant>(source) : nullptr;
  return constant ? &constant->value : nullptr;
}

std::optional<double> number_in(const json::Value* value) {
  if (!value || !value->is(json::Kind::number)) return std::nullopt;
  const auto number = Exact::written(value->number_text());
  return number ? std::optional(number->to_double()) : std::nullopt;
}

// The sizes of one kind of part lie close together: one five times another is a slip of the point (common practice, no
// source). Oversizes are amounts, not sizes.
void check_available(Notes& notes, const EntryView& at) {
  const std::string_view name = at.entry.computation->name;
  if (name == "oversize-selection" || name == "undersize-selection") return;
  const json::Value* available = constant_of(at.entry, "available");
  const json::Value* values = available && available->is(json::Kind::object) ? available->find("values") : nullptr;
  if (!values || !values->is(json::Kind::array) || values->items().size() < 2) return;
  std::vector<double> sizes;
  for (const auto& item : values->items())
    if (const auto size = number_in(&item)) sizes.push_back(*size);
  std::ranges::sort(sizes);
  if (sizes.size() < 2 || sizes.front() <= 0 || sizes.back() <= 5 * sizes.front()) return;
  notes.warning("W26", at.pointer + "/inputs/available",
                fmt::format("{}: the sizes to choose from go from {} to {}; one of them has slipped by a digit",
                            at.what(), sizes.front(), sizes.back()));
}

struct Grade {
  std::string name;
  double from = 0;
  double to = 0;
};

std::vector<Grade> grades_of(const Entry& entry) {
  std::vector<Grade> out;
  const json::Value* all = constant_of(entry, "grades");
  if (!all || !all->is(json::Kind::array)) return out;
  for (const auto& item : all->items()) {
    const auto bound = [&](std::string_view key) -> std::optional<double> {
      const json::Value* of = item.is(json::Kind::object) ? item.find(key) : nullptr;
      return of && of->is(json::Kind::object) ? number_in(of->find("value")) : std::nullopt;
    };
    const auto from = bound("from");
    const auto to = bound("to");
    if (!from || !to) return {};
    out.push_back({item.text_or_empty("name"), *from, *to});
  }
  return out;
}

void check_grades(const Index& index, Notes& notes, const EntryView& at) {
  const auto grades = grades_of(at.entry);
  if (grades.empty()) return;
  const std::string pointer = at.pointer + "/inputs/grades";
  constexpr double same = 1e-9;
  for (std::size_t i = 1; i < grades.size(); ++i) {
    const double step = grades[i].from - grades[i - 1].to;
    if (std::abs(step) <= same) continue;
    notes.warning("W27", pointer,
                  fmt::format("{}: grade {} ends at {} and grade {} begins at {}, so they {}", at.what(),
                              shown(grades[i - 1].name), grades[i - 1].to, shown(grades[i].name), grades[i].from,
                              step > 0 ? "leave a gap" : "overlap"));
  }
  const Limit* limit = judged_by(index.procedure(), at.entry, "highest");
  const auto bounds = limit ? standard_mm(*limit, limit->values) : std::nullopt;
  if (!bounds ||
      (std::abs(bounds->low - grades.front().from) <= same && std::abs(bounds->high - grades.back().to) <= same))
    return;
  notes.warning("W27", pointer,
                fmt::format("{}: the grades go from {} to {}, but limit {} from {} to {}", at.what(),
                            grades.front().from, mm(grades.back().to), shown(limit->id), mm(bounds->low),
                            mm(bounds->high)));
}

// --- W25: one number printed in two units ---------------------------------------------------------------------------

void check_beside(Notes& notes, const Limit& limit, const LimitValues& values, const std::string& pointer) {
  if (!values.beside || !values.beside->unit || !limit.unit) return;
  const Unit& unit = *values.beside->unit;
  if (unit.dimension != limit.unit->dimension) {
    notes.error(pointer + "/beside/unit", fmt::format("limit {}: beside {} stands {}, which measures something else",
                                                      shown(limit.id), limit.unit->name, unit.name));
    return;
  }
  for (const std::string_view which : {"standard/low", "standard/high", "service/low", "service/high", "target"}) {
    const std::string one = notes.written(fmt::format("{}/{}", pointer, which));
    const std::string other = notes.written(fmt::format("{}/beside/{}", pointer, which));
    if (one.empty() || other.empty()) continue;
    const auto same =
        calc::one_quantity(fmt::format("{} {}", one, limit.unit->name), fmt::format("{} {}", other, unit.name));
    if (!same)
      notes.warning("W25", fmt::format("{}/beside/{}", pointer, which),
                    fmt::format("limit {}: {} {} and {} {} beside it are not the same: {}", shown(limit.id), one,
                                limit.unit->name, other, unit.name, same.error().message));
  }
}

} // namespace

void check_fits(const Index& index, Notes& notes) {
  for (const Limit& limit : index.procedure().limits) {
    check_oversizes(index, notes, limit);
    each_values(limit, [&](const LimitValues& values, const std::string& pointer) {
      check_beside(notes, limit, values, pointer);
    });
  }
  index.each_entry([&](const EntryView& at) {
    if (at.entry.kind != EntryKind::calculated || !at.entry.computation) return;
    check_clearance(index, notes, at);
    check_available(notes, at);
    check_grades(index, notes, at);
  });
}

} // namespace procedure
