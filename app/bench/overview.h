// Where the whole build stands, gathered once an event and not once a frame: what the sheet shows of the steps that are
// closed, in the margin and in the figure of the engine.
#pragma once

#include "build/blockers.h"
#include "drawing/engine.h"

#include <cstdint>
#include <string>
#include <vector>

namespace bench {

struct SectionCount {
  int signed_off = 0;
  int on_this_engine = 0;
};

// Something in the build that is waited for.
struct Waiting {
  build::EntryAt at;
  build::Moment until;
};

// Kept for one state of a build. A build is the fold of its events, so the hash of the newest stands for all of it;
// what depends on the time or on the shop is not kept here.
class Overview {
public:
  // Brings it up to date; the log is the build's, oldest first.
  void look(const build::Build& build, const std::vector<build::Event>& log);

  const std::vector<SectionCount>& sections() const { return sections_; } // in the procedure's order
  SectionCount all() const;
  const std::vector<drawing::Band>& bands() const { return bands_; }
  const std::vector<Waiting>& waits() const { return waits_; } // some may be over
  // When what stands there began: reopened, half done. utc_ms 0: the record does not know.
  build::Moment since(std::size_t step, build::StepStanding standing) const;
  build::Moment released() const { return released_; } // utc_ms 0: it is not

private:
  struct Began {
    build::Moment recorded; // the first thing in this go at the step
    build::Moment reopened;
  };
  void read(const build::Build& build, const build::Event& event);
  std::string build_, head_;
  std::size_t read_ = 0; // events of the log
  std::vector<SectionCount> sections_;
  std::vector<drawing::Band> bands_;
  std::vector<Waiting> waits_;
  std::vector<Began> began_; // by step
  build::Moment released_;
};

} // namespace bench
