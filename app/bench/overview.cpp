#include "bench/overview.h"

#include "build/limits.h"

namespace bench {

using build::StepStanding;

void Overview::look(const build::Build& build, const std::vector<build::Event>& log) {
  if (build.id == build_ && build.head == head_ && log.size() == read_ && !sections_.empty()) return;
  const bool goes_on = build.id == build_ && read_ <= log.size() && began_.size() == build.plan->size();
  build_ = build.id;
  head_ = build.head;
  if (!goes_on) {
    read_ = 0;
    began_.assign(build.plan->size(), {});
    released_ = {};
  }
  for (; read_ < log.size(); ++read_) read(build, log[read_]);
  bands_ = drawing::bands(build);
  sections_.clear();
  waits_.clear();
  std::size_t step = 0;
  for (const auto& section : build.plan->procedure().sections) {
    auto& its = sections_.emplace_back();
    for (std::size_t s = 0; s < section.steps.size(); ++s, ++step) {
      if (build::step_on(build, step) == build::Holds::no) continue;
      ++its.on_this_engine;
      its.signed_off += build.step(step).signed_off;
      const auto& entries = build.step(step).entries;
      for (std::size_t e = 0; e < entries.size(); ++e)
        if (entries[e].until.utc_ms > 0) waits_.push_back({{step, e}, entries[e].until});
    }
  }
}

// Only what a later event cannot change is taken from one.
void Overview::read(const build::Build& build, const build::Event& event) {
  if (const auto* reopened = event.body.find("reopened"); reopened && reopened->is(json::Kind::array))
    for (const auto& item : reopened->items())
      if (const auto step = build.plan->find_step(item.text_or_empty("step"))) began_[*step] = {{}, event.time};
  if (event.kind == "release") released_ = event.time;
  if (event.kind == "acknowledge" || event.kind == "note" || event.kind == "attach" || event.body.find("as_found"))
    return;
  const auto step = build.plan->find_step(event.body.text_or_empty("step"));
  if (step && began_[*step].recorded.utc_ms == 0) began_[*step].recorded = event.time;
}

SectionCount Overview::all() const {
  SectionCount out;
  for (const auto& one : sections_) {
    out.signed_off += one.signed_off;
    out.on_this_engine += one.on_this_engine;
  }
  return out;
}

build::Moment Overview::since(std::size_t step, StepStanding standing) const {
  if (standing == StepStanding::reopened) return began_[step].reopened;
  return standing == StepStanding::half_done ? began_[step].recorded : build::Moment{};
}

} // namespace bench
