// Copying what was done to fasteners and bolts.
#include "build/copying.h"
#include "build/tightening.h"

#include <algorithm>
#include <stdexcept>

namespace build {

using json::Value;

namespace {

void sure(EntryState& entry, const Event& event) {
  entry.sure_by = event.person;
  entry.sure_at = event.time;
}

void note_bolt(BoltState& bolt, const Value& item) {
  if (item.find("used")) ++bolt.uses;
  bolt.replace = bolt.replace || item.find("replace");
  bolt.measure = bolt.measure || item.find("measure");
}

} // namespace

void still_sure(Build& build, const Event& event) {
  sure(build.change(entry_of(build, event.body)), event);
}

void tighten(Build& build, const Event& event) {
  const EntryAt at = entry_of(build, event.body);
  const auto& planned = build.plan->entry(at);
  const std::string stage_id = event.body.at("stage").as_text();
  const auto stage =
      std::find_if(planned.stages.begin(), planned.stages.end(), [&](const auto& one) { return one.id == stage_id; });
  if (stage == planned.stages.end()) throw std::logic_error("no such stage");
  const auto number = static_cast<std::size_t>(stage - planned.stages.begin());
  EntryState& entry = build.change(at);
  entry.last_seq = event.seq;
  const std::string gauge = optional_text(event.body, "gauge_id");
  for (const auto& item : event.body.at("fasteners").items()) {
    const std::size_t f = index(item.at("at"), entry.fasteners.size());
    Tightened it{stage_id, {}, gauge, {}, item.find("below") != nullptr, event.time};
    if (const auto* value = item.find("value")) it.value = exact(*value);
    it.judged.standing = standing(item.at("verdict"));
    auto& done = entry.fasteners[f];
    done.resize(std::min(done.size(), number)); // gone on with: the stage takes the place of what was not enough
    done.push_back(std::move(it));
    if (planned.bolt) note_bolt(build.bolts[{joint_of(build, at), planned.fasteners[f].id}], item);
    if (!gauge.empty()) ++entry.pulls[gauge];
  }
  entry.recorded_by = event.person;
  entry.disordered = entry.disordered || event.body.find("out_of_order");
  sure(entry, event);
  if (event.body.find("round_again")) {
    for (auto& done : entry.fasteners) done.resize(std::min(done.size(), number));
    entry.disordered = false;
  }
  if (const auto* wait = event.body.find("wait")) {
    entry.until = moment(wait->at("until"));
    for (auto& done : entry.fasteners) {
      if (done.size() != number + 1) continue; // has waited before
      Tightened waited{wait->at("stage").as_text(), {}, {}, {}, false, event.time};
      waited.judged.standing = Standing::recorded;
      done.push_back(std::move(waited));
    }
  }
}

void loosen(Build& build, const Event& event) {
  EntryState& entry = build.change(entry_of(build, event.body));
  const auto* to = event.body.find("to");
  const auto stage = static_cast<std::size_t>(to ? to->as_integer().value_or(0) : 0);
  for (const auto& item : event.body.at("loosened").items()) {
    auto& done = entry.fasteners[index(item, entry.fasteners.size())];
    done.resize(std::min(done.size(), stage));
  }
  ++entry.pass;
  entry.disordered = false;
  entry.until = {};
}

void bolt(Build& build, const Event& event) {
  for (const auto& item : event.body.at("bolts").items()) {
    BoltState& it = build.bolts[{event.body.at("joint").as_text(), item.at("name").as_text()}];
    if (const auto* state = item.find("state")) {
      it = {};
      it.state = state->as_text();
      it.identity = optional_text(item, "identity");
      it.uses = static_cast<int>(item.at("uses").as_integer().value());
    }
    if (const auto* length = item.find("length")) {
      it.length = exact(*length);
      it.judged = {};
      it.judged.standing = standing(item.at("verdict"));
      it.measure = false;
    }
  }
}

void extension(Build& build, const Event& event) {
  EntryState& entry = build.change(entry_of(build, event.body));
  entry.lever.reset();
  if (event.body.find("ratio"))
    entry.lever = Lever{exact(event.body.at("wrench_length")), exact(event.body.at("extension")),
                        exact(event.body.at("angle")), exact(event.body.at("ratio"))};
}

void take_bolts_out(Build& build, const Value& out) {
  for (const auto& name : out.at("names").items()) {
    BoltState& it = build.bolts[{out.at("joint").as_text(), name.as_text()}];
    it = {};
    it.replace = true;
  }
}

} // namespace build
