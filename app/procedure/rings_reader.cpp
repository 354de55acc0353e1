// Where the gaps of piston rings go.
#include "procedure/reading.h"

#include "json/utf8.h"

#include <algorithm>

namespace procedure {

using json::Fields;
using json::Value;

namespace {

constexpr std::int64_t most_grooves = 9;

double angle(Fields& fields, std::string_view key, bool required) {
  const auto given = fields.number(key, required);
  if (!given) return 0;
  if (given->sign() < 0 || *given > Exact(360)) fields.fault(key, fmt::format("\"{}\" must be 0 to 360 degrees", key));
  return given->to_double();
}

RingGap read_ring(const Value& item, const std::string& pointer, const std::vector<RingGap>& above, Faults& faults) {
  Fields fields(item, pointer, named("ring", item, "title"), faults);
  RingGap ring;
  ring.title = text_or_empty(fields, "title", true);
  const auto groove = fields.integer("groove");
  if (groove && (*groove < 1 || *groove > most_grooves))
    fields.fault("groove", fmt::format("\"groove\" must be 1, the one at the crown, to {}", most_grooves));
  ring.groove = groove ? static_cast<int>(std::clamp<std::int64_t>(*groove, 1, most_grooves)) : 1;
  ring.angle = angle(fields, "angle", true);
  if (!above.empty() && ring.groove < above.back().groove)
    fields.fault("groove", fmt::format("its groove lies above that of {}; list the rings from the crown down",
                                       json::shown(above.back().title)));
  if (std::any_of(above.begin(), above.end(), [&](const RingGap& one) { return one.title == ring.title; }))
    fields.fault("title", "is listed twice; each ring, and each part of an oil ring, has its own title");
  close(fields, "ring");
  return ring;
}

} // namespace

std::optional<RingGaps> read_ring_gaps(Fields& of, Faults& faults) {
  const Value* object = of.object("ring-gaps", false);
  if (!object) return std::nullopt;
  Fields fields(*object, of.pointer_to("ring-gaps"), of.what() + ", ring-gaps", faults);
  RingGaps gaps;
  gaps.mark = text_or_empty(fields, "mark", true);
  gaps.pin = angle(fields, "pin", false);
  gaps.thrust = angle(fields, "thrust", true);
  gaps.thrust_side = text_or_empty(fields, "thrust-side", true);
  each(fields, "rings", true, [&](const Value& item, const std::string& pointer) {
    gaps.rings.push_back(read_ring(item, pointer, gaps.rings, faults));
  });
  close(fields, "ring-gaps");
  return gaps;
}

} // namespace procedure
