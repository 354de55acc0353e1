#include "build/blockers.h"

#include "build/comparator.h"
#include "build/consumables.h"
#include "build/doubt.h"
#include "build/findings.h"
#include "build/orders.h"
#include "build/second_look.h"
#include "build/wrong_part.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

using procedure::EntryKind;

namespace {

bool warns(const procedure::Step& step) {
  return std::any_of(step.cautions.begin(), step.cautions.end(), [](const auto& caution) {
    return caution.word == procedure::SignalWord::danger || caution.word == procedure::SignalWord::warning;
  });
}

// Gathers the blockers of one entry.
class EntryCheck {
public:
  EntryCheck(const Shop& shop, const Build& build, EntryAt at, const Moment& now, std::vector<Blocker>& out)
      : shop_(shop), build_(build), at_(at), step_(build.plan->step(at.step)), entry_(build.plan->entry(at)),
        state_(build.entry(at)), now_(now), out_(out) {}

  void run() {
    switch (entry_.kind) {
    case EntryKind::reading:
    case EntryKind::readings: readings(); break;
    case EntryKind::calculated: calculated(); break;
    case EntryKind::tightening: tightening(); break;
    case EntryKind::wait: wait(); break;
    case EntryKind::choice:
    case EntryKind::confirm:
    case EntryKind::identity:
    case EntryKind::photograph: once(); break;
    }
    if (const auto it = in_doubt(shop_, build_, at_); it.doubt)
      add("gauge-unfit",
          fmt::format("{}; {} or accept it with a reason.", what_is_doubted(build_, at_, *it.doubt),
                      entry_.kind == EntryKind::tightening ? "loosen and tighten it again" : "measure again"));
  }

private:
  void add(std::string code, std::string message) {
    out_.push_back({std::move(code), std::move(message), entry_.id, step_.id});
  }
  void missing(std::string message) {
    if (!entry_.optional) add("entry-missing", std::move(message));
  }

  // Names up to three places: "1, front; 2, rear; and 4 more".
  static std::string few(const std::vector<std::string>& names) {
    std::string out;
    for (std::size_t i = 0; i < names.size() && i < 3; ++i) out += (i ? "; " : "") + names[i];
    if (names.size() > 3) out += fmt::format("; and {} more", names.size() - 3);
    return out;
  }

  void judged(const Judged& judged, const std::string& where, const std::string& what,
              const std::vector<OtherChoice>& other = {}) {
    if (!judged.blocks()) return;
    const std::string place = where.empty() ? entry_.title : fmt::format("{} ({})", entry_.title, where);
    switch (judged.standing) {
    case Standing::outside:
      add("reading-outside", fmt::format("{} is outside{}: {}", place, what,
                                         other.empty() ? "rework, replace or a concession." : told(build_, other)));
      break;
    case Standing::undecided:
      add("reading-undecided",
          fmt::format("{} is too close to its limit to tell{}: measure again, take a better gauge or accept it.", place,
                      what));
      break;
    case Standing::limit_missing:
      add("limit-missing", fmt::format("{} has no limit yet: fill it in from the manual.", place));
      break;
    case Standing::option_unset:
      add("option-unset", fmt::format("{} cannot be judged until its option is picked.", place));
      break;
    default: break;
    }
  }

  void readings() {
    std::vector<std::string> empty;
    std::vector<std::string> lost;
    std::vector<std::string> asked;
    const bool several = state_.cells.size() > 1;
    for (std::size_t c = 0; c < state_.cells.size(); ++c) {
      const Cell& cell = state_.cells[c];
      const auto name = [&] { return procedure::name_of_cell(step_, entry_, c); };
      if (!cell.filled()) (lost_to_drift(c) ? lost : empty).push_back(several ? name() : std::string());
      if (cell.filled() && cell.asked) asked.push_back(several ? name() : std::string());
      if (cell.judged.blocks())
        judged(cell.judged, several ? name() : std::string(),
               fmt::format(" ({})", quantity::text({cell.value, entry_.unit, std::nullopt})),
               other_choices(build_, at_, c));
    }
    give_up(lost);
    if (!empty.empty())
      missing(several && empty.size() < state_.cells.size()
                  ? fmt::format("{} is not measured yet at {}.", entry_.title, few(empty))
                  : entry_.title + " is not measured yet.");
    if (!asked.empty())
      missing(several ? fmt::format("{}: still true at {}, or measure again.", entry_.title, few(asked))
                      : fmt::format("{}: still true, or measure again.", entry_.title));
    if (const auto* set = open_set(state_)) {
      const auto* gauge = shop_.gauge(set->gauge);
      add("zero-missing",
          fmt::format("{}: put the {} {} back on its setting ({}) and record what it shows.", entry_.title,
                      gauge ? gauge->kind : "gauge", set->gauge, setting_text(*set, *entry_.unit)));
    }
  }

