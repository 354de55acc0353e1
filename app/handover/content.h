// Everything the pages of a handover say, as plain words and numbers: taken from the build as it stands, the shop it
// was built in and the build's events. No clock, no disk; the same build gives the same content.
#pragma once

#include "build/shop.h"
#include "build/state.h"
#include "drawing/figure.h"

#include <optional>
#include <string>
#include <vector>

namespace handover {

using build::Build;
using build::Event;
using build::Shop;

// A value between its limits, all in one unit, for drawing only.
struct Mark {
  double value = 0;
  double u = 0; // expanded uncertainty, 0 when none is known
};

// What one limit judges of one entry: "Oil clearance (min)" at every position.
struct Scale {
  std::string title;
  std::optional<double> low, high; // one of them at least, and not the same
  std::string low_text, high_text; // without unit
  std::string unit;
  std::vector<Mark> marks;
  std::string tightest; // the value with the least room to a limit: "0.0235 at 2"
  std::string trouble;  // the worst standing there when it is not plainly within
  std::string doubt;    // of the limit's numbers: "numbers not checked by a second person"; ""
};

struct Shown {
  std::string name; // where: "3, front, in line"; "" when there is only one
  std::string text; // "47.969", rounded for reading where it was calculated; "left out"
  std::string note; // what is not plainly within: "within, worn: used again"; ""
};

// Values judged by one limit and read alike: one heading, then the numbers.
struct Group {
  std::string name;     // result of a calculated entry, or ""
  std::string unit;     // "" for plain numbers
  std::string limits;   // "0.020 to 0.062 mm, invented example", or "recorded, not judged"
  std::string verdict;  // the worst there
  std::string measured; // "U 0.003 mm; micrometer mic-50, calibrated 2025-09-15", or how it was calculated
  std::vector<Shown> values;
};

struct StageDone {
  std::string title; // "1: torque, 20 to 24 N.m"
  std::vector<Shown> fasteners;
  std::string unit; // "" where nothing is measured
  std::string gauges;
};

// A figure beside what an entry says.
struct OnPage {
  std::string title;      // of its position; "" where there is one
  drawing::Figure figure; // a unit a mm
};

struct EntryDone {
  std::string title;
  std::vector<Group> groups;      // readings, calculated
  std::vector<std::string> lines; // confirmed, chosen, identified, waited
  std::vector<StageDone> stages;  // tightening
  build::EntryAt at;
  bool figure = false; // a tightening pattern worth drawing
  std::vector<OnPage> figures;
};

struct Signed {
  std::string name;
  std::string meaning;
  std::string when; // local
};

struct StepDone {
  std::string title;
  std::string standing; // "signed", ...
  bool hold = false;
  std::vector<Signed> signatures;
  std::vector<EntryDone> entries;
};

struct SectionDone {
  std::string title;
  bool deferred = false;
  std::vector<StepDone> steps;
  std::vector<Scale> scales;
};

// Something that went otherwise than hoped, and what was done.
struct Happening {
  std::string when;
  std::string who;
  std::string where; // step, entry
  std::string what;
};

struct PartFitted {
  std::string part, position, state, details;
};

struct GaugeUsed {
  std::string id, kind, calibration, uncertainty;
};

// A fault found on a part, and what became of it.
struct FindingTold {
  std::string what;               // "Crankshaft: Groove worn where the lip seal ran (f1)"
  std::vector<std::string> lines; // found, place, reading, done, proof, cause
  bool open = false;
};

// What one order had done by a machine shop.
struct MachineWork {
  std::string what;               // "Brook Lane Machining (m1), sent by ..."
  std::vector<std::string> lines; // part and positions, work, sizes, finish, how it came back
};

// Kept by the shop; its bytes have this hash.
struct PhotographKept {
  std::string where, taken, sha256; // "Joint faces: Front cover", "2026-05-01 09:10, Ivo Tarrant; 4000 x 3000 pixels"
};

struct Notice {
  std::string word, text; // "WARNING", hazard, consequence and how to avoid it
};

struct Fact {
  std::string name, value;
};

// Something to write on the sheet that is filled in at the engine.
struct Blanks {
  std::string label;              // "Stage 1: torque, 22 N.m"; ""
  std::vector<std::string> names; // of the boxes, in order; "" when there is only one
  std::string unit;
  bool tick = false; // to be ticked, not written in
};

struct ToDo {
  std::string title;
  std::string limits; // "850 to 950 rpm", "at least 30 min"; ""
  std::vector<Blanks> blanks;
};

struct StepToDo {
  std::string title;
  bool hold = false;
  std::vector<ToDo> entries;
};

// A joint whose bolts are to be tried again.
struct Retorque {
  std::string title;
  std::string first; // how it was tightened, and when that was signed
  std::vector<Blanks> stages;
  build::EntryAt at;
  bool figure = false; // its fasteners have places
};

// "First start, run-in and retorque": what a release left open, to be filled in by hand. Empty when it left nothing.
struct Sheet {
  std::vector<Notice> notices; // hazard and how to avoid it, of the steps below
  std::vector<StepToDo> steps;
  std::vector<Retorque> retorques;
};

struct Content {
  bool draft = true; // the build is open
  bool practice = false;
  std::string build, shop, address, engine, customer;
  std::string headline; // the outcome in words
  bool not_yet_run = false;
  std::vector<std::string> deferred; // titles of sections left open
  std::string reason;                // for that
  std::vector<Fact> facts;           // of the cover
  std::string procedure_notice;      // said on the cover: invented values
  std::vector<std::string> concessions, repairs, worn, close;
  std::vector<std::string> bases; // of the limits, with how many limits rest on each
  std::size_t unchecked = 0;      // limits that judge something on this engine by numbers that nobody checked
  std::string shop_key, head;
  std::int64_t head_seq = 0;
  std::string written_at; // ISO 8601, of the release, else of the newest event
  std::vector<SectionDone> sections;
  std::vector<Happening> happenings;
  std::vector<PartFitted> parts;
  std::vector<GaugeUsed> gauges;
  std::vector<FindingTold> findings;
  std::vector<MachineWork> machine_work;
  std::vector<PhotographKept> photographs;
  std::vector<Notice> notices;
  Sheet sheet;
  std::vector<std::string> notes; // said after release: addenda
};

// What stands on every page: "DRAFT", "PRACTICE, NOT A RECORD", both, or "".
std::string banner(const Content& content);

// `events` of the build, all, in order.
Content content_of(const Build& build, const Shop& shop, const std::vector<Event>& events);

} // namespace handover
