// Work done by the machine shop, as the pages tell it.
#include "build/findings.h"
#include "build/fitting.h"
#include "handover/content_parts.h"

#include <algorithm>
#include <fmt/format.h>

namespace handover {

namespace {

using build::Order;
using build::Sent;

bool same_work(const Sent& a, const Sent& b) {
  const auto sizes = [](const Sent& it) {
    std::vector<std::pair<std::string, std::string>> out;
    for (const auto& size : it.sizes) out.emplace_back(size.title, size.text);
    return out;
  };
  return a.part == b.part && a.work == b.work && a.finish == b.finish && a.text == b.text && sizes(a) == sizes(b) &&
         a.back_as == b.back_as && a.back_text == b.back_text && a.back == b.back;
}

std::string how_it_came_back(const Sent& line) {
  if (line.away()) return "STILL AWAY";
  const std::string_view how = line.back_as == "remade"   ? "back remade"
                               : line.back_as == "reused" ? "back as it went"
                                                          : "another in its place";
  std::string out = fmt::format("{}, {}", how, calc::local_text(line.back));
  if (!line.back_text.empty()) out += ": " + line.back_text;
  return out;
}

std::string line_text(const Build& build, const std::vector<const Sent*>& alike) {
  const Sent& line = *alike.front();
  std::string positions;
  std::vector<std::string> findings;
  for (const Sent* one : alike) {
    if (!one->position.empty()) positions += (positions.empty() ? " " : ", ") + one->position;
    for (const auto& id : one->findings)
      if (std::find(findings.begin(), findings.end(), id) == findings.end()) findings.push_back(id);
  }
  std::string out = fmt::format("{}{}: {}", build::part_text(build, line.part, ""), positions, line.work);
  for (const auto& size : line.sizes) out += fmt::format("; {} {}", size.title, size.text);
  for (const auto& text : {line.finish, line.text})
    if (!text.empty()) out += "; " + text;
  if (!findings.empty()) out += fmt::format("; for {}", fmt::join(findings, ", "));
  return fmt::format("{}; {}", out, how_it_came_back(line));
}

// Lines of one order, those alike but for their position together.
std::vector<std::vector<const Sent*>> gathered(const Order& order) {
  std::vector<std::vector<const Sent*>> out;
  for (const auto& line : order.lines) {
    const auto it =
        std::find_if(out.begin(), out.end(), [&](const auto& one) { return same_work(*one.front(), line); });
    if (it == out.end())
      out.push_back({&line});
    else
      it->push_back(&line);
  }
  return out;
}

} // namespace

std::vector<MachineWork> machine_work_of(const Build& build) {
  std::vector<MachineWork> out;
  for (const auto& order : build.orders) {
    MachineWork told;
    told.what =
        fmt::format("{} ({}), sent by {}, {}", order.to, order.id, order.sent_name, calc::local_text(order.sent));
    if (!order.text.empty()) told.lines.push_back(order.text);
    for (const auto& alike : gathered(order)) told.lines.push_back(line_text(build, alike));
    out.push_back(std::move(told));
  }
  return out;
}

void tell_machine_work(const Build& build, Content& content) {
  for (const auto& order : build.orders)
    for (const auto& alike : gathered(order)) {
      const Sent& line = *alike.front();
      if (line.away() || line.back_as == "reused") continue;
      std::string positions;
      for (const Sent* one : alike)
        if (!one->position.empty()) positions += (positions.empty() ? " " : ", ") + one->position;
      content.repairs.push_back(fmt::format("{}{}: {} ({}){}", build::part_text(build, line.part, ""), positions,
                                            line.work, order.to,
                                            line.back_as == "new" ? "; another came back in its place" : ""));
    }
}

} // namespace handover
