#include "bench/earlier.h"

#include "bench/lengths.h"

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using build::EntryAt;
using json::Value;

namespace {

// Of a list of {step, entry}, or of steps with their entries.
bool names(const Value& list, const std::string& step, const std::string& entry) {
  return std::ranges::any_of(list.items(), [&](const Value& item) {
    if (item.text_or_empty("step") != step) return false;
    const auto* entries = item.find("entries");
    if (!entries) return item.text_or_empty("entry") == entry;
    return std::ranges::any_of(entries->items(), [&](const Value& one) { return one.text_or_empty("entry") == entry; });
  });
}

// Why what was recorded there up to that event counts no more; "" when the event leaves it alone.
std::string why_gone(const record::Event& event, const std::string& step, const std::string& entry) {
  const auto* opened = event.body.find("opened");
  const auto* reopened = event.body.find("reopened");
  if (!(opened && names(*opened, step, entry)) && !(reopened && names(*reopened, step, entry))) return "";
  if (event.kind == "back") return "before the machine shop";
  if (event.kind == "zero") return "given up for the drift of its gauge";
  if (event.kind == "dispose") return "before " + event.body.text_or_empty("disposition");
  return event.kind == "reopen" ? "before it was opened again" : "before";
}

// What a reading event left at that cell; null when it is no such event.
const Value* left_at(const record::Event& event, const std::string& step, const std::string& entry, std::size_t cell) {
  if (event.body.find("as_found") || event.body.find("second_look")) return nullptr;
  if (event.body.text_or_empty("step") != step || event.body.text_or_empty("entry") != entry) return nullptr;
  const auto* cells = event.body.find("cells");
  if (!cells || !cells->is(json::Kind::array)) return nullptr;
  for (const auto& item : cells->items())
    if (item.at("cell").as_integer() == static_cast<std::int64_t>(cell)) return item.find("value");
  return nullptr;
}

// The newest reading there that an event since has put away: "82.081 before rework, 2026-05-03".
std::string put_away(const Ui& ui, const build::Build& build, EntryAt at, std::size_t cell) {
  if (build.entry(at).pass < 2) return "";
  const std::string& step = build.plan->step(at.step).id;
  const std::string& entry = build.plan->entry(at).id;
  const auto& log = ui.desk.log();
  std::string why;
  for (auto event = log.rbegin(); event != log.rend(); ++event) {
    if (why.empty()) {
      why = why_gone(*event, step, entry);
    } else if (const auto* value = left_at(*event, step, entry, cell)) {
      const auto number = quantity::Exact::written(value->as_text());
      return fmt::format("{} {}, {}", number ? shown_number(*number, *build.plan->entry(at).unit) : value->as_text(),
                         why, calc::text(calc::local_date(event->time)));
    }
  }
  return "";
}

// The same point on what comes before it: positions, or rows where the step has none.
std::string beside(const Ui& ui, const build::Build& build, EntryAt at) {
  const auto& step = build.plan->step(at.step);
  const auto& entry = build.plan->entry(at);
  const auto shape = procedure::cells_of(step, entry);
  const bool by_position = shape.positions > 1;
  const std::size_t stride = by_position ? shape.per_position() : shape.columns;
  const auto& labels = by_position ? step.positions : entry.rows;
  if (labels.size() < 2) return "";
  const auto cells = cells_at_work(ui, build, at);
  std::vector<std::string> out;
  for (std::size_t c = ui.sheet.cell; c >= stride && out.size() < 3;) {
    c -= stride;
    if (!cells[c].tries.empty())
      out.push_back(fmt::format("{}: {}", labels[c / stride], shown_number(cells[c].value, *entry.unit)));
  }
  std::ranges::reverse(out);
  return fmt::format("{}", fmt::join(out, ", "));
}

std::string words(const Ui& ui, const build::Build& build, EntryAt at) {
  std::string here;
  const auto& found = build.entry(at).as_found;
  if (!ui.sheet.as_found && ui.sheet.cell < found.size() && !found[ui.sheet.cell].tries.empty())
    here = shown_number(found[ui.sheet.cell].value, *build.plan->entry(at).unit) + " as found";
  if (const std::string before = ui.sheet.as_found ? "" : put_away(ui, build, at, ui.sheet.cell); !before.empty())
    here += (here.empty() ? "" : "; ") + before;
  const std::string others = beside(ui, build, at);
  std::string out = here.empty() ? "" : fmt::format("Earlier here: {}.", here);
  if (!others.empty()) out += fmt::format("{}The same on {}.", out.empty() ? "" : " ", others);
  return out;
}

} // namespace

std::string earlier_words(const Ui& ui, const build::Build& build, EntryAt at) {
  if (at.step == ui.sheet.step && looks_again(ui, build)) return "";
  return words(ui, build, at);
}

} // namespace bench
