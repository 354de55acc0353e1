#include "handover/glance.h"

#include <algorithm>
#include <fmt/format.h>

namespace handover {

namespace {

constexpr double edge = 13; // mm, left and right of the page
constexpr double between = 7;
constexpr double letters = 2.1;
constexpr double names = 40;  // how wide what is measured may be written
constexpr double low_at = 53; // of a column: the low limit
constexpr double high_at = 73;
constexpr double beyond = 3; // how far outside the limits a mark may stand
constexpr double row_gap = 0.45;
constexpr double level = 0.85;         // between marks that would cover one another
constexpr std::size_t most_levels = 3; // beyond, marks cover one another

struct Ends {
  double low = 0, high = 1;
};

Ends ends_of(const Scale& scale) {
  double least = 0;
  double most = 0;
  for (const auto& mark : scale.marks) {
    least = std::min(least, mark.value);
    most = std::max(most, mark.value);
  }
  if (scale.low && scale.high) return {*scale.low, *scale.high};
  if (scale.high) return {least < *scale.high ? least : *scale.high - 1, *scale.high};
  const double far = std::max(most - *scale.low, 0.0);
  return {*scale.low, *scale.low + (far > 0 ? 2 * far : 1)};
}

double across(const Scale& scale, double value) {
  const double x = low_at + place_on(scale, value) * (high_at - low_at);
  return std::clamp(x, low_at - beyond, high_at + beyond);
}

struct Placed {
  double x, from, to;
  std::size_t level = 0;
};

// Each on the highest level where it covers none before it, as far as there are levels.
std::vector<Placed> placed(const Scale& scale) {
  std::vector<Placed> out;
  std::vector<double> taken_to;
  auto marks = scale.marks;
  std::sort(marks.begin(), marks.end(), [](const Mark& a, const Mark& b) { return a.value < b.value; });
  for (const auto& mark : marks) {
    Placed it{across(scale, mark.value), across(scale, mark.value - mark.u), across(scale, mark.value + mark.u), 0};
    const double left = std::min(it.from, it.x - 0.3);
    while (it.level < taken_to.size() && taken_to[it.level] > left - 0.2) ++it.level;
    if (it.level == most_levels) it.level = out.size() % most_levels;
    if (it.level == taken_to.size()) taken_to.push_back(0);
    taken_to[it.level] = std::max({taken_to[it.level], it.to, it.x + 0.3});
    out.push_back(it);
  }
  return out;
}

std::string told(const Scale& scale) {
  const std::string title = scale.doubt.empty() ? scale.title : fmt::format("{} ({})", scale.title, scale.doubt);
  return scale.trouble.empty() ? title : fmt::format("{}: {} ({})", title, scale.tightest, scale.trouble);
}

Weight weight_of(const Scale& scale) {
  return scale.trouble.empty() ? Weight::plain : Weight::strong;
}

// A scale as it is to be drawn.
struct Row {
  const Scale& scale;
  std::string name;
  std::vector<Placed> marks;
  std::size_t levels = 1;
  double name_tall = 0;
  double tall = 0;
};

Row row_of(Paper& paper, const Scale& scale) {
  Row out{scale, told(scale), placed(scale)};
  for (const auto& it : out.marks) out.levels = std::max(out.levels, it.level + 1);
  out.name_tall = paper.paragraph(0, 0, names, out.name, letters, weight_of(scale), false);
  out.tall = std::max(out.name_tall, static_cast<double>(out.levels) * level + 0.5);
  return out;
}

void draw_band(Paper& paper, const Scale& scale, double left, double y, double tall) {
  paper.box(left + low_at, y, high_at - low_at, tall, drawing::Tone::metal);
  const std::string unit = scale.unit.empty() ? "" : " " + scale.unit;
  const double line = y + (tall - paper.paragraph(0, 0, names, "x", letters, Weight::plain, false)) / 2;
  if (scale.low) {
    const std::string text = scale.high ? scale.low_text : scale.low_text + unit;
    paper.line(left + low_at, y, left + low_at, y + tall, 0.5);
    paper.text(left + low_at - beyond - 0.6 - paper.width_of(text, letters), line, text, letters);
  }
  if (scale.high) {
    paper.line(left + high_at, y, left + high_at, y + tall, 0.5);
    paper.text(left + high_at + beyond + 0.6, line, scale.high_text + unit, letters);
  }
}

void draw(Columns& columns, Paper& paper, const Row& row) {
  columns.room_for(row.tall);
  const double left = columns.x();
  const double y = columns.y();
  paper.paragraph(left, y + (row.tall - row.name_tall) / 2, names, row.name, letters, weight_of(row.scale));
  draw_band(paper, row.scale, left, y, row.tall);
  const double first = y + row.tall / 2 - static_cast<double>(row.levels - 1) * level / 2;
  for (const auto& it : row.marks) {
    const double middle = first + static_cast<double>(it.level) * level;
    paper.line(left + it.from, middle, left + it.to, middle, 0.22, drawing::Tone::paint);
    paper.line(left + it.x, middle - 0.42, left + it.x, middle + 0.42, 0.35);
  }
  columns.down(row.tall + row_gap);
}

// "95 limits judged: 86 plainly within; 1 undecided: accepted at the limit; ..."
std::string summary(const Content& content) {
  std::vector<std::pair<std::string, int>> counted{{"plainly within", 0}};
  int all = 0;
  int doubted = 0;
  for (const auto& section : content.sections)
    for (const auto& scale : section.scales) {
      ++all;
      doubted += scale.doubt.empty() ? 0 : 1;
      const std::string& what = scale.trouble.empty() ? counted.front().first : scale.trouble;
      const auto it = std::find_if(counted.begin(), counted.end(), [&](const auto& one) { return one.first == what; });
      if (it == counted.end())
        counted.emplace_back(what, 1);
      else
        ++it->second;
    }
  std::string out = fmt::format("{} limits judged:", all);
  for (const auto& [what, count] : counted) out += fmt::format("{} {} {}", out.back() == ':' ? "" : ";", count, what);
  if (doubted > 0) out += fmt::format("; {} by numbers not checked by a second person", doubted);
  return out + ".";
}

} // namespace

double place_on(const Scale& scale, double value) {
  const Ends ends = ends_of(scale);
  return (value - ends.low) / (ends.high - ends.low);
}

void glance(Flow& flow, const Content& content) {
  flow.title("Every clearance at a glance", Begin::page);
  const bool any = std::any_of(content.sections.begin(), content.sections.end(),
                               [](const auto& section) { return !section.scales.empty(); });
  if (!any) return flow.text("Nothing has been measured yet.");
  flow.down(-2);
  flow.text(summary(content), 0, 2.8, Weight::strong);
  flow.text("Grey is what is allowed, heavy lines are its limits. Each upright mark is a value, the bar across it its "
            "uncertainty. Left is tight or small, right is loose or large; bold is not plainly within.",
            0, 2.3);
  Columns columns(flow, edge, page_width - edge, between);
  double all = 0;
  std::vector<Row> rows;
  for (const auto& section : content.sections) {
    all += section.scales.empty() ? 0 : 4.5;
    for (const auto& scale : section.scales) {
      rows.push_back(row_of(flow.paper(), scale));
      all += rows.back().tall + row_gap;
    }
  }
  columns.balance(all);
  auto row = rows.begin();
  for (const auto& section : content.sections) {
    if (section.scales.empty()) continue;
    const double head = flow.paper().paragraph(0, 0, columns.width(), section.title, small_text, Weight::strong, false);
    columns.room_for(head + 8);
    columns.down(0.5);
    columns.text(section.title, small_text, Weight::strong);
    for (std::size_t i = 0; i < section.scales.size(); ++i) draw(columns, flow.paper(), *row++);
  }
  columns.end();
}

} // namespace handover
