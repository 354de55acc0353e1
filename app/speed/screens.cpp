#include "speed/screens.h"

#include "bench/fonts.h"
#include "bench/keys.h"
#include "speed/yard.h"

#include <imgui.h>

#include <algorithm>
#include <chrono>
#include <ctime>
#include <stdexcept>
#include <thread>

namespace speed {

namespace {

double seconds_of_this_thread() {
  timespec used{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &used);
  return static_cast<double>(used.tv_sec) + 1e-9 * static_cast<double>(used.tv_nsec);
}

} // namespace

Screens::Context::Context() {
  ImGui::CreateContext();
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  io.DisplaySize = ImVec2(1280, 800);
  io.DeltaTime = 1.0f / 60;
  io.ConfigInputTextCursorBlink = false;
  io.KeyMap[ImGuiKey_Tab] = bench::key::tab;
  io.KeyMap[ImGuiKey_Backspace] = bench::key::backspace;
  io.KeyMap[ImGuiKey_Enter] = bench::key::enter;
  io.KeyMap[ImGuiKey_Escape] = bench::key::escape;
  const std::string missing = bench::load_fonts(1);
  if (!missing.empty()) throw std::runtime_error(missing);
  bench::put_on(bench::Look(), 1);
  bench::apply_style(1);
  unsigned char* letters = nullptr;
  int width = 0;
  int height = 0;
  io.Fonts->GetTexDataAsAlpha8(&letters, &width, &height); // as whoever draws them does
}

Screens::Context::~Context() {
  ImGui::DestroyContext();
}

Screens::Screens(record::Session session) : desk_(std::move(session), [] {}), window_(desk_) {
  settle();
}

Screens::~Screens() = default;

double Screens::timed(bool with_screens) {
  const double before = seconds_of_this_thread();
  ImGui::NewFrame();
  if (with_screens) window_.frame();
  ImGui::Render();
  const double used = seconds_of_this_thread() - before;
  ImGuiIO& io = ImGui::GetIO();
  std::ranges::fill(io.KeysDown, false);
  io.MouseWheel = 0;
  return used;
}

double Screens::frame() {
  return timed(true);
}

double Screens::empty_frame() {
  return timed(false);
}

void Screens::strike(int key) {
  ImGui::GetIO().KeysDown[key] = true;
}

void Screens::type(char letter) {
  ImGui::GetIO().AddInputCharacter(static_cast<unsigned char>(letter));
}

void Screens::wheel(float by) {
  ImGui::GetIO().MousePos = ImVec2(700, 500);
  ImGui::GetIO().MouseWheel = by;
}

void Screens::settle() {
  constexpr int still = 5; // frames
  for (int frames = 0; frames < still; ++frames) {
    while (desk_.busy()) std::this_thread::sleep_for(std::chrono::milliseconds(1));
    frame();
    if (!desk_.settled() || window_.wants_frame()) frames = 0;
  }
}

void Screens::sign_in() {
  for (const std::string_view word : {person, passphrase}) {
    for (const char letter : word) type(letter);
    frame();
    strike(bench::key::enter);
    settle();
  }
  if (!desk_.signed_in()) throw std::runtime_error("nobody is signed in on the screen");
}

void Screens::show(const std::string& screen) {
  window_.show(screen);
}

void Screens::open(const std::string& build) {
  desk_.open(build);
  while (!desk_.settled()) std::this_thread::sleep_for(std::chrono::microseconds(100));
  desk_.take_in();
  if (!desk_.build()) throw std::runtime_error("the build cannot be opened");
}

} // namespace speed
