// Ring gaps that let gas by or wear a ring: warnings, as every maker has a rule of his own. The angles are common
// practice, no source.
#include "procedure/check.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace procedure {

using json::shown;

namespace {

constexpr double apart = 60;           // between rings of neighbouring grooves
constexpr double apart_in_groove = 30; // between the parts of one oil ring
constexpr double near_pin = 15;
constexpr double near_thrust = 30;

bool is_known(const RingGap& ring) {
  return ring.angle >= 0 && ring.angle <= 360; // else it was told when it was read
}

} // namespace

void check_ring_gaps(const Index& index, Notes& notes) {
  index.each_entry([&](const EntryView& at) {
    if (!at.entry.ring_gaps) return;
    const RingGaps& gaps = *at.entry.ring_gaps;
    for (std::size_t i = 0; i < gaps.rings.size(); ++i) {
      const RingGap& ring = gaps.rings[i];
      if (!is_known(ring)) continue;
      const std::string pointer = fmt::format("{}/ring-gaps/rings/{}/angle", at.pointer, i);
      for (std::size_t j = 0; j < i; ++j) {
        const RingGap& above = gaps.rings[j];
        if (!is_known(above)) continue;
        const double found = between_angles(ring.angle, above.angle);
        if (ring.groove - above.groove > 1 || found >= (ring.groove == above.groove ? apart_in_groove : apart))
          continue;
        notes.warning("W17", pointer,
                      fmt::format("{}: the gap of {} is {:g} degrees from that of {}", at.what(), shown(ring.title),
                                  found, shown(above.title)));
      }
      const double to_pin = std::min(between_angles(ring.angle, gaps.pin), between_angles(ring.angle, gaps.pin + 180));
      if (to_pin < near_pin)
        notes.warning("W18", pointer,
                      fmt::format("{}: the gap of {} is in line with the pin", at.what(), shown(ring.title)));
      if (between_angles(ring.angle, gaps.thrust) < near_thrust)
        notes.warning("W18", pointer,
                      fmt::format("{}: the gap of {} is on the thrust side", at.what(), shown(ring.title)));
    }
  });
}

} // namespace procedure
