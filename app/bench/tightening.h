// What the sheet says and proposes of a tightening: the stage, what the wrench is set to in its own unit, the bolts,
// the wrenches that will do. Nothing is decided here; the gate judges what is sent.
#pragma once

#include "bench/ui.h"
#include "build/gauge.h"
#include "build/tightening.h"

namespace bench {

// What comes next, as far as it is known.
struct Pull {
  build::EntryAt at;
  const procedure::Entry& entry;
  const procedure::Stage& stage;
  build::NextFastener next;
  std::size_t left = 0;          // fasteners that still want the stage
  std::optional<build::Aim> aim; // of stages with a limit that is filled in
  std::string lacking;           // else why there is none
  std::optional<build::Lever> lever;
  std::string doubt; // of the limit's numbers, see build::doubt_of
  const std::string& fastener() const { return entry.fasteners[next.fastener].id; }
};
std::optional<Pull> next_pull(const build::Build& build, build::EntryAt at);

bool reads_torque(const procedure::Stage& stage); // torque and check: through the adapter, when there is one

// A value as it is set on the wrench or shown there, and what the fastener gets by it.
struct Setting {
  quantity::Exact value;
  const quantity::Unit* unit = nullptr;
  quantity::Exact at_fastener; // in the unit of the stage's limit
};
// What is aimed at, to the nearest division of the wrench. `run_on`: torque to turn a self-locking nut, in the limit's
// unit. The pull must have an aim.
Setting setting_for(const Pull& pull, const build::Gauge* gauge, const quantity::Exact& run_on);
// The other way round: of a value on the wrench.
Setting setting_of(const Pull& pull, const quantity::Exact& value, const quantity::Unit& unit);

// The gauges that will do for what comes next, the likeliest first; and why others will not, in words.
std::vector<const build::Gauge*> suitable_tools(const build::Shop& shop, const Pull& pull, const calc::Moment& now);
std::vector<std::string> why_not(const build::Shop& shop, const Pull& pull, const calc::Moment& now);
std::vector<const build::Gauge*> length_gauges(const build::Shop& shop, const procedure::Limit& limit,
                                               const calc::Moment& now);

// The value is known without a reading: what a wrench was set to, or an angle as it was meant.
bool stated_unread(const Pull& pull, const build::Gauge* gauge);
// All that still want the stage may be stated by one key.
bool stated_together(const Pull& pull, const build::Gauge* gauge);

std::string stage_words(const Pull& pull);  // "Stage two of four, turn: on by an angle, one by one"
std::string text_of(const build::Aim& aim); // "45 N.m", "0.12 to 0.16 mm"
std::string aim_words(const Pull& pull);    // what is good
std::string tool_words(const build::Gauge& gauge);
std::string bolt_facts(const procedure::Bolt& bolt); // "M10 x 1.25   10.9   OILED"
// How far this torque loads the bolt, and the friction that takes for granted; "" where the procedure does not say what
// bolt it is.
std::string load_words(const Pull& pull);
std::string which_words(const Pull& pull); // "All ten", "The other six"

bool tracks_bolts(const procedure::Entry& entry); // whether they are new or reused is asked
// Of the bolts: what is in, and what must be said or done before it is tightened.
struct BoltWords {
  std::string known;
  std::string wanted; // "" nothing
};
BoltWords bolt_words(const build::Build& build, const Pull& pull);

std::string minutes_words(std::int64_t milliseconds); // "25 minutes", "2 hours and 5 minutes"

// Where on the sheet the entry at work begins, as a part of its height: a joint at work needs what room there is.
float place_of_joint(bool at_work);

// The sheet's part for it: left what is said and asked, right the figure. The answers' messages too.
void tightening_block(Ui& ui, const build::Build& build, build::EntryAt at,
                      const std::vector<build::Blocker>& blockers);
void tightening_at_rest(const build::Build& build, build::EntryAt at); // one of the other entries of the step

// The questions that are asked in its left half.
bool asks_about_joint(Asking asking);
void joint_question(Ui& ui, const build::Build& build, build::EntryAt at);
void ask_about_joint(Ui& ui, const build::Build& build, build::EntryAt at, Asking what);

} // namespace bench
