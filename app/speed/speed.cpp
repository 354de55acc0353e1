#include "speed/speed.h"

#include "speed/rows.h"

#include <algorithm>
#include <thread>

namespace speed {

namespace {

constexpr int more_times = 4;

struct Group {
  std::string_view name;
  std::vector<Row> (*measure)(const Setting&);
};

constexpr Group groups[] = {{"recording", recording},   {"opening", opening},   {"verifying", verifying},
                            {"procedures", procedures}, {"blockers", standing}, {"large-shop", large_shop},
                            {"flatness", computing},    {"pages", pages},       {"frames", frames},
                            {"window", windows}};

struct Growing {
  std::string_view name;
  Growth (*measure)(const Setting&);
};

constexpr Growing growing[] = {{"opening", growth_of_opening},    {"verifying", growth_of_verifying},
                               {"procedures", growth_of_reading}, {"blockers", growth_of_blockers},
                               {"pages", growth_of_pages},        {"large-shop", growth_of_shops}};

bool steep(const Growth& growth) {
  return growth.grows() > steepest;
}

// Each time in a folder of its own.
template <typename Measure>
auto in_a_folder(const Wishes& wishes, Measure measure) {
  const Folder folder(wishes.folder);
  const unsigned cores = std::clamp(std::thread::hardware_concurrency(), 1u, 2u);
  return measure(Setting{folder, wishes.program, wishes.quick, cores});
}

std::vector<Row> rows_of(const Group& group, const Wishes& wishes) {
  std::vector<Row> rows = in_a_folder(wishes, group.measure);
  if (!wishes.again || std::ranges::none_of(rows, far_over)) return rows;
  std::vector<std::vector<Row>> all(rows.size());
  for (int time = 0; time <= more_times; ++time) {
    for (std::size_t i = 0; i < rows.size(); ++i) all[i].push_back(rows[i]);
    if (time < more_times) rows = in_a_folder(wishes, group.measure);
  }
  for (std::size_t i = 0; i < rows.size(); ++i) rows[i] = middle_of(std::move(all[i]));
  return rows;
}

Growth growth_of(const Growing& one, const Wishes& wishes) {
  std::vector<Growth> all = {in_a_folder(wishes, one.measure)};
  if (wishes.again && steep(all.front()))
    for (int time = 0; time < more_times; ++time) all.push_back(in_a_folder(wishes, one.measure));
  return middle_of(std::move(all));
}

} // namespace

Figures measure(const Wishes& wishes, const std::function<void(std::string_view)>& tell) {
  Figures out;
  for (const Group& group : groups) {
    if (!group.name.starts_with(wishes.only)) continue;
    tell(group.name);
    auto rows = rows_of(group, wishes);
    std::ranges::move(rows, std::back_inserter(out.rows));
  }
  if (wishes.growth)
    for (const Growing& one : growing) {
      if (!one.name.starts_with(wishes.only)) continue;
      tell(one.name);
      out.growths.push_back(growth_of(one, wishes));
    }
  out.far_over = std::ranges::any_of(out.rows, far_over) || std::ranges::any_of(out.growths, steep);
  return out;
}

} // namespace speed
