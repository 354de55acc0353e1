#include "bench/first_run.h"

#include "bench/asking.h"
#include "bench/builds.h"
#include "bench/demo_shop.h"
#include "bench/form.h"

#include <imgui.h>

#include <fmt/format.h>

namespace bench {

using json::Value;
using Stage = FirstRun::Stage;

namespace {

constexpr const char* demo_played = "look-round";

void begin(Ui& ui) {
  FirstRun& its = ui.first;
  its.stage = Stage::filling;
  its.form = Form();
  its.alone = {{"alone", "I work alone", false}};
  its.trouble.clear();
  ui.message.clear();
  ui.again = true;
}

// The gate takes three lines for it; each is sent when the one before is done.
void send(Ui& ui, Stage stage) {
  FirstRun& its = ui.first;
  its.stage = stage;
  Value line;
  if (stage == Stage::enrolling) {
    line = action("enrol");
    line.set("name", Value::text(its.person_name));
    line.set("roles", Value::array({Value::text("owner"), Value::text("builder"), Value::text("inspector")}));
  }
  if (stage == Stage::signing_in) line = action("sign-in");
  if (stage != Stage::naming) {
    line.set("person", Value::text(its.person));
    line.set("passphrase", Value::text(its.passphrase));
  } else {
    line = action("set-shop");
    line.set("name", Value::text(its.name));
    set_if_typed(line, "address", its.address);
    if (its.alone.front().on) line.set("one_person", Value::boolean(true));
  }
  ui.send(std::move(line));
}

std::vector<Field> fields(FirstRun& its) {
  return {
      {.id = "person", .label = "Your short name", .text = &its.person, .hint = "For signing in: a to z, 0 to 9."},
      {.id = "name", .label = "Your name", .text = &its.person_name, .hint = "As it stands under what you sign."},
      {.id = "passphrase",
       .label = "Passphrase",
       .text = &its.passphrase,
       .hint = "8 characters at least. Nobody can recover it: a sealed envelope is a good place.",
       .kind = Field::Kind::secret},
      {.id = "again", .label = "The passphrase again", .text = &its.again, .kind = Field::Kind::secret},
      {.id = "shop", .label = "Name of the shop", .text = &its.name, .hint = "As it stands on a handover."},
      {.id = "address", .label = "Its address", .text = &its.address, .hint = "May be left empty."},
      {.id = "one_person",
       .label = "Who looks a second time",
       .hint = "Alone: you may close a hold point yourself, half an hour later, measured again; the record says so.",
       .kind = Field::Kind::ticks,
       .ticks = &its.alone,
       .none = "Somebody else"}};
}

void fill(Ui& ui) {
  FirstRun& its = ui.first;
  say(fonts().large, theme().ink, "Set up this shop");
  const Filled filled = fill_in(ui, its.form, fields(its), "Set up this shop");
  if (filled == Filled::left) {
    wipe(its.passphrase);
    wipe(its.again);
    its.stage = Stage::choosing;
    ui.again = true;
  }
  if (filled != Filled::sent || ui.sent) return;
  if (its.passphrase != its.again)
    return refuse_at(its.form, fields(its), "again", "The two passphrases differ; type both once more.");
  if (its.name.find_first_not_of(' ') == std::string::npos)
    return refuse_at(its.form, fields(its), "shop", "Give the shop a name.");
  send(ui, Stage::enrolling);
}

void choices(Ui& ui) {
  FirstRun& its = ui.first;
  say(fonts().huge, theme().ink, "Witnessmark");
  say(fonts().large, theme().ink, "There is no shop here yet. What would you do?");
  gap(0.6f);
  const bool set_up = key_button("set-up", "Set up this shop", "1") || digit(1);
  say("Two minutes: your name and passphrase, the shop's name. Then the first engine, and gauges as they are needed.");
  gap(0.6f);
  const bool look = key_button("look-round", "Look round the demo build", "2") || digit(2);
  say("An engine half put together, in a practice shop of its own: try every key, nothing there counts. "
      "PRACTICE, NOT A RECORD.");
  if (!its.trouble.empty()) say(fonts().strong, theme().shout, its.trouble);
  gap(0.6f);
  say(fonts().text, theme().soft_ink,
      fmt::format("The shop is kept in one file: {}. F9 works something out without any shop.",
                  ui.desk.shop_file().string()));
  if (set_up) return begin(ui);
  if (look) look_round(ui);
}

// --- the demo ---------------------------------------------------------------------------------------------------

void enter_practice(Ui& ui) {
  FirstRun& its = ui.first;
  if (const auto turned = ui.desk.turn_to(practice_shop(ui.desk.own_shop())); !turned) {
    its.trouble = turned.error().message;
    return;
  }
  ui.sheet = SheetState();
  ui.builds = BuildsState();
  ui.message.clear();
  ui.again = true;
  const auto builds = ui.desk.builds();
  if (builds.size() == 1) {
    ui.on_bench.build = builds.front();
    ui.desk.open(builds.front());
    ui.screen = "sheet";
  }
  const auto who = at_work_in_demo();
  if (!who) return;
  its.practice_person = who->person;
  its.practice_passphrase = who->passphrase;
  Value line = action("sign-in");
  line.set("person", Value::text(who->person));
  line.set("passphrase", Value::text(who->passphrase));
  ui.send(std::move(line));
}

void start(Ui& ui) {
  FirstRun& its = ui.first;
  its.trouble.clear();
  its.plays_demo = true;
  const auto work = [shop = practice_shop(ui.desk.own_shop()), now = ui.desk.now()](const record::Progress& progress) {
    const auto played = play_demo(shop, now, progress);
    if (played) return Value::object({{"ok", Value::boolean(true)}});
    return Value::object({{"ok", Value::boolean(false)},
                          {"error", Value::text(played.error().code)},
                          {"message", Value::text(played.error().message)}});
  };
  ui.desk.post(action(demo_played), "putting the demo together", true, work);
  ui.again = true;
}

} // namespace

std::filesystem::path practice_shop(const std::filesystem::path& own_shop) {
  return own_shop.parent_path() / "practice.wm";
}

void look_round(Ui& ui) {
  std::error_code failed;
  ui.on_bench = OnBench();
  if (std::filesystem::exists(practice_shop(ui.desk.own_shop()), failed)) return enter_practice(ui);
  start(ui);
}

void back_to_own_shop(Ui& ui) {
  if (const auto turned = ui.desk.turn_to(ui.desk.own_shop()); !turned) {
    ui.message = turned.error().message;
    ui.refused = true;
    return;
  }
  ui.sheet = SheetState();
  ui.builds = BuildsState();
  ui.on_bench = OnBench();
  ui.first.practice_person.clear();
  ui.screen = "builds";
  ui.message.clear();
  ui.again = true;
}

bool first_run(Ui& ui) {
  FirstRun& its = ui.first;
  if (its.plays_demo) {
    say(fonts().huge, theme().ink, "The demo build is being put together");
    say("In a practice shop of its own; nothing there counts. Escape leaves it.");
    return true;
  }
  if (ui.desk.shop().exists() && its.stage != Stage::enrolling && its.stage != Stage::signing_in) return false;
  switch (its.stage) {
  case Stage::choosing: choices(ui); break;
  case Stage::filling: fill(ui); break;
  default: say(fonts().large, theme().ink, "The shop is being set up ..."); break;
  }
  return true;
}

bool shop_set_up(Ui& ui, const Answered& answer) {
  FirstRun& its = ui.first;
  if (answer.action.text_or_empty("do") == demo_played) {
    its.plays_demo = false;
    ui.again = true;
    if (answer.ok())
      enter_practice(ui);
    else if (answer.answer.text_or_empty("error") != "stopped")
      its.trouble = answer.message();
    return true;
  }
  if (its.stage == Stage::choosing || its.stage == Stage::filling) return false;
  ui.again = true;
  if (!answer.ok()) {
    its.stage = ui.desk.shop().exists() ? Stage::choosing : Stage::filling;
    refuse(its.form, fields(its), answer.message());
    ui.message = answer.message();
    ui.refused = true;
    return true;
  }
  if (its.stage == Stage::enrolling) {
    send(ui, Stage::signing_in);
    return true;
  }
  if (its.stage == Stage::signing_in) {
    wipe(its.passphrase);
    wipe(its.again);
    send(ui, Stage::naming);
    return true;
  }
  its = FirstRun();
  ui.refused = false;
  ui.message = fmt::format("{} is set up, and {} is signed in.", ui.desk.shop().name, ui.desk.signed_in()->name);
  return true;
}

void practice_band(Ui& ui) {
  if (!ui.desk.visiting()) return;
  const auto& its = ui.first;
  std::string words = "PRACTICE, NOT A RECORD: the demo. F1, then Home: back to your own shop.";
  if (!ui.desk.signed_in())
    for (const auto& [id, person] : ui.desk.shop().people)
      if (id == its.practice_person)
        words += fmt::format(" Here you are {}: {}, \"{}\".", person.name, id, its.practice_passphrase);
  const ImVec2 low(0, below_top());
  const float room = ImGui::GetIO().DisplaySize.x - px(28);
  const float high = fonts().strong->CalcTextSizeA(fonts().strong->FontSize, 1e9f, room, words.c_str()).y + px(8);
  auto& shapes = *ImGui::GetWindowDrawList();
  shapes.AddRectFilled(low, ImVec2(ImGui::GetIO().DisplaySize.x, low.y + high), theme().shout);
  ImGui::SetCursorPos(ImVec2(px(14), low.y + px(4)));
  say(fonts().strong, theme().paper, words);
  set_below_top(low.y + high + px(8));
}

} // namespace bench
