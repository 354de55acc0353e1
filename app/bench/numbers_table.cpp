#include "bench/numbers_table.h"

#include <fmt/format.h>

#include <map>

namespace bench {

using procedure::Transcribed;

std::vector<NumberLine> numbers_of(const procedure::Procedure& procedure) {
  std::vector<NumberLine> all;
  for (const auto& set : procedure::number_sets(procedure)) {
    const auto& limit = *procedure.limit(set.limit);
    const auto& values = *procedure::values_of(procedure, set);
    NumberLine line;
    line.set = set;
    line.standing = procedure::transcribed(limit, values);
    line.title = procedure::title_of(procedure, set);
    line.numbers = procedure::numbers_text(limit, values);
    line.origin = procedure::origin_text(limit);
    line.hands = procedure::hands_text(values);
    line.differ = procedure::differences(limit, values);
    line.entered_by = values.entered ? values.entered->by : "";
    all.push_back(std::move(line));
  }
  return all;
}

std::string standing_words(const std::vector<NumberLine>& numbers) {
  std::map<Transcribed, int> counts;
  for (const auto& line : numbers) ++counts[line.standing];
  std::string out;
  for (const auto& [standing, count] : counts)
    out += fmt::format("{}{} {}", out.empty() ? "" : ", ", count, procedure::name_of(standing));
  return out.empty() ? "no limits" : out;
}

bool hidden_from(const NumberLine& line, const std::string& person) {
  return line.standing == Transcribed::entered && !line.entered_by.empty() && line.entered_by != person;
}

} // namespace bench
