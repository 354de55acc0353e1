// The pages of a handover against cairo writing the same lines of letters at the same places, and nothing else.
#include "speed/floor_pages.h"
#include "speed/rows.h"

#include "handover/make.h"

#include <fmt/format.h>

#include <stdexcept>

namespace speed {

namespace {

std::filesystem::path signed_steps(const Folder& folder, int steps) {
  auto file = folder / fmt::format("pages-{}.shop", steps);
  make_shop(file, {{"long", steps, steps}});
  return file;
}

void draw(const std::filesystem::path& file) {
  const auto pdf = handover::draft_of(file, "long");
  if (!pdf) throw std::runtime_error(pdf.error().message);
}

Row pages_of(const Setting& setting, int steps, int rounds) {
  const auto file = signed_steps(setting.folder, steps);
  const auto lines = lines_of([&] { draw(file); });
  return ratio(fmt::format("handover of {} steps", grouped(steps)),
               in_turn(
                   rounds, [&] { draw(file); }, [&] { write(lines); }),
               3);
}

} // namespace

std::vector<Row> pages(const Setting& setting) {
  return {pages_of(setting, 60, setting.rounds(11, 5)), pages_of(setting, 1000, setting.rounds(5, 3))};
}

Growth growth_of_pages(const Setting& setting) {
  Growth out{"pages of a handover", "steps", {60, 240, 960}, {}};
  for (const double steps : out.sizes) {
    const auto file = signed_steps(setting.folder, static_cast<int>(steps));
    out.seconds.push_back(median_of(3, [&] { draw(file); }));
  }
  return out;
}

} // namespace speed
