#include "build/copying.h"

#include <stdexcept>

namespace build {

using json::Value;

Exact exact(const Value& text) {
  const auto number = Exact::written(text.as_text());
  if (!number) throw std::logic_error("no number: " + text.as_text());
  return *number;
}

std::string optional_text(const Value& object, std::string_view key) {
  return object.text_or_empty(key);
}

std::size_t index(const Value& value, std::size_t size) {
  const auto whole = value.as_integer();
  if (!whole || *whole < 0 || static_cast<std::size_t>(*whole) >= size) throw std::logic_error("no such place");
  return static_cast<std::size_t>(*whole);
}

Standing standing(const Value& text) {
  const auto found = standing_named(text.as_text());
  if (!found) throw std::logic_error("no such verdict");
  return *found;
}

Moment moment(const Value& text) {
  const auto found = calc::parse_moment(text.as_text());
  if (!found) throw std::logic_error("no such time");
  return *found;
}

std::size_t step_of(const Build& build, const Value& body) {
  const auto step = build.plan->find_step(body.at("step").as_text());
  if (!step) throw std::logic_error("no such step");
  return *step;
}

EntryAt entry_of(const Build& build, const Value& body) {
  const std::size_t step = step_of(build, body);
  const auto entry = build.plan->find_entry(step, body.at("entry").as_text());
  if (!entry) throw std::logic_error("no such entry");
  return {step, *entry};
}

} // namespace build
