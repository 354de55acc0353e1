// The events of the shop file that is kept for its format, and the bytes of its procedures: a real record to begin
// from.
#pragma once

#include "record/store.h"

#include <cstdlib>
#include <map>
#include <string>
#include <vector>

struct KeptShop {
  std::vector<build::Event> events; // as they were written
  std::map<std::string, std::string, std::less<>> blobs;
};

inline const KeptShop& kept_shop() {
  static const KeptShop shop = [] {
    const auto store = record::Store::open(std::string(PROJECT_FOLDER) + "/tests/record/kept/format-1.shop",
                                           record::Store::Mode::read_only);
    if (!store) std::abort();
    KeptShop out;
    out.events = *store->events_in_order();
    for (const auto& event : out.events)
      if (event.kind == "open-build" && event.chain != build::shop_chain) {
        const std::string sha256 = event.body.at("procedure").at("sha256").as_text();
        out.blobs[sha256] = **store->blob(sha256);
      }
    return out;
  }();
  return shop;
}
