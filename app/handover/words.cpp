#include "handover/words.h"

#include "build/tightening.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

namespace handover {

using build::Exact;
using build::Standing;

namespace {

// Places behind the dot for so many digits of a value.
int places_for(double value, int digits) {
  if (value == 0) return 0;
  return std::clamp(digits - 1 - static_cast<int>(std::floor(std::log10(std::fabs(value)))), 0, 9);
}

void longest(const std::optional<Exact>& number, int& places) {
  if (number) places = std::max(places, places_of(number->text()));
}

void longest(const procedure::LimitValues& values, int& places) {
  for (const auto& bounds : {values.standard, values.service})
    if (bounds) longest(bounds->low, places), longest(bounds->high, places);
  longest(values.target, places);
}

bool beyond(const Exact& value, const build::Bounds& bounds) {
  return (bounds.low && value < *bounds.low) || (bounds.high && value > *bounds.high);
}

} // namespace

bool is_number(std::string_view text) {
  constexpr std::string_view digits = "0123456789";
  if (!text.empty() && (text.front() == '-' || text.front() == '+')) text.remove_prefix(1);
  const auto dot = text.find('.');
  const std::string_view whole = text.substr(0, dot);
  const std::string_view part = dot == std::string_view::npos ? "0" : text.substr(dot + 1);
  return !whole.empty() && !part.empty() && whole.find_first_not_of(digits) == std::string_view::npos &&
         part.find_first_not_of(digits) == std::string_view::npos;
}

int places_of(std::string_view number) {
  const auto dot = number.find('.');
  return dot == std::string_view::npos ? 0 : static_cast<int>(number.size() - dot - 1);
}

std::string shown(const Exact& value, const Exact& u, const std::optional<build::Bounds>& bounds) {
  std::string whole = value.text();
  int places = u.sign() > 0 ? places_for(u.to_double(), 2) : places_for(value.to_double(), 5);
  if (places_of(whole) <= places) return whole;
  std::string out = value.fixed(places);
  while (bounds && places < places_of(whole) && beyond(*Exact::decimal(out), *bounds) != beyond(value, *bounds))
    out = value.fixed(++places);
  return out;
}

std::string shown_u(const Exact& u) {
  const std::string whole = u.text();
  const int places = places_for(u.to_double(), 2);
  return places_of(whole) <= places ? whole : u.fixed(places);
}

std::string remark(const build::Judged& judged) {
  switch (judged.standing) {
  case Standing::empty:
  case Standing::recorded:
  case Standing::within: return "";
  case Standing::worn: return judged.used_again ? "within, worn: used again" : "within, worn";
  case Standing::undecided:
    return judged.accepted   ? "undecided: accepted at the limit"
           : judged.conceded ? "undecided: concession"
                             : "undecided";
  case Standing::outside: return judged.conceded ? "outside: concession" : "outside";
  case Standing::limit_missing:
  case Standing::option_unset: break;
  }
  return std::string(build::name_of(judged.standing));
}

int places_of(const procedure::Limit& limit) {
  int places = 0;
  longest(limit.values, places);
  for (const auto& one : limit.cases) longest(one.values, places);
  return places;
}

std::string bounds_text(const build::Bounds& bounds, const procedure::Limit& of) {
  const int places = places_of(of);
  const auto& [low, high] = bounds;
  if (low && high && *low == *high) return with_unit(low->fixed(places), *of.unit);
  if (low && high) return with_unit(fmt::format("{} to {}", low->fixed(places), high->fixed(places)), *of.unit);
  if (high) return "at most " + with_unit(high->fixed(places), *of.unit);
  return low ? "at least " + with_unit(low->fixed(places), *of.unit) : "no bound";
}

std::string aim_text(const build::Build& build, const procedure::Entry& entry, const procedure::Stage& stage) {
  if (!procedure::has_limit(stage.kind)) return stage.text;
  const auto aim = build::aim_of(build, entry, stage);
  if (!aim) return aim.error().message;
  std::string target =
      aim->target ? with_unit(aim->target->fixed(places_of(*aim->limit)), *aim->limit->unit) : std::string();
  const auto doubt = build::doubt_of(build, stage.limit);
  const std::string behind = doubt.empty() ? "" : fmt::format(" ({})", doubt);
  if (!aim->bounds) return target + behind;
  const std::string good = bounds_text(*aim->bounds, *aim->limit) + behind;
  return target.empty()
             ? good
             : fmt::format("{}, good {}{}", target, aim->bounds->low && aim->bounds->high ? "from " : "", good);
}

std::string unit_name(const build::Unit& unit) {
  return unit.dimension == quantity::Dimension::number && unit.name == "1" ? "" : std::string(unit.name);
}

std::string with_unit(const std::string& number, const build::Unit& unit) {
  const std::string name = unit_name(unit);
  return name.empty() ? number : number + " " + name;
}

std::string readable(std::string_view text) {
  std::string out;
  std::size_t places = 0;
  bool behind_dot = false;
  for (const char c : text) {
    const bool digit = std::isdigit(static_cast<unsigned char>(c)) != 0;
    if (c == '.') {
      behind_dot = !out.empty() && std::isdigit(static_cast<unsigned char>(out.back())) != 0;
      places = 0;
    } else if (!digit) {
      behind_dot = false;
    }
    if (behind_dot && digit && ++places > 6) continue;
    out.push_back(c == '_' ? ' ' : c);
  }
  return out;
}

std::string formula_in_words(std::string_view formula) {
  static constexpr std::array<std::pair<std::string_view, std::string_view>, 12> words{{{"<=", "is at most"},
                                                                                        {">=", "is at least"},
                                                                                        {"^2", "²"},
                                                                                        {"^3", "³"},
                                                                                        {" - ", " − "},
                                                                                        {" * ", " × "},
                                                                                        {"..", " to "},
                                                                                        {"sqrt(", "root of ("},
                                                                                        {"abs(", "size of ("},
                                                                                        {"U_", "U of "},
                                                                                        {"pi ", "π "},
                                                                                        {"pi/", "π/"}}};
  std::string out;
  const auto in_a_word = [&] { return !out.empty() && std::isalpha(static_cast<unsigned char>(out.back())) != 0; };
  while (!formula.empty()) {
    const auto found = std::find_if(words.begin(), words.end(), [&](const auto& word) {
      const bool letters = std::isalpha(static_cast<unsigned char>(word.first.front())) != 0;
      return formula.starts_with(word.first) && !(letters && in_a_word());
    });
    if (found == words.end()) {
      out.push_back(formula.front());
      formula.remove_prefix(1);
    } else {
      out += found->second;
      formula.remove_prefix(found->first.size());
    }
  }
  return readable(out);
}

std::string place_name(const build::Build& build, build::EntryAt at, std::size_t place) {
  const auto& step = build.plan->step(at.step);
  const auto& entry = build.plan->entry(at);
  const auto& state = build.entry(at);
  if (!state.cells.empty()) return procedure::name_of_cell(step, entry, place);
  if (!state.fasteners.empty()) return place < entry.fasteners.size() ? entry.fasteners[place].id : "";
  if (entry.over_all) return "";
  return place < step.positions.size() ? step.positions[place] : "";
}

std::string of_entry(const build::Build& build, build::EntryAt at) {
  return fmt::format("{}: {}", build.plan->step(at.step).title, build.plan->entry(at).title);
}

} // namespace handover
