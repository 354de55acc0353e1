#include "build/gauge.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace build {

using json::Value;

namespace {

// The least U assumed for a kind without a certificate, in mm; and never less than two divisions.
// Common practice, no source.
struct Assumed {
  std::string_view kind;
  int micrometres;
};
constexpr std::array<Assumed, 11> assumed_lengths = {{{"micrometer", 4},
                                                      {"bore gauge", 5},
                                                      {"depth micrometer", 8},
                                                      {"dial indicator", 10},
                                                      {"caliper", 40},
                                                      {"depth gauge", 40},
                                                      {"feeler gauge", 10},
                                                      {"gauging strip", 13},
                                                      {"straightedge", 10},
                                                      {"height gauge", 20},
                                                      {"ruler", 500}}};

Error refused(const char* code, std::string message) {
  return Error{code, std::move(message)};
}

Result<void> fit_for_use(const Shop& shop, const Gauge& gauge, const Moment& now) {
  if (!gauge.unfit.empty())
    return refused("gauge-unfit", fmt::format("{} may not be used: {}; take another.", gauge.id, gauge.unfit));
  const calc::Date today = calc::local_date(now);
  if (gauge.due && today > *gauge.due)
    return refused("gauge-overdue", fmt::format("{} was due for calibration on {}; take another or have it calibrated.",
                                                gauge.id, calc::text(*gauge.due)));
  if (gauge.calibrated && today < *gauge.calibrated)
    return refused("gauge-unfit", fmt::format("{} has a calibration date in the future ({}); correct its dates.",
                                              gauge.id, calc::text(*gauge.calibrated)));
  if (shop.calibration_needed && !gauge.calibrated)
    return refused("gauge-unfit",
                   fmt::format("{} has no calibration stated and the shop asks for one; add its dates.", gauge.id));
  return {};
}

} // namespace

Result<void> may_measure(const Shop& shop, const Gauge& gauge, const procedure::Entry& entry, const Moment& now) {
  if (gauge.kind == "setting standard")
    return refused("gauge-unfit",
                   fmt::format("{} is a setting standard: gauges are set on it, and it measures nothing; "
                               "name the gauge that was read.",
                               gauge.id));
  if (gauge.unit->dimension != entry.unit->dimension)
    return refused("gauge-unfit", fmt::format("{} reads in {}; {} asks for {}.", gauge.id, gauge.unit->name,
                                              entry.title, quantity::name_of(entry.unit->dimension)));
  if (!entry.gauges.empty() && std::find(entry.gauges.begin(), entry.gauges.end(), gauge.kind) == entry.gauges.end())
    return refused("gauge-unfit", fmt::format("{} is a {}; {} asks for: {}.", gauge.id, gauge.kind, entry.title,
                                              fmt::join(entry.gauges, ", ")));
  return fit_for_use(shop, gauge, now);
}

Result<void> may_gauge(const Shop& shop, const Gauge& gauge, const Unit& unit, const Moment& now) {
  if (gauge.unit->dimension != unit.dimension)
    return refused("gauge-unfit", fmt::format("{} reads in {}; {} is asked for.", gauge.id, gauge.unit->name,
                                              quantity::name_of(unit.dimension)));
  return fit_for_use(shop, gauge, now);
}

Result<void> may_tighten(const Shop& shop, const Gauge& gauge, const Unit& unit, const Moment& now) {
  if (gauge.tool == Tool::measuring || gauge.unit->dimension != unit.dimension)
    return refused("gauge-unfit", fmt::format("{} is a {} reading in {}; a tool for {} is needed.", gauge.id,
                                              gauge.kind, gauge.unit->name, quantity::name_of(unit.dimension)));
  return fit_for_use(shop, gauge, now);
}

Trust trust(const Gauge& gauge, const Exact& value, const Unit& unit) {
  Trust out;
  if (gauge.tool != Tool::measuring && gauge.class_error) {
    out.u = value.abs() * *gauge.class_error;
    return out;
  }
  const Unit& own = *gauge.unit;
  if (gauge.u) {
    out.u = quantity::convert_difference(*gauge.u, own, unit);
    if (gauge.repeat) out.repeat = quantity::convert_difference(*gauge.repeat, own, unit);
    return out;
  }
  out.assumed = true;
  if (gauge.tool != Tool::measuring) {
    out.u = value.abs() * Exact::ratio(6, 100); // the coarsest permitted deviation of ISO 6789-1, hand torque tools
    return out;
  }
  out.u = quantity::convert_difference(gauge.resolution * 2, own, unit);
  if (own.dimension != quantity::Dimension::length) return out;
  for (const auto& one : assumed_lengths)
    if (one.kind == gauge.kind)
      out.u =
          quantity::max(out.u, quantity::convert_difference(Exact(one.micrometres), *quantity::find_unit("um"), unit));
  return out;
}

Result<void> in_range(const Gauge& gauge, const Exact& value, const Unit& unit) {
  const Exact own = quantity::convert(value, unit, *gauge.unit);
  if ((gauge.low && own < *gauge.low) || (gauge.high && own > *gauge.high))
    return refused("gauge-unfit",
                   fmt::format("{} {} is outside the range of {} ({}); take a gauge that reaches it.", value.text(),
                               unit.name, gauge.id, text(Bounds{gauge.low, gauge.high}, *gauge.unit)));
  return {};
}

Value facts(const Gauge& gauge, const Trust& trust, const Unit& unit) {
  Value out =
      Value::object({{"gauge", Value::text(gauge.id)},
                     {"kind", Value::text(gauge.kind)},
                     {"unit", Value::text(std::string(unit.name))},
                     {"u", Value::text(trust.u.text())},
                     {"u_from", Value::text(trust.assumed ? "assumed" : "stated")},
                     {"resolution", Value::text(gauge.resolution.text() + " " + std::string(gauge.unit->name))}});
  if (trust.repeat.sign() > 0) out.set("repeat", Value::text(trust.repeat.text()));
  out.set("calibrated", Value::text(gauge.calibrated ? calc::text(*gauge.calibrated) : "not stated"));
  if (gauge.due) out.set("due", Value::text(calc::text(*gauge.due)));
  if (gauge.tool == Tool::setting) out.set("tool", Value::text("setting"));
  if (gauge.tool == Tool::indicating) out.set("tool", Value::text("indicating"));
  return out;
}

const std::vector<std::string_view>& gauge_kinds() {
  static const std::vector<std::string_view> kinds = {
      "micrometer",    "bore gauge",     "depth micrometer", "dial indicator", "caliper",
      "depth gauge",   "feeler gauge",   "gauging strip",    "straightedge",   "height gauge",
      "ruler",         "torque wrench",  "angle gauge",      "scale",          "pressure gauge",
      "spring tester", "spring balance", "thermometer",      "stopwatch",      "measuring jug",
      "protractor",    "tachometer",     "setting standard", "other"};
  return kinds;
}

} // namespace build
