#include "build/understood.h"

#include "build/comparator.h"
#include "calc/registry.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

namespace {

const Unit& celsius() {
  return *quantity::find_unit("degC");
}

// A thermal expansion that nearly all gauges have, from memory; JCGM 100:2008, H.1 gives its end gauge the same.
const Exact alpha_of_steel = Exact::ratio(115, 10'000'000);

// A size or a temperature that may be typed with its unit.
Result<Exact> typed_in(const Case& it, const char* name, const Unit& unit) {
  const Value* given = it.action.find(name);
  const auto typed = typed_value(*given, unit);
  if (!typed) return Error{typed.error().code, fmt::format("\"{}\": {}", name, typed.error().message)};
  const auto value = quantity::in_unit(*typed, unit);
  if (!value) return Error{value.error().code, fmt::format("\"{}\": {}", name, value.error().message)};
  return value->value;
}

Result<const Gauge*> named_standard(const Case& it, const std::string& id, const Exact& size, const Unit& unit) {
  const Gauge* standard = it.shop.gauge(id);
  if (!standard)
    return refusal("gauge-unknown", fmt::format("There is no gauge or setting standard \"{}\" in the shop; add it, or "
                                                "name another for \"set_with\".",
                                                id));
  if (const auto may = may_gauge(it.shop, *standard, unit, it.context.now); !may) return may.error();
  if (const auto range = in_range(*standard, size, unit); !range) return range.error();
  return standard;
}

bool same_setting(const ComparatorSet& one, const ComparatorSet& asked) {
  return one.at == asked.at && one.gauge == asked.gauge && (asked.with.empty() || one.with == asked.with);
}

// The set these readings go on with; null: a new one.
const ComparatorSet* goes_on(const Case& it, EntryAt at, const ComparatorSet& asked, std::size_t cell) {
  const auto& state = it.build.entry(at);
  if (const auto* open = open_set(state); open && same_setting(*open, asked)) return open;
  const auto& tries = state.cells[cell].tries;
  if (it.kind() != "correct" || tries.empty() || tries.back().set == 0) return nullptr;
  const auto& of_it = state.sets.at(static_cast<std::size_t>(tries.back().set) - 1);
  return same_setting(of_it, asked) ? &of_it : nullptr;
}

} // namespace

Result<std::optional<Setting>> asked_setting(const Case& it, EntryAt at, const Gauge* gauge, std::size_t cell) {
  const auto& entry = it.build.plan->entry(at);
  std::string with = it.action.text_or_empty("set_with");
  if (!it.action.find("set_at")) {
    if (!with.empty()) return bad_value("\"set_with\" goes with \"set_at\": say which size the gauge was set at.");
    return std::optional<Setting>();
  }
  if (!gauge || gauge->tool != Tool::measuring)
    return bad_value(
        fmt::format("{} is not read with a gauge that is set to a size; leave \"set_at\" out.", entry.title));
  const auto size = typed_in(it, "set_at", *entry.unit);
  if (!size) return size.error();
  if (size->sign() <= 0) return bad_value("\"set_at\" must be more than 0: the size the gauge was set to.");
  Setting out;
  out.set.at = *size;
  out.set.gauge = gauge->id;
  out.set.with = with;
  out.set.division = quantity::convert_difference(gauge->resolution, *gauge->unit, *entry.unit);
  const auto& state = it.build.entry(at);
  out.number = static_cast<int>(state.sets.size()) + 1;
  if (const auto* set = goes_on(it, at, out.set, cell)) {
    out.number = number_of(state, *set);
    with = out.set.with = set->with;
  }
  if (with.empty()) return std::optional(out);
  if (with == gauge->id)
    return bad_value(fmt::format("{} cannot be set on itself; name the ring or micrometer for \"set_with\".", with));
  const auto standard = named_standard(it, with, *size, *entry.unit);
  if (!standard) return standard.error();
  out.standard = *standard;
  out.trust = trust(*out.standard, *size, *entry.unit);
  out.u = out.trust.u;
  return std::optional(out);
}

