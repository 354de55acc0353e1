// Warnings of what a procedure says about the work: a caution that the work usually asks for, steps strung on one line,
// a cam gear that does not turn at half speed. remark.cpp explains each code.
#include "procedure/check.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>

namespace procedure {

using json::shown;

namespace {

void add_small(std::string& to, std::string_view text, std::string_view end) {
  for (const char c : text) to += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  to += end;
}

// --- W29: a caution missing -----------------------------------------------------------------------------------------

// Work that has its usual caution: what the step says when it is done, and what a caution says when it is warned of.
// Common practice, no source.
struct Hazard {
  std::string_view work;
  std::vector<std::string_view> says, warns;
};

const std::vector<Hazard>& hazards() {
  static const std::vector<Hazard> all = {
      {"valve springs are compressed",
       {"valve spring compressor", "compress the spring", "compress the valve spring", "spring compressed",
        "springs compressed", "collets in", "fit the collets"},
       {"spring", "collet"}},
      {"something heavy is lifted",
       {"hoist", "lift the", "lifted", "lifting", "lowered", "crane"},
       {"heavy", "hang", "swing", "lift", "load", "fall", "drop"}},
      {"something is heated",
       {"heat the", "heated to", "heated gear", "in the oven", "hot plate", "from the oven", "warmed to"},
       {"hot", "burn", "heat"}},
      {"something is pressed or driven in with force",
       {"in the press", "hydraulic press", "pressed out", "press the", "pressed in with", "press out"},
       {"press", "flies", "fly", "splinter", "eyes", "jump"}},
      {"fuel is under pressure",
       {"opening pressure", "injector tester", "bleed the", "bled on", "pressure pipe", "crack the union"},
       {"spray", "fuel", "diesel", "pressure"}},
      {"petrol is about",
       {"petrol tank", "drain the petrol", "fill the tank with petrol", "carburettor bowl"},
       {"petrol", "vapour", "flame", "fire"}},
      {"the crank is turned",
       {"turn the crank", "turn the engine", "crank turned", "crank is turned", "engine turned", "engine is turned",
        "bar the engine"},
       {"turn", "finger", "draw"}},
      {"the engine is started",
       {"start the engine", "starts and runs", "engine started", "let it run", "run the engine"},
       {"run away", "runs away", "exhaust", "fan", "belt", "start", "hot"}},
  };
  return all;
}

bool begins_a_word(std::string_view text, std::size_t at) {
  return at == 0 || !std::isalpha(static_cast<unsigned char>(text[at - 1]));
}

// "Do not turn the crank" is no work.
bool any_of(const std::vector<std::string_view>& words, const std::string& text) {
  constexpr std::string_view denied = "not ";
  return std::ranges::any_of(words, [&](std::string_view word) {
    for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1))
      if (begins_a_word(text, at) && !std::string_view(text).substr(0, at).ends_with(denied)) return true;
    return false;
  });
}

void check_cautions(Notes& notes, const Step& step, const std::string& pointer) {
  std::string says;
  add_small(says, step.title, ". ");
  add_small(says, step.text, ". ");
  for (const Entry& entry : step.entries) {
    add_small(says, entry.title, ". ");
    add_small(says, entry.text, ". ");
  }
  std::string warns;
  for (const Caution& caution : step.cautions)
    for (const std::string* text : {&caution.hazard, &caution.consequence, &caution.avoid})
      add_small(warns, *text, " ");
  for (const Hazard& hazard : hazards())
    if (any_of(hazard.says, says) && !any_of(hazard.warns, warns))
      notes.warning("W29", pointer,
                    fmt::format("step {}: {}, and no caution warns of it", shown(step.id), hazard.work));
}

// --- W30: one line through a section --------------------------------------------------------------------------------

constexpr std::size_t fewest_of_a_line = 5; // steps; shorter work often has one order only

void check_line(Notes& notes, const Section& section, const std::string& pointer) {
  if (section.steps.size() < fewest_of_a_line || !section.steps.front().after.empty()) return;
  for (std::size_t s = 1; s < section.steps.size(); ++s)
    if (section.steps[s].after != std::vector<std::string>{section.steps[s - 1].id}) return;
  notes.warning(
      "W30", pointer + "/steps",
      fmt::format("section {}: each of its {} steps waits for the one before it, so nothing can be done while "
                  "one waits",
                  shown(section.id), section.steps.size()));
}

// --- W28: the cam gear ----------------------------------------------------------------------------------------------

void check_cam_gear(const Procedure& procedure, Notes& notes) {
  for (std::size_t i = 1; i < procedure.gear_train.size(); ++i) {
    const TrainGear& gear = procedure.gear_train[i];
    const TrainGear& crank = procedure.gear_train.front();
    std::string called;
    add_small(called, gear.id, " ");
    add_small(called, gear.title, "");
    if (called.find("cam") == std::string::npos || gear.teeth == 2 * crank.teeth) continue;
    notes.warning("W28", fmt::format("/gear-train/{}", i),
                  fmt::format("gear {}: {} teeth to the {} of {}; a four-stroke camshaft turns at half speed, with {}",
                              shown(gear.id), gear.teeth, crank.teeth, shown(crank.id), 2 * crank.teeth));
  }
}

} // namespace

void check_habits(const Index& index, Notes& notes) {
  const Procedure& procedure = index.procedure();
  check_cam_gear(procedure, notes);
  for (std::size_t s = 0; s < procedure.sections.size(); ++s)
    check_line(notes, procedure.sections[s], fmt::format("/sections/{}", s));
  index.each_step(
      [&](const Section&, const Step& step, const std::string& pointer) { check_cautions(notes, step, pointer); });
}

} // namespace procedure
