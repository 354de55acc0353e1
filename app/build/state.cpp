#include "build/state.h"

#include <array>

namespace build {

namespace {

struct NamedStanding {
  Standing standing;
  std::string_view name;
};
constexpr std::array<NamedStanding, 8> standings = {{{Standing::empty, "empty"},
                                                     {Standing::recorded, "recorded"},
                                                     {Standing::within, "within"},
                                                     {Standing::worn, "within, worn"},
                                                     {Standing::undecided, "undecided"},
                                                     {Standing::outside, "outside"},
                                                     {Standing::limit_missing, "limit missing"},
                                                     {Standing::option_unset, "option not picked"}}};

int trouble(Standing standing) {
  switch (standing) {
  case Standing::empty: return 0;
  case Standing::recorded: return 1;
  case Standing::within: return 2;
  case Standing::worn: return 3;
  case Standing::option_unset: return 4;
  case Standing::limit_missing: return 5;
  case Standing::undecided: return 6;
  case Standing::outside: return 7;
  }
  return 0;
}

} // namespace

std::string_view name_of(Standing standing) {
  for (const auto& one : standings)
    if (one.standing == standing) return one.name;
  return "";
}

std::optional<Standing> standing_named(std::string_view name) {
  for (const auto& one : standings)
    if (one.name == name) return one.standing;
  return std::nullopt;
}

Standing worse(Standing a, Standing b) {
  return trouble(a) < trouble(b) ? b : a;
}

bool Judged::blocks() const {
  switch (standing) {
  case Standing::outside: return !conceded;
  case Standing::undecided: return !accepted && !conceded;
  case Standing::limit_missing:
  case Standing::option_unset: return true;
  default: return false;
  }
}

bool Warmth::same(const Warmth& other) const {
  return part_at == other.part_at && gauge_at == other.gauge_at && alpha == other.alpha;
}

std::vector<const Try*> Cell::counted() const {
  const Try* best = nullptr;
  for (const auto& one : tries)
    if (!one.set_aside && (!best || one.u < best->u)) best = &one;
  if (!best) return {};
  std::vector<const Try*> out{best};
  for (const auto& one : tries)
    if (!one.set_aside && one.gauge == best->gauge && &one != best) out.push_back(&one);
  return out;
}

StepState& Build::change(std::size_t index) {
  auto& row = rows_[index / row_of];
  if (row.use_count() > 1) row = std::make_shared<Row>(*row);
  auto& step = (*row)[index % row_of];
  if (step.use_count() > 1) step = std::make_shared<StepState>(*step);
  return *step;
}

std::string Build::option(std::string_view option_id) const {
  const auto it = options.find(option_id);
  if (it != options.end()) return it->second;
  const auto* option = plan->procedure().option(option_id);
  return option ? option->given : std::string();
}

const procedure::Limit* Build::limit(std::string_view limit_id) const {
  const auto it = filled.find(limit_id);
  return it != filled.end() ? &it->second : plan->procedure().limit(limit_id);
}

void Build::start(std::shared_ptr<const Plan> its_plan) {
  plan = std::move(its_plan);
  rows_.clear();
  for (std::size_t s = 0; s < plan->size(); ++s) {
    auto state = std::make_shared<StepState>();
    for (const auto& entry : plan->step(s).entries) {
      EntryState it;
      const auto shape = procedure::cells_of(plan->step(s), entry);
      switch (entry.kind) {
      case procedure::EntryKind::reading:
      case procedure::EntryKind::readings: it.cells.resize(shape.count()); break;
      case procedure::EntryKind::calculated: it.calculated.resize(entry.over_all ? 1 : shape.positions); break;
      case procedure::EntryKind::tightening: it.fasteners.resize(entry.fasteners.size()); break;
      default: break;
      }
      state->entries.push_back(std::move(it));
    }
    if (s % row_of == 0) rows_.push_back(std::make_shared<Row>());
    rows_.back()->push_back(std::move(state));
  }
}

} // namespace build
