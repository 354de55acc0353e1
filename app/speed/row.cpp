#include "speed/row.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace speed {

namespace {

std::string compared(const Row& row) {
  if (!row.figure) return "";
  switch (row.against) {
  case Against::nothing: return "";
  case Against::ratio: return fmt::format("{:.2f} x", *row.figure);
  case Against::difference: return (*row.figure < 0 ? "-" : "+") + text(std::abs(*row.figure), row.unit);
  }
  return "";
}

std::string wanted(const Row& row) {
  if (!row.wanted) return "";
  switch (row.against) {
  case Against::nothing: return "<= " + text(*row.wanted, row.unit);
  case Against::ratio: return fmt::format("<= {:.2g} x", *row.wanted);
  case Against::difference: return "<= +" + text(*row.wanted, row.unit);
  }
  return "";
}

std::string verdict(const Row& row) {
  switch (verdict_of(row)) {
  case Verdict::within: return "within";
  case Verdict::over: return "over";
  case Verdict::none: return row.ours && !row.wanted ? "reported" : "no verdict";
  }
  return "";
}

std::string said(const Row& row) {
  return row.note.empty() ? verdict(row) : fmt::format("{}: {}", verdict(row), row.note);
}

std::string optional_text(const std::optional<double>& value, Unit unit) {
  return value ? text(*value, unit) : std::string();
}

using Line = std::vector<std::string>;

// The first column and the last stand to the left, the others to the right.
std::string plain(const std::vector<Line>& lines) {
  std::vector<std::size_t> widths(lines.front().size());
  for (const Line& line : lines)
    for (std::size_t c = 0; c < line.size(); ++c) widths[c] = std::max(widths[c], line[c].size());
  std::string out;
  for (const Line& line : lines) {
    std::string one;
    for (std::size_t c = 0; c < line.size(); ++c) {
      const bool left = c == 0 || c + 1 == line.size();
      const std::string blanks(widths[c] - line[c].size(), ' ');
      one += (c > 0 ? "  " : "") + (left ? line[c] + blanks : blanks + line[c]);
    }
    one.erase(one.find_last_not_of(' ') + 1);
    out += one + '\n';
  }
  return out;
}

std::string markdown(const std::vector<Line>& lines) {
  std::string out;
  for (const Line& line : lines) {
    out += fmt::format("| {} |\n", fmt::join(line, " | "));
    if (&line != &lines.front()) continue;
    for (std::size_t c = 0; c < line.size(); ++c) out += c == 0 || c + 1 == line.size() ? "|---" : "|--:";
    out += "|\n";
  }
  return out;
}

std::string laid_out(const std::vector<Line>& lines, Form form) {
  return form == Form::plain ? plain(lines) : markdown(lines);
}

// Of several, by a figure of each.
template <typename T, typename Figure>
T middle_by(std::vector<T> all, Figure figure) {
  if (all.empty()) throw std::logic_error("there is no middle of nothing");
  std::ranges::sort(all, {}, figure);
  return std::move(all[all.size() / 2]);
}

} // namespace

Row alone(std::string what, double ours, std::optional<double> most, Unit unit) {
  return {.what = std::move(what), .unit = unit, .ours = ours, .figure = ours, .wanted = most};
}

Row ratio(std::string what, const Pairs& pairs, double most) {
  return {.what = std::move(what),
          .ours = pairs.ours,
          .floor = pairs.floor,
          .against = Against::ratio,
          .figure = pairs.times,
          .wanted = most};
}

Row difference(std::string what, const Pairs& pairs, double most) {
  return {.what = std::move(what),
          .ours = pairs.ours,
          .floor = pairs.floor,
          .against = Against::difference,
          .figure = pairs.more,
          .wanted = most};
}

Row not_measured(std::string what, std::string why) {
  return {.what = std::move(what), .note = std::move(why), .judged = false};
}

Verdict verdict_of(const Row& row) {
  if (!row.judged || !row.wanted || !row.figure) return Verdict::none;
  return *row.figure <= *row.wanted ? Verdict::within : Verdict::over;
}

bool far_over(const Row& row) {
  constexpr double even = 1e-3; // s
  if (row.against == Against::difference && *row.floor > even) return false;
  return verdict_of(row) == Verdict::over && *row.figure > 2 * *row.wanted;
}

Row middle_of(std::vector<Row> rows) {
  return middle_by(std::move(rows), [](const Row& row) { return row.figure.value_or(0); });
}

Growth middle_of(std::vector<Growth> measured) {
  return middle_by(std::move(measured), [](const Growth& one) { return one.grows(); });
}

std::string text(double value, Unit unit) {
  if (unit == Unit::share) return fmt::format("{:.2f} %", 100 * value);
  struct Step {
    double from;
    const char* name;
  };
  static constexpr Step of_seconds[] = {{1, "s"}, {1e-3, "ms"}, {0, "us"}};
  static constexpr Step of_bytes[] = {{1e9, "GB"}, {1e6, "MB"}, {0, "kB"}};
  const auto& steps = unit == Unit::seconds ? of_seconds : of_bytes;
  const double smallest = unit == Unit::seconds ? 1e-6 : 1e3;
  for (const Step& step : steps) {
    if (value < step.from) continue;
    const double shown = value / std::max(step.from, smallest);
    const int places = shown < 9.995 ? 2 : shown < 99.95 ? 1 : 0;
    return fmt::format("{:.{}f} {}", shown, places, step.name);
  }
  return "";
}

std::string grouped(int count) {
  std::string out = std::to_string(count);
  for (std::size_t at = out.size(); at > 3;) out.insert(at -= 3, ",");
  return out;
}

std::string table(const std::vector<Row>& rows, Form form) {
  std::vector<Line> lines = {{"what", "ours", "floor", "compared", "wanted", "verdict"}};
  for (const Row& row : rows)
    lines.push_back({row.what, optional_text(row.ours, row.unit), optional_text(row.floor, row.unit), compared(row),
                     wanted(row), said(row)});
  return laid_out(lines, form);
}

std::string table(const std::vector<Growth>& all, Form form) {
  std::vector<Line> lines = {{"what grows", "1 x", "", "4 x", "", "16 x", "", "exponent", "wanted", "verdict"}};
  for (const Growth& one : all) {
    Line line = {one.what};
    for (std::size_t i = 0; i < one.sizes.size(); ++i) {
      line.push_back(i == 0 ? fmt::format("{:.0f} {}", one.sizes[i], one.size) : fmt::format("{:.0f}", one.sizes[i]));
      line.push_back(text(one.seconds[i], Unit::seconds));
    }
    line.push_back(fmt::format("{:.2f}", one.grows()));
    line.push_back(fmt::format("<= {:.2f}", steepest));
    line.emplace_back(one.grows() <= steepest ? "within" : "over");
    lines.push_back(std::move(line));
  }
  return laid_out(lines, form);
}

} // namespace speed
