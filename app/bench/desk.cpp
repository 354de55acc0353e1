#include "bench/desk.h"

#include "bench/handing_over.h"

#include <algorithm>

namespace bench {

Desk::Desk(record::Session session, std::function<void()> wake)
    : session_(std::move(session)), shop_file_(session_.path()), wake_(std::move(wake)) {
  copy_state();
  if (wake_) worker_ = std::thread([this] { work(); });
}

Desk::~Desk() {
  {
    const std::lock_guard guard(lock_);
    stopping_ = true;
  }
  there_is_work_.notify_all();
  if (worker_.joinable()) worker_.join();
}

void Desk::post(json::Value action) {
  if (!wake_) {
    json::Value answer = perform(action);
    answered_.push_back({std::move(action), std::move(answer)});
    copy_state();
    return;
  }
  {
    const std::lock_guard guard(lock_);
    waiting_.push_back(std::move(action));
  }
  there_is_work_.notify_one();
}

json::Value Desk::perform(const json::Value& action) {
  const std::string name = action.text_or_empty("do");
  if (name == "handover") return hand_over(shop_file_, action, session_.now());
  return name == "print-order" ? print_order(shop_file_, action) : session_.perform(action);
}

void Desk::work() {
  std::unique_lock guard(lock_);
  while (true) {
    there_is_work_.wait(guard, [this] { return stopping_ || !waiting_.empty(); });
    if (waiting_.empty()) return;
    json::Value action = std::move(waiting_.front());
    waiting_.pop_front();
    working_ = true;
    guard.unlock(); // `working_` keeps look() and open() away from the session meanwhile
    json::Value answer = perform(action);
    guard.lock();
    working_ = false;
    answered_.push_back({std::move(action), std::move(answer)});
    wake_();
  }
}

std::optional<Answered> Desk::take_answer() {
  const std::lock_guard guard(lock_);
  if (answered_.empty()) return std::nullopt;
  Answered out = std::move(answered_.front());
  answered_.pop_front();
  if (!working_) copy_state();
  return out;
}

bool Desk::busy() const {
  const std::lock_guard guard(lock_);
  return working_ || !waiting_.empty();
}

bool Desk::look() {
  const std::lock_guard guard(lock_);
  if (working_) return false;
  const auto fresh = session_.refresh();
  const bool changed = fresh && *fresh;
  if (changed) copy_state();
  return changed || !answered_.empty();
}

void Desk::open(const std::string& build_id) {
  const std::lock_guard guard(lock_);
  open_id_ = build_id;
  if (!working_) copy_state();
}

void Desk::copy_state() {
  shop_ = session_.shop();
  signed_in_ = session_.signed_in() ? std::optional(*session_.signed_in()) : std::nullopt;
  build_.reset();
  if (open_id_.empty()) {
    log_.clear();
    return;
  }
  if (const auto its = session_.build(open_id_)) build_ = **its;
  const std::int64_t seen = log_.empty() || log_.front().chain != build::chain_of_build(open_id_) ? 0 : log_.back().seq;
  if (seen == 0) log_.clear();
  if (auto more = session_.events(open_id_, seen)) std::move(more->begin(), more->end(), std::back_inserter(log_));
}

std::vector<std::string> Desk::builds() const {
  std::vector<std::string> out;
  for (const auto& [id, opened] : shop_.builds) out.push_back(id);
  return out;
}

std::optional<quantity::Result<std::string>> Desk::photograph(const std::string& sha256) const {
  const std::lock_guard guard(lock_);
  if (working_) return std::nullopt;
  return session_.photograph(sha256);
}

calc::Moment Desk::now() const {
  return session_.now();
}

} // namespace bench
