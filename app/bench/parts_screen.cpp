// Every part and position: new, reused or remade, from where, of which size, what was found on it, and whether it is
// away at the machine shop. A few letters narrow them down; the keys are for the one that is chosen.
#include "bench/asking.h"
#include "bench/parts.h"

#include "build/findings.h"
#include "build/fitting.h"
#include "build/orders.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

namespace {

constexpr int f5 = key::f1 + 4;
constexpr int f6 = key::f1 + 5;
constexpr int f7 = key::f1 + 6;
constexpr int f8 = key::f1 + 7;
constexpr std::size_t page = 6; // lines

struct Place {
  std::string part, position;
  bool operator==(const Place&) const = default;
};

std::string lower(std::string text) {
  std::ranges::transform(text, text.begin(),
                         [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  return text;
}

// Those with the letters in their name, in the procedure's order.
std::vector<Place> places(const build::Build& build, const std::string& letters) {
  std::vector<Place> out;
  for (const auto& part : build.plan->procedure().parts) {
    std::vector<std::string> positions = part.positions;
    if (positions.empty()) positions.emplace_back();
    for (const auto& position : positions)
      if (lower(build::part_text(build, part.id, position)).find(lower(letters)) != std::string::npos)
        out.push_back({part.id, position});
  }
  return out;
}

std::vector<std::string> open_findings(const Ui& ui, const build::Build& build, const Place& at) {
  std::vector<std::string> out;
  for (const auto& finding : build.findings) {
    const bool there = finding.part == at.part && (finding.position.empty() || finding.position == at.position);
    if (there && build::is_open(ui.desk.shop(), build, finding, ui.desk.now()))
      out.push_back(fmt::format("{} ({})", finding.text, finding.id));
  }
  return out;
}

std::string away_words(const build::Away& away) {
  std::string out = fmt::format("Away: at {} since {}, order {}: {}", away.order->to,
                                calc::local_text(away.order->sent), away.order->id, away.line->work);
  for (const auto& size : away.line->sizes) out += fmt::format("; {} {}", size.title, size.text);
  return away.line->finish.empty() ? out : fmt::format("{}; {}", out, away.line->finish);
}

void move(Ui& ui, const std::vector<Place>& all) {
  PartsState& its = ui.parts;
  const auto here = std::ranges::find(all, Place{its.part, its.position});
  std::size_t row = here == all.end() ? 0 : static_cast<std::size_t>(here - all.begin());
  const std::size_t before = row;
  if (pressed(key::down)) ++row;
  if (pressed(key::up) && row > 0) --row;
  if (pressed(key::page_down)) row += page;
  if (pressed(key::page_up)) row -= std::min(row, page);
  row = std::min(row, all.size() - 1);
  if (row == before && here != all.end()) return;
  its.part = all[row].part;
  its.position = all[row].position;
  its.scroll = true;
  if (row != before) ui.message.clear();
  ui.again = true;
}

// The newest order it went out with; "" when it never did.
std::string newest_order(const build::Build& build, const Place& at) {
  std::string out;
  for (const auto& order : build.orders)
    for (const auto& line : order.lines)
      if (line.part == at.part && line.position == at.position) out = order.id;
  return out;
}

void print(Ui& ui, const build::Build& build, const std::string& order) {
  json::Value line = action("print-order");
  line.set("build", json::Value::text(build.id));
  line.set("order", json::Value::text(order));
  ui.send(std::move(line));
}

// Enter names it; the letters are taken by the field above.
void keys(Ui& ui, const build::Build& build, bool away) {
  std::vector<KeyLabel> row;
  if (!away) row = {{"name", "New, reused or remade", "Enter"}, {"send", "To the machine shop", "F6"}};
  if (away) row = {{"back", "It is back", "F8"}};
  if (!ui.parts.lines.empty()) {
    row.push_back({"order", "Send the order", "F7"});
    row.push_back({"out", "Take its last line out", "Delete"});
  }
  const std::string order = newest_order(build, {ui.parts.part, ui.parts.position});
  if (!order.empty()) row.push_back({"print", "Print order " + order, "Home"});
  row.push_back({"found", "Something was found", "Shift F8"});
  const auto* one = key_row(row, ImGui::GetContentRegionAvail().x - px(24), Fit::tight);
  if (ui.sent) return;
  const auto struck = [&](const char* id, bool key) { return key || (one && one->id == id); };
  const bool typing = !ui.parts.narrowed.empty();
  if (struck("found", pressed_with_shift(f8))) return ask_what_was_found(ui, build, ui.parts.part, ui.parts.position);
  if (!order.empty() && struck("print", pressed(key::home))) return print(ui, build, order);
  if (!ui.parts.lines.empty()) {
    if (struck("order", pressed(f7))) return ask_send_to(ui);
    if (struck("out", pressed(key::remove) && !typing)) {
      ui.parts.lines.pop_back();
      ui.again = true;
      return;
    }
  }
  if (away) {
    if (struck("back", pressed(f8))) ask_back(ui);
    return;
  }
  if (struck("send", pressed(f6))) return ask_to_send(ui, build);
  if (struck("name", enter_pressed() || pressed(f5))) ask_part_named(ui);
}

void message(const Ui& ui) {
  if (!ui.message.empty()) say(fonts().large, ui.refused ? theme().shout : theme().ink, ui.message);
}

void work(Ui& ui, const build::Build& build, bool away) {
  if (build.released()) return;
  if (screen_of(ui.sheet.asking) == "parts") {
    if (pressed(key::escape)) return leave(ui);
    part_questions(ui, build);
  } else if (ui.sheet.asking != Asking::nothing) {
    questions(ui, build);
  } else {
    message(ui);
    return keys(ui, build, away);
  }
  message(ui);
}

void line_of(Ui& ui, const build::Build& build, const Place& at, bool first) {
  const IdScope scope(at.part + "/" + at.position);
  const bool here = at == Place{ui.parts.part, ui.parts.position};
  const ImVec2 top = ImGui::GetCursorScreenPos();
  if (here && ui.parts.scroll) {
    first ? ImGui::SetScrollY(0) : ImGui::SetScrollHereY(0.3f);
    ui.parts.scroll = false;
  }
  const auto away = build::away_at(build, at.part, at.position);
  if (away) {
    hatch(top, ImVec2(top.x + px(22), top.y + ImGui::GetTextLineHeight()));
    ImGui::Indent(px(30));
  }
  say(here ? fonts().large : fonts().strong, theme().ink, build::part_text(build, at.part, at.position));
  say_beside(fonts().text, theme().soft_ink, "   " + state_of_part(build, at.part, at.position));
  if (away) say(here ? away_words(*away) : fmt::format("Away: at {}, order {}", away->order->to, away->order->id));
  const auto found = open_findings(ui, build, at);
  if (!found.empty()) say(fonts().text, theme().shout, fmt::format("Open: {}", fmt::join(found, "; ")));
  if (here && ui.desk.signed_in()) work(ui, build, away.has_value());
  if (away) ImGui::Unindent(px(30));
  const ImVec2 end = ImGui::GetCursorScreenPos();
  if (here)
    ImGui::GetWindowDrawList()->AddRectFilled(ImVec2(top.x - px(14), top.y), ImVec2(top.x - px(7), end.y), theme().ink);
  gap(0.2f);
}

void orders(const build::Build& build) {
  for (const auto& order : build.orders) {
    const std::string away = still_away(build, order);
    if (away.empty()) continue;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    hatch(at, ImVec2(at.x + px(22), at.y + ImGui::GetTextLineHeight()));
    ImGui::Indent(px(30));
    say(fonts().strong, theme().ink,
        fmt::format("Order {}, {}, sent {} by {}: away {}", order.id, order.to, calc::local_text(order.sent),
                    order.sent_name, away));
    ImGui::Unindent(px(30));
  }
}

void collected(const Ui& ui, const build::Build& build) {
  if (ui.parts.lines.empty()) return;
  say(fonts().strong, theme().ink, "To be sent with F7:");
  for (const auto& line : ui.parts.lines) say("   " + line_text(build, line));
}

void narrow(Ui& ui) {
  const std::string before = ui.parts.narrowed;
  say(fonts().text, theme().soft_ink, "A few letters narrow the parts down; Up and Down choose one.");
  text_field("parts", ui.parts.narrowed, 22, ui.parts.focus || enter_pressed());
  ui.parts.focus = false;
  if (ui.parts.narrowed == before) return;
  ui.parts.scroll = true;
  ui.again = true;
}

} // namespace

void parts_screen(Ui& ui) {
  const SheetScope sheet("##parts");
  const auto& build = *ui.desk.build();
  if (ui.sheet.build != build.id) ui.sheet = SheetState();
  ui.sheet.build = build.id;
  const bool asking = ui.sheet.asking != Asking::nothing;
  say(fonts().huge, theme().ink, fmt::format("{}  {}", build.model, build.serial));
  if (build.practice || ui.desk.shop().practice) say(fonts().strong, theme().shout, "PRACTICE, NOT A RECORD");
  orders(build);
  collected(ui, build);
  if (!build.released() && !ui.desk.signed_in()) {
    sign_in(ui);
    message(ui);
  } else if (!asking) {
    narrow(ui);
  }
  const auto all = places(build, ui.parts.narrowed);
  if (all.empty()) return say("No part is called that; try fewer letters.");
  if (!asking) move(ui, all);
  rule();
  for (const auto& at : all) line_of(ui, build, at, &at == &all.front());
  ImGui::Dummy(ImVec2(0, ImGui::GetWindowHeight() * 0.4f));
}

} // namespace bench
