// Warnings of tightening entries whose torques and angles do not go with what is known of the bolts, for each set of
// numbers that the options can bring. remark.cpp explains each code.
#include "procedure/check.h"
#include "procedure/combinations.h"
#include "procedure/estimate.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <utility>

namespace procedure {

using json::shown;

namespace {

// Per cent of proof. The highest: Shigley, Mechanical Engineering Design, 9th ed., eq. 8-31 (0.75 of the proof load for
// joints that come apart, 0.90 for those that stay), from memory. All others: common practice, no source.
constexpr int most_by_torque = 90;
constexpr int least_of_structural = 30;
constexpr int least_believed = 20;
constexpr int most_believed = 110;
// Degrees from snug on, all angle stages together. Common practice, no source.
constexpr int least_turn = 15;
constexpr int most_turn = 270;

// What a stage goes for, in the unit of its limit.
struct Wanted {
  const Limit* limit = nullptr;
  Exact value;

  Exact in(std::string_view unit) const { return quantity::convert(value, *limit->unit, *quantity::find_unit(unit)); }
  std::string text() const { return fmt::format("{} {}", value.text(), limit->unit->name); }
};

// The target, the middle of the bounds or the bound there is.
std::optional<Exact> wanted_value(const LimitValues& values) {
  if (values.target || !values.standard) return values.target;
  const Bounds& bounds = *values.standard;
  if (bounds.low && bounds.high) return (*bounds.low + *bounds.high) / Exact(2);
  return bounds.high ? bounds.high : bounds.low;
}

bool is_turn(StageKind kind) {
  return kind == StageKind::angle || kind == StageKind::stretch;
}

// Whether something other than torque has pulled the bolt since it was last let go, up to stage `end`.
bool turned_before(const Index& index, const Entry& entry, std::size_t end) {
  const Entry* from = entry.retorque ? taken_over_from(index, entry) : nullptr;
  bool turned = from && !from->retorque && turned_before(index, *from, from->stages.size());
  for (std::size_t i = 0; i < end; ++i)
    turned = entry.stages[i].kind != StageKind::loosen && (turned || is_turn(entry.stages[i].kind));
  return turned;
}

// The stage that leaves the joint tight, when that is a torque; else the number of stages.
std::size_t final_torque(const Entry& entry) {
  for (std::size_t i = entry.stages.size(); i-- > 0;) {
    if (entry.stages[i].kind == StageKind::torque) return i;
    if (is_turn(entry.stages[i].kind)) break;
  }
  return entry.stages.size();
}

// With as many places as a number of that size wants.
std::string rough(const Exact& value) {
  return value.fixed(value < Exact(1) ? 2 : value < Exact(20) ? 1 : 0);
}

bool believed(const Exact& percent) {
  return percent >= Exact(least_believed) && percent <= Exact(most_believed);
}

// Each slip that makes a torque fit its bolt: its number meant in another unit, its decimal point one place off; and if
// none of these does, a conversion once too often. `percent` is what the torque as written comes to.
std::vector<std::string> likely_slips(const Wanted& torque, const Exact& percent) {
  std::vector<std::string> fits;
  std::vector<std::string> twice;
  for (const Unit& other : quantity::all_units()) {
    if (other.dimension != quantity::Dimension::torque || &other == torque.limit->unit) continue;
    const Exact ratio = other.factor / torque.limit->unit->factor;
    if (believed(percent * ratio)) fits.push_back(fmt::format("as {} {}", torque.value.text(), other.name));
    if (believed(percent / ratio))
      twice.push_back(fmt::format("as {} {} (converted once too often, from {})", rough(torque.value / ratio),
                                  torque.limit->unit->name, other.name));
  }
  for (const Exact& shift : {Exact(10), Exact::ratio(1, 10)})
    if (believed(percent * shift))
      fits.push_back(fmt::format("as {} {}", (torque.value * shift).text(), torque.limit->unit->name));
  return fits.empty() ? twice : fits;
}

using Tell = std::function<void(std::string_view code, std::size_t stage, const std::string& message)>;

// The stages of one entry under one combination of options.
class Tightened {
public:
  // `wanted`: one for each stage; none where it wants no number or none is known.
  Tightened(const Index& index, const Entry& entry, std::vector<std::optional<Wanted>> wanted, const Tell& tell)
      : entry_(entry), wanted_(std::move(wanted)), tell_(tell) {
    const std::size_t last = final_torque(entry);
    if (!turned_before(index, entry, last)) alone_ = last;
  }

