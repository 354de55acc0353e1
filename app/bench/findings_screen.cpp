// The findings of the engine that is open, those that hold up the work first; one is chosen, and what was done about it
// is written where it stands.
#include "bench/asking.h"
#include "bench/finding_words.h"
#include "bench/photographs.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using build::Finding;
using json::Value;

namespace {

constexpr int f5 = key::f1 + 4;
constexpr int f10 = key::f1 + 9;
constexpr int f8 = key::f1 + 7;

struct Way {
  const char* word;
  const char* means;
};
constexpr Way ways[] = {{"rework", "made good again, as the drawing has it"},
                        {"repair", "mended, not as new"},
                        {"replace", "another part"},
                        {"concession", "used as it is; an owner lets it go"}};

Value clear_action(const Ui& ui, const Finding& finding) {
  Value line = action("clear");
  line.set("build", Value::text(ui.desk.build()->id));
  line.set("finding", Value::text(finding.id));
  return line;
}

void ask_way(Ui& ui) {
  say(fonts().strong, theme().ink, "What was done about it?");
  std::vector<std::string> labels;
  for (const auto& way : ways) labels.push_back(fmt::format("{}: {}", way.word, way.means));
  const auto chosen = choose(ui, labels);
  if (!chosen) return;
  ui.sheet.disposition = ways[*chosen].word;
  ask(ui, Asking::clear_words);
}

void ask_words(Ui& ui, const Finding& finding) {
  const bool concession = ui.sheet.disposition == "concession";
  if (ui.sheet.scroll) {
    ImGui::SetScrollHereY(concession ? 0.05f : 0.5f);
    ui.sheet.scroll = false;
  }
  say(fonts().strong, theme().ink,
      fmt::format("{}, {}: {}", finding.id, ui.sheet.disposition,
                  concession ? "why it may be used as it is" : "what was done"));
  const bool ready = concession ? fields(ui, {{"In words", &ui.sheet.typed},
                                              {"The customer who agreed, or nothing: not asked", &ui.sheet.customer},
                                              {"How they said so: by telephone, in writing", &ui.sheet.customer_how},
                                              {"Owner", &ui.sheet.person},
                                              {"Passphrase", &ui.sheet.passphrase}})
                                : fields(ui, {{"In words", &ui.sheet.typed}});
  if (!ready || ui.sheet.typed.empty()) return;
  Value line = clear_action(ui, finding);
  line.set("disposition", Value::text(ui.sheet.disposition));
  line.set("text", Value::text(ui.sheet.typed));
  if (concession) {
    add_customer(ui, line);
    return with_person(ui, std::move(line));
  }
  leave(ui);
  ui.send(std::move(line));
}

void ask_cause(Ui& ui, const Finding& finding) {
  if (!fields(ui, {{"What caused it?", &ui.sheet.typed}}) || ui.sheet.typed.empty()) return;
  Value line = clear_action(ui, finding);
  line.set("cause", Value::text(ui.sheet.typed));
  leave(ui);
  ui.send(std::move(line));
}

void message(const Ui& ui) {
  if (!ui.message.empty()) say(fonts().large, ui.refused ? theme().shout : theme().ink, ui.message);
}

void begin(Ui& ui, Asking what) {
  ask(ui, what);
  ui.sheet.found.row = 0;
  ui.sign_in_focus = true;
}

// Under the finding that is chosen: its keys, or what one of them asks.
void keys_or_question(Ui& ui, const build::Build& build, const Finding& finding) {
  if (build.released()) return;
  if (screen_of(ui.sheet.asking) == "findings") {
    if (pressed(key::escape)) return leave(ui);
    if (!ui.desk.signed_in()) {
      sign_in(ui);
    } else if (ui.sheet.asking == Asking::clear_way) {
      ask_way(ui);
    } else if (ui.sheet.asking == Asking::clear_words) {
      ask_words(ui, finding);
    } else if (ui.sheet.asking == Asking::clear_cause) {
      ask_cause(ui, finding);
    } else {
      photograph_question(ui);
    }
    return message(ui);
  }
  const bool open = build::is_open(ui.desk.shop(), build, finding, ui.desk.now());
  std::vector<KeyLabel> row;
  if (open) row.push_back({"clear", "What was done about it", "F8"});
  row.push_back({"cause", finding.cause.empty() ? "What caused it" : "Another cause", "C"});
  row.push_back({"attach", "Photograph", "Shift F5"});
  const auto* clicked = key_row(row, ImGui::GetContentRegionAvail().x - px(24), Fit::wide);
  message(ui);
  if (ui.sent) return;
  if (pressed_with_shift(f5) || (clicked && clicked->id == "attach")) {
    ask_photograph(ui, true);
    ui.sign_in_focus = true;
    return;
  }
  if (open && (pressed(f8) || (clicked && clicked->id == "clear"))) return begin(ui, Asking::clear_way);
  if (pressed(key::letter_c) || (clicked && clicked->id == "cause")) begin(ui, Asking::clear_cause);
}

void line(ImFont* font, bool shouts, const std::string& text) {
  if (!text.empty()) say(font, shouts ? theme().shout : theme().ink, text);
}

void block(Ui& ui, const build::Build& build, const Finding& finding, bool first) {
  const IdScope scope(finding.id);
  const bool here = finding.id == ui.finding;
  rule();
  const ImVec2 top = ImGui::GetCursorScreenPos();
  if (here && ui.sheet.scroll && ui.sheet.asking != Asking::clear_words) {
    if (first)
      ImGui::SetScrollY(0);
    else
      ImGui::SetScrollHereY(0.2f);
    ui.sheet.scroll = false;
  }
  const Told words = told(ui.desk.shop(), build, finding, ui.desk.now());
  const bool open = build::is_open(ui.desk.shop(), build, finding, ui.desk.now());
  say(here ? fonts().large : fonts().strong, open ? theme().ink : theme().soft_ink, build::named(build, finding));
  line(fonts().strong, open && !finding.slight,
       words.holds_up.empty() ? words.standing + "." : fmt::format("{}. {}", words.standing, words.holds_up));
  say(fonts().text, theme().soft_ink, words.found);
  line(fonts().text, false, words.done);
  line(fonts().text, false, words.proof);
  line(lacks_cause(finding) ? fonts().strong : fonts().text, lacks_cause(finding), words.cause);
  const std::string photographs = count_of(photographs_of(build, finding.id).size());
  if (!here) return line(fonts().text, false, photographs);
  if (!photographs.empty() && (key_button("look", "Look at " + photographs, "Shift F10") || pressed_with_shift(f10)))
    return look_at(ui, finding.id);
  if (open && !words.usually.empty()) say(fonts().text, theme().soft_ink, words.usually);
  keys_or_question(ui, build, finding);
  const ImVec2 end = ImGui::GetCursorScreenPos();
  ImGui::GetWindowDrawList()->AddRectFilled(ImVec2(top.x - px(14), top.y), ImVec2(top.x - px(7), end.y), theme().ink);
}

void move_choice(Ui& ui, const std::vector<Finding>& findings) {
  if (findings.empty()) return;
  const auto is_chosen = [&](const Finding& one) { return one.id == ui.finding; };
  auto at = std::ranges::find_if(findings, is_chosen);
  if (at == findings.end()) at = findings.begin();
  if (screen_of(ui.sheet.asking) != "findings") {
    const auto before = at;
    if (pressed(key::down) && at + 1 != findings.end()) ++at;
    if (pressed(key::up) && at != findings.begin()) --at;
    if (at != before) {
      ui.message.clear();
      ui.sheet.scroll = true;
      ui.again = true;
    }
  }
  ui.finding = at->id;
}

} // namespace

void findings_screen(Ui& ui) {
  const SheetScope sheet("##findings");
  const auto& build = *ui.desk.build();
  const auto findings = findings_in_order(ui.desk.shop(), build, ui.desk.now());
  say(fonts().huge, theme().ink, fmt::format("{}  {}", build.model, build.serial));
  const std::string open = words_of_open(ui.desk.shop(), build, ui.desk.now());
  say(fonts().strong, theme().ink,
      findings.empty() ? "Nothing has been found on this engine."
                       : fmt::format("{} found on this engine; {}", findings.size(),
                                     open.empty() ? "none holds anything up" : open));
  if (build.practice || ui.desk.shop().practice) say(fonts().strong, theme().shout, "PRACTICE, NOT A RECORD");
  if (!build.released()) say(fonts().text, theme().soft_ink, "What is found is noted on the sheet, with Shift F8.");
  move_choice(ui, findings);
  for (const auto& finding : findings) block(ui, build, finding, &finding == &findings.front());
  // Room enough beneath the last one to bring it up to where it can be worked on.
  if (!findings.empty()) ImGui::Dummy(ImVec2(0, ImGui::GetWindowHeight() * 0.4f));
}

} // namespace bench
