#include "bench/ui.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

namespace {

// The kinds of event in words.
std::string_view deed(std::string_view kind) {
  struct Word {
    std::string_view kind, deed;
  };
  constexpr Word words[] = {{"open-build", "opened the build"},
                            {"acknowledge", "read the notices of"},
                            {"record", "measured"},
                            {"again", "measured again"},
                            {"correct", "corrected"},
                            {"take-back", "took back"},
                            {"confirm", "confirmed"},
                            {"pick", "chose"},
                            {"identify", "wrote down"},
                            {"wait", "started the clock of"},
                            {"tighten", "tightened"},
                            {"loosen", "loosened"},
                            {"part", "noted a part"},
                            {"reopen", "reopened"},
                            {"dispose", "decided on"},
                            {"accept", "accepted as it stands"},
                            {"sign", "signed"},
                            {"fill-limit", "filled in a limit"},
                            {"release", "released the engine"},
                            {"note", "noted on"},
                            {"finding", "found a fault"},
                            {"clear", "wrote down about the finding"},
                            {"attach", "laid a photograph beside"},
                            {"send", "sent to the machine shop"},
                            {"back", "had back from the machine shop"},
                            {"zero", "checked the zero of"},
                            {"addendum", "added"}};
  for (const auto& word : words)
    if (word.kind == kind) return word.deed;
  return kind;
}

std::string what_happened(const build::Plan& plan, const record::Event& event) {
  std::string out(deed(event.kind));
  if (event.body.find("as_found")) out += " as found";
  if (const auto step = plan.find_step(event.body.text_or_empty("step"))) {
    out += fmt::format(" \"{}\"", plan.step(*step).title);
    if (const auto entry = plan.find_entry(*step, event.body.text_or_empty("entry")))
      out += fmt::format(", {}", plan.entry({*step, *entry}).title);
  }
  if (const std::string finding = event.body.text_or_empty("finding"); !finding.empty()) out += " " + finding;
  for (const char* key : {"part", "position", "value", "drift", "stage", "disposition", "outcome", "verdict"}) {
    const std::string text = event.body.text_or_empty(key);
    if (!text.empty()) out += fmt::format(", {}{}", std::string_view(key) == "stage" ? "stage " : "", text);
  }
  if (event.body.text_or_empty("state") == build::name_of(build::StepStanding::wants_second))
    out += ", wants a second person";
  if (event.kind == "finding") return out + fmt::format(" (\"{}\")", event.body.text_or_empty("text"));
  if (const auto* asked = event.body.find("asked"))
    for (const char* key : {"reason", "text", "cause"})
      if (!asked->text_or_empty(key).empty()) out += fmt::format(" (\"{}\")", asked->text_or_empty(key));
  return out;
}

} // namespace

// What happened, the newest first; a name put under something carries the painted stripe.
void log_screen(Ui& ui) {
  const SheetScope sheet("##log");
  const auto& build = *ui.desk.build();
  say(fonts().huge, theme().ink, fmt::format("{}  {}", build.model, build.serial));
  say(fonts().text, theme().soft_ink, fmt::format("{} events, the newest first", ui.desk.log().size()));
  const auto& log = ui.desk.log();
  const float line = ImGui::GetTextLineHeightWithSpacing();
  if (pressed(key::page_down)) ImGui::SetScrollY(ImGui::GetScrollY() + 12 * line);
  if (pressed(key::page_up)) ImGui::SetScrollY(std::max(0.0f, ImGui::GetScrollY() - 12 * line));
  const float room = ImGui::GetContentRegionAvail().x;
  for (auto event = log.rbegin(); event != log.rend(); ++event) {
    const std::string text =
        fmt::format("{}  {} {}{}", calc::local_text(event->time), event->name, what_happened(*build.plan, *event),
                    event->meaning.empty() ? "" : fmt::format("   [{}]", event->meaning));
    const ImVec2 at = ImGui::GetCursorScreenPos();
    if (ImGui::CalcTextSize(text.c_str()).x <= room) {
      ask_for_letters(text);
      ImGui::TextUnformatted(text.c_str());
    } else {
      say(fonts().text, theme().ink, text);
    }
    if (!event->meaning.empty())
      ImGui::GetWindowDrawList()->AddLine(ImVec2(at.x - px(12), at.y),
                                          ImVec2(at.x - px(7), at.y + ImGui::GetFontSize()), theme().paint, px(4));
  }
}

} // namespace bench