  // Of the newest set, and not measured since.
  bool lost_to_drift(std::size_t cell) const {
    return !state_.sets.empty() && std::ranges::find(state_.sets.back().lost, cell) != state_.sets.back().lost.end();
  }

  void give_up(const std::vector<std::string>& lost) {
    if (lost.empty()) return;
    const ComparatorSet& set = state_.sets.back();
    missing(fmt::format("{}: measure again{}{}; back on its setting {} showed {} {}, more than a division.",
                        entry_.title, lost.front().empty() ? "" : " at ", few(lost), set.gauge, signed_text(*set.drift),
                        entry_.unit->name));
  }

  void calculated() {
    for (std::size_t p = 0; p < state_.calculated.size(); ++p) {
      const Calculated& it = state_.calculated[p];
      const std::string where = state_.calculated.size() > 1 ? step_.positions[p] : std::string();
      const std::string place = where.empty() ? entry_.title : fmt::format("{} ({})", entry_.title, where);
      if (!it.refusal.empty())
        missing(fmt::format("{} cannot be worked out: {}", place, it.refusal));
      else if (!it.filled())
        missing(fmt::format("{} is worked out once its readings are there.", place));
      else if (it.asked)
        missing(fmt::format("{}: still true, or measure again.", place));
      if (it.filled() && it.judged.blocks()) judged(it.judged, where, "", other_choices_of_calculated(build_, at_, p));
    }
  }

  void tightening() {
    for (std::size_t f = 0; f < state_.fasteners.size(); ++f)
      for (std::size_t stage = 0; stage < state_.fasteners[f].size(); ++stage) fastener(f, stage);
    for (const auto& stage : entry_.stages)
      if (procedure::has_limit(stage.kind))
        if (const auto aim = aim_of(build_, entry_, stage); !aim) add(aim.error().code, aim.error().message);
    if (const auto next = next_fastener(build_, at_))
      missing(fmt::format("{}: next is {}, stage {}.", entry_.title, entry_.fasteners[next->fastener].id,
                          entry_.stages[next->stage].id));
    else if (now_.utc_ms < state_.until.utc_ms)
      add("waiting", fmt::format("{}: wait until {}.", entry_.title, calc::local_text(state_.until)));
  }

  // What is wrong with one fastener, and what to do: never turned back a little.
  void fastener(std::size_t f, std::size_t number) {
    const Tightened& done = state_.fasteners[f][number];
    const auto& stage = entry_.stages[number];
    if (done.judged.standing != Standing::outside || done.judged.conceded)
      return judged(done.judged, fmt::format("{}, stage {}", entry_.fasteners[f].id, done.stage), "");
    const std::string where = fmt::format("{}, fastener {}, stage {}", entry_.title, entry_.fasteners[f].id, stage.id);
    const std::string value = done.value.text() + " " + std::string(build_.limit(stage.limit)->unit->name);
    if (done.below && stage.kind != procedure::StageKind::check)
      add("reading-outside", fmt::format("{}: {} is not enough; go on to {}.", where, value, aim(stage)));
    else if (stage.kind == procedure::StageKind::check)
      add("reading-outside", fmt::format("{}: {} is outside {}; the bolt is taken out and looked at, or replaced.",
                                         where, value, aim(stage)));
    else if (stage.beyond == procedure::Beyond::replace)
      add("reading-outside",
          fmt::format("{}: {} is beyond {}; take a new bolt and start at the first stage.", where, value, aim(stage)));
    else
      add("reading-outside",
          fmt::format("{}: {} is beyond {}; loosen it, never turn it back a little, and start at the first stage.",
                      where, value, aim(stage)));
  }

