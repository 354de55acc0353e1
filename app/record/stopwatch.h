// How long something has taken, by the machine's even clock; never part of a record.
#pragma once

#include <chrono>

namespace record {

class Stopwatch {
public:
  void begin() { began_ = std::chrono::steady_clock::now(); }
  double seconds() const { return std::chrono::duration<double>(std::chrono::steady_clock::now() - began_).count(); }

private:
  std::chrono::steady_clock::time_point began_ = std::chrono::steady_clock::now();
};

} // namespace record
