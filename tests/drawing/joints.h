// Joints to draw: heads with 10, 14 and 18 bolts, a row of main caps, a round cover; places invented.
#pragma once

#include "drawing/pattern.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace drawn {

using drawing::Done;
using drawing::Joint;
using drawing::Point;
using drawing::Spot;

// Names are those of the places, from the left and from the bottom; the order is given by `order`, by place.
inline Joint in_order(const std::vector<Spot>& places, const std::vector<std::size_t>& order) {
  Joint out;
  for (const auto place : order) out.spots.push_back(places.at(place));
  return out;
}

// So many columns and rows this far apart, in mm, from the middle outwards.
inline Joint head(int columns, int rows, double across, double up) {
  std::vector<Spot> places;
  for (int row = 0; row < rows; ++row)
    for (int column = 0; column < columns; ++column)
      places.push_back({std::string(1, static_cast<char>('A' + row)) + std::to_string(column + 1),
                        Point{column * across, row * up}, Done::not_yet, ""});
  std::vector<std::size_t> order(places.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  const double middle = (columns - 1) * across / 2;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return std::abs(places[a].at->x - middle) < std::abs(places[b].at->x - middle);
  });
  Joint out = in_order(places, order);
  const double edge = 45;
  const double right = (columns - 1) * across + edge;
  const double top = (rows - 1) * up + edge;
  out.outline = {{-edge, -edge}, {right, -edge}, {right, top}, {-edge, top}};
  return out;
}

inline Joint main_caps() {
  Joint out;
  for (const int cap : {3, 2, 4, 1, 5})
    for (const char side : {'L', 'R'})
      out.spots.push_back(
          {std::to_string(cap) + side, Point{(cap - 1) * 92.0, side == 'L' ? 42.0 : -42.0}, Done::not_yet, ""});
  return out;
}

inline Joint round_cover() {
  Joint out;
  for (const int place : {1, 5, 3, 7, 2, 6, 4, 8}) {
    const double angle = std::numbers::pi / 2 - (place - 1) * std::numbers::pi / 4;
    out.spots.push_back({std::to_string(place), Point{70 * std::cos(angle), 70 * std::sin(angle)}, Done::not_yet, ""});
  }
  for (int i = 0; i < 48; ++i)
    out.outline.push_back({90 * std::cos(i * std::numbers::pi / 24), 90 * std::sin(i * std::numbers::pi / 24)});
  return out;
}

inline Joint without_places() {
  Joint out;
  for (const char* name : {"1", "4", "2", "5", "3", "6"}) out.spots.push_back({name, std::nullopt, Done::not_yet, ""});
  return out;
}

// The first `count` have the stage at work, or all stages; the one behind them is next.
inline Joint done_so_far(Joint joint, std::size_t count, Done done) {
  for (std::size_t i = 0; i < count; ++i) joint.spots[i].done = done;
  if (count < joint.spots.size()) joint.next = count;
  return joint;
}

struct Named {
  const char* name;
  Joint joint;
};
inline std::vector<Named> all() {
  std::vector<Named> out = {{"head of ten", done_so_far(head(5, 2, 95, 110), 4, Done::this_stage)},
                            {"head of fourteen", done_so_far(head(7, 2, 70, 110), 9, Done::all_stages)},
                            {"head of eighteen", done_so_far(head(6, 3, 88, 78), 7, Done::all_stages)},
                            {"main caps", done_so_far(main_caps(), 3, Done::this_stage)},
                            {"round cover", done_so_far(round_cover(), 5, Done::all_stages)},
                            {"carrier without places", done_so_far(without_places(), 2, Done::all_stages)}};
  out[1].joint.spots[8].trouble = "too far";
  out[2].joint.worked_out = true;
  out[4].joint.next.reset();
  out[4].joint.last_sure = 4;
  return out;
}

} // namespace drawn
