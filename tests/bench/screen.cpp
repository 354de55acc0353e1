#include "bench/screen.h"

#include "bench/typing_gauge.h"
#include "build/blockers.h"
#include "json/read.h"

#include <catch2/catch.hpp>
#include <imgui.h>

#include <algorithm>
#include <fstream>
#include <random>

namespace {

const char* const lines[] = {
    R"({"do":"enrol","person":"ivo","name":"Ivo Tarrant","roles":["owner","builder"],"passphrase":"copper and brass"})",
    R"({"do":"sign-in","person":"ivo","passphrase":"copper and brass"})",
    R"({"do":"set-shop","name":"Heronsgate Engine Works"})",
    R"({"do":"enrol","person":"maud","name":"Maud Fenwick","roles":["owner","inspector"],"passphrase":"nine blue herons"})",
    R"({"do":"add-gauge","gauge":"bore-1","kind":"bore gauge","unit":"mm","resolution":0.001,"u":0.004})",
    R"({"do":"add-gauge","gauge":"mic-1","kind":"micrometer","unit":"mm","resolution":0.001,"u":0.003,"range":[25,50]})",
    R"({"do":"add-gauge","gauge":"tw-1","kind":"torque wrench","unit":"N.m","resolution":1,"tool":"setting","class_error":0.04,"range":[1,100]})"};

record::Session opened(const std::filesystem::path& shop, std::function<calc::Moment()> clock) {
  auto session = record::Session::open(shop, {true, std::move(clock)});
  REQUIRE(session);
  return std::move(*session);
}

void fill(record::Session& session, const std::filesystem::path& procedure) {
  for (const char* line : lines) REQUIRE(json::read_one(session.answer(line))->at("ok").as_boolean());
  const std::string open = R"({"do":"open-build","build":"marigold","procedure":")" + procedure.string() +
                           R"(","engine":{"model":"HX4-150","serial":"HX4-150-0731","hours":1043},)"
                           R"("customer":"Narrowboat Marigold"})";
  REQUIRE(json::read_one(session.answer(open))->at("ok").as_boolean());
  session.answer(R"({"do":"sign-out"})");
}

// The shop that most tests begin with, filled once: keys are slow to derive from passphrases, on purpose.
const std::filesystem::path& filled_shop(const calc::Moment& now) {
  static const TemporaryFolder folder;
  static const std::filesystem::path shop = [&] {
    const auto path = folder.path / "s.shop";
    auto session = opened(path, [&] { return now; });
    fill(session, std::string(PROJECT_FOLDER) + "/procedures/short-block.json");
    return path;
  }();
  return shop;
}

} // namespace

TemporaryFolder::TemporaryFolder()
    : path(std::filesystem::temp_directory_path() / ("witnessmark-screen-" + std::to_string(std::random_device()()))) {
  std::filesystem::create_directories(path);
}

TemporaryFolder::~TemporaryFolder() {
  std::error_code ignored;
  std::filesystem::remove_all(path, ignored);
}

Screen::Screen(EmptyShop, std::function<void()> wake) {
  show(opened(shop_file(), clock()), 1, 1280, 800, std::move(wake));
}

Screen::Screen(float scale, float width, float height, const std::string& procedure, std::function<void()> wake) {
  if (procedure.empty()) {
    std::filesystem::copy_file(filled_shop(now), shop_file());
    show(opened(shop_file(), clock()), scale, width, height, std::move(wake));
    return;
  }
  const auto path = folder_.path / "own.json";
  std::ofstream(path) << procedure;
  auto session = opened(shop_file(), clock());
  fill(session, path);
  show(std::move(session), scale, width, height, std::move(wake));
}

