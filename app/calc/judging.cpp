#include "calc/judging.h"

#include "calc/combine.h"
#include "calc/groups.h"
#include "quantity/quoted.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace calc {

std::string_view name_of(Verdict verdict) {
  switch (verdict) {
  case Verdict::within: return "within";
  case Verdict::undecided: return "undecided";
  case Verdict::outside: return "outside";
  }
  throw std::logic_error("a verdict without a name");
}

std::string_view name_of(Rule rule) {
  return rule == Rule::simple ? "simple" : "guarded";
}

std::optional<Rule> rule_named(std::string_view name) {
  if (name == name_of(Rule::simple)) return Rule::simple;
  if (name == name_of(Rule::guarded)) return Rule::guarded;
  return {};
}

Verdict judge(const Exact& value, const Exact& u, const Bounds& bounds, Rule rule) {
  const Exact guard = rule == Rule::guarded ? u : Exact();
  if (bounds.low && value < *bounds.low - guard) return Verdict::outside;
  if (bounds.high && value > *bounds.high + guard) return Verdict::outside;
  const bool proved = (!bounds.low || value >= *bounds.low + guard) && (!bounds.high || value <= *bounds.high - guard);
  return proved ? Verdict::within : Verdict::undecided;
}

bool too_coarse(const Exact& u, const Bounds& bounds) {
  return bounds.low && bounds.high && u + u > *bounds.high - *bounds.low;
}

double conformance_probability(const Exact& value, const Exact& u, const Bounds& bounds) {
  const Exact standard = u / Exact(2);
  const auto beyond = [&](const Exact& distance) { // probability of an error larger than the distance
    return std::erfc((distance / standard).to_double() / std::numbers::sqrt2) / 2;
  };
  const double above = bounds.high ? beyond(*bounds.high - value) : 0;
  const double below = bounds.low ? beyond(value - *bounds.low) : 0;
  return std::clamp(1 - above - below, 0.0, 1.0);
}

namespace {

Outcome probability(const Quantity& value, const Bounds& bounds) {
  if (!value.u) return {};
  if (value.u->sign() == 0) return Exact(judge(value.value, 0, bounds, Rule::simple) == Verdict::within ? 1 : 0);
  const double chance = conformance_probability(value.value, *value.u, bounds);
  return Exact::rounded(std::round(chance * 1e12) / 1e12);
}

Result<Answer> verdict(const Given& given) {
  const Quantity value = given.quantity("value");
  const Rule rule = given.has("rule") ? *rule_named(given.text("rule")) : Rule::simple;
  Bounds bounds;
  if (given.has("low")) bounds.low = given.quantity("low").value;
  if (given.has("high")) bounds.high = given.quantity("high").value;
  if (!bounds.low && !bounds.high) return bad_input("low", "missing; give low, high or both");
  if (bounds.low && bounds.high && *bounds.low > *bounds.high) return bad_input("low", "is above high");
  if (rule == Rule::guarded && !value.u) return bad_input("value", "carries no u, which the rule guarded needs");
  Answer answer;
  answer.results = {{"verdict", std::string(name_of(judge(value.value, value.u.value_or(0), bounds, rule)))},
                    {"probability", probability(value, bounds)},
                    {"guard_band", value.u ? Outcome(Quantity{*value.u, value.unit, {}}) : Outcome()}};
  if (rule == Rule::guarded && too_coarse(*value.u, bounds))
    answer.notes.push_back("2 U is more than high - low: this gauge can prove no value within");
  return answer;
}

// U of the mean: from the scatter with k = 2, or from the U stated, whichever is larger.
Result<Answer> mean_of(const Given& given) {
  const Readings& readings = given.readings("values");
  const std::vector<Exact> values = readings.flat();
  const Exact centre = mean(values);
  auto u = readings.u_mean(values.size());
  Answer answer;
  Outcome deviation;
  if (values.size() > 1) {
    Exact squares;
    for (const Exact& value : values) squares += (value - centre) * (value - centre);
    const double variance = (squares / whole(values.size() - 1)).to_double();
    deviation = Quantity{Exact::rounded(std::sqrt(variance)), readings.unit, {}};
    const Exact scatter = Exact::rounded(2 * std::sqrt(variance / static_cast<double>(values.size())));
    u = quantity::max(scatter, u.value_or(0));
    if (values.size() < 10) answer.notes.push_back("from fewer than 10 readings the scatter is known roughly only");
  }
  answer.results = {{"mean", Quantity{centre, readings.unit, u}},
                    {"standard_deviation", deviation},
                    {"u", u ? Outcome(Quantity{*u, readings.unit, {}}) : Outcome()}};
  return answer;
}

Result<Answer> convert(const Given& given) {
  const Unit* to = quantity::find_unit(given.text("to"));
  if (!to) return bad_input("to", "unit " + quantity::quoted(given.text("to")) + " is unknown");
  const Result<Quantity> converted = quantity::in_unit(given.quantity("value"), *to);
  if (!converted) return bad_input("to", converted.error().message);
  return Answer{{{"converted", *converted}}, {}};
}

} // namespace

