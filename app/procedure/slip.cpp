#include "procedure/slip.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <array>

namespace procedure {

namespace {

struct Slip {
  double factor; // what undoes it
  std::string_view words;
};
constexpr std::array slips = {
    Slip{0.1, "a tenth of what is written"},
    Slip{10, "ten times what is written"},
    Slip{25.4, "what is written taken as inches"},
    Slip{1 / 25.4, "what is written, converted from inches once too often, taken back"},
};

// `changed` of a number: the numbers with that slip undone.
template <typename Changed>
std::string explained(const std::vector<Written>& numbers, const GoTogether& fit, const Changed& changed,
                      const std::function<std::string(const Written&)>& name) {
  for (std::size_t i = 0; i < numbers.size(); ++i)
    for (const Slip& slip : slips) {
      std::vector<double> tried;
      for (std::size_t j = 0; j < numbers.size(); ++j)
        tried.push_back(numbers[j].value * (changed(i, j) ? slip.factor : 1));
      if (fit(tried)) return fmt::format("; it would fit with {}: {}", name(numbers[i]), slip.words);
    }
  return "";
}

} // namespace

std::string likely_slip(const std::vector<Written>& numbers, const GoTogether& fit) {
  std::string one = explained(
      numbers, fit, [](std::size_t i, std::size_t j) { return i == j; },
      [](const Written& it) { return fmt::format("the {} of limit {}", it.bound, json::shown(it.limit->id)); });
  if (!one.empty()) return one;
  return explained(
      numbers, fit, [&](std::size_t i, std::size_t j) { return numbers[i].limit == numbers[j].limit; },
      [](const Written& it) { return fmt::format("limit {}", json::shown(it.limit->id)); });
}

void each_set(const Index& index, const EntryView& at, const std::vector<const Limit*>& limits,
              const std::function<void(const Combinations&)>& look) {
  std::vector<const When*> conditions = {&at.step.when, &at.entry.when};
  for (const Limit* limit : limits)
    for (const When* one : conditions_of(*limit)) conditions.push_back(one);
  Combinations combination(index.procedure(), conditions);
  if (!combination.known() || combination.count() >= Combinations::too_many) return;
  do {
    if (combination.holds(at.step.when) && combination.holds(at.entry.when)) look(combination);
  } while (combination.next());
}

const Source* input_of(const Entry& entry, std::string_view name) {
  for (const auto& [input, source] : entry.inputs)
    if (input == name) return &source;
  return nullptr;
}

const Limit* limit_behind(const Index& index, const Entry& entry, std::string_view input) {
  const Source* source = input_of(entry, input);
  const auto* from = source ? std::get_if<FromEntry>(source) : nullptr;
  const Entry* readings = from && from->result.empty() ? index.entry(from->step, from->entry) : nullptr;
  return readings ? index.procedure().limit(readings->limit) : nullptr;
}

std::optional<double> in_mm(const Limit& limit, const std::optional<Exact>& value) {
  if (!value || !limit.unit || limit.unit->dimension != quantity::Dimension::length) return std::nullopt;
  return quantity::convert(*value, *limit.unit, *quantity::find_unit("mm")).to_double();
}

std::optional<Between> standard_mm(const Limit& limit, const LimitValues& values) {
  if (!values.standard) return std::nullopt;
  const auto low = in_mm(limit, values.standard->low);
  const auto high = in_mm(limit, values.standard->high);
  return low && high ? std::optional(Between{*low, *high}) : std::nullopt;
}

std::string mm(double value) {
  const std::string text = fmt::format("{:.4f}", value);
  const std::size_t last = text.find_last_not_of('0');
  return text.substr(0, text[last] == '.' ? last : last + 1) + " mm";
}

} // namespace procedure
