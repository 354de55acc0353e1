#include "build/consumables.h"

#include "build/fitting.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

using json::Value;

namespace {

// What of the parts used up or dated the step fits, place by place.
std::vector<PartPlace> consumables_of(const Build& build, std::size_t index) {
  std::vector<PartPlace> out;
  const auto& step = build.plan->step(index);
  for (const auto& id : step.fits) {
    const auto* part = build.plan->procedure().part(id);
    if (!part || (!part->once && !part->dated)) continue;
    for (const auto& position : part->positions)
      if (fits_there(build, index, id, position)) out.push_back({id, position});
    if (part->positions.empty()) out.push_back({id, ""});
  }
  return out;
}

Value place_of(const PartPlace& it) {
  Value out = Value::object({{"part", Value::text(it.first)}});
  if (!it.second.empty()) out.set("position", Value::text(it.second));
  return out;
}

// Whether opening the step at these positions moves the part there: a part without a place of its own among the
// step's positions comes out wherever the step is opened.
bool comes_out(const procedure::Step& step, const std::set<std::size_t>& positions, const std::string& position) {
  const auto at = std::find(step.positions.begin(), step.positions.end(), position);
  return positions.empty() || at == step.positions.end() ||
         positions.count(static_cast<std::size_t>(at - step.positions.begin())) > 0;
}

// Gathers what keeps one part from going in.
class PartCheck {
public:
  PartCheck(const Build& build, const PartPlace& place, const Moment& now)
      : build_(build), place_(place), part_(*build.plan->procedure().part(place.first)), now_(now),
        name_(part_text(build, place.first, place.second)) {
    const auto named = build.parts.find(place);
    if (named != build.parts.end()) state_ = &named->second;
  }

  void run(const std::string& step, std::vector<Blocker>& out) const {
    const auto add = [&](const char* code, std::string message) {
      out.push_back({code, std::move(message), "", step});
    };
    if (part_.once && build_.taken_out.count(place_))
      return add(
          "one-use",
          fmt::format("{} was fitted before: fit a new one and name it, or say why the same goes in again.", name_));
    if (part_.dated && (!state_ || state_->lot.empty() || state_->expires.empty()))
      return add("part-missing", fmt::format("{}: name it with its lot and last day of use.", name_));
    if (state_ && !state_->expires.empty() && !state_->used_out_of_date && past_last_day(state_->expires, now_))
      add("out-of-date", fmt::format("{}: its last day of use was {}; name another, or name it again with the reason.",
                                     name_, state_->expires));
  }

private:
  const Build& build_;
  const PartPlace& place_;
  const procedure::Part& part_;
  const PartState* state_ = nullptr;
  const Moment& now_;
  std::string name_;
};

} // namespace

Value fitted_with(const Build& build, std::size_t step) {
  Value out = Value::array();
  for (const auto& place : consumables_of(build, step)) {
    if (build.step(step).fitted.count(place)) continue;
    Value item = place_of(place);
    if (const auto named = build.parts.find(place); named != build.parts.end()) {
      if (!named->second.lot.empty()) item.set("lot", Value::text(named->second.lot));
      if (!named->second.expires.empty()) item.set("expires", Value::text(named->second.expires));
    }
    out.push(std::move(item));
  }
  return out.items().empty() ? Value() : out;
}

Value taken_out_of(const Build& build, std::size_t step, const std::set<std::size_t>& positions) {
  Value out = Value::array();
  for (const auto& place : build.step(step).fitted)
    if (comes_out(build.plan->step(step), positions, place.second)) out.push(place_of(place));
  return out.items().empty() ? Value() : out;
}

bool past_last_day(const std::string& expires, const Moment& now) {
  const auto day = calc::parse_date(expires);
  return day && *day < calc::local_date(now);
}

void add_consumable_blockers(const Build& build, std::size_t step, const Moment& now, std::vector<Blocker>& out) {
  for (const auto& place : consumables_of(build, step))
    if (!build.step(step).fitted.count(place)) PartCheck(build, place, now).run(build.plan->step(step).id, out);
}

} // namespace build
