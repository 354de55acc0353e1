// How much of the processor a frame of the sheet takes, on a procedure of 2,000 steps. Built with the tests, run by
// hand on the Release build: frame_speed
#include "bench/large.h"
#include "bench/screen.h"

#include <catch2/catch.hpp>
#include <imgui.h>

#include <algorithm>
#include <functional>

namespace {

void tell(const char* what, std::vector<double> seconds) {
  std::ranges::sort(seconds);
  const auto at = [&](double share) {
    return 1e3 * seconds[static_cast<std::size_t>(share * static_cast<double>(seconds.size() - 1))];
  };
  fmt::print("{:<28} {:>5} frames   median {:6.3f} ms   99 % below {:6.3f} ms   longest {:6.3f} ms\n", what,
             seconds.size(), at(0.5), at(0.99), at(1));
}

std::vector<double> frames(Screen& screen, int count, const std::function<void(int)>& before) {
  std::vector<double> out;
  for (int i = 0; i < count; ++i) {
    before(i);
    out.push_back(screen.timed_frame());
    std::ranges::fill(ImGui::GetIO().KeysDown, false);
  }
  return out;
}

void strike(int key) {
  ImGui::GetIO().KeysDown[key] = true;
}

} // namespace

TEST_CASE("the speed of a frame") {
  Screen screen(1, 1280, 800, large_procedure(2000));
  screen.sign_in();
  tell("idle", frames(screen, 600, [](int) {}));
  tell("typing a reading", frames(screen, 600, [](int i) {
         if (i % 12 == 11)
           strike(bench::key::backspace);
         else if (i % 2 == 0)
           ImGui::GetIO().AddInputCharacter(i % 12 == 4 ? '.' : '7');
       }));
  screen.press(bench::key::page_down);
  tell("from step to step", frames(screen, 600, [](int i) {
         if (i % 2 == 0) strike(i % 400 < 200 ? bench::key::page_down : bench::key::page_up);
       }));
  tell("scrolling by wheel", frames(screen, 600, [](int i) {
         ImGui::GetIO().MousePos = ImVec2(700, 500);
         ImGui::GetIO().MouseWheel = i % 300 < 150 ? -3.0f : 3.0f;
       }));
  ImGui::GetIO().MouseWheel = 0;
  for (int i = 0; i < 99; ++i) screen.press(bench::key::page_up);
  tell("recording", frames(screen, 600, [&](int i) {
         if (i % 10 == 0)
           for (const char c : std::string("78.010")) ImGui::GetIO().AddInputCharacter(static_cast<unsigned>(c));
         if (i % 10 == 5) strike(bench::key::enter);
       }));
}