  void check() {
    for (std::size_t i = 0; i < wanted_.size(); ++i)
      if (kind(i) == StageKind::torque && wanted_[i] && !check_torque(i)) wanted_[i] = std::nullopt;
    check_rising();
    check_turns();
  }

private:
  StageKind kind(std::size_t stage) const { return entry_.stages[stage].kind; }

  // False when the number itself is in doubt, so that nothing else should be concluded from it.
  bool check_torque(std::size_t stage) const {
    if (!entry_.bolt) return true;
    const auto estimate = estimate_preload(*entry_.bolt, {wanted_[stage]->value, wanted_[stage]->limit->unit, {}});
    if (!estimate || !estimate->percent_of_proof) return true;
    const Exact& percent = *estimate->percent_of_proof;
    const bool alone = stage == alone_;
    if (percent > Exact(most_believed) || (alone && percent < Exact(least_believed))) {
      tell_slip(stage, *estimate);
      return false;
    }
    if (alone && percent > Exact(most_by_torque))
      tell(stage, "W09",
           fmt::format("loads the bolts to {}; above {} % nothing is left for scatter", with_source(*estimate),
                       most_by_torque));
    if (alone && entry_.bolt->structural && percent < Exact(least_of_structural))
      tell(stage, "W10",
           fmt::format("loads the bolts of a structural joint to {}; below {} % it may work loose",
                       with_source(*estimate), least_of_structural));
    return true;
  }

  void tell_slip(std::size_t stage, const Estimate& estimate) const {
    const Wanted& torque = *wanted_[stage];
    const Exact& percent = *estimate.percent_of_proof;
    const auto torque_at = [&](int share) { return rough(torque.value * Exact(share) / percent); };
    const auto slips = likely_slips(torque, percent);
    tell(stage, "W12",
         fmt::format("would load the bolts to {}; {} of class {} takes {} to {} {}. {}", with_source(estimate),
                     thread_text(*entry_.bolt), entry_.bolt->strength, torque_at(least_believed),
                     torque_at(most_believed), torque.limit->unit->name,
                     slips.empty() ? "No slip of unit or digit makes it fit: look at the bolt too"
                                   : fmt::format("It would fit {}", fmt::join(slips, ", or "))));
  }

  void check_rising() const {
    const Wanted* before = nullptr;
    for (std::size_t i = 0; i < wanted_.size(); ++i) {
      if (kind(i) == StageKind::loosen) before = nullptr;
      if (kind(i) != StageKind::torque) continue;
      const Wanted* now = wanted_[i] ? &*wanted_[i] : nullptr;
      if (before && now && now->in("N.m") < before->in("N.m"))
        tell(i, "W11", fmt::format("is below the torque before it, {}, so nothing would turn", before->text()));
      before = now;
    }
  }

  // All angles from where the joint was last let go.
  void check_turns() const {
    std::vector<std::size_t> turns;
    for (std::size_t i = 0; i < wanted_.size(); ++i) {
      if (kind(i) == StageKind::loosen) check_turn(std::exchange(turns, {}));
      if (kind(i) == StageKind::angle) turns.push_back(i);
    }
    check_turn(turns);
  }

