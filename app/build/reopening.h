// What a joint taken apart, or a part remade, takes along: steps that lose their signatures, entries that are lost or
// ask whether they are still true.
#pragma once

#include "build/follow.h"

#include <map>
#include <set>

namespace build {

class Reopening {
public:
  explicit Reopening(const Build& build) : build_(build) {}

  // The step at these positions (empty: all of it), and every step that rests on it.
  void take(std::size_t step, const std::set<std::size_t>& positions);

  // The entry is lost at these positions, whatever taking apart does to it elsewhere.
  void lose(EntryAt at, const std::set<std::size_t>& positions);

  // As an event holds it: [{step, positions, entries: [{entry, does, places}], taken_out}]. `lost`: what is to be
  // worked out anew.
  json::Value list(std::vector<Changed>& lost) const;

private:
  void add_entry(EntryAt at, const std::set<std::size_t>& positions, json::Value& entries,
                 std::vector<Changed>& lost) const;

  const Build& build_;
  std::map<std::size_t, std::set<std::size_t>> taken_;
  std::map<EntryAt, std::set<std::size_t>> lost_;
};

// Filled cells, positions or fasteners of an entry at these positions of its step (empty: all); [0] for the other
// kinds.
std::vector<std::size_t> filled_places(const Build& build, EntryAt at, const std::set<std::size_t>& positions);

} // namespace build
