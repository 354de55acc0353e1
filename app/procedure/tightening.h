// What a tightening entry asks: which fasteners, in which order, by which stages, and what is known of the bolts.
#pragma once

#include "quantity/exact.h"

#include <optional>
#include <string>
#include <vector>

namespace procedure {

// A place on the joint's face, in mm, as seen by whoever tightens: x to the right, y upwards.
struct Place {
  quantity::Exact x;
  quantity::Exact y;
};

struct Fastener {
  std::string id;
  std::string position; // of the step, "" when it belongs to all of it
  std::optional<Place> at;
};

enum class StageKind {
  torque,  // to a torque
  angle,   // onwards from where it stands
  stretch, // until it has grown by so much
  check,   // torque read as it stands; nothing is meant to turn
  loosen,  // let go again before the next stage
  mark,    // a line across head and face, for the angle that follows
  wait     // this long from the last fastener of the stage before
};

// One statement for all fasteners, gone round in order; or each fastener by itself.
enum class By { stage, fastener };

// When an angle or stretch came out above its window: from the beginning with the same bolt, or with a new one.
enum class Beyond { loosen, replace };

struct Stage {
  std::string id;
  StageKind kind = StageKind::torque;
  std::string limit; // torque, angle, stretch, check
  std::string text;  // loosen, mark: how
  By by = By::stage;
  Beyond beyond = Beyond::loosen;
  bool prevailing = false;                // the torque that turns a self-locking nut before it seats is added
  bool slot = false;                      // a castle nut: from low on to the next slot, not beyond high
  std::optional<quantity::Exact> seconds; // wait
};
bool has_limit(StageKind kind);

enum class Lubrication { dry, oiled, paste, sealant };

// What is the same of every bolt of the joint. Lengths in mm.
struct Bolt {
  quantity::Exact diameter;
  quantity::Exact pitch;
  std::string strength; // property class of ISO 898-1 ("8.8", "10.9", "12.9"), or ""
  Lubrication lubrication = Lubrication::dry;
  std::optional<quantity::Exact> head_diameter; // mean diameter of the face it turns on
  std::optional<int> uses;                      // how often it may be tightened; 1: never again
  std::string length;                           // limit of a used bolt's length (or of its neck), or ""
  bool structural = false;                      // holds the engine together, not a cover
};
std::string thread_text(const Bolt& bolt); // "M10 x 1.25"

} // namespace procedure
