// One build: an engine being put together to one procedure, folded from its chain of events. A copy costs one pointer
// for every 32 steps: steps, and such rows of them, are shared until changed.
#pragma once

#include "build/event.h"
#include "build/plan.h"

#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace build {

using quantity::Exact;
using quantity::Unit;

// What is known of a value. `recorded`: no limit judges it. limit_missing, option_unset: it cannot be judged yet.
enum class Standing { empty, recorded, within, worn, undecided, outside, limit_missing, option_unset };
std::string_view name_of(Standing standing); // "within", "within, worn", ...
std::optional<Standing> standing_named(std::string_view name);
// The one that troubles most.
Standing worse(Standing a, Standing b);

struct Judged {
  Standing standing = Standing::empty;
  bool conceded = false;   // outside, with a concession
  bool accepted = false;   // undecided, accepted at the limit
  bool used_again = false; // within, worn: looked at and used again
  bool blocks() const;
};

// A part that was measured warm or cold, and taken to 20 degC.
struct Warmth {
  Exact read;                           // in the entry's unit, before it was taken to 20 degC
  Exact part_at, gauge_at;              // degC
  bool gauge_assumed = false;           // nobody said how warm the gauge was
  Exact alpha;                          // of the part, 1/K
  Exact correction;                     // value - read
  bool same(const Warmth& other) const; // part, gauge and expansion
};

struct Try {
  Exact value;  // in the entry's unit
  Exact u;      // root sum of squares of the next two
  Exact own;    // the part of it that is this reading's alone
  Exact shared; // the part that readings from one setting, or at one warmth, have in common
  Exact repeat; // the part of `own` that shrinks when it is measured again
  std::string gauge;
  int set = 0;          // the comparator's set it belongs to, from 1; 0: none
  std::string set_with; // what the comparator was set on, "" not said
  std::optional<Warmth> warmth;
  bool set_aside = false; // its gauge was found out, and it was measured again
  Moment at;              // when it was recorded
};

// Readings taken with a comparator from one setting. See build/comparator.h.
struct ComparatorSet {
  Exact at; // the size it was set at, in the entry's unit, and so are the others
  std::string gauge;
  std::string with;              // the gauge or standard it was set on; "" not said
  Exact division;                // of the comparator
  std::optional<Exact> drift;    // what it showed when it was put back; none: not yet
  bool kept = false;             // the drift was no larger than a division
  std::vector<std::size_t> lost; // cells given up for the drift
};

struct Cell {
  std::vector<Try> tries;
  bool skipped = false;
  bool asked = false;   // taken apart since: still true?
  Exact value;          // mean of the tries
  Exact u, own, shared; // of the mean, as in a try
  Judged judged;
  bool filled() const { return skipped || !tries.empty(); }
  // The tries whose mean counts: those made with the best gauge, the best of them first, none set aside.
  std::vector<const Try*> counted() const;
};

struct Calculated {
  json::Value results; // {name: {value, unit, u, verdict}}; null when it could not be calculated yet
  std::vector<std::string> notes;
  std::string refusal; // why the computation refuses these readings, or ""
  bool asked = false;
  Judged judged;
  bool filled() const { return !results.is(json::Kind::null); }
};

// One stage done on one fastener. Nothing was measured when no gauge is named.
struct Tightened {
  std::string stage;
  Exact value; // at the fastener, in the stage's unit
  std::string gauge;
  Judged judged;
  bool below = false; // outside on the low side: may be gone on with
  Moment at;
};

// An adapter between wrench and fastener: its setting differs from the torque at the fastener.
struct Lever {
  Exact wrench_length; // mm, square drive to the middle of the grip
  Exact extension;     // mm, square drive to fastener
  Exact angle;         // degrees, 0 in line
  Exact ratio;         // setting / torque at the fastener
};

// The bolt at one place of a joint.
struct BoltState {
  std::string state;           // new, reused, "" not said
  std::string identity;        // kept across builds; "" when it has none
  int uses = 0;                // how often it has been tightened to the end
  bool replace = false;        // must be replaced before it is tightened again
  bool measure = false;        // its length must be measured before it is tightened again
  std::optional<Exact> length; // in the limit's unit
  Judged judged;               // the length
};

struct EntryState {
  int pass = 1;
  std::vector<Cell> cells;                       // reading, readings
  std::vector<Cell> as_found;                    // the same points before strip-down; never judged
  std::vector<Cell> second_look;                 // the same points typed again by whoever signed, in a one-person shop
  std::vector<ComparatorSet> sets;               // in the order they were begun
  std::vector<Calculated> calculated;            // calculated: one a position, or one
  std::vector<std::vector<Tightened>> fasteners; // tightening: stages done, by fastener
  std::optional<Lever> lever;                    // tightening
  bool disordered = false;                       // tightening: this stage was done out of order
  std::string sure_by;                           // tightening: who last did something there, and when
  Moment sure_at;
  std::map<std::string, int> pulls; // tightening: by wrench, not yet noted by the shop
  bool done = false;                // confirm, choice, identity, wait
  bool asked = false;               // those four: taken apart since
  std::string text;                 // chosen, identified
  Judged judged;                    // choice
  Moment from, until, latest;       // wait, or a stage of waiting; latest.utc_ms 0: no longest time
  std::string recorded_by;          // the person who last recorded here
  std::int64_t last_seq = 0;        // the event that last recorded here
  std::vector<std::size_t> last_cells;
  std::int64_t sound_seq = 0; // doubts about gauges noted in the shop up to this event are settled here
};

