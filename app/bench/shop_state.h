// What is being looked at and typed on the screens of the shop: builds, people, gauges, a first start; and on the
// table of limits.
#pragma once

#include "bench/lines.h"
#include "build/plan.h"
#include "calc/calendar.h"

#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace bench {

// One that may be ticked or not.
struct Ticked {
  std::string id;
  std::string label;
  bool on = false;
};

// Fields one under the other, while they are filled in (bench/form.h).
struct Form {
  std::size_t at = 0; // the field that has the keys
  bool focus = true;
  bool scroll = true;
  float tall = 0;                  // of all fields, as last drawn
  std::string problem, problem_at; // what was refused, and the field it concerns
};

// A procedure file that an engine may be opened with.
struct ProcedureFile {
  std::filesystem::path path;
  std::string title; // of the procedure, or what is wrong with it
  std::string model; // of the engine it is for
};

struct NewBuild {
  bool open = false; // being filled in
  Form form;
  std::vector<ProcedureFile> files;
  std::size_t file = 0;
  std::string file_narrowed;
  std::string path;        // typed or dropped; counts before `file`
  std::string looked_into; // of the paths typed, the newest whose engine was proposed
  std::string model, serial, build, customer, hours;
  std::string proposed; // the build's id, from the serial; what is typed instead stays
};

struct BuildsState {
  LineList lines;
  std::string narrowed;
  bool focus = true;
  std::vector<std::string> order;               // ids, the newest work first, narrowed
  int edition = -1;                             // of the desk, when `order` was made
  std::map<std::string, std::string> standing;  // by id, of those that were in sight
  std::map<std::string, std::int64_t> anchored; // `seq` in the shop when that was said
  NewBuild fresh;
};

struct FirstRun {
  enum class Stage { choosing, filling, enrolling, signing_in, naming } stage = Stage::choosing;
  Form form;
  std::string name, address, person, person_name, passphrase, again;
  std::vector<Ticked> alone;
  bool plays_demo = false; // into a practice shop, to be looked round in
  std::string trouble;
  std::string practice_person, practice_passphrase; // of the demo that is being looked round
};

enum class PersonForm { none, enrol, passphrase, new_key, retire };
struct PeopleState {
  LineList lines;
  PersonForm asking = PersonForm::none;
  Form form;
  std::string person, name, reason, passphrase, again, before, own_passphrase;
  std::vector<Ticked> roles;
};

enum class GaugeForm { none, add, calibrated, check, out };
struct GaugesState {
  LineList lines;
  std::string narrowed;
  bool focus = true;
  GaugeForm asking = GaugeForm::none;
  Form form;
  std::size_t kind = 0, unit = 0, tool = 0;
  std::string kind_typed, unit_typed, tool_typed;
  std::string gauge, resolution, u, repeat, low, high, calibrated, due, class_error, use_limit; // of a new one, or new
  std::string standard, size, reading, since;
  std::map<std::string, std::string> measures; // by gauge: of the open build, what it may measure
  std::string measures_of;                     // that build, and the editions this was worked out for
};

struct SettingsState {
  bool open = false;
  Form form;
  std::string name, address, own_passphrase;
  std::vector<Ticked> ticks;
};

// One limit as it stands for this engine (bench/limits_table.h).
struct LimitLine {
  std::string id, title;
  std::string unit;      // of its numbers
  bool is_empty = false; // it may be filled in for this engine
  std::string values;    // "0.020 to 0.062 mm"
  std::string column;    // which of its columns is in force, and why
  std::string other;     // the numbers of the other column, or ""
  std::string rule;      // rule, basis, source
  std::string stands;    // how what was read so far stands against it
  bool outside = false;
  std::vector<build::EntryAt> uses;
  std::vector<std::string> where; // of `uses`, in words
};

// Numbers for one of them, while they are typed (bench/limit_form.h).
struct NewLimit {
  std::string limit; // "" none is asked for
  std::string title, unit;
  Form form;
  std::string low, high, service_low, service_high, target, source;
  std::string basis_typed;
  std::size_t basis = 0;
};

struct LimitsState {
  LineList lines;
  std::string narrowed;
  bool focus = true;
  std::vector<LimitLine> all;
  std::vector<std::size_t> shown;
  std::string of;    // the build and the event up to which `all` is worked out
  std::string about; // the limit that the entry at work on the sheet lacks: chosen at first
  NewLimit fresh;
  std::size_t use = 0;
};

// Which engine is on the bench: what is typed is taken for that one alone.
struct OnBench {
  std::string build; // its id; "" none yet
  std::string typed; // at an engine that is not on the bench, since the last Enter
  std::string told;  // what was typed there and not recorded, in a sentence
};

} // namespace bench
