#include "bench/gauge_forms.h"

#include "bench/form.h"
#include "bench/shop_screens.h"

#include "build/gauge.h"

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using json::Value;

namespace {

constexpr const char* wrench = "torque wrench";
const std::vector<std::string> tools = {"setting", "indicating"};
const std::vector<std::string> tools_in_words = {"setting: it clicks", "indicating: it shows the peak"};

std::vector<std::string> kinds() {
  return {build::gauge_kinds().begin(), build::gauge_kinds().end()};
}

std::vector<std::string> units() {
  std::vector<std::string> out;
  for (const auto& unit : quantity::all_units()) out.emplace_back(unit.name);
  return out;
}

// What one of that kind usually reads in. Common practice, no source.
std::string_view usual_unit(std::string_view kind) {
  struct Usual {
    std::string_view kind, unit;
  };
  constexpr Usual all[] = {{wrench, "N.m"},         {"angle gauge", "deg"},    {"protractor", "deg"},
                           {"scale", "g"},          {"pressure gauge", "bar"}, {"spring tester", "N"},
                           {"spring balance", "N"}, {"thermometer", "degC"},   {"stopwatch", "s"},
                           {"tachometer", "rpm"}};
  const auto found = std::ranges::find(all, kind, &Usual::kind);
  return found == std::end(all) ? "mm" : found->unit;
}

void take_usual_unit(GaugesState& its) {
  const auto all = units();
  const auto found = std::ranges::find(all, usual_unit(kinds()[its.kind]));
  its.unit = found == all.end() ? 0 : static_cast<std::size_t>(found - all.begin());
}

constexpr const char* date_hint = "Year-month-day, as 2027-03-31.";

std::vector<Field> calibration_fields(GaugesState& its) {
  return {{.id = "calibrated", .label = "Calibrated on", .text = &its.calibrated, .hint = date_hint},
          {.id = "due", .label = "Due again on", .text = &its.due, .hint = "Still good on the day itself."}};
}

std::vector<Field> fields_of_new(GaugesState& its) {
  const bool turns = kinds()[its.kind] == wrench;
  std::vector<Field> out = {
      {.id = "kind",
       .label = "Kind",
       .text = &its.kind_typed,
       .hint = "Letters narrow them down; Up and Down choose.",
       .kind = Field::Kind::choice,
       .choices = kinds(),
       .picked = &its.kind},
      {.id = "gauge", .label = "Its mark", .text = &its.gauge, .hint = "As on the gauge: a to z, 0 to 9, - _ and ."},
      {.id = "unit",
       .label = "It reads in",
       .text = &its.unit_typed,
       .kind = Field::Kind::choice,
       .choices = units(),
       .picked = &its.unit},
      {.id = "resolution", .label = "Smallest division", .text = &its.resolution, .hint = "In that unit."}};
  if (turns) {
    out.push_back({.id = "tool",
                   .label = "Which sort",
                   .text = &its.tool_typed,
                   .kind = Field::Kind::choice,
                   .choices = tools_in_words,
                   .picked = &its.tool});
    out.push_back({.id = "class_error",
                   .label = "Class error",
                   .text = &its.class_error,
                   .hint = "A fraction: 0.04 for 4 per cent. May be left empty."});
    out.push_back({.id = "use_limit",
                   .label = "Pulls between calibrations",
                   .text = &its.use_limit,
                   .hint = "Such as 5000. May be left empty."});
  } else {
    out.push_back({.id = "u",
                   .label = "Uncertainty U",
                   .text = &its.u,
                   .hint = "From its certificate, in that unit. Empty: a cautious one is assumed."});
    out.push_back({.id = "repeat",
                   .label = "of it, repeatability",
                   .text = &its.repeat,
                   .hint = "The part that shrinks when it is measured again. May be left empty."});
  }
  out.push_back({.id = "low", .label = "Range from", .text = &its.low, .hint = "May be left empty, with the next."});
  out.push_back({.id = "range", .label = "Range to", .text = &its.high});
  for (auto& field : calibration_fields(its)) out.push_back(std::move(field));
  return out;
}

std::vector<Field> fields(GaugesState& its) {
  switch (its.asking) {
  case GaugeForm::calibrated: {
    auto out = calibration_fields(its);
    out.push_back({.id = "u", .label = "Uncertainty U", .text = &its.u, .hint = "Empty: as before."});
    return out;
  }
  case GaugeForm::check:
    return {
        {.id = "standard", .label = "Checked on", .text = &its.standard, .hint = "Such as: setting ring 50, number 7"},
        {.id = "size", .label = "Its size", .text = &its.size},
        {.id = "reading", .label = "What the gauge shows", .text = &its.reading}};
  case GaugeForm::out:
    return {
        {.id = "since",
         .label = "In doubt since",
         .text = &its.since,
         .hint = "Its last good calibration; empty: the one that is known. What it measured since is asked again."}};
  default: return fields_of_new(its);
  }
}

std::string title(const GaugesState& its) {
  switch (its.asking) {
  case GaugeForm::calibrated: return its.gauge + " has been calibrated, and found in";
  case GaugeForm::check: return its.gauge + " is checked on a standard";
  case GaugeForm::out: return its.gauge + " was found out: it is not to be used until it is calibrated";
  default: return "A gauge or wrench is added";
  }
}

Value new_gauge(const GaugesState& its) {
  Value line = action("add-gauge");
  const std::string kind = kinds()[its.kind];
  line.set("kind", Value::text(kind));
  line.set("unit", Value::text(units()[its.unit]));
  line.set("resolution", Value::text(its.resolution));
  if (kind == wrench) {
    line.set("tool", Value::text(tools[its.tool]));
    set_if_typed(line, "class_error", its.class_error);
    set_if_typed(line, "use_limit", its.use_limit);
  } else {
    set_if_typed(line, "u", its.u);
    set_if_typed(line, "repeat", its.repeat);
  }
  if (!its.low.empty() || !its.high.empty())
    line.set("range", Value::array({Value::text(its.low), Value::text(its.high)}));
  set_if_typed(line, "calibrated", its.calibrated);
  set_if_typed(line, "due", its.due);
  return line;
}

Value line_of(const GaugesState& its) {
  Value line;
  switch (its.asking) {
  case GaugeForm::calibrated:
    line = action("update-gauge");
    line.set("found", Value::text("in"));
    set_if_typed(line, "calibrated", its.calibrated);
    set_if_typed(line, "due", its.due);
    set_if_typed(line, "u", its.u);
    break;
  case GaugeForm::check:
    line = action("check-gauge");
    line.set("standard", Value::text(its.standard));
    line.set("size", Value::text(its.size));
    line.set("reading", Value::text(its.reading));
    break;
  case GaugeForm::out:
    line = action("update-gauge");
    line.set("found", Value::text("out"));
    set_if_typed(line, "since", its.since);
    break;
  default: line = new_gauge(its);
  }
  line.set("gauge", Value::text(its.gauge));
  return line;
}

std::string what_came_of_it(const GaugesState& its, const Answered& answer) {
  switch (its.asking) {
  case GaugeForm::calibrated: return its.gauge + " is calibrated.";
  case GaugeForm::check:
    return answer.answer.at("good").as_boolean() ? fmt::format("{} is {} off its standard: good for the day.",
                                                               its.gauge, answer.answer.text_or_empty("off"))
                                                 : fmt::format("{} is {} off its standard: not to be used.", its.gauge,
                                                               answer.answer.text_or_empty("off"));
  case GaugeForm::out: {
    const auto touched = answer.answer.at("touched").items().size();
    return fmt::format("{} is not to be used; {} to be measured again, with another.", its.gauge,
                       touched == 0   ? "nothing has"
                       : touched == 1 ? "one entry has"
                                      : fmt::format("{} entries have", touched));
  }
  default: return its.gauge + " is added.";
  }
}

} // namespace