struct Signature {
  std::string person;
  std::string name;
  std::string meaning;
  std::int64_t seq = 0;
  Moment time;
};

using PartPlace = std::pair<std::string, std::string>; // part, position

struct StepState {
  int pass = 1;
  std::vector<EntryState> entries;
  std::set<std::string> acknowledged; // people who have read its DANGER and WARNING in this pass
  std::vector<Signature> signatures;
  bool signed_off = false;
  bool reopened = false;
  std::set<PartPlace> fitted; // parts used up or dated that went in with it and have not come out since
};

struct PartState {
  std::string state; // new, reused, remade
  std::string size, lot, from, text;
  std::string expires;           // last day of use, or ""
  bool used_out_of_date = false; // named after that day, with the reason in `text`
};

// A size that work at the machine shop must bring a part to, as it was ordered.
struct OrderedSize {
  std::string title; // "Cylinder bore"
  std::string text;  // "84.500 to 84.518 mm"
};

// One part, or one of its positions, sent to the machine shop.
struct Sent {
  std::string part, position;
  std::string work;   // "Bored and honed over size"
  std::string finish; // or ""
  std::string text;   // or ""
  std::vector<OrderedSize> sizes;
  std::vector<std::string> findings; // ids
  std::string back_as;               // remade, reused, new; "" while away
  std::string back_text;
  Moment back;
  bool away() const { return back_as.empty(); }
};

// What went to the machine shop together, on one sheet.
struct Order {
  std::string id; // "m1", in the order they were sent
  std::string to; // the machine shop
  std::string text;
  std::string sent_name; // of whoever sent it
  Moment sent;
  std::vector<Sent> lines;
};

// A fault found on a part.
struct Finding {
  std::string id;             // "f1", in the order they were found
  std::string part, position; // position "": all of it, or there is only one
  std::string offered;        // the procedure's own, or ""
  std::string text, place, value;
  bool slight = false; // holds nothing up
  bool cause_asked = false;
  std::string cause;
  std::string disposition, done; // "" while nothing was done
  std::optional<EntryAt> proof;  // whose good value proves it; none: the sentence does
  std::string found_by, found_name, cleared_name;
  Moment found, cleared;
  std::int64_t seq = 0; // of the event that noted it
};

// Laid beside an entry or a finding; kept by the hash of its bytes.
struct Photograph {
  std::string sha256;
  std::string media; // "image/jpeg", "image/png"
  std::int64_t width = 0, height = 0;
  std::optional<EntryAt> at;
  std::string finding; // id, when it is of one
  std::string name;    // of whoever attached it
  Moment time;
};

class Build {
public:
  std::string id;
  std::shared_ptr<const Plan> plan;
  std::string procedure_sha256;
  std::string model, serial, hours, customer;
  bool practice = false;
  std::map<std::string, std::string, std::less<>> options; // what was picked
  std::map<PartPlace, PartState> parts;
  std::set<PartPlace> taken_out;                                  // used up or dated, out again, not named anew since
  std::map<std::string, procedure::Limit, std::less<>> filled;    // limits filled in on this build
  std::map<std::pair<std::string, std::string>, BoltState> bolts; // joint ("step/entry"), fastener
  std::vector<Finding> findings;
  std::vector<Order> orders;           // to the machine shop
  std::vector<Photograph> photographs; // in the order they were attached
  std::string outcome;                 // set at release
  std::vector<std::string> deferred;   // sections
  std::int64_t seq = 0;
  std::string head;
  Moment last;
  EntryAt last_recorded; // for take-back: the entry of the newest event that recorded a reading
  std::int64_t last_recorded_seq = 0;

  // Handed back "not released", a build may still be worked on and released later.
  bool released() const { return !outcome.empty() && outcome != not_released; }
  static constexpr std::string_view not_released = "not released";
  const StepState& step(std::size_t index) const { return *(*rows_[index / row_of])[index % row_of]; }
  StepState& change(std::size_t index); // copies the step, and its row, when they are shared
  const EntryState& entry(EntryAt at) const { return step(at.step).entries[at.entry]; }
  EntryState& change(EntryAt at) { return change(at.step).entries[at.entry]; }

  // What holds for an option: picked, else given; "" when neither.
  std::string option(std::string_view id) const;
  const procedure::Limit* limit(std::string_view id) const; // filled in, else the procedure's

  void start(std::shared_ptr<const Plan> its_plan);

private:
  static constexpr std::size_t row_of = 32;
  using Row = std::vector<std::shared_ptr<StepState>>;
  std::vector<std::shared_ptr<Row>> rows_;
};

} // namespace build
