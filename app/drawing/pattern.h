// The fasteners of a joint drawn to scale from their places, as whoever tightens sees them: each a hexagon on its face,
// with its number in the order beside it and its name beneath. A filled hexagon has the stage at work, an empty one
// has not; through all stages is a painted stripe across hexagon and face. An arrow points at the next.
#pragma once

#include "build/tightening.h"
#include "drawing/figure.h"

#include <optional>

namespace drawing {

enum class Done { not_yet, this_stage, all_stages };

struct Spot {
  std::string name;
  std::optional<Point> at; // mm, y upwards
  Done done = Done::not_yet;
  std::string trouble; // what is wrong with it, in a word or two; "" nothing
};

// A joint as it stands. Without places, its fasteners are laid out in rows.
struct Joint {
  std::vector<Spot> spots; // in the order of tightening
  std::vector<Point> outline;
  bool worked_out = false; // the order is not the maker's
  std::optional<std::size_t> next;
  std::optional<std::size_t> last_sure; // when asked about after an interruption: then nothing is next
};

// `asks`: the work was interrupted, and whether the last one is sure must be said first.
Joint joint(const build::Build& build, build::EntryAt at, bool asks);

// "Next: seven of ten, 4R"
std::string headline(const Joint& joint);

Figure pattern(const Joint& joint, Room room);

} // namespace drawing
