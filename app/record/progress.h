// How far something long has come, told to whoever waits for it; they may stop it where that leaves nothing behind.
#pragma once

#include "quantity/result.h"

#include <functional>
#include <string_view>
#include <utility>

namespace record {

class Progress {
public:
  // What is being done, how much of it is done, and of how much (0: not known). False: stop.
  using Tell = std::function<bool(std::string_view what, std::size_t done, std::size_t of)>;

  Progress() = default;
  explicit Progress(Tell tell) : tell_(std::move(tell)) {}

  // False once it was asked to stop; it stays so.
  bool goes_on(std::string_view what, std::size_t done = 0, std::size_t of = 0) const {
    stopped_ = stopped_ || (tell_ && !tell_(what, done, of));
    return !stopped_;
  }
  bool stopped() const { return stopped_; }

private:
  Tell tell_;
  mutable bool stopped_ = false;
};

inline quantity::Error stopped() {
  return {"stopped", "Stopped; nothing was written."};
}

} // namespace record
