#include "record/parallel.h"

#include <algorithm>
#include <atomic>
#include <condition_variable>
#include <deque>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace record {

namespace {

constexpr std::size_t at_once = 16; // pieces taken together, so that cores do not wait for one another
constexpr unsigned most_cores = 8;

unsigned cores() {
  return std::clamp(std::thread::hardware_concurrency(), 1u, most_cores);
}

} // namespace

void in_parallel(std::size_t count, const std::function<void(std::size_t)>& work) {
  std::atomic<std::size_t> next = 0;
  std::mutex lock;
  std::exception_ptr thrown;
  std::size_t thrown_by = count;
  const auto take = [&] {
    for (std::size_t from = next.fetch_add(at_once); from < count; from = next.fetch_add(at_once))
      for (std::size_t i = from; i < std::min(from + at_once, count); ++i) {
        try {
          work(i);
        } catch (...) {
          const std::lock_guard guard(lock);
          if (i < thrown_by) thrown = std::current_exception();
          thrown_by = std::min(thrown_by, i);
        }
      }
  };
  std::vector<std::thread> others;
  if (count > at_once)
    for (unsigned core = 1; core < cores(); ++core) others.emplace_back(take);
  take();
  for (auto& other : others) other.join();
  if (thrown) std::rethrow_exception(thrown);
}

struct Aside::State {
  std::mutex lock;
  std::condition_variable changed;
  std::deque<std::function<bool()>> waiting;
  std::size_t under_way = 0;
  bool closing = false;
  bool good = true;
  std::vector<std::thread> others;

  // With the lock held; it is open while the work is done.
  void do_one(std::unique_lock<std::mutex>& guard) {
    const auto work = std::move(waiting.front());
    waiting.pop_front();
    ++under_way;
    guard.unlock();
    const bool came_out = work();
    guard.lock();
    good = good && came_out;
    --under_way;
    changed.notify_all();
  }

  void work() {
    std::unique_lock guard(lock);
    while (true) {
      changed.wait(guard, [this] { return closing || !waiting.empty(); });
      if (closing) return;
      do_one(guard);
    }
  }
};

Aside::Aside() : state_(std::make_unique<State>()) {
  for (unsigned core = 1; core < cores(); ++core) state_->others.emplace_back([this] { state_->work(); });
}

Aside::~Aside() {
  {
    const std::lock_guard guard(state_->lock);
    state_->closing = true;
  }
  state_->changed.notify_all();
  for (auto& other : state_->others) other.join();
}

void Aside::hand_in(std::function<bool()> work) {
  {
    const std::lock_guard guard(state_->lock);
    state_->waiting.push_back(std::move(work));
  }
  state_->changed.notify_one();
}

bool Aside::all_good() {
  std::unique_lock guard(state_->lock);
  while (!state_->waiting.empty()) state_->do_one(guard);
  state_->changed.wait(guard, [this] { return state_->under_way == 0; });
  return state_->good;
}

} // namespace record
