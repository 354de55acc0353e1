// Work on all cores at once: each piece by itself, in any order, so that the outcome is the same on any machine.
#pragma once

#include <cstddef>
#include <functional>
#include <memory>

namespace record {

// `work` for each number below `count`. When some throw, what the one with the lowest number threw is thrown again
// once all are done.
void in_parallel(std::size_t count, const std::function<void(std::size_t)>& work);

// What is handed in is done by other cores while the caller goes on. On a machine of one core, when it is asked for.
class Aside {
public:
  Aside();
  ~Aside(); // what was not done by then is left
  Aside(const Aside&) = delete;
  Aside& operator=(const Aside&) = delete;
  void hand_in(std::function<bool()> work);
  bool all_good(); // helps until everything handed in is done; whether all of it came out true

private:
  struct State;
  std::unique_ptr<State> state_;
};

} // namespace record
