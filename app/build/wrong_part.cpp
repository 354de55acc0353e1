#include "build/wrong_part.h"

#include "build/follow.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

namespace {

bool good(Standing standing) {
  return standing == Standing::within || standing == Standing::worn;
}

// Every option that one of the limits depends on, with every other choice of it, tried: those under which `fits` says
// yes of the build as it would be.
template <typename Fits>
std::vector<OtherChoice> tried(const Build& build, EntryAt at, const std::vector<std::string>& limits, Fits fits) {
  std::vector<OtherChoice> out;
  for (const auto& option : build.plan->procedure().options) {
    const auto& moved = build.plan->limits_of_option(option.id);
    const bool depends = std::any_of(limits.begin(), limits.end(), [&](const auto& limit) {
      return std::find(moved.begin(), moved.end(), limit) != moved.end();
    });
    if (!depends) continue;
    Build other = build;
    for (const auto& choice : option.choices) {
      if (choice == build.option(option.id)) continue;
      other.options[option.id] = choice;
      if (entry_on(other, at) == Holds::yes && fits(other)) out.push_back({option.id, choice});
    }
  }
  return out;
}

} // namespace

std::vector<OtherChoice> other_choices(const Build& build, EntryAt at, std::size_t cell) {
  const Cell& it = build.entry(at).cells[cell];
  if (it.judged.standing != Standing::outside) return {};
  return tried(build, at, {build.plan->entry(at).limit}, [&](const Build& other) {
    json::Value by;
    return good(standing_of(other, at, cell, it.value, it.u, by));
  });
}

std::vector<OtherChoice> other_choices_of_calculated(const Build& build, EntryAt at, std::size_t place) {
  if (build.entry(at).calculated[place].judged.standing != Standing::outside) return {};
  std::vector<std::string> limits;
  for (const auto& [result, limit] : build.plan->entry(at).judge) limits.push_back(limit);
  return tried(build, at, limits, [&](const Build& other) { return good(calculate(other, at, place).standing); });
}

std::string told(const Build& build, const std::vector<OtherChoice>& choices) {
  std::string sizes;
  const std::string* last = nullptr;
  for (const auto& it : choices) {
    const bool same = last && *last == it.option;
    if (!same)
      sizes += fmt::format("{}\"{}\" = ", last ? ", or for " : "", build.plan->procedure().option(it.option)->title);
    sizes += fmt::format("{}{}", same ? " or " : "", it.choice);
    last = &it.option;
  }
  return fmt::format("it is the size for {}; is it the part for this engine?", sizes);
}

} // namespace build