std::vector<Computation> judging_computations() {
  return {
      {.name = "verdict",
       .group = "judging",
       .purpose = "Whether a value is within its limits, outside them, or the gauge cannot tell.",
       .inputs = {{.name = "value", .meaning = "the value judged, with its u", .sign = Sign::any},
                  {.name = "low", .meaning = "lower limit; one may be absent", .required = false, .sign = Sign::any},
                  {.name = "high", .meaning = "upper limit; one may be absent", .required = false, .sign = Sign::any},
                  {.name = "rule",
                   .shape = Shape::text,
                   .meaning = "simple unless said",
                   .required = false,
                   .words = {"simple", "guarded"}}},
       .results = {{"verdict", ResultKind::text, {}, "within, outside or undecided"},
                   {"probability", ResultKind::number, {}, "that the true value is within; null without u"},
                   {"guard_band", ResultKind::quantity, {}, "what guarded keeps off a limit: U; null without u"}},
       .formula =
           "simple: within when low <= value <= high; guarded: within when low + U <= value <= high - U, outside "
           "when value < low - U or value > high + U, else undecided; probability normal with standard U/2",
       .source = "ISO 14253-1 (guarded); JCGM 106:2012, 7 (probability)",
       .example = {R"({"value":{"value":0.062,"unit":"mm","u":0.005},"low":"0.018 mm","high":"0.065 mm",)"
                   R"("rule":"guarded"})",
                   R"({"calculation":"verdict","results":{"verdict":"undecided","probability":0.884930329778,)"
                   R"("guard_band":{"value":0.005,"unit":"mm"}},"notes":[]})"},
       .work = verdict},
      {.name = "convert",
       .group = "judging",
       .purpose = "A quantity in another unit.",
       .inputs = {{.name = "value", .meaning = "number, beside its unit and u", .sign = Sign::any, .beside = true},
                  {.name = "to", .shape = Shape::text, .meaning = "unit wanted"}},
       .results = {{"converted", ResultKind::quantity, {}, "the same in that unit"}},
       .formula = "exact factors; between deg and rad rounded to 12 digits",
       .source = "NIST SP 811 (2008), appendix B.8 and B.9",
       .example =
           {R"({"value":60,"unit":"psi","to":"kPa"})",
            R"({"calculation":"convert","results":{"converted":{"value":413.68543759,"unit":"kPa"}},"notes":[]})"},
       .work = convert},
      {.name = "mean-of",
       .group = "judging",
       .purpose = "Mean and scatter of repeated readings.",
       .inputs = {{.name = "values", .shape = Shape::readings, .meaning = "the readings", .sign = Sign::any}},
       .results = {{"mean", ResultKind::quantity, {}, "mean"},
                   {"standard_deviation", ResultKind::quantity, {}, "with n - 1; null for one reading"},
                   {"u", ResultKind::quantity, {}, "U of the mean (k = 2); null for one reading without u"}},
       .formula =
           "u = 2 standard_deviation / sqrt(n), or what the stated u leaves of itself in a mean of n when larger",
       .source = "JCGM 100:2008, 4.2 (mean, scatter and standard uncertainty of the mean)",
       .example = {R"({"values":{"values":[0.66,0.70],"unit":"mm"}})",
                   R"({"calculation":"mean-of","results":{"mean":{"value":0.68,"unit":"mm","u":0.04},)"
                   R"("standard_deviation":{"value":0.0282842712475,"unit":"mm"},"u":{"value":0.04,"unit":"mm"}},)"
                   R"("notes":["from fewer than 10 readings the scatter is known roughly only"]})"},
       .work = mean_of}};
}

} // namespace calc
