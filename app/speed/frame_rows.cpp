// What a frame of the sheet costs on a procedure of 2,000 steps while somebody works there: nothing happening, a
// reading typed, from step to step, scrolling, recording.
#include "speed/rows.h"
#include "speed/screens.h"

#include "bench/keys.h"

#include <string_view>

namespace speed {

namespace {

namespace key = bench::key;

class Sheet {
public:
  Sheet(const std::filesystem::path& file, int frames) : screens_(session_on(file)), frames_(frames) {
    screens_.sign_in();
  }

  void work() {
    each([](int) {});
    each([this](int i) {
      if (i % 12 == 11)
        screens_.strike(key::backspace);
      else if (i % 2 == 0)
        screens_.type(i % 12 == 4 ? '.' : '7');
    });
    each([this](int i) {
      if (i % 2 == 0) screens_.strike(i % 400 < 200 ? key::page_down : key::page_up);
    });
    each([this](int i) { screens_.wheel(i % 300 < 150 ? -3.0f : 3.0f); });
    each([this](int i) {
      if (i % 10 == 0)
        for (const char letter : std::string_view("78.010")) screens_.type(letter);
      if (i % 10 == 5) screens_.strike(key::enter);
    });
  }

  std::vector<double> ours, empty;

private:
  template <typename Do>
  void each(Do before) {
    for (int i = 0; i < frames_; ++i) {
      before(i);
      ours.push_back(screens_.frame());
    }
    for (int i = 0; i < 3; ++i) empty.push_back(screens_.empty_frame());
    screens_.settle();
  }

  Screens screens_;
  int frames_;
};

} // namespace

std::vector<Row> frames(const Setting& setting) {
  const auto file = setting.folder / "frames.shop";
  make_shop(file, {{"long", 2000, 0}});
  Sheet sheet(file, setting.rounds(600, 200));
  sheet.work();
  Row row = alone("our CPU per frame, 2,000-step procedure, 99th percentile", below(sheet.ours, 0.99), 2e-3);
  row.floor = median(sheet.empty);
  row.note = "the floor is an empty frame, reported; median of ours " + text(median(sheet.ours), Unit::seconds);
  return {row};
}

} // namespace speed