Result<void> may_show(const ComparatorSet& set, const Exact& shown, const procedure::Entry& entry) {
  if (!beyond_a_dial(shown, set.at)) return {};
  const std::string size = fmt::format("{} {}", size_text(set), entry.unit->name);
  const Exact off = shown - set.at;
  if (!beyond_a_dial(off, set.at))
    return refusal("implausible",
                   fmt::format("{}: {} is the size itself; with {} set at {} type what its dial shows, {}.",
                               entry.title, shown.text(), set.gauge, size, signed_text(off)));
  return refusal("implausible",
                 fmt::format("{}: {} is more than a tenth of the {} that {} was set at; type what its dial shows, a "
                             "little more or less than 0.",
                             entry.title, shown.text(), size, set.gauge));
}

namespace {

Result<Exact> asked_temperature(const Case& it, const char* name) {
  const auto value = typed_in(it, name, celsius());
  if (!value) return value.error();
  // What a part is measured at in a workshop; common practice, no source.
  if (*value < Exact(-40) || *value > Exact(150))
    return refusal("implausible",
                   fmt::format("\"{}\": nothing is measured at {} degC; type the temperature.", name, value->text()));
  return *value;
}

} // namespace

Result<std::optional<Warmth>> asked_warmth(const Case& it, EntryAt at) {
  const auto& entry = it.build.plan->entry(at);
  const bool part = it.action.find("part_at") != nullptr;
  const bool gauge = it.action.find("gauge_at") != nullptr;
  if (!part && !gauge) return std::optional<Warmth>();
  if (entry.by_eye || entry.unit->dimension != quantity::Dimension::length)
    return bad_value(fmt::format("{}: only a length is taken to 20 degC; leave the temperatures out.", entry.title));
  // A part just washed is far from 20 degC and nobody can guess how far; a gauge in the room is near it.
  if (!part) return bad_value(fmt::format("{}: say how warm the part is too (\"part_at\").", entry.title));
  Warmth out;
  const auto part_at = asked_temperature(it, "part_at");
  if (!part_at) return part_at.error();
  out.part_at = *part_at;
  out.gauge_at = 20;
  out.gauge_assumed = !gauge;
  if (gauge) {
    const auto gauge_at = asked_temperature(it, "gauge_at");
    if (!gauge_at) return gauge_at.error();
    out.gauge_at = *gauge_at;
  }
  const auto& procedure = it.build.plan->procedure();
  const auto known = std::find_if(entry.parts.begin(), entry.parts.end(), [&](const std::string& id) {
    return procedure.part(id) && procedure.part(id)->alpha;
  });
  if (known == entry.parts.end())
    return refusal(
        "expansion-unknown",
        fmt::format("{}: how much this part grows with warmth is not known; let it come to the warmth of the "
                    "room and measure it then, or add \"alpha\" to the part in the procedure.",
                    entry.title));
  out.alpha = *procedure.part(*known)->alpha;
  return std::optional(out);
}

Result<quantity::Quantity> take_to_20(Warmth& warmth, const Exact& read, const Unit& unit) {
  const auto quantity = [](const Exact& value, std::string_view its_unit, const Exact& u) {
    return Value::object({{"value", Value::number(value.text())},
                          {"unit", Value::text(std::string(its_unit))},
                          {"u", Value::number(u.text())}});
  };
  const Exact tenth = Exact::ratio(1, 10);
  const auto answer =
      calc::compute(*calc::find_computation("temperature"),
                    Value::object({{"reading", Value::object({{"value", Value::number(read.text())},
                                                              {"unit", Value::text(std::string(unit.name))}})},
                                   {"part_at", quantity(warmth.part_at, "degC", 1)},
                                   {"part_alpha", quantity(warmth.alpha, "1/K", warmth.alpha * tenth)},
                                   {"gauge_at", quantity(warmth.gauge_at, "degC", warmth.gauge_assumed ? 5 : 1)},
                                   {"gauge_alpha", quantity(alpha_of_steel, "1/K", alpha_of_steel * tenth)}}));
  if (!answer) return bad_value(answer.error().message);
  const auto* at_20 = answer->find("at_20")->quantity();
  warmth.read = read;
  const Exact value = Exact::rounded(at_20->value.to_double());
  warmth.correction = value - read;
  return quantity::Quantity{value, &unit, at_20->u.value_or(Exact())};
}

} // namespace build