  std::string aim(const procedure::Stage& stage) {
    const auto its = aim_of(build_, entry_, stage);
    return its ? text(*its) : std::string();
  }

  void wait() {
    if (!state_.done) return missing(fmt::format("{}: the clock is not started yet.", entry_.title));
    if (now_.utc_ms < state_.until.utc_ms)
      add("waiting", fmt::format("{}: wait until {}.", entry_.title, calc::local_text(state_.until)));
    if (state_.latest.utc_ms != 0 && now_.utc_ms > state_.latest.utc_ms)
      add("too-late",
          fmt::format("{}: the longest time ended {}; do it again.", entry_.title, calc::local_text(state_.latest)));
  }

  void once() {
    if (!state_.done) {
      const char* what = entry_.kind == EntryKind::choice       ? " is not chosen yet."
                         : entry_.kind == EntryKind::identity   ? " is not written down yet."
                         : entry_.kind == EntryKind::photograph ? " has no photograph yet."
                                                                : " is not confirmed yet.";
      return missing(entry_.title + what);
    }
    if (state_.asked) missing(fmt::format("{}: still true?", entry_.title));
    judged(state_.judged, "", fmt::format(" (\"{}\")", state_.text));
  }

  const Shop& shop_;
  const Build& build_;
  EntryAt at_;
  const procedure::Step& step_;
  const procedure::Entry& entry_;
  const EntryState& state_;
  const Moment& now_;
  std::vector<Blocker>& out_;
};

} // namespace

std::vector<Blocker> entry_blockers(const Shop& shop, const Build& build, EntryAt at, const Moment& now) {
  std::vector<Blocker> out;
  EntryCheck(shop, build, at, now, out).run();
  return out;
}

const procedure::Step* waits_for(const Build& build, std::size_t step) {
  for (const std::size_t before : build.plan->after(step))
    if (!build.step(before).signed_off && step_on(build, before) != Holds::no) return &build.plan->step(before);
  return nullptr;
}

bool cautions_unread(const Build& build, std::size_t index, std::string_view person) {
  const auto& state = build.step(index);
  if (state.signed_off || step_on(build, index) != Holds::yes || !warns(build.plan->step(index))) return false;
  return person.empty() ? state.acknowledged.empty() : state.acknowledged.count(std::string(person)) == 0;
}

namespace {

void add_blockers(const Shop& shop, const Build& build, std::size_t index, const Moment& now, std::string_view person,
                  std::vector<Blocker>& out) {
  const auto& step = build.plan->step(index);
  const auto& state = build.step(index);
  const Holds on = step_on(build, index);
  if (on == Holds::no) return;
  if (on == Holds::unset) {
    out.push_back({"option-unset", "Whether this step is on this engine depends on an option that is not picked yet.",
                   "", step.id});
    return;
  }
  if (state.signed_off) return;
  if (const auto* before = waits_for(build, index))
    out.push_back({"out-of-order", '"' + before->title + "\" must be signed before.", "", step.id});
  if (cautions_unread(build, index, person))
    out.push_back({"caution-unread", "The danger and warning notices of this step are not read yet.", "", step.id});
  for (std::size_t e = 0; e < step.entries.size(); ++e) {
    const EntryAt at{index, e};
    const Holds entry = entry_on(build, at);
    if (entry == Holds::unset)
      out.push_back({"option-unset",
                     fmt::format("Whether \"{}\" is asked for depends on an option that is not picked yet.",
                                 step.entries[e].title),
                     step.entries[e].id, step.id});
    if (entry == Holds::yes) EntryCheck(shop, build, at, now, out).run();
  }
  add_finding_blockers(shop, build, index, now, out);
  add_away_blockers(build, index, out);
  add_consumable_blockers(build, index, now, out);
  if (state.signatures.empty()) return;
  const auto& first = state.signatures.front();
  out.push_back(
      {"second-person-needed",
       shop.one_person
           ? fmt::format("Signed by {0}; another person looks and signs, or {0} takes a second look.", first.name)
           : fmt::format("Signed by {}; a second person must look and sign.", first.name),
       "", step.id});
  if (may_look_again(shop, build, index, person)) {
    const auto look = second_look_blockers(build, index, now);
    out.insert(out.end(), look.begin(), look.end());
  }
}

// What was signed and has come into doubt since.
void add_doubts(const Shop& shop, const Build& build, std::size_t step, std::vector<Blocker>& out) {
  const auto& its = build.plan->step(step);
  for (std::size_t e = 0; e < its.entries.size(); ++e)
    if (const auto it = in_doubt(shop, build, {step, e}); it.doubt)
      out.push_back({"gauge-unfit",
                     fmt::format("{}; reopen \"{}\", then measure again or accept it with a reason.",
                                 what_is_doubted(build, {step, e}, *it.doubt), its.title),
                     its.entries[e].id, its.id});
}

} // namespace

