// What a person types as a quantity: whatever it is, it is refused with a sentence, or understood; and what the record
// writes of it reads back as the same number.
#include "quantity/typed.h"

#include <cstdint>
#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  for (const char* name : {"mm", "in", "N.m", "deg", "min", "kPa"}) {
    const auto* unit = quantity::find_unit(name);
    if (!unit) std::abort();
    const auto typed = quantity::parse_typed(text, *unit);
    if (!typed && typed.error().message.empty()) std::abort();
    if (!typed) continue;
    const auto back = quantity::Exact::written(typed->value.text());
    if (!back || *back != typed->value) std::abort();
    if (typed->unit->dimension != unit->dimension) std::abort();
    if (!quantity::in_unit(*typed, *unit)) std::abort();
  }
  return 0;
}
