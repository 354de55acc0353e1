#include "build/follow.h"

#include <deque>
#include <fmt/format.h>
#include <map>

namespace build {

using json::Value;
using procedure::EntryKind;

namespace {

std::vector<Value> texts(const std::vector<std::string>& list) {
  std::vector<Value> out;
  for (const auto& text : list) out.push_back(Value::text(text));
  return out;
}

Error signed_already(const Build& build, EntryAt at) {
  return Error{"step-signed", fmt::format("This would change \"{}\" in the signed step \"{}\"; reopen that step first.",
                                          build.plan->entry(at).title, build.plan->step(at.step).title)};
}

bool is_signed(const Build& build, std::size_t step) {
  return !build.step(step).signatures.empty();
}

std::set<std::size_t> all_positions(const Build& build, EntryAt at) {
  std::set<std::size_t> out;
  for (std::size_t p = 0; p < build.entry(at).calculated.size(); ++p) out.insert(p);
  return out;
}

// Which positions of a calculated entry a change at `from` touches.
std::set<std::size_t> touched(const Build& build, const Changed& from, EntryAt target) {
  auto all = all_positions(build, target);
  if (all.size() <= 1 || from.positions.empty() || build.plan->step(from.at.step).positions.empty()) return all;
  return from.positions;
}

class Following {
public:
  Following(Build& next, SignedSteps signed_steps) : next_(next), signed_steps_(signed_steps) {}

  Result<void> calculate_from(const Changed& change) {
    for (const EntryAt target : next_.plan->calculated_from(change.at))
      waiting_.push_back({target, touched(next_, change, target)});
    return work();
  }

  Result<void> calculate_again(EntryAt at) {
    waiting_.push_back({at, all_positions(next_, at)});
    return work();
  }

  Result<void> judge_again(EntryAt at) {
    std::vector<Value> cells;
    const auto& state = next_.entry(at);
    for (std::size_t c = 0; c < state.cells.size(); ++c) {
      const Cell& cell = state.cells[c];
      if (cell.tries.empty()) continue;
      Value by;
      const Standing standing = standing_of(next_, at, c, cell.value, cell.u, by);
      if (standing == cell.judged.standing) continue;
      if (is_signed(next_, at.step)) return signed_already(next_, at);
      cells.push_back(Value::object({{"cell", Value::integer(static_cast<std::int64_t>(c))},
                                     {"verdict", Value::text(std::string(name_of(standing)))},
                                     {"by", by}}));
    }
    if (cells.empty()) return {};
    Value item = Value::object({{"step", Value::text(next_.plan->step(at.step).id)},
                                {"entry", Value::text(next_.plan->entry(at).id)},
                                {"cells", Value::array(std::move(cells))}});
    apply_rejudged(next_, item);
    rejudged_.push_back(std::move(item));
    return {};
  }

  void write(Value& body) {
    std::vector<Value> calculated;
    for (auto& [key, item] : calculated_) calculated.push_back(std::move(item));
    if (!calculated.empty()) body.set("calculated", Value::array(std::move(calculated)));
    if (!rejudged_.empty()) body.set("rejudged", Value::array(std::move(rejudged_)));
    if (sign_again_.empty()) return;
    Value again = Value::array();
    for (const auto step : sign_again_) again.push(Value::text(next_.plan->step(step).id));
    body.set("sign_again", std::move(again));
  }

private:
  Result<void> work() {
    while (!waiting_.empty()) {
      const Changed now = std::move(waiting_.front());
      waiting_.pop_front();
      std::set<std::size_t> changed;
      for (const std::size_t position : now.positions) {
        const auto done = calculate_one(now.at, position);
        if (!done) return done.error();
        if (*done) changed.insert(position);
      }
      if (changed.empty()) continue;
      const Changed further{now.at, changed};
      for (const EntryAt target : next_.plan->calculated_from(now.at))
        waiting_.push_back({target, touched(next_, further, target)});
    }
    return {};
  }

  // True when the value was worked out anew.
  Result<bool> calculate_one(EntryAt at, std::size_t position) {
    const Computed now = calculate(next_, at, position);
    const Calculated& was = next_.entry(at).calculated.at(position);
    const bool same = now.results == was.results && now.refusal == was.refusal && now.standing == was.judged.standing;
    if (same && !was.asked) return false;
    if (!same && is_signed(next_, at.step)) {
      if (signed_steps_ == SignedSteps::refuse || now.standing != was.judged.standing) return signed_already(next_, at);
      sign_again_.insert(at.step);
    }
    const auto& step = next_.plan->step(at.step);
    Value item = Value::object({{"step", Value::text(step.id)}, {"entry", Value::text(next_.plan->entry(at).id)}});
    item.set("at", Value::integer(static_cast<std::int64_t>(position)));
    if (next_.entry(at).calculated.size() > 1) item.set("position", Value::text(step.positions[position]));
    item.set("results", now.results);
    if (!now.notes.empty()) item.set("notes", Value::array(texts(now.notes)));
    if (!now.refusal.empty()) item.set("refusal", Value::text(now.refusal));
    item.set("verdict", Value::text(std::string(name_of(now.standing))));
    apply_calculated(next_, item);
    calculated_[{at, position}] = std::move(item);
    return true; // written: what is worked out from it may have been asking too
  }

  Build& next_;
  SignedSteps signed_steps_;
  std::deque<Changed> waiting_;
  std::map<std::pair<EntryAt, std::size_t>, Value> calculated_;
  std::vector<Value> rejudged_;
  std::set<std::size_t> sign_again_;
};

} // namespace

Result<void> follow(Build& next, Value& body, const std::vector<Changed>& changed, SignedSteps signed_steps) {
  Following following(next, signed_steps);
  for (const auto& one : changed)
    if (const auto done = following.calculate_from(one); !done) return done.error();
  following.write(body);
  return {};
}

Result<void> follow_judging(Build& next, Value& body, const std::vector<EntryAt>& entries,
                            const std::vector<Changed>& changed) {
  Following following(next, SignedSteps::refuse);
  for (const auto& one : changed)
    if (const auto done = following.calculate_from(one); !done) return done.error();
  for (const EntryAt at : entries) {
    const auto kind = next.plan->entry(at).kind;
    if (kind == EntryKind::calculated) {
      if (const auto done = following.calculate_again(at); !done) return done.error();
    } else if (const auto done = following.judge_again(at); !done) {
      return done.error();
    }
  }
  following.write(body);
  return {};
}

Standing standing_of(const Build& build, EntryAt at, std::size_t cell, const Exact& value, const Exact& u, Value& by) {
  const auto& entry = build.plan->entry(at);
  if (entry.limit.empty()) return Standing::recorded;
  const auto shape = procedure::cells_of(build.plan->step(at.step), entry);
  const Applied it = applied(build, at, entry.limit, cell / shape.per_position());
  by = facts(it);
  if (!it.bounds) return it.lacking;
  const Unit& unit = *it.limit->unit;
  return judge(it, quantity::convert(value, *entry.unit, unit), quantity::convert_difference(u, *entry.unit, unit));
}

} // namespace build
