// Between the screens and the record: actions go in, answers come out, and the screens look at copies of the state that
// nobody changes under them. Work that takes time (a passphrase costs about 100 ms) is done off the frame loop.
#pragma once

#include "record/session.h"

#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>

namespace bench {

struct Answered {
  json::Value action;
  json::Value answer;
  bool ok() const { return answer.at("ok").as_boolean(); }
  std::string message() const { return answer.text_or_empty("message"); }
};

class Desk {
public:
  // `wake` is called from another thread when an answer is there. Without it everything is done at once, in `post`.
  Desk(record::Session session, std::function<void()> wake);
  ~Desk();
  Desk(const Desk&) = delete;
  Desk& operator=(const Desk&) = delete;

  void post(json::Value action);
  std::optional<Answered> take_answer();
  bool busy() const; // an action is under way

  // Takes in what other processes have written; true when there was something or an answer waits. Never blocks on work
  // under way.
  bool look();

  // Copies as of the newest answer or look.
  const build::Shop& shop() const { return shop_; }
  const build::Build* build() const { return build_ ? &*build_ : nullptr; } // the one that is open
  const std::optional<build::Actor>& signed_in() const { return signed_in_; }
  const std::vector<record::Event>& log() const { return log_; } // of the open build, oldest first
  std::vector<std::string> builds() const;                       // ids of all builds of the shop
  // A photograph as it is kept; nothing while an action is under way.
  std::optional<quantity::Result<std::string>> photograph(const std::string& sha256) const;
  calc::Moment now() const;
  const std::filesystem::path& shop_file() const { return shop_file_; }

  void open(const std::string& build_id); // "" closes

private:
  void work();
  json::Value perform(const json::Value& action); // by the session; what is printed, beside it
  void copy_state();                              // with the lock held
  record::Session session_;
  std::filesystem::path shop_file_;
  std::function<void()> wake_;
  mutable std::mutex lock_;
  std::condition_variable there_is_work_;
  std::deque<json::Value> waiting_;
  std::deque<Answered> answered_;
  bool working_ = false;
  bool stopping_ = false;
  std::string open_id_;
  build::Shop shop_;
  std::optional<build::Build> build_;
  std::optional<build::Actor> signed_in_;
  std::vector<record::Event> log_;
  std::thread worker_;
};

} // namespace bench
