#include "bench/missing_keys.h"

#include "bench/typing_gauge.h"

#include "build/findings.h"
#include "build/orders.h"
#include "build/tightening.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace bench {

using procedure::EntryKind;

namespace {

constexpr std::array keys = {
    MissingKeys{"caution-unread", "F5 says that you have read them"},
    MissingKeys{"cause-missing", "Shift F2 goes to it, then C says what caused it"},
    MissingKeys{"entry-missing", "Enter records it"}, // by its kind, see below
    MissingKeys{"finding-open", "Shift F2 goes to it, then F8 says what was done about it"},
    MissingKeys{"gauge-unfit", "F8 says what is done about it"},
    MissingKeys{"limit-missing", "Shift F9 goes to it, then Insert fills it in"},
    MissingKeys{"one-use", "Shift F3 goes to the parts, then Enter names it"},
    MissingKeys{"option-unset", "Insert picks what this engine has"},
    MissingKeys{"out-of-date", "Shift F3 goes to the parts, then Enter names it"},
    MissingKeys{"out-of-order", "Shift Page Up goes there"},
    MissingKeys{"part-away", "Shift F3 goes to the parts, then F8 enters it as back"},
    MissingKeys{"part-missing", "Shift F3 goes to the parts, then Enter names it"},
    MissingKeys{"reading-outside", "F8 says what is done about it"},
    MissingKeys{"reading-undecided", "Type it once more and Enter, F6 takes another gauge, F8 lets it stand"},
    MissingKeys{"second-look-differs", "Type it once more and Enter, or F8 opens the step again"},
    MissingKeys{"second-person-needed", "F7 asks for the second name"},
    MissingKeys{"step-unsigned", "F7 puts your name to it"},
    MissingKeys{"too-late", "F8 says what is done about it, and the clock is started anew"},
    MissingKeys{"waiting", "Shift Page Down goes to other work meanwhile"},
    MissingKeys{"zero-missing", "Shift F7 says what it shows"},
};

std::string_view of_code(std::string_view code) {
  const auto at = std::ranges::find(keys, code, &MissingKeys::code);
  return at == keys.end() ? std::string_view() : at->words;
}

bool still_true(const build::EntryState& state) {
  const auto asked = [](const auto& it) { return it.asked; };
  return state.asked || std::ranges::any_of(state.cells, asked) || std::ranges::any_of(state.calculated, asked);
}

std::string of_readings(const Ui& ui, const build::Build& build, build::EntryAt at) {
  const auto& entry = build.plan->entry(at);
  if (!entry.by_eye && chosen_gauge(ui, build, at).empty()) return "F10 adds a gauge";
  return still_true(build.entry(at)) ? "F5 says it is still true, Enter records it anew" : "Enter records it";
}

// What the entry at work lacks.
std::string of_entry(const Ui& ui, const build::Build& build, build::EntryAt at) {
  const auto& entry = build.plan->entry(at);
  const bool asked = still_true(build.entry(at));
  switch (entry.kind) {
  case EntryKind::reading:
  case EntryKind::readings: return of_readings(ui, build, at);
  case EntryKind::calculated:
    return asked ? "F5 says it is still true" : "Enter records its readings, each in its place";
  case EntryKind::tightening: return "Enter says that the next one is done";
  case EntryKind::wait: return asked ? "F5 says it is still true" : "F5 starts the clock";
  case EntryKind::choice: return asked ? "F5 says it is still true" : "1, 2, 3 ... chooses";
  case EntryKind::identity: return asked ? "F5 says it is still true" : "Enter writes it down";
  case EntryKind::photograph: return asked ? "F5 says it is still true" : "Shift F5 lays one beside it";
  case EntryKind::confirm: return asked ? "F5 says it is still true" : "F5 says it is done";
  }
  return "";
}

std::string keys_of(const Ui& ui, const build::Build& build, const build::Blocker& blocker) {
  const std::size_t step = ui.sheet.step;
  if (blocker.code == "waiting") return std::string(of_code(blocker.code)); // wherever one is
  const auto entry = blocker.entry.empty() ? std::nullopt : build.plan->find_entry(step, blocker.entry);
  if (!entry) return std::string(of_code(blocker.code));
  if (*entry != ui.sheet.entry) return *entry > ui.sheet.entry ? "Down goes there" : "Up goes there";
  const build::EntryAt at{step, *entry};
  if (ui.sheet.held && blocker.code == "entry-missing" && !by_function_key(build.plan->entry(at))) return "Tab goes on";
  const bool joint = build.plan->entry(at).kind == EntryKind::tightening;
  if (joint && blocker.code == "reading-outside")
    return "Enter goes on where it is not enough, F8 says what is done where it is too much";
  return blocker.code == "entry-missing" ? of_entry(ui, build, at) : std::string(of_code(blocker.code));
}

} // namespace

std::span<const MissingKeys> missing_keys() {
  return keys;
}

std::string with_key(const Ui& ui, const build::Build& build, const build::Blocker& blocker) {
  const std::string words = ui.desk.signed_in() ? keys_of(ui, build, blocker) : "Sign in first: your name and Enter";
  return words.empty() ? blocker.message : fmt::format("{} {}.", blocker.message, words);
}

bool go_to_what_is_in_the_way(Ui& ui, const build::Build& build) {
  if (const auto* before = build::waits_for(build, ui.sheet.step)) {
    go_to_step(ui, *build.plan->find_step(before->id));
    return true;
  }
  return false;
}

} // namespace bench
