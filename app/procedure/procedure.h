// A procedure: how one kind of engine goes together. Plain structures, as read and checked from a JSON file
// (procedures/README.md describes the format, procedures/procedure.schema.json states it).
#pragma once

#include "calc/judging.h"
#include "calc/registry.h"
#include "procedure/tightening.h"

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace procedure {

using calc::Bounds;
using quantity::Error;
using quantity::Exact;
using quantity::Quantity;
using quantity::Result;
using quantity::Unit;

// A fact of the engine that moves limits or leaves steps out: bore oversize, journal undersize, gasket grade.
struct Option {
  std::string id;
  std::string title;
  std::string text;
  std::vector<std::string> choices;
  std::string given; // what holds until somebody picks; "" when it must be picked
};

struct OptionIs {
  std::string option;
  std::vector<std::string> is; // any of these
};
using When = std::vector<OptionIs>; // all must hold; empty: always

struct Part {
  std::string id;
  std::string title;
  std::vector<std::string> positions; // empty: there is one
  bool once = false;                  // used up by fitting it: seal, gasket
  bool dated = false;                 // has a lot and a last day of use: sealant
  std::optional<Exact> alpha;         // thermal expansion, 1/K, so that it may be measured warm or cold
};

// none: the maker gives no number, what is read is recorded and not judged. not_yet: nobody has looked it up.
enum class Basis { maker, standard, shop, none, invented_example, not_yet };

// Warnings of lint that are meant as they stand: code ("W20") and the reason.
using Accepted = std::vector<std::pair<std::string, std::string>>;

// The same numbers as the manual prints them in another unit beside: a check, never used to judge.
struct Beside {
  const Unit* unit = nullptr;
  std::optional<Bounds> standard;
  std::optional<Bounds> service;
  std::optional<Exact> target;
};

// Who copied numbers from where they stand, and on which day.
struct Hand {
  std::string by;
  std::string on; // "2026-11-26"
};

// The numbers as a second reading of the manual gave them, or the same person's later one; without any: it gives none.
struct Checked {
  Hand hand;
  const Unit* unit = nullptr;
  std::optional<Bounds> standard;
  std::optional<Bounds> service;
  std::optional<Exact> target;
};

// One set of numbers of a limit. All empty: not yet filled in.
struct LimitValues {
  std::optional<Bounds> standard; // new, reground or rebored parts
  std::optional<Bounds> service;  // reused parts
  std::optional<Exact> target;    // a bare value to set (torque, angle)
  std::optional<Beside> beside;
  std::optional<Hand> entered;
  std::optional<Checked> checked;
  bool empty() const { return !standard && !service && !target; }
};

struct LimitCase {
  When when;
  LimitValues values;
};

struct Limit {
  std::string id;
  std::string title;
  const Unit* unit = nullptr;
  LimitValues values;           // when no case holds
  std::vector<LimitCase> cases; // the first that holds counts
  Basis basis = Basis::none;
  std::string source;
  calc::Rule rule = calc::Rule::simple; // the limit's own, else the procedure's
  Accepted accepted;
};

enum class SignalWord { danger, warning, caution, notice };

struct Caution {
  SignalWord word = SignalWord::notice;
  std::string hazard;
  std::string consequence;
  std::string avoid;
};

enum class EntryKind { reading, readings, confirm, choice, tightening, identity, wait, photograph, calculated };

// What taking the joint apart does to an entry: it stays, one key says "still true", or it must be done again.
enum class TakenApart { keeps, asks, lost };

// By which column of its limit a value is judged.
enum class Column { by_parts, standard, service };

// Where an input of a calculated entry comes from.
struct FromEntry {
  std::string step; // "" in the text means the own step; the reader fills it in
  std::string entry;
  std::string result;    // of a calculated entry; "" for readings
  bool as_found = false; // readings: those taken before strip-down
};
struct FromLimit {
  std::string limit;
  std::string bound; // "low", "high", "target", "service low", "service high"
};
struct FromOption {
  std::string option;
};
struct Constant {
  json::Value value; // as the computation reads it
};
using Source = std::variant<FromEntry, FromLimit, FromOption, Constant>;

// A ring of the piston, or a part of its oil ring, and where its gap goes.
struct RingGap {
  std::string title;
  int groove = 1;   // from the crown down; the parts of one oil ring share theirs
  double angle = 0; // degrees clockwise from the mark, seen on the crown
};

// The gaps of one piston before it goes in. All angles as those of the rings.
struct RingGaps {
  std::string mark;           // from what the angles count: "arrow, to the front"
  double pin = 0;             // one end of the gudgeon pin
  double thrust = 0;          // the middle of the thrust side
  std::string thrust_side;    // where that is: "camshaft side"
  std::vector<RingGap> rings; // from the crown down
};

// 0 to 180 degrees.
double between_angles(double a, double b);

// What few entries have is held apart: a procedure of many steps is gone through from end to end, often.
struct Entry {
  std::string id;
  EntryKind kind = EntryKind::confirm;
  std::string title;
  std::string text;
  When when;
  Accepted accepted;
  bool optional = false; // may be left empty
  bool loose = false;    // of a loose part: may be recorded before the step's turn ("measured ahead")
  TakenApart taken_apart = TakenApart::lost;
  std::vector<std::string> parts; // of which it tells; their state (new, reused, remade) chooses the limit's column
  Column column = Column::by_parts;
  std::shared_ptr<const RingGaps> ring_gaps; // confirm, choice; readings, whose rows are then the rings; or null

  // reading, readings; a step with positions asks for one such set at each position
  const Unit* unit = nullptr;
  std::string limit;                // "" : recorded, not judged
  std::vector<std::string> rows;    // names of planes or places; empty: one
  std::vector<std::string> columns; // names of directions; empty: one
  std::vector<Place> places;        // of the rows on a face whose heights they are, mm; empty: none given
  bool may_skip = false;            // a point may be left out (oil hole): typed "-"
  bool by_eye = false;              // counted or read without a gauge
  bool as_found = false;            // asked for at strip-down too, as it was then; never blocks
  std::vector<std::string> gauges;  // kinds of gauge that will do; empty: any that measures the dimension

  // choice
  std::vector<std::string> choices;
  std::vector<std::string> good;                // those that let the work go on; empty: all
  std::string option;                           // the option that the choice picks, or ""
  std::shared_ptr<const FromEntry> proposed_by; // the calculated result that says what to choose, or null

  // tightening
  std::vector<Fastener> fasteners;  // in the order of tightening
  std::string fasteners_of;         // "step/entry" whose fasteners, and bolts, these are; "" for its own
  bool retorque = false;            // the bolts are still tight from there: no further use of them
  bool worked_out_order = false;    // by pattern-order from the places, not given by the manual
  std::vector<Place> outline;       // of the joint's face, for the figure; may be empty
  std::shared_ptr<const Bolt> bolt; // or null
  std::vector<Stage> stages;

  // wait: seconds
  std::optional<Exact> least;
  std::optional<Exact> most;

  // calculated
  const calc::Computation* computation = nullptr;
  std::vector<std::pair<std::string, Source>> inputs;
  std::vector<std::pair<std::string, std::string>> judge; // result, limit
  bool over_all = false; // in a step with positions: once over all of them instead of once at each
};

struct Step {
  std::string id;
  std::string title;
  std::string text;
  std::vector<std::string> after; // steps that must be signed before
  When when;
  bool hold = false;                  // a hold point: signed twice
  std::string part;                   // whose positions these are, or ""
  std::vector<std::string> positions; // empty: the step has none
  std::vector<std::string> fits;      // parts that go in with it; where its positions are the part's, each its own
  std::vector<Caution> cautions;
  std::string figure; // name of a figure, or ""
  std::vector<Entry> entries;
  Accepted accepted;

  const Entry* find(std::string_view entry_id) const;
};

struct Section {
  std::string id;
  std::string title;
  bool deferrable = false; // may be left open at release, with a reason
  std::vector<Step> steps;
  Accepted accepted;
};

// A fault that this procedure offers to be found on a part. Findings in other words may be written at any time.
struct OfferedFinding {
  std::string id;
  std::vector<std::string> parts;      // on which it is offered
  std::string text;                    // "Groove worn where the lip seal ran"
  std::string usually;                 // what is usually done, or ""
  bool slight = false;                 // noted and handed over, but holds nothing up
  bool cause = false;                  // the release waits until its cause is written down
  std::string proof_step, proof_entry; // the entry whose good value clears it; "" when a sentence does
};

// Work that this procedure offers to have done by a machine shop.
struct OfferedWork {
  std::string id;
  std::vector<std::string> parts;      // to which it is done
  std::string text;                    // "Bored and honed over size"
  std::vector<std::string> limits;     // what must hold when it comes back, in the column for remade parts
  std::string sizes_step, sizes_entry; // the calculated entry that gives the size at each position, or ""
  std::string low, high;               // its results: from, to
  std::string finish;                  // of the surface, or ""
};

// A gear of the train that drives the camshaft, as its teeth are counted.
struct TrainGear {
  std::string id;
  std::string title;
  int teeth = 0;
  std::string meshes;    // id of an earlier gear; of the first "", it drives
  double direction = 90; // of its centre from that gear's: degrees anticlockwise, from the right, seen from the front
};

struct Procedure {
  std::string id;
  std::string title;
  std::string revision;
  std::string model;  // of engine
  std::string notice; // said on every screen and page, or ""
  calc::Rule rule = calc::Rule::simple;
  std::vector<Option> options;
  std::vector<Part> parts;
  std::vector<Limit> limits;
  std::vector<OfferedFinding> findings;
  std::vector<OfferedWork> machine_work;
  std::vector<TrainGear> gear_train; // drawn by the step with the figure "gear-train"
  std::vector<Section> sections;
  Accepted accepted;

  const Option* option(std::string_view wanted) const;
  const Part* part(std::string_view wanted) const;
  const Limit* limit(std::string_view wanted) const;
  const OfferedFinding* finding(std::string_view wanted) const;
  const OfferedWork* work(std::string_view wanted) const;
  const Step* step(std::string_view wanted) const;
  const Section* section_of(std::string_view step_id) const;
  std::vector<const Step*> steps() const; // in the file's order

  // Fills the places below, so that the look-ups above cost a search in a sorted map. Of two with one id the first
  // counts.
  void index();
  std::map<std::string, std::pair<std::size_t, std::size_t>, std::less<>> step_places; // section, step
  std::map<std::string, std::size_t, std::less<>> limit_places;
  std::map<std::string, std::size_t, std::less<>> option_places;
  std::map<std::string, std::size_t, std::less<>> part_places;
  std::map<std::string, std::size_t, std::less<>> finding_places;
};

std::string_view name_of(Basis basis);     // "invented example", ...
std::string_view name_of(SignalWord word); // "DANGER", ...
std::string_view name_of(EntryKind kind);
std::string_view name_of(TakenApart taken_apart);
std::string_view name_of(StageKind kind);
std::string_view name_of(By by);
std::string_view name_of(Beyond beyond);
std::string_view name_of(Lubrication lubrication);
std::string_view name_of(Column column); // "parts", "standard", "service"

// How many numbers a reading or readings entry of this step holds: positions x rows x columns. Cells are numbered
// position by position, row by row.
struct CellShape {
  std::size_t positions = 1;
  std::size_t rows = 1;
  std::size_t columns = 1;
  std::size_t count() const { return positions * rows * columns; }
  std::size_t per_position() const { return rows * columns; }
};
CellShape cells_of(const Step& step, const Entry& entry);
std::string name_of_cell(const Step& step, const Entry& entry, std::size_t cell); // "3, front, in line"

} // namespace procedure
