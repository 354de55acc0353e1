#include "bench/ui.h"

namespace bench {

// What every key does.
void keys_screen(Ui&) {
  const SheetScope sheet("##keys");
  scroll_by_keys();
  say(fonts().huge, theme().ink, "Which key");
  struct Line {
    const char* key;
    const char* what;
  };
  const Line lines[] = {
      {"Enter", "records what is typed"},
      {"F5", "says what was done: notices read, confirmed, still true, clock started; that an engine is the one on the "
             "bench; sends a form from any of its fields"},
      {"A", "all fasteners of this stage are tightened, in this order"},
      {"Tab", "goes on behind a set that a gauge has typed; takes up a number of it that was not taken"},
      {"Tab", "more about a joint: bolts, adapter on the wrench, another fastener than the next, loosen"},
      {"N", "the last fastener before an interruption is not sure: loosen"},
      {"F7", "puts your name to the step"},
      {"1, 2, 3 ...", "chooses from what is listed"},
      {"Up, Down", "to the entry before, after"},
      {"Left, Right", "to the point before, after, while nothing is typed; turns the timing gears where they are "
                      "drawn, with Shift shows one "
                      "a tooth out"},
      {"Page Up, Page Down", "to the step before, after; on the other screens up and down"},
      {"Shift Page Up, Down", "to the step that must be signed before this one; to the next that can be worked at"},
      {"F6", "another gauge or wrench for this entry"},
      {"Shift F6", "what the gauge is set at, and on what; how warm part and gauge are"},
      {"Shift F7", "the gauge is back on its setting: what it shows there"},
      {"F8",
       "what is to be done about a reading: rework, replace, concession, use again; on a signed step: open it again"},
      {"Shift F8",
       "something was found on a part: which part, where, what; it is noted and holds up what fits that part"},
      {"Shift F1",
       "the strip-down: what is asked for as found, in the order in which the engine comes apart; Enter records"},
      {"Shift F2",
       "the findings, those that hold up the work first: Up and Down choose, F8 says what was done about one, "
       "C what caused it"},
      {"Shift F3", "the parts: letters narrow them down, Enter names one, F6 collects work for the machine shop, F7 "
                   "sends the order, "
                   "F8 enters it as back, Home prints the order"},
      {"Shift F4", "the sizes this engine may have, side by side: Up and Down choose one, a number picks"},
      {"Shift F9",
       "the limits as they stand for this engine: letters narrow them down, Enter goes to where one is used, Insert "
       "fills in one without numbers"},
      {"Shift F11",
       "the procedures there are: Enter shows the numbers of one, Insert begins a new one from it; there Enter "
       "types numbers from the manual, Insert checks what another person typed, End says that the maker "
       "gives none"},
      {"F1", "the engines of this shop, the newest work first: letters narrow them down, Enter opens one, Insert a new "
             "one"},
      {"F4", "the shop: F5 its people, F6 its gauges and wrenches, F8 its name and settings, Escape back"},
      {"Shift F5",
       "lays a photograph beside the entry at work or the chosen finding; so does a file dropped on the window"},
      {"Shift F10", "looks at the photographs there are: Left and Right from one to the next, Escape back"},
      {"Delete", "takes the newest reading back, while nothing is typed"},
      {"End", "says whether a part, or the bolts of a joint, are new or reused"},
      {"Insert", "picks what this engine has"},
      {"Home", "releases the engine, once every step is signed; then hands it over: the signed PDF"},
      {"Shift F12", "how the window looks to you: light, dark or high contrast, size of the text, mm or inches"},
      {"F10", "adds a gauge, on the sheet and on the screen of the gauges"},
      {"F11", "lock: nobody is signed in any more"},
      {"Escape", "leaves a question without an answer; stops what takes long, where that leaves nothing behind; leads "
                 "back from what you work out"},
      {"F9", "works something out, from anywhere: no engine and no name is needed. Letters narrow the list down, Enter "
             "opens; then Enter and Down go on, F5 shows a worked example, F6 empties, F8 shows every digit"}};
  for (const auto& line : lines) {
    say(fonts().strong, theme().ink, line.key);
    say_beside(fonts().text, theme().ink, line.what);
  }
  rule();
  say("The engine maker's manual, local codes and licensed practice come first. A screen reader cannot read this "
      "window: everything in it can be done from the command line, witnessmark drive and witnessmark calc.");
}

} // namespace bench
