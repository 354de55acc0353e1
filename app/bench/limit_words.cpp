#include "bench/limit_words.h"

#include "bench/lengths.h"
#include "build/limits.h"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

namespace bench {

namespace {

std::string one_limit(const build::Build& build, build::EntryAt at, const std::string& id, std::size_t position) {
  const auto by = build::applied(build, at, id, position);
  if (!by.bounds) return by.lacking == build::Standing::recorded ? "" : std::string(build::name_of(by.lacking));
  const auto doubt = build::doubt_of(build, id);
  return fmt::format("{}, {}{}{}", shown_bounds(*by.bounds, *by.limit->unit), by.column, doubt.empty() ? "" : ", ",
                     doubt);
}

std::string result_name(std::string name) {
  std::ranges::replace(name, '_', ' ');
  return name;
}

std::string at_position(const build::Build& build, build::EntryAt at, std::size_t position) {
  const auto& entry = build.plan->entry(at);
  if (!entry.limit.empty()) return one_limit(build, at, entry.limit, position);
  if (entry.judge.empty()) return "";
  const auto& first = entry.judge.front().second;
  if (std::ranges::all_of(entry.judge, [&](const auto& it) { return it.second == first; }))
    return one_limit(build, at, first, position);
  std::string out;
  for (const auto& [result, limit] : entry.judge)
    if (const std::string its = one_limit(build, at, limit, position); !its.empty())
      out += fmt::format("{}{}: {}", out.empty() ? "" : "; ", result_name(result), its);
  return out;
}

} // namespace

std::string limit_words(const build::Build& build, build::EntryAt at, std::optional<std::size_t> position) {
  const auto& positions = build.plan->step(at.step).positions;
  if (position || positions.empty()) return at_position(build, at, position.value_or(0));
  std::vector<std::pair<std::string, std::string>> groups; // words, the positions they hold for
  for (std::size_t p = 0; p < positions.size(); ++p) {
    const std::string words = at_position(build, at, p);
    const auto same = std::ranges::find(groups, words, &std::pair<std::string, std::string>::first);
    if (same == groups.end())
      groups.emplace_back(words, positions[p]);
    else
      same->second += ", " + positions[p];
  }
  if (groups.size() == 1) return groups.front().first;
  std::string out;
  for (const auto& [words, where] : groups)
    out += fmt::format("{}{}: {}", out.empty() ? "" : "; ", where, words.empty() ? "no limit" : words);
  return out;
}

} // namespace bench
