#include "bench/work_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace bench {

using calc::Computation;
using calc::Field;
using calc::Shape;

// --- names ----------------------------------------------------------------------------------------------------------

namespace {

struct Spelling {
  std::string_view name, words;
};

template <typename Table>
std::string_view look_up(const Table& table, std::string_view name) {
  for (const Spelling& each : table)
    if (each.name == name) return each.words;
  return {};
}

constexpr Spelling whole_words[] = {{"min", "minimum"}, {"max", "maximum"}, {"mu", "\u00B5"}, {"u", "U"}};

// Names that say something else to a mechanic.
constexpr Spelling whole_names[] = {{"cycles", "Uses"}, {"cycle_limit", "Most uses"}, {"on", "On the day"}};

// Computations whose name alone would not tell.
constexpr Spelling titles[] = {{"form", "Roundness, taper and wear"},
                               {"mean-of", "Mean of readings"},
                               {"match", "Matched weights"},
                               {"rim", "Degrees along a rim"},
                               {"convert", "Another unit"}};

// Groups of the registry in the order they are offered; several may stand under one heading.
constexpr std::string_view sizes = "Sizes, clearances and play";
constexpr std::string_view choosing = "Choosing washers, shims, shells and oversizes";
constexpr std::string_view bores = "Bores, pistons and deck";
constexpr std::string_view valves = "Valves and springs";
constexpr std::string_view faces = "Faces, seals and fits";
constexpr std::string_view gears = "Gears, crank and timing";
constexpr std::string_view bolts = "Threads and tightening";
constexpr std::string_view judging = "Judging readings, units";
constexpr Spelling headings[] = {
    {"form", sizes},      {"clearance", sizes}, {"strip", sizes},        {"running", sizes},   {"selection", choosing},
    {"sizing", choosing}, {"cylinder", bores},  {"deck", bores},         {"valves", valves},   {"flatness", faces},
    {"seals", faces},     {"fits", faces},      {"heat", faces},         {"gears", gears},     {"timing", gears},
    {"threads", bolts},   {"preload", bolts},   {"bolt", bolts},         {"fastening", bolts}, {"wrench", bolts},
    {"pattern", bolts},   {"judging", judging}, {"uncertainty", judging}};

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

char upper(char c) {
  return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
}

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

std::string replaced(std::string text, std::string_view word, std::string_view by) {
  for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + by.size())) {
    const bool begins = at == 0 || !is_letter(text[at - 1]);
    const bool ends = at + word.size() == text.size() || !is_letter(text[at + word.size()]);
    if (begins && ends)
      text.replace(at, word.size(), by);
    else
      at += word.size() - by.size();
  }
  return text;
}

// The names of fields within a text lose their underscores.
std::string spaced(std::string_view text) {
  std::string out(text);
  for (std::size_t i = 1; i + 1 < out.size(); ++i)
    if (out[i] == '_') out[i] = ' ';
  return out;
}

} // namespace

std::string in_words(std::string_view name) {
  std::string out(look_up(whole_names, name));
  if (!out.empty()) return out;
  for (std::size_t from = 0; from <= name.size();) {
    const std::size_t end = std::min(name.find_first_of("-_", from), name.size());
    const std::string_view word = name.substr(from, end - from);
    const std::string_view spelled = look_up(whole_words, word);
    if (!out.empty()) out += ' ';
    out += spelled.empty() ? word : spelled;
    from = end + 1;
  }
  const bool symbol = name.size() <= 2 && name.find_first_of("0123456789") != name.npos; // d2 is not D2
  if (!out.empty() && !symbol) out[0] = upper(out[0]);
  return out;
}

std::string title_of(const Computation& computation) {
  const std::string_view own = look_up(titles, computation.name);
  return own.empty() ? in_words(computation.name) : std::string(own);
}

std::string heading_of(std::string_view group) {
  const std::string_view known = look_up(headings, group);
  return known.empty() ? in_words(group) : std::string(known);
}

std::string sentence_of(std::string_view clause) {
  std::string out = spaced(clause);
  if (out.empty()) return out;
  out[0] = upper(out[0]);
  if (std::string_view(".!?").find(out.back()) == std::string_view::npos) out += '.';
  return out;
}

std::string meaning_of(const Field& field) {
  return replaced(spaced(field.meaning), "null", "-");
}

std::string meaning_of(const calc::ResultField& field) {
  return replaced(spaced(field.meaning), "null", "none");
}

std::string formula_of(const Computation& computation) {
  return spaced(computation.formula);
}

// --- typing ---------------------------------------------------------------------------------------------------------

