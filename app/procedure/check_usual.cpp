// Warnings of numbers that are far from what is usual for what they limit, of bounds far apart, and of gauges too
// coarse for them. The usual is wide: it finds a slip of digit or unit, not an odd engine. All of it is common
// practice, no source. remark.cpp explains each code.
#include "procedure/slip.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

namespace procedure {

using json::shown;

namespace {

// --- W21: what a result usually comes to ----------------------------------------------------------------------------

// In mm; with `of` in parts of the size of that input's limit. `low` for the low bound where there is one.
struct Usual {
  std::string_view computation, result;
  double low, high, service;
  std::string_view of;
};
constexpr std::array usual = {
    Usual{"form", "out_of_round", 0, 0.06, 0.2, ""},
    Usual{"form", "taper", 0, 0.06, 0.2, ""},
    Usual{"oil-clearance", "min", 0.0002, 0.004, 0.006, "journal"},
    Usual{"oil-clearance", "max", 0.0002, 0.004, 0.006, "journal"},
    Usual{"piston-clearance", "min", 0.0002, 0.003, 0.005, "bore"},
    Usual{"piston-clearance", "max", 0.0002, 0.003, 0.005, "bore"},
    Usual{"clearance", "min", 0.001, 0.3, 0.5, ""},
    Usual{"clearance", "max", 0.001, 0.3, 0.5, ""},
    Usual{"ring-gap", "gap_at_working", 0.0015, 0.012, 0.03, "gauge_bore"},
    Usual{"end-play", "play", 0.02, 0.6, 1.0, ""},
    Usual{"backlash", "min", 0.02, 0.5, 0.8, ""},
    Usual{"backlash", "max", 0.02, 0.5, 0.8, ""},
    Usual{"seal-squareness", "runout", 0, 0.6, 0.8, ""},
    Usual{"protrusion", "spread", 0, 0.3, 0.4, ""},
    Usual{"protrusion", "highest", -3, 3, 3, ""},
    Usual{"strip-agreement", "difference", -0.06, 0.06, 0.06, ""},
    Usual{"spread", "spread", 0, 0.05, 0.1, ""},
    Usual{"run-out", "total", 0, 0.5, 0.8, ""},
    Usual{"flatness", "minimum_zone", 0, 0.25, 0.4, ""},
    Usual{"straightedge", "worst", 0, 0.25, 0.4, ""},
    Usual{"liner-height", "height", -0.3, 0.5, 0.6, ""},
    Usual{"liner-height", "spread", 0, 0.15, 0.2, ""},
    Usual{"liner-height", "step", 0, 0.15, 0.2, ""},
    Usual{"piston-to-head", "min", 0.3, 3, 3, ""},
};
// No gauge of a shop shows less, and no limit means less: an upper bound below it is a slip.
constexpr double smallest_upper = 0.0015; // mm

struct Asked {
  const Limit* limit;
  const Usual* usual;
};

std::vector<Asked> asked_of(const Index& index, const Entry& entry) {
  std::vector<Asked> out;
  for (const auto& [result, limit] : entry.judge)
    for (const Usual& one : usual)
      if (entry.computation && entry.computation->name == one.computation && result == one.result)
        if (const Limit* found = index.procedure().limit(limit)) out.push_back({found, &one});
  return out;
}

class UsualNumbers {
public:
  UsualNumbers(const EntryView& at, Notes& notes) : at_(at), notes_(notes) {}

  void check(const Asked& asked, const LimitValues& values, double size) {
    const Usual& its = *asked.usual;
    const auto bound = [&](const std::optional<Bounds>& bounds, bool low) {
      return bounds ? in_mm(*asked.limit, low ? bounds->low : bounds->high) : std::nullopt;
    };
    const auto say = [&](std::string_view which, const std::optional<double>& value, double least, double most) {
      if (value && (*value < least || *value > most)) tell(asked, which, *value, least, most);
    };
    const bool signed_result = its.low < 0;
    say("low", bound(values.standard, true), its.low * size, its.high * size);
    say("high", bound(values.standard, false), signed_result ? its.low : std::max(smallest_upper, its.low * size),
        its.high * size);
    say("service low", bound(values.service, true), std::min(0.0, its.low * size), its.service * size);
    say("service high", bound(values.service, false), signed_result ? its.low : smallest_upper, its.service * size);
  }

private:
  void tell(const Asked& asked, std::string_view which, double value, double least, double most) {
    if (!told_.insert(fmt::format("{}{}", asked.limit->id, which)).second) return;
    const GoTogether fits = [&](const std::vector<double>& one) { return one[0] >= least && one[0] <= most; };
    notes_.warning("W21", at_.pointer,
                   fmt::format("{}: the {} of limit {} is {}, {} to {} is usual for {}{}", at_.what(), which,
                               shown(asked.limit->id), mm(value), mm(least), mm(most), asked.usual->result,
                               likely_slip({{asked.limit, which, value}}, fits)));
  }

