// Each option of this engine with its choices side by side: which limits it moves and to what, how all that is recorded
// would stand under each, which one holds and which one the readings call for. A number picks.
#include "bench/asking.h"

#include "build/proposal.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using build::Compared;
using json::Value;

namespace {

// Worked out anew when something was recorded.
const std::vector<Compared>& compared(Ui& ui, const build::Build& build, const std::string& option) {
  SizesState& its = ui.sizes;
  if (its.build != build.id || its.seq != build.seq) its.compared.clear();
  its.build = build.id;
  its.seq = build.seq;
  const auto [at, fresh] = its.compared.try_emplace(option);
  if (fresh) at->second = build::compare(build, option);
  return at->second;
}

std::string counted(const std::map<build::Standing, int>& count) {
  std::string out;
  for (const auto& [standing, number] : count)
    out += fmt::format("{}{} {}", out.empty() ? "" : "; ", number, build::name_of(standing));
  return out;
}

std::string bounds_text(const Compared::Moved& limit) {
  if (limit.standard.empty() && limit.service.empty()) return "no numbers yet";
  if (limit.service.empty()) return limit.standard;
  if (limit.standard.empty()) return "service " + limit.service;
  return fmt::format("{}\nservice {}", limit.standard, limit.service);
}

std::string head_of(const Compared& one) {
  if (one.now && one.proposed) return "holds now, as the readings call for";
  if (one.now) return "holds now";
  return one.proposed ? "the readings call for this one" : "";
}

struct Row {
  std::string title;
  std::vector<std::string> cells;
  bool shouts(std::size_t choice) const { return cells[choice].find("outside") != std::string::npos; }
};

std::string title_of(const build::Build& build, const Compared::Standings& values) {
  const auto& title = build.plan->entry(values.at).title;
  return values.as_found ? title + ", as found" : title;
}

// Rows of all choices by their titles: a value may stand under some of them alone.
std::vector<Row> rows_of(const build::Build& build, const std::vector<Compared>& choices) {
  std::vector<Row> out;
  const auto put = [&](const std::string& title, std::size_t choice, std::string text) {
    auto at = std::ranges::find(out, title, &Row::title);
    if (at == out.end()) at = out.insert(out.end(), {title, std::vector<std::string>(choices.size())});
    at->cells[choice] = std::move(text);
  };
  for (std::size_t c = 0; c < choices.size(); ++c)
    for (const auto& limit : choices[c].limits) put("Limit: " + limit.title, c, bounds_text(limit));
  for (std::size_t c = 0; c < choices.size(); ++c)
    for (const auto& values : choices[c].values) put(title_of(build, values), c, counted(values.count));
  for (std::size_t c = 0; c < choices.size(); ++c)
    for (const std::size_t step : choices[c].steps) put("Step: " + build.plan->step(step).title, c, "on this engine");
  std::erase_if(out, [](const Row& row) {
    return row.title.starts_with("Step: ") && std::ranges::count(row.cells, "on this engine") == std::ssize(row.cells);
  });
  for (auto& row : out)
    for (auto& cell : row.cells)
      if (cell.empty()) cell = "-";
  return out;
}

void pick(Ui& ui, const build::Build& build, const std::string& option, const std::string& choice,
          const std::string& reason) {
  Value line = action("pick");
  line.set("build", Value::text(build.id));
  const auto at = build::choice_of_option(build, option);
  if (at && !build.entry(*at).done && build.step(at->step).signatures.empty()) {
    line.set("step", Value::text(build.plan->step(at->step).id));
    line.set("entry", Value::text(build.plan->entry(*at).id));
  } else {
    line.set("option", Value::text(option));
  }
  line.set("value", Value::text(choice));
  if (!reason.empty()) line.set("text", Value::text(reason));
  ui.send(std::move(line));
}

void ask_reason(Ui& ui, const build::Build& build, const std::vector<Compared>& choices) {
  const auto proposed = std::ranges::find_if(choices, [](const auto& one) { return one.proposed; });
  if (proposed != choices.end())
    say(fonts().strong, theme().ink,
        fmt::format("{}: the readings call for {}. Why this one?", ui.sizes.choice, proposed->choice));
  if (pressed(key::escape)) return leave(ui);
  if (!fields(ui, {{"The reason", &ui.sheet.reason}}) || ui.sheet.reason.empty()) return;
  const std::string reason = ui.sheet.reason;
  leave(ui);
  pick(ui, build, ui.sizes.option, ui.sizes.choice, reason);
}

// One column a choice, as wide as the others.
void table(const std::vector<Row>& rows, const std::vector<Compared>& choices, bool here) {
  const float room = ImGui::GetContentRegionAvail().x - px(30);
  const int columns = static_cast<int>(choices.size()) + 1;
  if (!ImGui::BeginTable("##choices", columns, ImGuiTableFlags_NoSavedSettings | ImGuiTableFlags_BordersInnerH,
                         ImVec2(room, 0)))
    return;
  ImGui::TableSetupColumn("what", ImGuiTableColumnFlags_WidthFixed, room * 0.22f);
  for (std::size_t c = 0; c < choices.size(); ++c)
    ImGui::TableSetupColumn(choices[c].choice.c_str(), ImGuiTableColumnFlags_WidthStretch);
  ImGui::TableNextRow();
  for (std::size_t c = 0; c < choices.size(); ++c) {
    ImGui::TableSetColumnIndex(static_cast<int>(c) + 1);
    const bool marked = choices[c].now || choices[c].proposed;
    say(here ? fonts().large : fonts().strong, theme().ink, choices[c].choice);
    if (marked) say(fonts().strong, theme().ink, head_of(choices[c]));
  }
  for (const auto& row : rows) {
    ImGui::TableNextRow();
    ImGui::TableSetColumnIndex(0);
    say(fonts().text, theme().soft_ink, row.title);
    for (std::size_t c = 0; c < choices.size(); ++c) {
      ImGui::TableSetColumnIndex(static_cast<int>(c) + 1);
      say(fonts().text, row.shouts(c) ? theme().shout : theme().ink, row.cells[c]);
    }
  }
  ImGui::EndTable();
}

void keys(Ui& ui, const build::Build& build, const std::vector<Compared>& choices) {
  std::vector<KeyLabel> row;
  for (std::size_t c = 0; c < choices.size() && c < 9; ++c)
    if (!choices[c].now || build.options.count(ui.sizes.option) == 0)
      row.push_back({fmt::format("pick-{}", c), "Pick " + choices[c].choice, std::to_string(c + 1)});
  const auto* clicked = key_row(row, ImGui::GetContentRegionAvail().x - px(24), Fit::tight);
  if (ui.sent) return;
  const bool is_proposed = std::ranges::any_of(choices, [](const auto& one) { return one.proposed; });
  for (std::size_t c = 0; c < choices.size() && c < 9; ++c) {
    const std::string id = fmt::format("pick-{}", c);
    const bool offered = std::ranges::find(row, id, &KeyLabel::id) != row.end();
    if (!offered || !(digit(static_cast<int>(c) + 1) || (clicked && clicked->id == id))) continue;
    const std::string option = ui.sizes.option; // what is sent changes what `choices` is of
    const std::string choice = choices[c].choice;
    if (!is_proposed || choices[c].proposed) return pick(ui, build, option, choice, "");
    ui.sizes.choice = choice;
    return ask(ui, Asking::size_reason);
  }
}

void work(Ui& ui, const build::Build& build, const std::vector<Compared>& choices) {
  if (build.released()) return;
  if (!ui.desk.signed_in())
    sign_in(ui);
  else if (ui.sheet.asking == Asking::size_reason)
    ask_reason(ui, build, choices);
  else
    keys(ui, build, choices);
  if (!ui.message.empty()) say(fonts().large, ui.refused ? theme().shout : theme().ink, ui.message);
}

void block(Ui& ui, const build::Build& build, const procedure::Option& option, bool first) {
  const IdScope scope(option.id);
  const bool here = option.id == ui.sizes.option;
  rule();
  const ImVec2 top = ImGui::GetCursorScreenPos();
  if (here && ui.sizes.scroll) {
    first ? ImGui::SetScrollY(0) : ImGui::SetScrollHereY(0.05f);
    ui.sizes.scroll = false;
  }
  const std::string holds = build.option(option.id);
  say(here ? fonts().large : fonts().strong, theme().ink, option.title);
  say(fonts().strong, theme().soft_ink,
      holds.empty()                         ? "not picked yet"
      : build.options.count(option.id) == 0 ? holds + ", until something else is picked"
                                            : holds + ", picked");
  if (here && !option.text.empty()) say(fonts().text, theme().soft_ink, option.text);
  if (!here) return;
  const auto choices = compared(ui, build, option.id); // a copy: what is sent changes it
  const bool nobody = !ui.desk.signed_in();
  if (!nobody) work(ui, build, choices);
  table(rows_of(build, choices), choices, here);
  if (nobody) work(ui, build, choices);
  const ImVec2 end = ImGui::GetCursorScreenPos();
  ImGui::GetWindowDrawList()->AddRectFilled(ImVec2(top.x - px(14), top.y), ImVec2(top.x - px(7), end.y), theme().ink);
}

void move(Ui& ui, const std::vector<procedure::Option>& options) {
  auto at = std::ranges::find(options, ui.sizes.option, &procedure::Option::id);
  const auto before = at;
  if (at == options.end()) at = options.begin();
  if (pressed(key::down) && at + 1 != options.end()) ++at;
  if (pressed(key::up) && at != options.begin()) --at;
  if (at == before) return;
  ui.sizes.option = at->id;
  ui.sizes.scroll = true;
  ui.message.clear();
  ui.again = true;
}

} // namespace

void sizes_screen(Ui& ui) {
  const SheetScope sheet("##sizes");
  const auto& build = *ui.desk.build();
  const auto& options = build.plan->procedure().options;
  say(fonts().huge, theme().ink, fmt::format("{}  {}", build.model, build.serial));
  if (build.practice || ui.desk.shop().practice) say(fonts().strong, theme().shout, "PRACTICE, NOT A RECORD");
  if (options.empty()) return say("This procedure leaves no sizes to be chosen.");
  say(fonts().text, theme().soft_ink,
      "What each choice would move, and how all that is recorded would stand under it; nothing changes until one is "
      "picked. Up and Down go from size to size, Page Down and Page Up along a long one.");
  scroll_by_keys();
  if (ui.sheet.asking != Asking::size_reason) {
    if (ui.sheet.asking != Asking::nothing) leave(ui);
    move(ui, options);
  }
  for (const auto& option : options) block(ui, build, option, &option == &options.front());
  ImGui::Dummy(ImVec2(0, ImGui::GetWindowHeight() * 0.4f));
}

} // namespace bench