namespace {

std::string unit_of(const Field& field) {
  if (!field.dimension) return "its unit";
  std::string out;
  for (const quantity::Unit& unit : quantity::all_units())
    if (unit.dimension == *field.dimension) out += fmt::format("{}{}", out.empty() ? "" : ", ", unit.name);
  return fmt::format("the unit ({})", out);
}

std::string of_members(const Field& field) {
  std::string out;
  for (const Field& member : field.members) {
    const std::string words = member.words.empty() ? "" : fmt::format(": {}", fmt::join(member.words, ", "));
    out += fmt::format("{}{} ({}{}{})", out.empty() ? "" : "; ", lower(in_words(member.name)), meaning_of(member),
                       words, member.required ? "" : "; may be left out");
  }
  return out;
}

} // namespace

std::string how_to_type(const Field& field) {
  const bool plain = field.dimension == quantity::Dimension::number;
  const std::string once = plain ? "" : fmt::format("; {} once", unit_of(field));
  const std::string u = "; if U is known, behind it: u and U.";
  switch (field.shape) {
  case Shape::one: return (plain ? "A number" : fmt::format("A number and {}", unit_of(field))) + u;
  case Shape::list: return fmt::format("Numbers with blanks between{}{}", once, u);
  case Shape::readings: return fmt::format("Numbers with blanks between; - for one left out{}{}", once, u);
  case Shape::grid: return fmt::format("A line a row, an empty one at the end; - for one left out{}{}", once, u);
  case Shape::pairs: return fmt::format("A line a pair, an empty one at the end{}{}", once, u);
  case Shape::points:
    return fmt::format("A line a point, {} numbers, an empty one at the end{}{}", field.columns, once, u);
  case Shape::number: return "A number without a unit.";
  case Shape::numbers: return "Numbers with blanks between, without a unit.";
  case Shape::count: return "A whole number.";
  case Shape::text: return "In words.";
  case Shape::records:
    return fmt::format("{}, with ; between: {}.", field.most == 1 ? "One line" : "A line each, an empty one at the end",
                       of_members(field));
  }
  return "";
}

std::vector<const Field*> in_order(const Computation& computation) {
  std::vector<const Field*> out;
  for (const Field& field : computation.inputs) out.push_back(&field);
  std::stable_partition(out.begin(), out.end(), [](const Field* field) { return field->required; });
  return out;
}

// --- what is offered
// --------------------------------------------------------------------------------------------------

namespace {

std::size_t place_of(std::string_view group) {
  const auto found = std::ranges::find(headings, group, &Spelling::name);
  return static_cast<std::size_t>(found - std::begin(headings));
}

std::vector<const Computation*> by_heading() {
  std::vector<const Computation*> out;
  for (const Computation& each : calc::all_computations()) out.push_back(&each);
  // By the first group under the same heading, so that a heading stands once.
  const auto place = [](const Computation* each) {
    const std::string heading = heading_of(each->group);
    const auto found = std::ranges::find(headings, heading, &Spelling::words);
    return found == std::end(headings) ? std::pair(std::size(headings), heading)
                                       : std::pair(place_of(found->name), std::string());
  };
  std::ranges::stable_sort(out, {}, place);
  return out;
}

bool has_all(const std::string& text, const std::vector<std::string>& words) {
  return std::ranges::all_of(words, [&](const std::string& word) { return text.find(word) != std::string::npos; });
}

std::vector<std::string> split(const std::string& text) {
  std::vector<std::string> words;
  for (std::size_t from = text.find_first_not_of(' '); from != std::string::npos;) {
    const std::size_t end = std::min(text.find(' ', from), text.size());
    words.push_back(text.substr(from, end - from));
    from = text.find_first_not_of(' ', end);
  }
  return words;
}

constexpr int elsewhere = 3;

// How far from the title the words are found.
int distance(const Computation& computation, const std::vector<std::string>& words) {
  std::string text = lower(title_of(computation)) + ' ' + std::string(computation.name);
  if (has_all(text, words)) return 0;
  text += ' ' + lower(fmt::format("{} {}", computation.purpose, heading_of(computation.group)));
  if (has_all(text, words)) return 1;
  for (const Field& field : computation.inputs)
    text += lower(fmt::format(" {} {}", in_words(field.name), field.meaning));
  for (const auto& result : computation.results)
    text += lower(fmt::format(" {} {}", in_words(result.name), result.meaning));
  return has_all(text, words) ? 2 : elsewhere;
}

} // namespace

std::vector<Offered> offered(std::string_view narrowed) {
  const std::vector<std::string> words = split(lower(narrowed));
  std::vector<Offered> out;
  if (words.empty()) {
    std::string last;
    for (const Computation* each : by_heading()) {
      const std::string heading = heading_of(each->group);
      out.push_back({heading == last ? "" : heading, each});
      last = heading;
    }
    return out;
  }
  std::multimap<int, const Computation*> found;
  for (const Computation* each : by_heading()) found.emplace(distance(*each, words), each);
  for (const auto& [how_far, each] : found)
    if (how_far < elsewhere) out.push_back({"", each});
  return out;
}

} // namespace bench
