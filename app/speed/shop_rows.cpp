// A shop after years: many builds, most of them released. Their list, looking for one, opening one, and the memory it
// takes.
#include "speed/child.h"
#include "speed/rows.h"
#include "speed/screens.h"

#include <fmt/format.h>

namespace speed {

namespace {

constexpr int steps_of_300_events = 75;
constexpr double a_blink = 50e-3; // s

// The screen of all builds, drawn for the first time; then with something typed to look for.
struct Looked {
  double list = 0;
  double search = 0;
};

Looked look(Screens& screens, int round) {
  screens.show("shop");
  screens.settle();
  screens.show("builds");
  Looked out;
  out.list = seconds_of([&] { screens.frame(); });
  screens.settle();
  for (const char letter : fmt::format("{:05}", 17 + round)) screens.type(letter);
  out.search = seconds_of([&] { screens.frame(); });
  screens.settle();
  return out;
}

double memory_with_one_open(const Setting& setting, const std::filesystem::path& file) {
  Child child({setting.program.string(), "drive", "--shop", file.string()});
  child.say(fmt::format(R"({{"do":"status","build":"{}"}})", build_number(1)));
  if (!child.line(600)) throw std::runtime_error("the large shop is not read");
  return child.memory();
}

} // namespace

std::vector<Row> large_shop(const Setting& setting) {
  const int builds = setting.rounds(2000, 200);
  const auto file = setting.folder / "large.shop";
  make_shop(file, {{build_number(0), steps_of_300_events, steps_of_300_events, true}});
  fill_shop(file, build_number(0), 1, builds);
  const std::string shop = fmt::format("shop of {} builds, {} events: ", grouped(builds), grouped(300 * builds));
  record::Session session = session_on(file);
  std::vector<double> lists;
  std::vector<double> searches;
  std::vector<double> opens;
  const double reading = seconds_of([&] { session_on(file); });
  {
    Screens screens(std::move(session));
    for (int round = 0; round < setting.rounds(9, 5); ++round) {
      const Looked looked = look(screens, round);
      lists.push_back(looked.list);
      searches.push_back(looked.search);
      opens.push_back(seconds_of([&] { screens.open(build_number(100 + round)); }));
    }
  }
  Row read = alone(shop + "read when the program starts", reading);
  return {alone(shop + "list", median(lists), a_blink), alone(shop + "search", median(searches), a_blink),
          alone(shop + "open one", median(opens), a_blink),
          alone(shop + "memory", memory_with_one_open(setting, file), 200e6, Unit::bytes), read};
}

} // namespace speed
