// What a person waits for while recording and signing.
#include "speed/floor.h"
#include "speed/rows.h"

#include <fmt/format.h>

namespace speed {

namespace {

constexpr double syncs = 50e-6; // s: what is put on a disk faster than this was not put there
constexpr int shown_apart = 500;

std::vector<double> part(const std::vector<double>& of, std::size_t from, std::size_t count) {
  const auto begin = of.begin() + static_cast<std::ptrdiff_t>(from);
  return {begin, begin + static_cast<std::ptrdiff_t>(count)};
}

Row on_this_disk(Row row) {
  if (*row.floor >= syncs) return row;
  row.judged = false;
  row.note = "this disk does not sync";
  return row;
}

// What the actions of a step put into the file, from a shop in which they were done before: while times are taken
// nothing else looks at the file.
struct Written {
  std::string record;
  std::string sign; // with the shop's note of it
};

std::vector<Written> written(const Setting& setting, int steps) {
  const auto file = setting.folder / "before.shop";
  Player player(file);
  player.open_build("long", steps);
  std::vector<Written> out;
  for (int step = 0; step < steps; ++step) {
    const auto lines = actions_of("long", step);
    Written its;
    for (const std::string& line : lines) {
      player.perform(line);
      if (&line == &lines.front()) its.record = newest_rows(file, 1);
    }
    its.sign = newest_rows(file, 2);
    out.push_back(std::move(its));
  }
  return out;
}

// Some of what is done is done again by the libraries alone, right after it.
struct Beside {
  explicit Beside(const Folder& folder) : table(folder / "plain.db") {}
  PlainTable table;
  PlainKey key;
  std::vector<double> records, plain_records, signs, plain_signs;
};

} // namespace

std::vector<Row> recording(const Setting& setting) {
  const int steps = setting.rounds(1250, 500);
  const int in_pairs = setting.rounds(500, 250); // steps
  const auto texts = written(setting, in_pairs);
  Player player(setting.folder / "actions.shop");
  player.open_build("long", steps);
  Beside beside(setting.folder);
  std::vector<double> all;
  for (int step = 0; step < steps; ++step) {
    const auto lines = actions_of("long", step);
    for (const std::string& line : lines) {
      all.push_back(seconds_of([&] { player.perform(line); }));
      if (step >= in_pairs) continue;
      const Written& its = texts[static_cast<std::size_t>(step)];
      if (&line == &lines.front()) {
        beside.records.push_back(all.back());
        beside.plain_records.push_back(seconds_of([&] { beside.table.insert(its.record); }));
      } else if (&line == &lines.back()) {
        beside.signs.push_back(all.back());
        beside.plain_signs.push_back(seconds_of([&] {
          beside.key.sign(its.sign);
          beside.table.insert(its.sign);
        }));
      }
    }
  }
  const double first = median(part(all, 0, shown_apart));
  const double last = median(part(all, all.size() - shown_apart, shown_apart));
  return {on_this_disk(difference("record one unsigned reading, durable",
                                  of_pairs(beside.records, beside.plain_records), 80e-6)),
          on_this_disk(
              difference("sign a step within the work period", of_pairs(beside.signs, beside.plain_signs), 150e-6)),
          ratio(fmt::format("{} actions in one build: the last 500 against the first 500",
                            grouped(static_cast<int>(all.size()))),
                {last, first, last / first, last - first}, 1.2)};
}

} // namespace speed
