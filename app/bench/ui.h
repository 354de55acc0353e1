// What the screens share: the desk, which screen is up, and what is being typed. A screen turns state into actions and
// never decides; what the gate answers is shown as it said it.
#pragma once

#include "bench/desk.h"
#include "bench/keys.h"
#include "bench/widgets.h"
#include "build/blockers.h"

#include <map>

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
  release
};

struct SheetState {
  std::string build;     // the build this belongs to
  std::size_t step = 0;  // unfolded
  std::size_t entry = 0; // where the work is
  std::size_t cell = 0;
  std::string typed;
  bool focus = true; // give the field the keys in the next frame
  bool scroll = true;
  Asking asking = Asking::nothing;
  std::string disposition;
  std::string reason;  // of a reopening, a loosening, a release with a section left open
  std::string preview; // what a reopening would take along
  std::string person;  // of a second signature, a concession, a release
  std::string passphrase;
  std::string gauge_id, gauge_division, gauge_u; // of a gauge that is added here
  std::size_t gauge_kind = 0;
  int asked_line = 0;                           // which of several fields has the keys
  std::map<build::EntryAt, std::string> gauges; // chosen for an entry
};

struct Ui {
  explicit Ui(Desk& its_desk) : desk(its_desk) {}
  Desk& desk;
  std::string screen = "builds";
  std::string message; // what the gate answered last, in its words
  bool refused = false;
  bool again = false; // another frame at once
  SheetState sheet;
  std::size_t row = 0;            // chosen line of a list
  std::string person, passphrase; // signing in
  int sign_in_line = 0;
  bool sign_in_focus = true;

  void send(json::Value action) {
    desk.post(std::move(action));
    again = true;
  }
};

json::Value action(std::string_view name);                     // {"do": name}
json::Value build_action(const Ui& ui, std::string_view name); // with "build" and "step"
json::Value entry_action(const Ui& ui, std::string_view name); // and "entry"

// Screens.
void builds_screen(Ui& ui);
void sheet_screen(Ui& ui);
void log_screen(Ui& ui);
void shop_screen(Ui& ui);
void keys_screen(Ui& ui);
void sign_in(Ui& ui); // in place of what needs a person

// The sheet's parts.
void answered(Ui& ui, const Answered& answer); // moves on, or keeps what was typed
void move_to_next(Ui& ui);                     // the first thing of the step that is still missing
void open_step(Ui& ui, const build::Build& build);
void entry_input(Ui& ui, const build::Build& build, build::EntryAt at);
void step_keys(Ui& ui, const build::Build& build);
void ask(Ui& ui, Asking what);                                 // puts a question in the place of the keys
void questions(Ui& ui, const build::Build& build);             // draws the one that is asked
std::vector<std::string> left_open(const build::Build& build); // deferrable sections with open steps
std::string limit_text(const build::Build& build, build::EntryAt at, std::size_t position);
std::vector<const build::Gauge*> suitable_gauges(const Ui& ui, const build::Build& build, build::EntryAt at);
std::string chosen_gauge(const Ui& ui, const build::Build& build, build::EntryAt at);

} // namespace bench
