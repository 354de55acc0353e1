// One action, one event, one transaction: a session on a shop file. It authenticates, reads what others have written,
// asks the gate (build/decide.h), seals, commits with fsync, and only then answers. Keys of whoever is signed in live
// here and nowhere else.
#pragma once

#include "build/decide.h"
#include "record/keys.h"
#include "record/progress.h"
#include "record/store.h"

#include <functional>
#include <map>

namespace record {

struct SessionOptions {
  bool practice = false;                    // a shop made here is a practice shop
  std::function<calc::Moment()> clock = {}; // the machine's clock when empty
};

calc::Moment machine_clock();

class Session {
public:
  // A file that is not there yet is made by the first `enrol`. Errors as Store::open, and "not-practice" when a
  // practice session is asked for on a shop that is none.
  static Result<Session> open(std::filesystem::path path, SessionOptions options);
  Session(Session&&) noexcept;
  Session& operator=(Session&&) noexcept;
  ~Session();

  // One action line and its answer, as JSON. Never throws for what a line says; nothing changes on a refusal.
  json::Value perform(const json::Value& action);
  std::string answer(std::string_view line); // "not-json" and "unknown-action" are answered too

  // Takes in what other processes have written since. True when there was something.
  Result<bool> refresh();

  const std::filesystem::path& path() const;
  const SessionOptions& options() const;
  const build::Shop& shop() const;
  // Codes "unknown-build", "stopped".
  Result<const build::Build*> build(std::string_view id, const Progress& progress = {});
  // A copy of a build as it stands, which is not kept here afterwards unless it was before. Code "unknown-build".
  Result<build::Build> look_at(std::string_view id);
  Result<std::vector<std::string>> newest_first() const; // ids of all builds, by their newest event
  Result<std::vector<Event>> events(std::string_view build_id, std::int64_t since) const; // seq > since
  Result<std::string> photograph(const std::string& sha256) const; // its bytes; code "no-photograph"
  const build::Actor* signed_in() const;                           // null when nobody is
  calc::Moment now() const;                                        // by the session's clock

private:
  struct State;
  explicit Session(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

} // namespace record
