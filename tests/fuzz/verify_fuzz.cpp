// A record from a stranger: "ROW BODY" puts another body into one event of a real record, with every hash made right
// again, and "ROW+EVENT" another event whole. The verifier says what differs, or that it is intact; it never stumbles,
// and a change before a signature of the same chain is never called intact.
#include "fuzz/kept_shop.h"
#include "record/seal.h"
#include "record/verify.h"
#include "json/read.h"
#include "json/write.h"

#include <algorithm>
#include <cstdint>

namespace {

void rehash(std::vector<build::Event>& events) {
  std::map<std::string, record::Head> heads;
  for (auto& event : events) {
    auto& head = heads.emplace(event.chain, record::Head{0, record::no_hash}).first->second;
    event.seq = head.seq + 1;
    event.previous = head.hash;
    try {
      event.hash = record::hash_of(event);
    } catch (const std::logic_error&) {
      event.hash.clear(); // it has no canonical form
    }
    head = {event.seq, event.hash};
  }
}

bool signed_after(const std::vector<build::Event>& events, std::size_t row) {
  return std::any_of(events.begin() + static_cast<std::ptrdiff_t>(row) + 1, events.end(),
                     [&](const auto& event) { return event.chain == events[row].chain && !event.signature.empty(); });
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  std::size_t row = 0, at = 0;
  while (at < text.size() && at < 4 && text[at] >= '0' && text[at] <= '9')
    row = row * 10 + static_cast<std::size_t>(text[at++] - '0');
  if (at >= text.size()) return 0;
  const auto value = json::read_one(text.substr(at + 1));
  if (!value) return 0;
  const auto& kept = kept_shop();
  std::vector<build::Event> events(kept.events.begin(),
                                   kept.events.begin() + static_cast<std::ptrdiff_t>(kept.events.size() / 2));
  row %= events.size();
  const bool settled = signed_after(events, row);
  auto& changed = events[row];
  if (text[at] == '+') {
    auto event = build::event_from_json(*value);
    if (!event) return 0;
    changed = std::move(*event);
  } else {
    changed.body = *value;
  }
  rehash(events);
  const auto report = record::verify_events(events,
                                            [&](std::string_view sha256) -> record::Result<std::optional<std::string>> {
                                              const auto it = kept.blobs.find(sha256);
                                              return it == kept.blobs.end() ? std::optional<std::string>()
                                                                            : std::optional<std::string>(it->second);
                                            },
                                            {});
  if (report.intact == !report.fault.empty()) std::abort();
  if (report.intact && settled && events[row].hash != kept.events[row].hash) std::abort();
  return 0;
}
