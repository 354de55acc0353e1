// Lines through measured points of a line and planes through those of a face: the least-squares one, and the two
// parallel ones with the least room between them that hold every point (the minimum zone of ISO 1101). Heights are
// taken along their own axis, not square to the plane. All of it is exact, however the points lie: repeated, in a
// grid, in one plane, far apart or close together.
#pragma once

#include "quantity/exact.h"

#include <cstddef>
#include <optional>
#include <vector>

namespace calc {

using quantity::Exact;

// A measured point. Over a line its place has one coordinate, over a face two; all points of one call alike.
struct Spot {
  std::vector<Exact> place;
  Exact height;
};

// height = at_origin + slopes . place
struct Datum {
  Exact at_origin;
  std::vector<Exact> slopes;
};

// The sum of the squares of what it leaves is the least; Draper and Smith or any text on regression, solved from the
// normal equations. None when it does not exist: all places in one spot, or those of a face in one line.
std::optional<Datum> least_squares(const std::vector<Spot>& spots);

// What is highest and lowest above a datum of these slopes (wherever it starts), and how far they are apart. Of equals
// the first.
struct Extremes {
  std::size_t high = 0;
  std::size_t low = 0;
  Exact range;
};
Extremes extremes(const std::vector<Spot>& spots, const std::vector<Exact>& slopes);

// A point that holds the zone from growing smaller. The weights of the high ones make 1, as do those of the low ones,
// and both weigh out to one and the same place: three against one, two against two across, or two against one between.
struct Contact {
  std::size_t spot = 0;
  bool high = false;
  Exact weight; // > 0
};

// Proof that no other zone is smaller: every spot lies from `lower` up to `lower` + range, and the contacts' weighted
// heights, high less low, which no slope alters, make that same range.
struct Zone {
  Exact range;
  Datum lower;
  std::vector<Contact> contacts;
};

// Wants places that least_squares() takes; else std::logic_error.
Zone minimum_zone(const std::vector<Spot>& spots);

} // namespace calc