void ask_about_gauge(Ui& ui, GaugeForm what, const build::Gauge* gauge) {
  GaugesState fresh;
  fresh.lines = ui.gauges.lines;
  fresh.narrowed = ui.gauges.narrowed;
  fresh.asking = what;
  take_usual_unit(fresh);
  if (gauge) fresh.gauge = gauge->id;
  ui.gauges = std::move(fresh);
  ui.message.clear();
  ui.again = true;
}

void gauge_form(Ui& ui) {
  GaugesState& its = ui.gauges;
  say(fonts().large, theme().ink, title(its));
  const std::size_t kind = its.kind;
  const Filled filled = fill_in(ui, its.form, fields(its), "Write it down");
  if (its.kind != kind) take_usual_unit(its);
  if (filled == Filled::left) {
    its.asking = GaugeForm::none;
    its.focus = ui.again = true;
  }
  if (filled == Filled::sent && !ui.sent) ui.send(line_of(its));
}

bool gauges_answered(Ui& ui, const Answered& answer) {
  GaugesState& its = ui.gauges;
  const std::string done = answer.action.text_or_empty("do");
  if (its.asking == GaugeForm::none) return false; // a gauge may be added on the sheet too
  if (done != "add-gauge" && done != "update-gauge" && done != "check-gauge") return false;
  ui.again = true;
  if (!answer.ok()) {
    refuse(its.form, fields(its), answer.message());
    return true;
  }
  ui.refused = false;
  ui.message = what_came_of_it(its, answer);
  its.asking = GaugeForm::none;
  its.focus = true;
  return true;
}

} // namespace bench