  const EntryView& at_;
  Notes& notes_;
  std::set<std::string> told_;
};

void check_results(const Index& index, Notes& notes, const EntryView& at) {
  UsualNumbers numbers(at, notes);
  for (const Asked& asked : asked_of(index, at.entry)) {
    std::vector<const Limit*> limits = {asked.limit};
    const Limit* of = asked.usual->of.empty() ? nullptr : limit_behind(index, at.entry, asked.usual->of);
    if (of) limits.push_back(of);
    each_set(index, at, limits, [&](const Combinations& combination) {
      const auto of_size = of ? standard_mm(*of, combination.values_of(*of)) : std::nullopt;
      const double size = of_size ? (of_size->low + of_size->high) / 2 : 1;
      if (of_size || asked.usual->of.empty()) numbers.check(asked, combination.values_of(*asked.limit), size);
    });
  }
}

// --- W22: bounds far apart ------------------------------------------------------------------------------------------

constexpr double most_apart = 9;       // times, of small amounts
constexpr double hardly_any = 0.005;   // mm: a press fit may begin here
constexpr double most_apart_fits = 16; // times
constexpr double size_from = 10;       // mm: what is larger is a size, not an amount
constexpr double most_apart_sizes = 2; // times

void check_apart(Notes& notes, const Limit& limit, const LimitValues& values, const std::string& pointer) {
  struct Two {
    std::string_view lower, upper;
    std::optional<Exact> low, high;
  };
  const auto of = [](const std::optional<Bounds>& bounds, bool low) {
    return bounds ? (low ? bounds->low : bounds->high) : std::optional<Exact>();
  };
  const Two all[] = {
      {"low", "high", of(values.standard, true), of(values.standard, false)},
      {"service low", "standard low", of(values.service, true), of(values.standard, true)},
      {"standard high", "service high", of(values.standard, false), of(values.service, false)},
  };
  for (const Two& two : all) {
    if (!two.low || !two.high || two.low->sign() <= 0) continue;
    const auto low_mm = in_mm(limit, two.low);
    const auto high_mm = in_mm(limit, two.high);
    const double times = two.high->to_double() / two.low->to_double();
    const double most = !low_mm || !high_mm     ? most_apart
                        : *high_mm >= size_from ? most_apart_sizes
                        : *low_mm < hardly_any  ? most_apart_fits
                                                : most_apart;
    if (times <= most) continue;
    notes.warning("W22", pointer,
                  fmt::format("limit {}: its {} {} and its {} {} {} are {} times apart; one of them has slipped by a "
                              "digit or unit",
                              shown(limit.id), two.lower, two.low->text(), two.upper, two.high->text(),
                              limit.unit->name, Exact::ratio(static_cast<long>(times * 10), 10).text()));
  }
}

// --- W23: a gauge too coarse ----------------------------------------------------------------------------------------

// The finest division that gauges of a kind come with, mm.
const std::map<std::string, double, std::less<>>& finest() {
  static const std::map<std::string, double, std::less<>> all = {
      {"micrometer", 0.001},     {"bore gauge", 0.001},  {"depth micrometer", 0.001},
      {"dial indicator", 0.001}, {"height gauge", 0.01}, {"caliper", 0.01},
      {"depth gauge", 0.01},     {"feeler gauge", 0.01}, {"ruler", 0.5},
  };
  return all;
}

// A reading can say which side of a limit it is on when at least two divisions lie between the bounds.
void check_gauges(const Index& index, Notes& notes, const EntryView& at) {
  const Limit* limit = index.procedure().limit(at.entry.limit);
  if (!limit || at.entry.gauges.empty()) return;
  double best = 1e9;
  for (const std::string& kind : at.entry.gauges) {
    const auto known = finest().find(kind);
    best = std::min(best, known == finest().end() ? 0 : known->second);
  }
  bool told = false;
  each_set(index, at, {limit}, [&](const Combinations& combination) {
    const auto& standard = combination.values_of(*limit).standard;
    if (told || !standard || !standard->high) return;
    const Exact range = standard->low ? *standard->high - *standard->low : *standard->high;
    const double between = in_mm(*limit, range).value_or(0);
    if (between <= 0 || 2 * best <= between) return;
    told = true;
    notes.warning("W23", at.pointer + "/gauges",
                  fmt::format("{}: limit {} leaves {} between its bounds, and the finest {} shows {}", at.what(),
                              shown(limit->id), mm(between), at.entry.gauges.front(), mm(best)));
  });
}

} // namespace

void check_usual(const Index& index, Notes& notes) {
  for (const Limit& limit : index.procedure().limits)
    if (limit.unit)
      each_values(limit, [&](const LimitValues& values, const std::string& pointer) {
        check_apart(notes, limit, values, pointer);
      });
  index.each_entry([&](const EntryView& at) {
    if (at.entry.kind == EntryKind::calculated) check_results(index, notes, at);
    if (at.entry.unit) check_gauges(index, notes, at);
  });
}

} // namespace procedure
