#include "handover/glance.h"

#include <algorithm>
#include <fmt/format.h>

namespace handover {

namespace {

constexpr double low_at = margin + 76;   // mm: the low limit
constexpr double high_at = margin + 120; // the high limit
constexpr double beyond = 6;             // how far outside the limits a mark may stand
constexpr double level = 1.3;            // between marks that would cover one another
constexpr double letters = 2.3;
constexpr double names = 56; // how wide what is measured may be written
constexpr double nearest_at = margin + 148;
constexpr std::size_t most_levels = 4; // beyond, marks cover one another

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
    const double left = std::min(it.from, it.x - 0.5);
    while (it.level < taken_to.size() && taken_to[it.level] > left - 0.3) ++it.level;
    if (it.level == most_levels) it.level = out.size() % most_levels;
    if (it.level == taken_to.size()) taken_to.push_back(0);
    taken_to[it.level] = std::max({taken_to[it.level], it.to, it.x + 0.5});
    out.push_back(it);
  }
  return out;
}

void draw(Flow& flow, const Scale& scale) {
  Paper& paper = flow.paper();
  const auto marks = placed(scale);
  std::size_t levels = 1;
  for (const auto& it : marks) levels = std::max(levels, it.level + 1);
  const std::string name = scale.trouble.empty() ? scale.title : fmt::format("{} ({})", scale.title, scale.trouble);
  const Weight weight = scale.trouble.empty() ? Weight::plain : Weight::strong;
  const double named = paper.paragraph(0, 0, names, name, letters, weight, false);
  const std::string nearest = scale.tightest.empty() ? "" : scale.tightest;
  const double near = page_width - margin - nearest_at;
  const double told = paper.paragraph(0, 0, near, nearest, letters, Weight::plain, false);
  const double tall = std::max(std::max(named, told), static_cast<double>(levels) * level + 1.2);
  flow.room_for(tall + 1.4);
  const double y = flow.y();
  paper.paragraph(margin, y, names, name, letters, weight);
  paper.box(low_at, y, high_at - low_at, tall, drawing::Tone::metal);
  const std::string unit = scale.unit.empty() ? "" : " " + scale.unit;
  if (scale.low) {
    const std::string text = scale.high ? scale.low_text : scale.low_text + unit;
    paper.line(low_at, y, low_at, y + tall, 0.5);
    paper.text(low_at - beyond - 1 - paper.width_of(text, letters), y, text, letters);
  }
  if (scale.high) {
    paper.line(high_at, y, high_at, y + tall, 0.5);
    paper.text(high_at + beyond + 1, y, scale.high_text + unit, letters);
  }
  paper.paragraph(nearest_at, y, near, nearest, letters);
  for (const auto& it : marks) {
    const double middle = y + 1.2 + static_cast<double>(it.level) * level;
    paper.line(it.from, middle, it.to, middle, 0.25, drawing::Tone::paint);
    paper.line(it.x, middle - 0.55, it.x, middle + 0.55, 0.4);
  }
  flow.down(tall + 1.4);
}

} // namespace

double place_on(const Scale& scale, double value) {
  const Ends ends = ends_of(scale);
  return (value - ends.low) / (ends.high - ends.low);
}

void glance(Flow& flow, const Content& content) {
  flow.title("Every clearance at a glance");
  flow.text(
      "The grey band is what is allowed, heavy lines are its limits. Each upright mark is a value, the bar across it "
      "its uncertainty. To the left is tight or small, to the right loose or large; what is written in bold is not "
      "plainly within. At the right end stands the value with the least room to a limit.",
      0, small_text);
  bool any = false;
  for (const auto& section : content.sections) {
    if (section.scales.empty()) continue;
    any = true;
    flow.heading(section.title);
    for (const auto& scale : section.scales) draw(flow, scale);
  }
  if (!any) flow.text("Nothing has been measured yet.");
}

} // namespace handover
