// Calling a computation the way the command line does: JSON in, JSON out.
#pragma once

#include "calc/registry.h"
#include "json/read.h"
#include "json/write.h"

#include <catch2/catch.hpp>

#include <string>
#include <string_view>

namespace calculating {

inline const calc::Computation& computation(std::string_view name) {
  const calc::Computation* found = calc::find_computation(name);
  if (!found) throw std::logic_error("no computation " + std::string(name));
  return *found;
}

inline calc::Result<calc::Answer> attempt(std::string_view name, std::string_view input) {
  return calc::compute(computation(name), json::read_one(input).value());
}

inline calc::Answer answer(std::string_view name, std::string_view input) {
  const auto found = attempt(name, input);
  INFO(input);
  if (!found) FAIL(found.error().message);
  return *found;
}

// The message of a refusal, "" when there was an answer.
inline std::string refusal(std::string_view name, std::string_view input) {
  const auto found = attempt(name, input);
  if (found) return "";
  CHECK(found.error().code == "bad-input");
  return found.error().message;
}

inline const calc::Quantity& quantity_in(const calc::Answer& answer, std::string_view result) {
  const calc::Outcome* found = answer.find(result);
  if (!found || !found->quantity()) throw std::logic_error("no quantity " + std::string(result));
  return *found->quantity();
}

inline double value(const calc::Answer& answer, std::string_view result) {
  return quantity_in(answer, result).value.to_double();
}

inline double u(const calc::Answer& answer, std::string_view result) {
  return quantity_in(answer, result).u.value().to_double();
}

// A result as it is written: {"value":0.03,"unit":"mm"}.
inline std::string written(const calc::Answer& answer, std::string_view result) {
  const calc::Outcome* found = answer.find(result);
  return found ? json::compact(calc::to_json(*found)) : "absent";
}

inline bool has_note(const calc::Answer& answer, std::string_view words) {
  for (const std::string& note : answer.notes)
    if (note.find(words) != std::string::npos) return true;
  return false;
}

// For readings of a gauge without U: {"values": ..., "unit": "mm"}.
inline std::string mm(std::string_view values) {
  return R"({"values":)" + std::string(values) + R"(,"unit":"mm"})";
}

} // namespace calculating
