// What the screens share: the desk, which screen is up, and what is being typed. A screen turns state into actions and
// never decides; what the gate answers is shown as it said it.
#pragma once

#include "bench/desk.h"
#include "bench/keys.h"
#include "bench/look.h"
#include "bench/overview.h"
#include "bench/procedures_state.h"
#include "bench/shop_state.h"
#include "bench/widgets.h"
#include "bench/work_out.h"
#include "build/compare.h"
#include "build/second_look.h"
#include "handover/scaled.h"

#include <map>
#include <set>

namespace bench {

// What the sheet asks in the place of the field, when a key has more than one meaning.
enum class Asking {
  nothing,
  what_changed,
  disposition,
  disposition_text,
  loosen,
  second_person,
  new_gauge,
  part_state,
  option,
  reopen,
  release,
  handover,
  joint, // of a tightening: which of the following
  bolts,
  bolts_which,
  bolt_length,
  adapter,
  another_fastener,
  not_sure,
  found_part, // of a fault that was found
  found_position,
  found_what,
  found_words,
  clear_way, // on the screen of the findings
  clear_words,
  clear_cause,
  setting, // of the gauge, and how warm it and the part are
  zero,
  finding_photograph,
  photograph, // of an entry
  part_named, // on the screen of the parts
  part_facts,
  send_work,
  send_positions,
  send_findings,
  send_words,
  send_to,
  back_as,
  back_what,
  back_words,
  size_reason // on the screen of the sizes
};

// A fault, while it is being noted.
struct Found {
  std::string part, position;
  std::string offered; // the procedure's own, or ""
  std::string text, place, value;
  std::size_t row = 0; // of what is chosen from
};

// How the numbers of an entry are read, as typed: what its gauge is set at and on, how warm part and gauge are.
struct HowRead {
  std::string set_at, set_with, part_at, gauge_at;
};

// The timing gears as they are turned on the screen.
struct HandTurned {
  std::int64_t teeth = 0; // of the crank's gear
  std::size_t out = 0;    // the gear shown a tooth out; 0 none
};

struct SheetState {
  std::string build;     // the build this belongs to
  bool as_found = false; // what is typed is of the engine as it comes apart
  std::size_t step = 0;  // unfolded
  std::size_t entry = 0; // where the work is
  std::size_t cell = 0;
  std::string typed;
  bool focus = true; // give the field the keys in the next frame
  bool scroll = true;
  bool scroll_again = false; // in the next frame: a field that takes the keys moves the sheet as well
  Asking asking = Asking::nothing;
  std::string disposition;
  std::string reason;  // of a reopening, a loosening, a release with a section left open
  std::string preview; // what a reopening would take along
  std::string person;  // of a second signature, a concession, a release, a handover
  std::string file;    // of a handover
  std::string passphrase;
  std::string customer, customer_how;            // who agreed to a concession, and how they said so
  std::string gauge_id, gauge_division, gauge_u; // of a gauge that is added here
  std::size_t gauge_kind = 0;
  std::string fasteners, mark, run_on; // of a tightening: names, the bolts' own mark, torque to turn the nut
  std::string arm, reach, turn;        // of its adapter
  Found found;
  int asked_line = 0;                           // which of several fields has the keys
  std::map<build::EntryAt, std::string> gauges; // chosen for an entry
  std::map<build::EntryAt, HowRead> how;
  HowRead asked_how;                   // while it is being asked
  std::set<std::string> typing_gauges; // have typed their readings here
  bool by_gauge = false;               // the reading on its way to the record is of a gauge that types
  std::string not_taken;               // what the gauge typed over a reading
  bool held = false;                   // what is typed is not taken until a key goes on
  std::string said;                    // the newest message that was brought into sight
  std::string held_after;              // the set that was full
  HandTurned hand_turned;
};

// One computation, as it was left.
struct WorkForm {
  TypedFields own;
  TypedFields example; // the worked example, which may be changed too
  bool shows_example = false;
  int edition = 0;       // goes up when texts are exchanged: a field that has the keys knows only its own
  std::size_t field = 0; // where the keys go, in the order of the screen
  std::size_t line = 0;  // of that field
};

struct WorkState {
  std::string open;            // computation; "": the list
  std::string narrowed;        // what was typed over the list
  std::size_t row = 0;         // of the list
  std::string back = "builds"; // the screen it was called from
  std::size_t back_row = 0;
  std::map<std::string, WorkForm> forms; // by the computation's name
  bool whole = false;                    // every digit there is
  bool focus = true;
  bool scroll = true;
  bool stale = true; // `worked` is of something else
  Worked worked;
};

// Photographs of an entry or a finding that are looked at, and the one of them that is on the screen.
struct Looking {
  std::string back; // the screen they were called from
  std::optional<build::EntryAt> at;
  std::string finding;
  std::size_t row = 0;
  std::string sha256;
  void* texture = nullptr;
  float width = 0, height = 0; // pixels
  std::string trouble;         // why it cannot be shown
};

struct PartsState {
  std::string narrowed;       // what was typed over the list
  std::string part, position; // chosen
  std::string state;          // new, reused, remade
  std::string size, lot, from, expires, text;
  std::string work, finish;      // of what is to be done by the machine shop; work "": in one's own words
  std::vector<Ticked> positions; // that go along
  std::vector<Ticked> findings;
  std::vector<json::Value> lines; // collected for an order, not sent yet
  std::string to;                 // the machine shop
  bool whole_order = false;       // all of it is back
  bool focus = true;
  bool scroll = true;
};

struct SizesState {
  std::string option; // chosen
  std::string choice; // that needs a reason
  bool scroll = true;
  std::string build; // of which `compared` is
  std::int64_t seq = 0;
  std::map<std::string, std::vector<build::Compared>> compared; // by option
};

struct Ui {
  explicit Ui(Desk& its_desk) : desk(its_desk) {}
  Desk& desk;
  std::string screen = "builds";
  std::string message; // what the gate answered last, in its words
  bool refused = false;
  bool again = false; // another frame at once
  bool sent = false;  // an action, in this frame: the key that sent it does nothing else
  SheetState sheet;
  Overview overview; // of the build on the sheet
  WorkState work;
  Looking looking;
  std::vector<std::string> dropped;                     // files that are still to be attached
  json::Value attaching;                                // how
  std::function<void*(const handover::Pixels&)> upload; // into the one texture there is for photographs
  PartsState parts;
  SizesState sizes;
  Mirror look;
  BuildsState builds;
  FirstRun first;
  PeopleState people;
  GaugesState gauges;
  SettingsState settings;
  LimitsState limits;
  OnBench on_bench;
  ProceduresState procedures;
  std::string finding;            // chosen on their screen, by its id
  bool returned = false;          // from working something out, to what one was typing
  std::size_t row = 0;            // chosen line of a list
  std::string person, passphrase; // signing in
  int sign_in_line = 0;
  bool sign_in_focus = true;

