#include "bench/limit_form.h"

#include "bench/form.h"

#include <fmt/format.h>

namespace bench {

using json::Value;

namespace {

const std::vector<std::string> bases = {"maker", "shop"};
const std::vector<std::string> bases_in_words = {"the engine maker's", "the shop's own, signed by an owner"};

std::vector<Field> fields(NewLimit& its) {
  return {
      {.id = "standard low",
       .label = "Standard, at least",
       .text = &its.low,
       .hint = fmt::format("In {}, for new, ground or bored parts; empty where the manual gives none.", its.unit)},
      {.id = "standard high", .label = "Standard, at most", .text = &its.high, .hint = "In " + its.unit + "."},
      {.id = "service low",
       .label = "Service, at least",
       .text = &its.service_low,
       .hint = "For parts used again; empty where the manual gives none."},
      {.id = "service high", .label = "Service, at most", .text = &its.service_high, .hint = "In " + its.unit + "."},
      {.id = "target",
       .label = "Set to",
       .text = &its.target,
       .hint = "A torque or an angle that is to be set; empty for what is only measured."},
      {.id = "basis",
       .label = "Whose numbers",
       .text = &its.basis_typed,
       .hint = "Up and Down choose.",
       .kind = Field::Kind::choice,
       .choices = bases_in_words,
       .picked = &its.basis},
      {.id = "source",
       .label = "Where they stand",
       .text = &its.source,
       .hint = "Manual, edition, page. Once filled in they stay: read them against it before you strike F5."}};
}

void set_bounds(Value& line, const char* key, const std::string& low, const std::string& high) {
  if (low.empty() && high.empty()) return;
  Value bounds = Value::object({});
  set_if_typed(bounds, "low", low);
  set_if_typed(bounds, "high", high);
  line.set(key, std::move(bounds));
}

void send(Ui& ui) {
  NewLimit& its = ui.limits.fresh;
  Value line = action("fill-limit");
  line.set("build", Value::text(ui.desk.build()->id));
  line.set("limit", Value::text(its.limit));
  line.set("unit", Value::text(its.unit));
  set_bounds(line, "standard", its.low, its.high);
  set_bounds(line, "service", its.service_low, its.service_high);
  set_if_typed(line, "target", its.target);
  line.set("basis", Value::text(bases[its.basis]));
  set_if_typed(line, "source", its.source);
  ui.send(std::move(line));
}

void leave(Ui& ui) {
  ui.limits.fresh = NewLimit();
  ui.limits.focus = ui.again = true;
}

} // namespace

void ask_for_limit(Ui& ui, const LimitLine& line) {
  ui.limits.fresh = NewLimit();
  ui.limits.fresh.limit = line.id;
  ui.limits.fresh.title = line.title;
  ui.limits.fresh.unit = line.unit;
  ui.message.clear();
  ui.again = true;
}

void limit_form(Ui& ui) {
  NewLimit& its = ui.limits.fresh;
  if (const auto nobody = nobody_yet(ui, its.form)) {
    if (*nobody == Filled::left) leave(ui);
    return;
  }
  say(fonts().large, theme().ink, its.title);
  const Filled filled = fill_in(ui, its.form, fields(its), "Fill it in");
  if (filled == Filled::left) return leave(ui);
  if (filled == Filled::sent && !ui.sent) send(ui);
}

bool limit_filled(Ui& ui, const Answered& answer) {
  if (answer.action.text_or_empty("do") != "fill-limit") return false;
  NewLimit& its = ui.limits.fresh;
  ui.again = true;
  if (!answer.ok()) {
    refuse(its.form, fields(its), answer.message());
    return true;
  }
  ui.refused = false;
  ui.message = fmt::format("\"{}\" is filled in, signed by {}.", its.title, ui.desk.signed_in()->name);
  leave(ui);
  return true;
}

} // namespace bench