std::vector<Blocker> blockers(const Shop& shop, const Build& build, std::size_t index, const Moment& now,
                              std::string_view person) {
  std::vector<Blocker> out;
  add_blockers(shop, build, index, now, person, out);
  return out;
}

std::vector<Blocker> release_blockers(const Shop& shop, const Build& build, const std::vector<std::string>& deferred,
                                      const Moment& now) {
  std::vector<Blocker> out;
  for (std::size_t s = 0; s < build.plan->size(); ++s) {
    const auto& step = build.plan->step(s);
    if (step_on(build, s) == Holds::no) continue;
    if (build.step(s).signed_off) {
      add_doubts(shop, build, s, out);
      continue;
    }
    if (!deferred.empty() &&
        std::ranges::find(deferred, build.plan->procedure().section_of(step.id)->id) != deferred.end())
      continue;
    const std::size_t before = out.size();
    add_blockers(shop, build, s, now, "", out);
    if (out.size() == before)
      out.push_back({"step-unsigned", fmt::format("\"{}\" is not signed yet.", step.title), "", step.id});
  }
  add_finding_blockers_of_release(shop, build, now, out);
  add_away_blockers_of_release(build, out);
  return out;
}

std::string_view name_of(StepStanding standing) {
  switch (standing) {
  case StepStanding::not_yet: return "not yet";
  case StepStanding::open: return "open";
  case StepStanding::half_done: return "half done";
  case StepStanding::wants_second: return "wants a second person";
  case StepStanding::signed_off: return "signed";
  case StepStanding::reopened: return "reopened";
  case StepStanding::away: return "away";
  case StepStanding::not_on_this_engine: return "not on this engine";
  }
  return "";
}

bool has_anything(const EntryState& entry) {
  const auto filled = [](const auto& it) { return it.filled(); };
  return entry.done || std::any_of(entry.cells.begin(), entry.cells.end(), filled) ||
         std::any_of(entry.calculated.begin(), entry.calculated.end(), filled) ||
         std::any_of(entry.fasteners.begin(), entry.fasteners.end(), [](const auto& done) { return !done.empty(); });
}

bool has_anything(const StepState& step) {
  return !step.signatures.empty() || !step.fitted.empty() ||
         std::any_of(step.entries.begin(), step.entries.end(), [](const auto& it) { return has_anything(it); });
}

StepStanding standing_of(const Build& build, std::size_t step) {
  const auto& state = build.step(step);
  const Holds on = step_on(build, step);
  if (on == Holds::no) return StepStanding::not_on_this_engine;
  if (state.signed_off) return StepStanding::signed_off;
  if (away_of(build, step)) return StepStanding::away;
  if (!state.signatures.empty()) return StepStanding::wants_second;
  if (state.reopened) return StepStanding::reopened;
  if (on == Holds::unset || waits_for(build, step)) return StepStanding::not_yet;
  return has_anything(state) ? StepStanding::half_done : StepStanding::open;
}

Standing worst_of(const EntryState& entry) {
  Standing worst = entry.done ? entry.judged.standing : Standing::empty;
  for (const auto& cell : entry.cells)
    if (cell.filled()) worst = worse(worst, cell.judged.standing);
  for (const auto& it : entry.calculated)
    if (it.filled()) worst = worse(worst, it.judged.standing);
  for (const auto& fastener : entry.fasteners)
    for (const auto& done : fastener) worst = worse(worst, done.judged.standing);
  return worst;
}

} // namespace build
