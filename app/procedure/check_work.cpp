// Work offered to be done by a machine shop: its parts, the limits it must come back within, and where its sizes come
// from.
#include "procedure/check.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>

namespace procedure {

using json::shown;

namespace {

void check_sizes(const Index& index, Notes& notes, const OfferedWork& work, const std::string& owner) {
  if (work.sizes_entry.empty()) return;
  const std::string what = fmt::format("machine work {}", shown(work.id));
  const std::string place = work.sizes_step + "/" + work.sizes_entry;
  const Entry* entry = index.entry(work.sizes_step, work.sizes_entry);
  if (!entry || !entry->computation) {
    notes.error(owner + "/sizes/entry", fmt::format("{}: there is no calculated entry {}", what, shown(place)));
    return;
  }
  for (const auto& [key, name] : {std::pair("low", work.low), std::pair("high", work.high)}) {
    if (name.empty()) continue; // told when it was read
    const auto& results = entry->computation->results;
    const bool there =
        std::any_of(results.begin(), results.end(), [&, wanted = std::string_view(name)](const auto& it) {
          return it.name == wanted && it.kind == calc::ResultKind::quantity;
        });
    if (!there)
      notes.error(fmt::format("{}/sizes/{}", owner, key),
                  fmt::format("{}: {} has no size {}", what, entry->computation->name, shown(name)));
  }
}

} // namespace

void check_machine_work(const Index& index, Notes& notes) {
  const auto& all = index.procedure().machine_work;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const std::string owner = fmt::format("/machine-work/{}", i);
    for (std::size_t p = 0; p < all[i].parts.size(); ++p)
      if (!index.procedure().part(all[i].parts[p]))
        notes.error(fmt::format("{}/parts/{}", owner, p),
                    fmt::format("machine work {}: there is no part {}", shown(all[i].id), shown(all[i].parts[p])));
    for (std::size_t l = 0; l < all[i].limits.size(); ++l)
      if (!index.procedure().limit(all[i].limits[l]))
        notes.error(fmt::format("{}/limits/{}", owner, l),
                    fmt::format("machine work {}: there is no limit {}", shown(all[i].id), shown(all[i].limits[l])));
    check_sizes(index, notes, all[i], owner);
  }
}

} // namespace procedure
