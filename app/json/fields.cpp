#include "json/fields.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

namespace json {

namespace {

// How many letters must be changed, added, dropped or swapped with their neighbour to get from one word to the other
// (optimal string alignment).
std::size_t distance(std::string_view from, std::string_view to) {
  std::vector<std::size_t> before_last;
  std::vector<std::size_t> last(to.size() + 1);
  std::iota(last.begin(), last.end(), std::size_t{0});
  for (std::size_t i = 1; i <= from.size(); ++i) {
    std::vector<std::size_t> row(to.size() + 1, i);
    for (std::size_t j = 1; j <= to.size(); ++j) {
      const std::size_t changed = last[j - 1] + (from[i - 1] == to[j - 1] ? 0 : 1);
      row[j] = std::min({changed, last[j] + 1, row[j - 1] + 1});
      const bool swapped = i > 1 && j > 1 && from[i - 1] == to[j - 2] && from[i - 2] == to[j - 1];
      if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
    }
    before_last = std::exchange(last, std::move(row));
  }
  return last.back();
}

} // namespace

Fields::Fields(const Value& object, std::string pointer, std::string what, std::vector<Fault>& faults)
    : value_(&object), pointer_(std::move(pointer)), what_(std::move(what)), faults_(faults) {
  if (!object.is(Kind::object)) fault("", fmt::format("must be an object, not {}", name_of(object.kind())));
}

bool Fields::is_known(std::string_view key) const {
  return std::ranges::find(known_, key) != known_.end();
}

const Value* Fields::any(std::string_view key, bool required) {
  if (!is_known(key)) known_.push_back(key);
  if (!value_->is(Kind::object)) return nullptr;
  const Value* found = value_->find(key);
  if (!found && required) fault(key, fmt::format("the field {} is missing", shown(key)));
  return found;
}

const Value* Fields::wanted(std::string_view key, bool required, Kind kind) {
  const Value* found = any(key, required);
  if (!found || found->is(kind)) return found;
  fault(key, fmt::format("{} must be {}, not {}", shown(key), name_of(kind), name_of(found->kind())));
  return nullptr;
}

const std::string* Fields::text(std::string_view key, bool required) {
  const Value* found = wanted(key, required, Kind::text);
  if (!found) return nullptr;
  if (!found->as_text().empty()) return &found->as_text();
  fault(key, fmt::format("{} must not be empty", shown(key)));
  return nullptr;
}

std::optional<bool> Fields::boolean(std::string_view key, bool required) {
  const Value* found = wanted(key, required, Kind::boolean);
  return found ? std::optional(found->as_boolean()) : std::nullopt;
}

std::optional<std::int64_t> Fields::integer(std::string_view key, bool required) {
  const Value* found = wanted(key, required, Kind::number);
  if (!found) return std::nullopt;
  const auto whole = found->as_integer();
  if (!whole) {
    fault(key, fmt::format("{} must be a whole number without decimal point or exponent, not {}", shown(key),
                           shown(found->number_text())));
  }
  return whole;
}

std::optional<quantity::Exact> Fields::number(std::string_view key, bool required) {
  const Value* found = wanted(key, required, Kind::number);
  if (!found) return std::nullopt;
  const auto exact = quantity::Exact::decimal(found->number_text());
  if (exact) return *exact;
  fault(key, fmt::format("{}: {}", shown(key), exact.error().message));
  return std::nullopt;
}

const Value* Fields::array(std::string_view key, bool required) {
  return wanted(key, required, Kind::array);
}

const Value* Fields::object(std::string_view key, bool required) {
  return wanted(key, required, Kind::object);
}

void Fields::fault(std::string_view key, std::string message) {
  const Value* member = !key.empty() && has(key) ? value_->find(key) : nullptr;
  faults_.push_back({member ? member->place() : value_->place(), member ? pointer_to(key) : pointer_,
                     fmt::format("{}: {}", what_, message)});
}

std::string Fields::pointer_to(std::string_view key) const {
  return pointer_ + "/" + pointer_token(key);
}

void Fields::refuse_unknown() {
  if (!value_->is(Kind::object)) return;
  for (const Member& member : value_->members()) {
    if (is_known(member.key)) continue;
    std::string message = fmt::format("{}: unknown field {}", what_, shown(member.key));
    if (const auto near = nearest_known(member.key); !near.empty())
      message += fmt::format(", did you mean {}?", shown(near));
    faults_.push_back({member.place, pointer_to(member.key), std::move(message)});
  }
}

// Only a word that shares most letters is worth proposing.
std::string_view Fields::nearest_known(std::string_view key) const {
  auto in_order = known_;
  std::ranges::sort(in_order);
  std::string_view nearest;
  std::size_t least = std::min<std::size_t>(key.size(), 8) / 3 + 2;
  for (const std::string_view known : in_order) {
    const std::size_t lengths = std::max(known.size(), key.size()) - std::min(known.size(), key.size());
    if (lengths >= least) continue;
    const std::size_t away = distance(key, known);
    if (away >= std::min(least, std::max(known.size(), key.size()))) continue;
    least = away;
    nearest = known;
  }
  return nearest;
}

bool has_hidden_characters(std::string_view utf8) {
  const auto plain = [](char c) { return c >= ' ' && c <= '~'; };
  while (true) {
    const auto beyond = std::find_if_not(utf8.begin(), utf8.end(), plain);
    utf8.remove_prefix(static_cast<std::size_t>(beyond - utf8.begin()));
    if (utf8.empty()) return false;
    const auto character = first_character(utf8);
    if (!character || is_hidden(character->code)) return true;
    utf8.remove_prefix(character->bytes);
  }
}

} // namespace json
