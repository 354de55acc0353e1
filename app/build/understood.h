// From what a gauge shows to the value understood: the size a comparator was set at is added, and what warmth adds to a
// length is taken out. Lengths at 20 degC: ISO 1.
#pragma once

#include "build/decision.h"

namespace build {

// What `set_at` and `set_with` say.
struct Setting {
  ComparatorSet set;
  int number = 0;                  // of the set the readings belong to
  Exact u;                         // of the size it was set at, in the entry's unit; 0 when nothing is known of it
  const Gauge* standard = nullptr; // what it was set on
  Trust trust;                     // in that
};

// Nothing when no "set_at" was given. `gauge`: what is measured with; null: nothing. The readings belong to the open
// set of this size and gauge, or to that of the one they correct (`cell`: the first given), else to a new one; a set
// that goes on was set on what it was set on, said again or not.
Result<std::optional<Setting>> asked_setting(const Case& it, EntryAt at, const Gauge* gauge, std::size_t cell);

// Code "implausible": a dial does not show that much.
Result<void> may_show(const ComparatorSet& set, const Exact& shown, const procedure::Entry& entry);

// What `part_at` and `gauge_at` say; nothing when neither was given.
Result<std::optional<Warmth>> asked_warmth(const Case& it, EntryAt at);

// The size at 20 degC, by the computation "temperature"; fills in `read` and `correction`. The U is that of what was
// taken out: a thermometer of the shop is believed to 1 K, a gauge of which nothing is said to 5 K about 20 degC, an
// expansion to a tenth of itself (common practice, no source).
Result<quantity::Quantity> take_to_20(Warmth& warmth, const Exact& read, const Unit& unit);

} // namespace build
