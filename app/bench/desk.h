// Between the screens and the record: actions go in, answers come out, and the screens look at copies of the state that
// nobody changes under them. Whatever takes time is done off the frame loop: actions (a passphrase costs about 100 ms),
// opening a build, looking for what others have written, the pages of a handover. The copies are made there too.
#pragma once

#include "handover/scaled.h"
#include "record/progress.h"
#include "record/session.h"
#include "record/stopwatch.h"

#include <atomic>
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

// What is under way, for whoever waits.
struct Going {
  std::string what;         // "recording", "reading the record"
  std::size_t done = 0;     // of it
  std::size_t of = 0;       // 0: not known
  bool may_stop = false;    // nothing half done would be left
  bool is_stopping = false; // it was asked to
  double seconds = 0;       // since it began
};

class Desk {
public:
  // `wake` is called from another thread when there is something to look at. Without it everything is done at once, in
  // the call that asks for it.
  Desk(record::Session session, std::function<void()> wake);
  ~Desk();
  Desk(const Desk&) = delete;
  Desk& operator=(const Desk&) = delete;

  void post(json::Value action);
  // Something long that is no action of the record, answered as one: `what` in words; `may_stop` when stopping it
  // leaves nothing behind.
  using Work = std::function<json::Value(const record::Progress&)>;
  void post(json::Value action, std::string what, bool may_stop, Work work);
  std::optional<Answered> take_answer();
  bool busy() const;    // an action is under way, or a build is being opened
  bool settled() const; // nothing is under way and no answer waits: what is typed now lands where the screens are
  std::optional<Going> going() const;
  void stop(); // what is under way, when it may be stopped

  // Looks, soon, for what other processes have written; true when there is something to see. Never waits.
  bool look();
  // Once a frame, before the screens look: the newest copies there are.
  void take_in();

  // Copies as of the newest answer or look.
  const build::Shop& shop() const { return shown_.shop; }
  const build::Build* build() const { return shown_.build ? &*shown_.build : nullptr; } // the one that is open
  const std::optional<build::Actor>& signed_in() const { return shown_.signed_in; }
  const std::vector<record::Event>& log() const { return log_; } // of the open build, oldest first
  std::vector<std::string> builds() const;                       // ids of all builds of the shop
  // Ids of all builds, the one that was worked on last first; nothing while something is under way. A query over the
  // heads of the chains: a few milliseconds for thousands.
  std::optional<std::vector<std::string>> newest_first() const;
  // Read for one look, behind what is under way: nothing until it is there, then once. Asked for one at a time: any
  // build as it stands, and a photograph to be shown, its longer side at most `longest` pixels.
  std::optional<quantity::Result<build::Build>> look_at(const std::string& build_id);
  std::optional<quantity::Result<handover::Pixels>> photograph(const std::string& sha256, int longest);
  int edition() const { return edition_; } // goes up with every newer copy
  calc::Moment now() const;
  const std::filesystem::path& shop_file() const { return shop_file_; }

  void open(const std::string& build_id); // "" closes; there once it has been read
  std::string wanted() const;             // the build that is open or being opened

  // Another shop file in the place of this one; nobody is signed in and no build open then. Nothing is changed when it
  // cannot be opened, or something is under way ("store-busy").
  quantity::Result<void> turn_to(const std::filesystem::path& shop_file);
  const std::filesystem::path& own_shop() const { return own_shop_; } // the one it began with
  bool visiting() const { return shop_file_ != own_shop_; }

private:
  struct Job {
    json::Value action;
    std::string what;
    bool may_stop = false;
    Work work;
    enum class Kind { action, opening, looking, looking_at } kind = Kind::action;
  };
  struct Copies {
    build::Shop shop;
    std::optional<build::Build> build;
    std::optional<build::Actor> signed_in;
    std::vector<record::Event> more; // of the log
    bool anew = false;               // the log begins with them
  };
  Job job_of(json::Value action);
  Job opening(const std::string& build_id);
  Job looking();
  template <typename T>
  struct Look {
    std::string at; // what is being looked at; "" nothing
    std::optional<quantity::Result<T>> seen;
  };
  template <typename T, typename Read>
  std::optional<quantity::Result<T>> aside(Look<T>& look, const std::string& at, Read read);
  void hand_in(Job job);
  void work();
  void finish(Job& job, json::Value answer, std::optional<Copies> copies); // with the lock held
  record::Progress progress_of(const Job& job);
  json::Value opened(const std::string& build_id, const record::Progress& progress);
  Copies copies_of(const std::string& build_id);
  void show(Copies copies);

  record::Session session_; // the worker's while `working_`
  std::filesystem::path shop_file_, own_shop_;
  bool own_practice_ = false;
  std::function<void()> wake_;
  mutable std::mutex lock_;
  std::condition_variable there_is_work_, it_is_done_;
  std::deque<Job> waiting_;
  std::deque<Answered> answered_;
  std::optional<Copies> fresh_;
  Going going_;
  Job::Kind kind_ = Job::Kind::action; // of what is under way
  record::Stopwatch since_begun_, since_told_;
  std::atomic<bool> stop_ = false;
  Look<build::Build> build_aside_;
  Look<handover::Pixels> photograph_aside_;
  bool working_ = false;
  bool closing_ = false;
  std::string open_id_;
  std::string copied_id_;       // of whoever works: the build of the newest copies,
  std::int64_t copied_seq_ = 0; // the newest event of its log
  Copies shown_;
  int edition_ = 0;
  std::vector<record::Event> log_;
  std::thread worker_;
};

} // namespace bench
