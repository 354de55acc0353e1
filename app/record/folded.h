// What has been read of a shop file so far, folded: the shop, and each build that was asked for.
#pragma once

#include "build/shop.h"
#include "build/state.h"
#include "record/progress.h"
#include "record/store.h"

#include <map>
#include <memory>
#include <optional>

namespace record {

Error unknown_build(std::string_view id);

struct Folded {
  build::Shop shop;
  std::map<std::string, build::Build, std::less<>> builds;
  std::int64_t newest_ms = 0; // time of the newest event seen
  int newest_rules = 0;       // of those events

  // Takes in what has been written since; true when there was something.
  Result<bool> take_in(const Store& store);
  // One event that follows what is here.
  Result<void> see(const Store& store, const Event& event);
  // A build of the shop, read when it was not yet. Codes "unknown-build", "stopped".
  Result<build::Build*> build(const Store& store, std::string_view id, const Progress& progress = {});
  // The plan of a procedure's bytes, kept by their hash. Code "bad-procedure".
  Result<std::shared_ptr<const build::Plan>> plan_from(const std::string& sha256, std::string_view bytes);

private:
  Result<bool> read_chain(const Store& store, std::string_view chain, std::int64_t since,
                          const Progress& progress = {});
  Result<std::shared_ptr<const build::Plan>> plan_of(const Store& store, const std::string& sha256);
  std::map<std::string, std::shared_ptr<const build::Plan>, std::less<>> plans_;
  std::optional<std::int64_t> seen_version_; // of the store, when everything in it was last taken in
};

// For `update-gauge` with found "out": every entry of every build measured with the gauge since it was last known to be
// good (`since`, else its calibration), as [{build, step, entry}]; null for any other action.
Result<json::Value> find_touched(const Store& store, const build::Shop& shop, const json::Value& action);

} // namespace record