  void send(json::Value action) {
    desk.post(std::move(action));
    again = true;
    sent = true;
  }
};

json::Value action(std::string_view name);                     // {"do": name}
json::Value build_action(const Ui& ui, std::string_view name); // with "build" and "step"
json::Value entry_action(const Ui& ui, std::string_view name); // and "entry"

// Screens.
void builds_screen(Ui& ui);
void sheet_screen(Ui& ui);
void log_screen(Ui& ui);
void findings_screen(Ui& ui);
void parts_screen(Ui& ui);      // their state, the machine shop
void sizes_screen(Ui& ui);      // the options' choices side by side
void strip_down_screen(Ui& ui); // what is measured as the engine comes apart
void shop_screen(Ui& ui);
void people_screen(Ui& ui);
void gauges_screen(Ui& ui); // gauges and wrenches
void limits_screen(Ui& ui); // every limit as it stands for this engine
void limits_entered(Ui& ui, bool from_sheet);
void procedures_screen(Ui& ui); // those there are, and the numbers of one to fill in
void procedures_entered(Ui& ui);
void keys_screen(Ui& ui);
void look_screen(Ui& ui);        // theme, size of the text, units
void sign_in(Ui& ui);            // in place of what needs a person
void message_line(const Ui& ui); // what the newest answer said, where there is something to say
void work_screen(Ui& ui);        // the computations, or the one that is open

void open_work(Ui& ui, const calc::Computation& computation);
void work_form(Ui& ui, const calc::Computation& computation);

// The sheet's parts.
void answered(Ui& ui, const Answered& answer); // moves on, or keeps what was typed
void move_to_next(Ui& ui);                     // the first thing of the step that is still missing
void go_to_step(Ui& ui, std::size_t step);
void open_step(Ui& ui, const build::Build& build);
void caution_box(const procedure::Caution& caution);
void entry_input(Ui& ui, const build::Build& build, build::EntryAt at);
void as_found_input(Ui& ui, const build::Build& build, build::EntryAt at); // of one that is asked for as found
void move_as_found(Ui& ui); // to the first point as found that is still missing, from the one at work on
void step_keys(Ui& ui, const build::Build& build);
bool notices_unread(const Ui& ui, const build::Build& build);  // of the unfolded step, by whoever is signed in
void ask(Ui& ui, Asking what);                                 // puts a question in the place of the keys
void questions(Ui& ui, const build::Build& build);             // draws the one that is asked
bool asks_for_keys(Asking asking);                             // in the place of the step's keys
std::string_view screen_of(Asking asking);                     // on which it is asked; those of an entry: "sheet"
void finding_questions(Ui& ui, const build::Build& build);     // those of a fault that was found
std::vector<std::string> left_open(const build::Build& build); // deferrable sections with open steps
// Whoever signed the unfolded step alone is looking at it a second time, its first readings hidden.
bool looks_again(const Ui& ui, const build::Build& build);
// The points of a reading as they are at work: of the second look while that is on.
std::vector<build::Cell> cells_at_work(const Ui& ui, const build::Build& build, build::EntryAt at);
std::vector<const build::Gauge*> suitable_gauges(const Ui& ui, const build::Build& build, build::EntryAt at);
std::string chosen_gauge(const Ui& ui, const build::Build& build, build::EntryAt at);

} // namespace bench
