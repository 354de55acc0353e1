#include "bench/limits_table.h"

#include "bench/lengths.h"

#include "build/blockers.h"

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using build::EntryAt;
using build::Standing;

namespace {

// How many values stand how; those with a concession or accepted at the limit on their own.
struct Count {
  std::map<std::string, int> words;
  int not_measured = 0;
  bool outside = false;

  void add(Standing standing, const build::Judged& judged) {
    std::string word(build::name_of(standing));
    if (judged.conceded) word += ", conceded";
    if (judged.accepted) word += ", accepted";
    ++words[word];
    outside = outside || (standing == Standing::outside && !judged.conceded);
  }
};

void count_cells(const build::Build& build, EntryAt at, Count& count) {
  for (const auto& cell : build.entry(at).cells) {
    if (cell.skipped) continue;
    if (cell.tries.empty())
      ++count.not_measured;
    else
      count.add(cell.judged.standing, cell.judged);
  }
}

void count_calculated(const build::Build& build, EntryAt at, const std::string& result, Count& count) {
  for (const auto& one : build.entry(at).calculated) {
    const auto* value = one.filled() ? one.results.find(result) : nullptr;
    const auto standing =
        value && value->is(json::Kind::object) ? build::standing_named(value->text_or_empty("verdict")) : std::nullopt;
    if (standing)
      count.add(*standing, *standing == one.judged.standing ? one.judged : build::Judged());
    else
      ++count.not_measured;
  }
}

void count_stage(const build::Build& build, EntryAt at, const std::string& stage, Count& count) {
  for (const auto& fastener : build.entry(at).fasteners) {
    const auto done = std::ranges::find(fastener, stage, &build::Tightened::stage);
    if (done == fastener.end())
      ++count.not_measured;
    else
      count.add(done->judged.standing, done->judged);
  }
}

// True when something of the entry is judged by it; else it is calculated with it.
bool judged_there(const build::Build& build, EntryAt at, const std::string& limit, Count& count) {
  const auto& entry = build.plan->entry(at);
  bool any = false;
  if (entry.limit == limit) {
    count_cells(build, at, count);
    any = true;
  }
  for (const auto& [result, judge] : entry.judge)
    if (judge == limit) {
      count_calculated(build, at, result, count);
      any = true;
    }
  for (const auto& stage : entry.stages)
    if (stage.limit == limit) {
      count_stage(build, at, stage.id, count);
      any = true;
    }
  return any;
}

std::string words_of(const Count& count) {
  std::string out;
  for (const auto& [word, number] : count.words) out += fmt::format("{}{} {}", out.empty() ? "" : "; ", number, word);
  if (count.not_measured > 0) out += fmt::format("{}{} not measured", out.empty() ? "" : "; ", count.not_measured);
  return out;
}

// Where each column is in force: by the parts there, new or reused.
std::map<std::string, std::vector<std::string>> columns(const build::Build& build, const std::string& limit,
                                                        const std::vector<EntryAt>& uses) {
  std::map<std::string, std::vector<std::string>> out;
  for (const auto& at : uses) {
    const auto& positions = build.plan->step(at.step).positions;
    for (std::size_t p = 0; p < std::max<std::size_t>(positions.size(), 1); ++p) {
      const auto by = build::applied(build, at, limit, p);
      if (by.column.empty()) continue;
      auto& list = out[by.column];
      const std::string name = positions.empty() ? "" : positions[p];
      if (std::ranges::find(list, name) == list.end()) list.push_back(name);
    }
  }
  return out;
}

std::string case_words(const build::Build& build, const procedure::Limit& limit) {
  for (const auto& one : limit.cases) {
    if (build::holds(build, one.when) != build::Holds::yes) continue;
    std::string out;
    for (const auto& is : one.when) {
      const auto* option = build.plan->procedure().option(is.option);
      out +=
          fmt::format("{}{}: {}", out.empty() ? "" : "; ", option ? option->title : is.option, build.option(is.option));
    }
    return out;
  }
  return "";
}

// As the trade writes it: a count has no unit, and what may have one value alone is that value.
std::string text_of(const build::Bounds& bounds, const quantity::Unit& unit) {
  std::string out = bounds.low && bounds.high && *bounds.low == *bounds.high ? shown_length(*bounds.low, unit)
                                                                             : shown_bounds(bounds, unit);
  constexpr std::string_view none = " 1"; // how a number without unit would end
  if (unit.name == "1" && out.ends_with(none)) out.resize(out.size() - none.size());
  return out;
}

void numbers(const build::Build& build, const procedure::Limit& limit, LimitLine& line,
             const std::vector<EntryAt>& judged) {
  const auto now = build::effective(build, limit.id);
  if (!now.values) {
    const bool none = limit.basis == procedure::Basis::none && limit.values.entered;
    line.values = now.unset ? "depends on what is not picked yet" : none ? "the maker gives none" : "no numbers yet";
    return;
  }
  const auto by = columns(build, limit.id, judged);
  const bool service = by.size() == 1 && by.begin()->first == "service";
  const auto& values = *now.values;
  const auto& first = service || !values.standard ? values.service : values.standard;
  const auto& second = service ? values.standard : values.service;
  if (first) line.values = text_of(*first, *limit.unit);
  if (values.target) line.values += (first ? ", set to " : "") + shown_length(*values.target, *limit.unit);
  if (second && &first != &second) line.other = (service ? "standard " : "service ") + text_of(*second, *limit.unit);
  if (first) line.column = service || !values.standard ? "service" : "standard";
  if (by.size() == 2) line.column += fmt::format("; service at {}", fmt::join(by.at("service"), ", "));
  if (const std::string words = case_words(build, limit); !words.empty())
    line.column += (line.column.empty() ? "" : ", ") + words;
}

LimitLine line_of(const build::Build& build, const procedure::Limit& limit) {
  LimitLine out;
  out.id = limit.id;
  out.title = limit.title;
  out.unit = limit.unit->name;
  out.is_empty = limit.values.empty() && limit.cases.empty();
  Count count;
  std::vector<EntryAt> judged;
  std::vector<EntryAt> reckoned;
  for (const auto& at : build.plan->entries_of_limit(limit.id)) {
    if (build::step_on(build, at.step) == build::Holds::no || build::entry_on(build, at) == build::Holds::no) continue;
    (judged_there(build, at, limit.id, count) ? judged : reckoned).push_back(at);
  }
  numbers(build, limit, out, judged);
  out.rule = limit.basis == procedure::Basis::none ? "recorded, not judged"
                                                   : fmt::format("rule {}", calc::name_of(limit.rule));
  out.rule += fmt::format("; basis: {}", procedure::name_of(limit.basis));
  if (!limit.source.empty()) out.rule += ", " + limit.source;
  if (const auto doubt = build::doubt_of(build, limit.id); !doubt.empty()) out.rule += fmt::format("; {}", doubt);
  out.outside = count.outside;
  out.stands = words_of(count);
  if (judged.empty())
    out.stands = reckoned.empty() ? "not used on this engine" : "calculated with; judges nothing itself";
  out.uses = judged;
  out.uses.insert(out.uses.end(), reckoned.begin(), reckoned.end());
  for (const auto& at : out.uses)
    out.where.push_back(fmt::format("{}: {}", build.plan->step(at.step).title, build.plan->entry(at).title));
  return out;
}

} // namespace

std::vector<LimitLine> limits_of(const build::Build& build) {
  std::vector<LimitLine> out;
  for (const auto& limit : build.plan->procedure().limits) out.push_back(line_of(build, *build.limit(limit.id)));
  return out;
}

} // namespace bench
