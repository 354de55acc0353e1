#include "bench/tightening.h"

#include "bench/lengths.h"
#include "procedure/estimate.h"

#include "build/limits.h"
#include "drawing/shapes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

namespace bench {

using drawing::in_words;
using procedure::By;
using procedure::StageKind;
using quantity::Exact;
using quantity::Result;

namespace {

std::size_t wanting(const build::EntryState& state, std::size_t stage) {
  return static_cast<std::size_t>(std::count_if(state.fasteners.begin(), state.fasteners.end(), [&](const auto& done) {
    return done.size() <= stage || done[stage].below;
  }));
}

Exact ratio_of(const Pull& pull) {
  return pull.lever && reads_torque(pull.stage) ? pull.lever->ratio : Exact(1);
}

// Whether the gate is likely to take this one.
Result<void> will_do(const build::Shop& shop, const build::Gauge& gauge, const Pull& pull, const calc::Moment& now) {
  const auto& unit = *pull.aim->limit->unit;
  const bool torque = reads_torque(pull.stage);
  if (auto may = (torque ? build::may_tighten : build::may_gauge)(shop, gauge, unit, now); !may) return may;
  const Setting setting = setting_for(pull, &gauge, 0);
  if (auto in = build::in_range(gauge, setting.value, *setting.unit); !in) return in;
  if (!torque) return {};
  if (gauge.tool == build::Tool::setting && pull.stage.kind == StageKind::check)
    return quantity::Error{"gauge-unfit", gauge.id + " cannot show a torque; a check needs one that indicates."};
  const Exact u = build::trust(gauge, setting.value * ratio_of(pull), unit).u / ratio_of(pull);
  if (pull.aim->bounds && calc::too_coarse(u, *pull.aim->bounds))
    return quantity::Error{"gauge-unfit", fmt::format("{} is too coarse for {}.", gauge.id, build::text(*pull.aim))};
  return {};
}

std::string doing(const Pull& pull) {
  switch (pull.stage.kind) {
  case StageKind::torque: return pull.stage.slot ? "to a torque, and on to the next slot" : "to a torque";
  case StageKind::angle: return "on by an angle";
  case StageKind::stretch: return "on until it has grown";
  case StageKind::check: return "the torque as it stands, nothing turned";
  case StageKind::loosen: return "let go again";
  case StageKind::mark: return "marked";
  case StageKind::wait: return "left to settle";
  }
  return "";
}

std::string capital(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return std::toupper(c); });
  return text;
}

} // namespace

bool reads_torque(const procedure::Stage& stage) {
  return stage.kind == StageKind::torque || stage.kind == StageKind::check;
}

std::optional<Pull> next_pull(const build::Build& build, build::EntryAt at) {
  const auto next = build::next_fastener(build, at);
  if (!next) return std::nullopt;
  const auto& entry = build.plan->entry(at);
  const auto& state = build.entry(at);
  Pull out{at, entry, entry.stages[next->stage], *next, wanting(state, next->stage), std::nullopt, "", state.lever, ""};
  if (!procedure::has_limit(out.stage.kind)) return out;
  out.doubt = build::doubt_of(build, out.stage.limit);
  const auto aim = build::aim_of(build, entry, out.stage);
  if (aim)
    out.aim = *aim;
  else
    out.lacking = aim.error().message;
  return out;
}

Setting setting_for(const Pull& pull, const build::Gauge* gauge, const Exact& run_on) {
  const auto& unit = *pull.aim->limit->unit;
  const Exact wanted = (pull.aim->nominal() + run_on) * ratio_of(pull);
  if (!gauge || !quantity::same_dimension(*gauge->unit, unit)) return {wanted, &unit, wanted / ratio_of(pull)};
  const Exact there = quantity::convert(wanted, unit, *gauge->unit);
  const Exact& division = gauge->resolution;
  const Exact value = division.sign() > 0 ? (there / division + Exact::ratio(1, 2)).floor() * division : there;
  return setting_of(pull, value, *gauge->unit);
}

Setting setting_of(const Pull& pull, const Exact& value, const quantity::Unit& unit) {
  return {value, &unit, quantity::convert(value, unit, *pull.aim->limit->unit) / ratio_of(pull)};
}

std::vector<const build::Gauge*> suitable_tools(const build::Shop& shop, const Pull& pull, const calc::Moment& now) {
  std::vector<const build::Gauge*> out;
  if (!pull.aim || pull.stage.kind == StageKind::angle) return out; // counted on the wrench's own marks
  for (const auto& [id, gauge] : shop.gauges)
    if (will_do(shop, gauge, pull, now)) out.push_back(&gauge);
  if (pull.stage.by == By::stage)
    std::stable_partition(out.begin(), out.end(), [](const auto* g) { return g->tool == build::Tool::setting; });
  return out;
}

std::vector<std::string> why_not(const build::Shop& shop, const Pull& pull, const calc::Moment& now) {
  std::vector<std::string> out;
  if (!pull.aim) return out;
  for (const auto& [id, gauge] : shop.gauges) {
    const bool same = reads_torque(pull.stage) ? gauge.tool != build::Tool::measuring
                                               : quantity::same_dimension(*gauge.unit, *pull.aim->limit->unit);
    const auto may = will_do(shop, gauge, pull, now);
    if (same && !may) out.push_back(may.error().message);
  }
  return out;
}

