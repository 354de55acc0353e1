// A procedure from a stranger: refused with its faults, or read; and what was read reads again the same.
#include "procedure/reader.h"
#include "json/write.h"

#include <cstdint>
#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto reading = procedure::read_procedure(text);
  for (const auto& remark : reading.remarks)
    if (procedure::line_of(remark, "p.json").empty()) std::abort();
  if (!reading.procedure) return 0;
  const std::string whole = json::pretty(procedure::resolved(*reading.procedure));
  const auto again = procedure::read_procedure(whole);
  if (!again.procedure || json::pretty(procedure::resolved(*again.procedure)) != whole) std::abort();
  return 0;
}
