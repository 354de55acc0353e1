#include "drawing/engine.h"

#include "build/blockers.h"

#include <algorithm>

namespace drawing {

namespace {

constexpr double width = 100;
constexpr double height = 200;

// Half the engine's width at a height from the bottom (0 to 1): sump, crankcase, block, head, cover.
double half_width(double up) {
  struct Knee {
    double up, half;
  };
  constexpr Knee knees[] = {{0.00, 20}, {0.12, 26}, {0.16, 42}, {0.36, 42}, {0.44, 32},
                            {0.70, 32}, {0.71, 36}, {0.86, 36}, {0.87, 26}, {1.00, 22}};
  const Knee* before = knees;
  for (const auto& knee : knees) {
    if (knee.up >= up) {
      const double span = knee.up - before->up;
      return span > 0 ? before->half + (knee.half - before->half) * (up - before->up) / span : knee.half;
    }
    before = &knee;
  }
  return before->half;
}

Polygon band_between(double from, double to) {
  constexpr int slices = 12;
  Polygon band;
  for (int i = 0; i <= slices; ++i) {
    const double up = from + (to - from) * i / slices;
    band.points.push_back({width / 2 - half_width(up), height - up * height});
  }
  for (int i = slices; i >= 0; --i) {
    const double up = from + (to - from) * i / slices;
    band.points.push_back({width / 2 + half_width(up), height - up * height});
  }
  return band;
}

Line closed_line(const Polygon& band, Tone tone, double line_width) {
  Line line{band.points, tone, line_width};
  line.points.push_back(band.points.front());
  return line;
}

} // namespace

std::vector<Band> bands(const build::Build& build) {
  std::vector<Band> out;
  std::size_t step = 0;
  bool first_open = true;
  for (const auto& section : build.plan->procedure().sections) {
    bool any_here = false;
    bool all_signed = true;
    bool some = false;
    for (std::size_t s = 0; s < section.steps.size(); ++s, ++step) {
      const auto standing = build::standing_of(build, step);
      if (standing == build::StepStanding::not_on_this_engine) continue;
      any_here = true;
      const bool closed = standing == build::StepStanding::signed_off;
      all_signed = all_signed && closed;
      some = some || closed || standing == build::StepStanding::half_done ||
             standing == build::StepStanding::reopened || standing == build::StepStanding::wants_second;
    }
    if (!any_here) {
      out.push_back(Band::not_on_this_engine);
    } else if (all_signed) {
      out.push_back(Band::closed);
    } else {
      out.push_back(some || first_open ? Band::at_work : Band::not_yet);
      first_open = false;
    }
  }
  return out;
}

Figure engine(const std::vector<Band>& all) {
  Figure figure{width, height, {}, {}, {}};
  const auto count = std::max<std::size_t>(1, all.size());
  for (std::size_t b = 0; b < all.size(); ++b) {
    const double from = static_cast<double>(b) / static_cast<double>(count);
    const double to = static_cast<double>(b + 1) / static_cast<double>(count);
    Polygon band = band_between(from, to);
    if (all[b] == Band::not_on_this_engine) continue;
    if (all[b] == Band::closed) {
      figure.polygons.push_back(band);
      // the stripe: across the whole band, a little off the upright as a brush leaves it
      const double low = height - from * height;
      const double high = height - to * height;
      figure.lines.push_back({{{width / 2 + 7, low}, {width / 2 + 12, high}}, Tone::paint, 2.4});
    }
    const bool here = all[b] == Band::at_work;
    figure.lines.push_back(closed_line(band,
                                       all[b] == Band::not_yet ? Tone::faint
                                       : here                  ? Tone::here
                                                               : Tone::ink,
                                       here ? 1.8 : 0.72));
  }
  return figure;
}

} // namespace drawing
