#include "bench/desk.h"

#include "bench/handing_over.h"

#include <algorithm>

namespace bench {

using json::Value;

namespace {

constexpr double between_two_tellings = 0.1; // s

Value refusal(const quantity::Error& error) {
  return Value::object(
      {{"ok", Value::boolean(false)}, {"error", Value::text(error.code)}, {"message", Value::text(error.message)}});
}

Value done(bool anything = true) {
  return Value::object({{"ok", Value::boolean(true)}, {"new", Value::boolean(anything)}});
}

// What nobody waits for.
template <typename Kind>
bool is_a_look(Kind kind) {
  return kind == Kind::looking || kind == Kind::looking_at;
}

} // namespace

Desk::Desk(record::Session session, std::function<void()> wake)
    : session_(std::move(session)), shop_file_(session_.path()), own_shop_(shop_file_),
      own_practice_(session_.options().practice), wake_(std::move(wake)) {
  show(copies_of(""));
  if (wake_) worker_ = std::thread([this] { work(); });
}

Desk::~Desk() {
  {
    const std::lock_guard guard(lock_);
    closing_ = true;
    stop_ = true;
  }
  there_is_work_.notify_all();
  if (worker_.joinable()) worker_.join();
}

// --- what is handed in -----------------------------------------------------------------------------------------------

Desk::Job Desk::job_of(Value action) {
  const std::string name = action.text_or_empty("do");
  if (name == "handover")
    return {action, "handing over", true, [this, action](const record::Progress& progress) {
              return hand_over(shop_file_, action, session_.now(), progress);
            }};
  if (name == "print-order")
    return {action, "writing the order's sheet", false,
            [this, action](const record::Progress&) { return print_order(shop_file_, action); }};
  const char* what = name == "sign-in" ? "unlocking the key" : "recording";
  Job out{action, what, false, {}};
  out.work = [this, action = std::move(action)](const record::Progress&) { return session_.perform(action); };
  return out;
}

Desk::Job Desk::opening(const std::string& build_id) {
  return {Value::object({{"do", Value::text("open")}, {"build", Value::text(build_id)}}), "reading the record", true,
          [this, build_id](const record::Progress& progress) { return opened(build_id, progress); },
          Job::Kind::opening};
}

Desk::Job Desk::looking() {
  return {Value(), "looking", false,
          [this](const record::Progress&) {
            const auto fresh = session_.refresh();
            return done(fresh && *fresh);
          },
          Job::Kind::looking};
}

Value Desk::opened(const std::string& build_id, const record::Progress& progress) {
  if (build_id.empty()) return done();
  const auto its = session_.build(build_id, progress);
  return its ? done() : refusal(its.error());
}

void Desk::post(Value action) {
  hand_in(job_of(std::move(action)));
}

void Desk::post(Value action, std::string what, bool may_stop, Work work) {
  hand_in({std::move(action), std::move(what), may_stop, std::move(work)});
}

void Desk::open(const std::string& build_id) {
  {
    const std::lock_guard guard(lock_);
    open_id_ = build_id;
  }
  hand_in(opening(build_id));
}

void Desk::hand_in(Job job) {
  if (!wake_) {
    Value answer = job.work({});
    finish(job, std::move(answer), copies_of(open_id_));
    return take_in();
  }
  {
    const std::lock_guard guard(lock_);
    if (job.kind == Job::Kind::opening) { // what is shown is of another build
      fresh_.reset();
      shown_.build.reset();
      log_.clear();
    }
    waiting_.push_back(std::move(job));
  }
  there_is_work_.notify_one();
}

// --- the worker ------------------------------------------------------------------------------------------------------

record::Progress Desk::progress_of(const Job& job) {
  const bool may_stop = job.may_stop;
  return record::Progress([this, may_stop](std::string_view what, std::size_t count, std::size_t of) {
    bool tells = false;
    {
      const std::lock_guard guard(lock_);
      going_.what = what;
      going_.done = count;
      going_.of = of;
      tells = since_told_.seconds() >= between_two_tellings;
      if (tells) since_told_.begin();
    }
    if (tells) wake_();
    return !(may_stop && stop_);
  });
}

void Desk::work() {
  std::unique_lock guard(lock_);
  while (true) {
    there_is_work_.wait(guard, [this] { return closing_ || !waiting_.empty(); });
    if (waiting_.empty()) return;
    Job job = std::move(waiting_.front());
    waiting_.pop_front();
    if (closing_ && job.kind != Job::Kind::action) continue;
    working_ = true;
    kind_ = job.kind;
    stop_ = closing_;
    going_ = {job.what, 0, 0, job.may_stop, false, 0};
    since_begun_.begin();
    since_told_.begin();
    guard.unlock(); // `working_` keeps everybody else away from the session meanwhile
    Value answer = job.work(progress_of(job));
    guard.lock();
    going_.may_stop = false;
    const std::string build_id = open_id_;
    const bool copies = !is_a_look(job.kind) || (job.kind == Job::Kind::looking && answer.at("new").as_boolean());
    guard.unlock();
    std::optional<Copies> fresh;
    if (job.kind == Job::Kind::opening) copied_id_.clear();
    if (copies) fresh = copies_of(build_id);
    guard.lock();
    working_ = false;
    if (build_id != open_id_) fresh.reset(); // another one is being opened
    finish(job, std::move(answer), std::move(fresh));
    it_is_done_.notify_all();
    if (copies || job.kind == Job::Kind::looking_at) wake_();
  }
}

void Desk::finish(Job& job, Value answer, std::optional<Copies> copies) {
  const bool refused = !answer.at("ok").as_boolean();
  const bool tells = job.kind == Job::Kind::action || (job.kind == Job::Kind::opening && refused);
  if (job.kind == Job::Kind::opening && refused && open_id_ == job.action.text_or_empty("build")) open_id_.clear();
  if (tells) answered_.push_back({std::move(job.action), std::move(answer)});
  if (!copies) return;
  if (fresh_ && !copies->anew) { // what was not taken in yet goes before it
    auto more = std::move(fresh_->more);
    std::ranges::move(copies->more, std::back_inserter(more));
    copies->more = std::move(more);
    copies->anew = fresh_->anew;
  }
  fresh_ = std::move(copies);
}

// Everything the screens look at. A copy of a build costs one pointer a step.
Desk::Copies Desk::copies_of(const std::string& build_id) {
  Copies out;
  out.shop = session_.shop();
  if (session_.signed_in()) out.signed_in = *session_.signed_in();
  out.anew = copied_id_ != build_id;
  if (out.anew) copied_seq_ = 0;
  copied_id_ = build_id;
  if (build_id.empty()) return out;
  const auto its = session_.build(build_id);
  if (!its) return out;
  out.build = **its;
  if (auto more = session_.events(build_id, copied_seq_)) out.more = std::move(*more);
  if (!out.more.empty()) copied_seq_ = out.more.back().seq;
  return out;
}

// --- what the frame loop asks for -----------------------------------------------------------------------------------

void Desk::show(Copies copies) {
  if (copies.anew) log_.clear();
  std::ranges::move(copies.more, std::back_inserter(log_));
  copies.more.clear();
  shown_ = std::move(copies);
  ++edition_;
}

void Desk::take_in() {
  std::optional<Copies> fresh;
  {
    const std::lock_guard guard(lock_);
    fresh = std::exchange(fresh_, std::nullopt);
  }
  if (fresh) show(std::move(*fresh));
}

std::optional<Answered> Desk::take_answer() {
  take_in();
  const std::lock_guard guard(lock_);
  if (answered_.empty()) return std::nullopt;
  Answered out = std::move(answered_.front());
  answered_.pop_front();
  return out;
}

bool Desk::busy() const {
  const std::lock_guard guard(lock_);
  const auto waits = [](const Job& job) { return !is_a_look(job.kind); };
  return (working_ && !is_a_look(kind_)) || std::ranges::any_of(waiting_, waits);
}

std::string Desk::wanted() const {
  const std::lock_guard guard(lock_);
  return open_id_;
}

bool Desk::settled() const {
  if (busy()) return false;
  const std::lock_guard guard(lock_);
  return answered_.empty();
}

std::optional<Going> Desk::going() const {
  const std::lock_guard guard(lock_);
  if (!working_ || is_a_look(kind_)) return std::nullopt;
  Going out = going_;
  out.is_stopping = stop_;
  out.seconds = since_begun_.seconds();
  return out;
}

void Desk::stop() {
  const std::lock_guard guard(lock_);
  if (working_ && going_.may_stop) stop_ = true;
}

bool Desk::look() {
  if (!wake_) {
    Job job = looking();
    const Value answer = job.work({});
    if (!answer.at("new").as_boolean()) return !answered_.empty();
    finish(job, answer, copies_of(open_id_));
    take_in();
    return true;
  }
  bool asks = false;
  bool something = false;
  {
    const std::lock_guard guard(lock_);
    asks = !working_ && waiting_.empty();
    if (asks) waiting_.push_back(looking());
    something = fresh_.has_value() || !answered_.empty();
  }
  if (asks) there_is_work_.notify_one();
  return something;
}

std::vector<std::string> Desk::builds() const {
  std::vector<std::string> out;
  for (const auto& [id, opened] : shop().builds) out.push_back(id);
  return out;
}

std::optional<std::vector<std::string>> Desk::newest_first() const {
  const std::lock_guard guard(lock_);
  if (working_) return std::nullopt;
  const auto all = session_.newest_first();
  if (!all) return std::vector<std::string>();
  std::vector<std::string> out = *all;
  std::erase_if(out, [&](const auto& id) { return !shop().builds.count(id); });
  return out;
}

template <typename T, typename Read>
std::optional<quantity::Result<T>> Desk::aside(Look<T>& look, const std::string& at, Read read) {
  if (!wake_) return read();
  {
    const std::lock_guard guard(lock_);
    if (look.at == at) {
      if (look.seen) look.at.clear();
      return std::exchange(look.seen, std::nullopt);
    }
    look.at = at;
    look.seen.reset();
    const auto work = [this, &look, at, read = std::move(read)](const record::Progress&) {
      auto seen = read();
      const std::lock_guard inner(lock_);
      if (look.at == at) look.seen = std::move(seen);
      return done();
    };
    waiting_.push_back({Value(), "looking", false, work, Job::Kind::looking_at});
  }
  there_is_work_.notify_one();
  return std::nullopt;
}

std::optional<quantity::Result<build::Build>> Desk::look_at(const std::string& build_id) {
  return aside(build_aside_, build_id, [this, build_id] { return session_.look_at(build_id); });
}

std::optional<quantity::Result<handover::Pixels>> Desk::photograph(const std::string& sha256, int longest) {
  return aside(photograph_aside_, sha256, [this, sha256, longest]() -> quantity::Result<handover::Pixels> {
    const auto bytes = session_.photograph(sha256);
    if (!bytes) return bytes.error();
    return handover::pixels_of(*bytes, longest);
  });
}

quantity::Result<void> Desk::turn_to(const std::filesystem::path& shop_file) {
  std::unique_lock guard(lock_);
  std::erase_if(waiting_, [](const Job& job) { return is_a_look(job.kind); });
  build_aside_ = {};
  photograph_aside_ = {};
  if (working_ && is_a_look(kind_)) it_is_done_.wait(guard, [this] { return !working_; });
  if (working_ || !waiting_.empty())
    return quantity::Error{"store-busy", "Something is still being written; try again in a moment."};
  record::SessionOptions options = session_.options();
  options.practice = own_practice_ && shop_file == own_shop_; // of a shop that would be made there
  auto other = record::Session::open(shop_file, std::move(options));
  if (!other) return other.error();
  session_ = std::move(*other);
  shop_file_ = shop_file;
  open_id_.clear();
  copied_id_.clear();
  fresh_.reset();
  Copies copies = copies_of("");
  copies.anew = true;
  guard.unlock();
  show(std::move(copies));
  return {};
}

calc::Moment Desk::now() const {
  return session_.now();
}

} // namespace bench