  void check_turn(const std::vector<std::size_t>& stages) const {
    Exact all;
    for (const std::size_t stage : stages) {
      if (!wanted_[stage]) return;
      all += wanted_[stage]->in("deg");
    }
    if (stages.empty() || (all >= Exact(least_turn) && all <= Exact(most_turn))) return;
    tell(stages.back(), "W13",
         fmt::format("makes {} deg in all; {} to {} deg is usual", all.fixed(1), least_turn, most_turn));
  }

  static std::string with_source(const Estimate& estimate) {
    return in_words(estimate) + " (common practice, no source)";
  }

  void tell(std::size_t stage, std::string_view code, const std::string& what) const {
    tell_(code, stage,
          fmt::format("stage {}: {} (limit {}) {}", shown(entry_.stages[stage].id), wanted_[stage]->text(),
                      shown(wanted_[stage]->limit->id), what));
  }

  const Entry& entry_;
  std::vector<std::optional<Wanted>> wanted_;
  const Tell& tell_;
  std::optional<std::size_t> alone_; // the torque that is all there is to the joint
};

// What a torque or angle stage goes for; nothing when its limit is wrong or not filled in.
std::optional<Wanted> wanted_at(const Procedure& procedure, const Stage& stage, const Combinations& combination) {
  if (stage.kind != StageKind::torque && stage.kind != StageKind::angle) return std::nullopt;
  const auto dimension = stage.kind == StageKind::angle ? quantity::Dimension::angle : quantity::Dimension::torque;
  const Limit* limit = procedure.limit(stage.limit);
  if (!limit || !limit->unit || limit->unit->dimension != dimension) return std::nullopt;
  const auto value = wanted_value(combination.values_of(*limit));
  if (!value || value->sign() <= 0) return std::nullopt;
  return Wanted{limit, *value};
}

// Every option that the numbers of an entry, or its being there, depends on.
std::vector<const When*> conditions_on(const Procedure& procedure, const EntryView& at) {
  std::vector<const When*> all = {&at.step.when, &at.entry.when};
  for (const Stage& stage : at.entry.stages)
    if (const Limit* limit = procedure.limit(stage.limit))
      for (const When* one : conditions_of(*limit)) all.push_back(one);
  return all;
}

// Nothing is looked at where there are too many combinations of options.
void check_numbers(const Index& index, Notes& notes, const EntryView& at) {
  Combinations combination(index.procedure(), conditions_on(index.procedure(), at));
  if (!combination.known() || combination.count() >= Combinations::too_many) return;
  std::set<std::string> told; // the same numbers come again under other options
  const Tell tell = [&](std::string_view code, std::size_t stage, const std::string& message) {
    if (told.insert(message).second)
      notes.warning(code, fmt::format("{}/stages/{}/{}", at.pointer, stage, name_of(at.entry.stages[stage].kind)),
                    fmt::format("{}, {}", at.what(), message));
  };
  do {
    if (!combination.holds(at.step.when) || !combination.holds(at.entry.when)) continue;
    std::vector<std::optional<Wanted>> wanted;
    for (const Stage& stage : at.entry.stages) wanted.push_back(wanted_at(index.procedure(), stage, combination));
    Tightened(index, at.entry, std::move(wanted), tell).check();
  } while (combination.next());
}

void warn_of_second_use(const Index& index, Notes& notes, const EntryView& at) {
  const Entry& entry = at.entry;
  if (entry.retorque || !taken_over_from(index, entry) || !entry.bolt || entry.bolt->uses != 1) return;
  notes.warning(
      "W14", at.pointer + "/fasteners-of",
      fmt::format("{}: its bolts may be tightened once, and {} has done that", at.what(), shown(entry.fasteners_of)));
}

} // namespace

void check_fastening(const Index& index, Notes& notes) {
  index.each_entry([&](const EntryView& at) {
    if (at.entry.kind != EntryKind::tightening) return;
    check_numbers(index, notes, at);
    warn_of_second_use(index, notes, at);
  });
}

} // namespace procedure