void Screen::show(record::Session session, float scale, float width, float height, std::function<void()> wake) {
  ImGui::CreateContext();
  auto& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  io.DisplaySize = ImVec2(width, height);
  io.DeltaTime = 1.0f / 60;
  io.ConfigInputTextCursorBlink = false;
  io.KeyMap[ImGuiKey_Tab] = bench::key::tab;
  io.KeyMap[ImGuiKey_Backspace] = bench::key::backspace;
  io.KeyMap[ImGuiKey_Enter] = bench::key::enter;
  io.KeyMap[ImGuiKey_Escape] = bench::key::escape;
  REQUIRE(bench::load_fonts(scale).empty());
  bench::apply_style(scale);
  take_letters();
  display_scale_ = scale;
  bench::put_on(bench::Look(), scale);
  desk = std::make_unique<bench::Desk>(std::move(session), std::move(wake));
  window = std::make_unique<bench::Window>(*desk);
  frame();
  frame();
}

void Screen::take_letters() {
  unsigned char* pixels = nullptr;
  int width = 0;
  int height = 0;
  ImGui::GetIO().Fonts->GetTexDataAsAlpha8(&pixels, &width, &height);
}

Screen::~Screen() {
  bench::list_what_is_drawn(nullptr);
  bench::put_on(bench::Look(), bench::fonts().scale);
  window.reset();
  desk.reset();
  ImGui::DestroyContext();
}

void Screen::one_frame() {
  drawn.clear();
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  if (bench::put_on(window->look(), bench::scale_for(window->look(), display_scale_, size.x, size.y))) take_letters();
  bench::list_what_is_drawn(&drawn);
  ImGui::NewFrame();
  window->frame();
  ImGui::Render();
}

void Screen::frame() {
  one_frame();
  for (int more = 0; more < 5 && window->wants_frame(); ++more) one_frame();
  do one_frame();
  while (bench::letters_lacking());
}

void Screen::press(int key) {
  auto& io = ImGui::GetIO();
  io.KeysDown[key] = true;
  one_frame();
  io.KeysDown[key] = false;
  frame();
}

void Screen::press_with_shift(int key) {
  ImGui::GetIO().KeysDown[bench::key::left_shift] = true;
  press(key);
  ImGui::GetIO().KeysDown[bench::key::left_shift] = false;
}

void Screen::type(const std::string& text) {
  ImGui::GetIO().AddInputCharactersUTF8(text.c_str());
  frame();
}

void Screen::gauge(const std::string& text) {
  type(text);
  bench::say_typed_at_once(true);
  ImGui::GetIO().KeysDown[bench::key::enter] = true;
  one_frame();
  bench::say_typed_at_once(false);
  ImGui::GetIO().KeysDown[bench::key::enter] = false;
  frame();
}

void Screen::in_the_shop(const std::string& line) {
  for (const std::string& one : {std::string(R"({"do":"sign-in","person":"ivo","passphrase":"copper and brass"})"),
                                 line, std::string(R"({"do":"sign-out"})")}) {
    desk->post(*json::read_one(one));
    const auto answer = desk->take_answer();
    REQUIRE(answer);
    INFO(one << answer->message());
    REQUIRE(answer->ok());
  }
  frame();
}

void Screen::click(const std::string& id) {
  const auto it = std::find_if(drawn.begin(), drawn.end(),
                               [&](const auto& one) { return one.id == "###" + id || one.id == "##" + id; });
  INFO(id);
  REQUIRE(it != drawn.end());
  auto& io = ImGui::GetIO();
  io.MousePos = ImVec2((it->low.x + it->high.x) / 2, (it->low.y + it->high.y) / 2);
  one_frame();
  io.MouseDown[0] = true;
  one_frame();
  io.MouseDown[0] = false;
  frame();
}

void Screen::sign_in() {
  enter("ivo");
  enter("copper and brass");
  REQUIRE(desk->signed_in());
}

bool Screen::shows(const std::string& text) const {
  return std::any_of(drawn.begin(), drawn.end(),
                     [&](const auto& one) { return one.text.find(text) != std::string::npos; });
}

const build::EntryState& Screen::entry(const std::string& step, const std::string& id) const {
  const auto s = *build().plan->find_step(step);
  return build().entry({s, *build().plan->find_entry(s, id)});
}

std::string Screen::state(const std::string& step) const {
  return std::string(build::name_of(build::standing_of(build(), *build().plan->find_step(step))));
}