std::vector<const build::Gauge*> length_gauges(const build::Shop& shop, const procedure::Limit& limit,
                                               const calc::Moment& now) {
  const auto& bounds = limit.values.service ? limit.values.service : limit.values.standard;
  std::vector<const build::Gauge*> out;
  for (const auto& [id, gauge] : shop.gauges) {
    if (!build::may_gauge(shop, gauge, *limit.unit, now)) continue;
    const auto end = bounds ? (bounds->high ? bounds->high : bounds->low) : std::nullopt;
    if (!end || build::in_range(gauge, *end, *limit.unit)) out.push_back(&gauge);
  }
  std::stable_partition(out.begin(), out.end(),
                        [](const auto* gauge) { return gauge->kind == "micrometer" || gauge->kind == "caliper"; });
  return out;
}

bool stated_unread(const Pull& pull, const build::Gauge* gauge) {
  if (pull.stage.kind == StageKind::angle) return true;
  return pull.stage.kind == StageKind::torque && gauge && gauge->tool == build::Tool::setting;
}

bool stated_together(const Pull& pull, const build::Gauge* gauge) {
  if (pull.left < 2 || pull.stage.by != By::stage || pull.stage.prevailing) return false;
  return !procedure::has_limit(pull.stage.kind) || stated_unread(pull, gauge);
}

std::string stage_words(const Pull& pull) {
  const auto& id = pull.stage.id;
  const bool number = std::all_of(id.begin(), id.end(), [](unsigned char c) { return std::isdigit(c); });
  return fmt::format("Stage {} of {}{}: {}, {}", in_words(pull.next.stage + 1), in_words(pull.entry.stages.size()),
                     number ? "" : ", " + id, doing(pull),
                     pull.stage.by == By::stage ? "all of them in this order" : "one by one");
}

std::string text_of(const build::Aim& aim) {
  const auto& unit = *aim.limit->unit;
  if (!in_inches(unit)) return build::text(aim);
  if (aim.bounds) return shown_bounds(*aim.bounds, unit);
  return aim.target ? shown_length(*aim.target, unit) : std::string();
}

std::string aim_words(const Pull& pull) {
  if (!pull.aim) return pull.lacking;
  const std::string behind = pull.doubt.empty() ? "" : "; " + pull.doubt;
  if (pull.aim->bounds) return "good: " + text_of(*pull.aim) + behind;
  return fmt::format("{}; maker gives no tolerance{}", text_of(*pull.aim), behind);
}

std::string tool_words(const build::Gauge& gauge) {
  std::string out = "with " + gauge.id;
  if (gauge.tool == build::Tool::setting) out += ", clicks at what it is set to";
  if (gauge.tool == build::Tool::indicating) out += ", shows the peak";
  out += gauge.due ? ", calibration due " + calc::text(*gauge.due) : std::string(", calibration not stated");
  if (gauge.use_limit) out += fmt::format(", {} of {} pulls noted", gauge.uses, *gauge.use_limit);
  return out;
}

std::string bolt_facts(const procedure::Bolt& bolt) {
  return fmt::format("{}{}   {}", procedure::thread_text(bolt), bolt.strength.empty() ? "" : "   " + bolt.strength,
                     capital(std::string(procedure::name_of(bolt.lubrication))));
}

std::string load_words(const Pull& pull) {
  if (!pull.entry.bolt || !pull.aim || pull.stage.kind != StageKind::torque) return "";
  const auto estimate =
      procedure::estimate_preload(*pull.entry.bolt, {pull.aim->nominal(), pull.aim->limit->unit, std::nullopt});
  return estimate ? "this loads the bolt to " + procedure::in_words(*estimate) : "";
}

std::string which_words(const Pull& pull) {
  if (pull.left == pull.entry.fasteners.size()) return "All " + in_words(pull.left);
  return pull.left == 1 ? "The last one" : "The other " + in_words(pull.left);
}

bool tracks_bolts(const procedure::Entry& entry) {
  return entry.bolt && (entry.bolt->uses || !entry.bolt->length.empty());
}

BoltWords bolt_words(const build::Build& build, const Pull& pull) {
  BoltWords out;
  if (!pull.entry.bolt) return out;
  const auto& asked = *pull.entry.bolt;
  const auto& bolt = build::bolt_at(build, pull.at, pull.next.fastener);
  if (!bolt.state.empty()) {
    out.known = fmt::format("bolt {}: {}", pull.fastener(), bolt.state);
    if (asked.uses) out.known += fmt::format(", used {} of {} times", bolt.uses, *asked.uses);
    if (bolt.length && !asked.length.empty())
      out.known += fmt::format(", {} long", shown_length(*bolt.length, *build.limit(asked.length)->unit));
    if (!bolt.identity.empty()) out.known += fmt::format(", marked {}", bolt.identity);
  }
  const bool begins = build.entry(pull.at).fasteners[pull.next.fastener].empty();
  if (!begins || pull.entry.retorque) return out;
  if (bolt.replace)
    out.wanted = fmt::format("Bolt {} is not used again: put a new one in and say so.", pull.fastener());
  else if (tracks_bolts(pull.entry) && bolt.state.empty())
    out.wanted = "Say first whether the bolts are new or reused.";
  else if (bolt.measure || (!asked.length.empty() && bolt.state == "reused" && !bolt.length))
    out.wanted = fmt::format("Measure the length of bolt {} first.", pull.fastener());
  return out;
}

std::string minutes_words(std::int64_t milliseconds) {
  const auto minutes = std::max<std::int64_t>(milliseconds, 0) / 60'000;
  const auto count = [](std::int64_t number, const char* what) {
    return fmt::format("{} {}{}", number, what, number == 1 ? "" : "s");
  };
  if (minutes == 0) return "less than a minute";
  if (minutes < 60) return count(minutes, "minute");
  constexpr std::int64_t day = 1440;
  if (minutes < day) return fmt::format("{} and {}", count(minutes / 60, "hour"), count(minutes % 60, "minute"));
  return count(minutes / day, "day");
}

} // namespace bench
