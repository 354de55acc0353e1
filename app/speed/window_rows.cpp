// The window as a person has it, in a process of its own: how long it takes to be there, what it does while nobody does
// anything, how much memory it holds.
#include "speed/child.h"
#include "speed/rows.h"

#include "record/stopwatch.h"

#include <fmt/format.h>

#include <chrono>
#include <thread>

namespace speed {

namespace {

constexpr double long_enough = 60; // s, for a window to be there
constexpr double to_come_to_rest = 3;
const std::string start = "start, exec to first frame";

// Beside the program when it was built with its tests.
constexpr std::string_view empty_program = "empty_window";

std::vector<std::string> window_on(const Setting& setting, const std::filesystem::path& file) {
  return {setting.program.string(), "bench", "--shop", file.string(), "--scale", "1", "--size", "1280x800"};
}

double first_frame(const std::vector<std::string>& command, const Display& display) {
  const record::Stopwatch watch;
  Child child(command, display.environment());
  if (!child.line(long_enough)) throw std::runtime_error(fmt::format("{} shows no window", command.front()));
  return watch.seconds();
}

Row starting(const Setting& setting, const std::filesystem::path& file, const Display& display) {
  auto ours = window_on(setting, file);
  ours.insert(ours.end(), {"--frames", "1"});
  const auto empty = setting.program.parent_path() / empty_program;
  if (!std::filesystem::exists(empty)) {
    Row row = alone(start, first_frame(ours, display));
    row.note = "the empty program was not built";
    return row;
  }
  std::vector<double> our_times;
  std::vector<double> floor_times;
  first_frame(ours, display); // both read from the disk once
  first_frame({empty.string()}, display);
  for (int round = 0; round < setting.rounds(15, 7); ++round) {
    our_times.push_back(first_frame(ours, display));
    floor_times.push_back(first_frame({empty.string()}, display));
  }
  return ratio(start, of_pairs(our_times, floor_times), 1.5);
}

} // namespace

std::vector<Row> windows(const Setting& setting) {
  const Row size = alone("size of the program", static_cast<double>(std::filesystem::file_size(setting.program)),
                         std::nullopt, Unit::bytes);
  const double seconds = setting.rounds(60, 5);
  const std::string idle = fmt::format("idle window over {} s", seconds);
  const std::string memory = "resident memory of the idle window";
  const Display display;
  if (!display.there()) {
    const std::string why = "there is no display";
    return {not_measured(idle, why), not_measured(start, why), size, not_measured(memory, why)};
  }
  const auto file = setting.folder / "window.shop";
  make_shop(file, {{"long", 75, 20}});
  const Row started = starting(setting, file, display);
  Child window(window_on(setting, file), display.environment());
  std::this_thread::sleep_for(std::chrono::duration<double>(to_come_to_rest));
  const double before = window.used();
  const record::Stopwatch watch;
  std::this_thread::sleep_for(std::chrono::duration<double>(seconds));
  const double share = (window.used() - before) / watch.seconds();
  return {alone(idle, share, 0.01, Unit::share), started, size,
          alone(memory, window.memory(), std::nullopt, Unit::bytes)};
}

} // namespace speed
