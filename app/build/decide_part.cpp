// Which part is where: new, reused or remade, its size, its lot, where it came from, its last day of use.
#include "build/consumables.h"
#include "build/decision.h"
#include "build/fitting.h"
#include "build/orders.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace build {

namespace {

constexpr std::array<std::string_view, 3> states = {"new", "reused", "remade"};
constexpr std::array<const char*, 4> lines = {"size", "lot", "from", "text"};

// What only a reason, in "text", allows.
Result<void> may_go_in(const Case& it, const procedure::Part& part, const std::string& name) {
  const auto given = [&](const char* key) { return it.action.text_or_empty(key); };
  const std::string state = given("state");
  const std::string from = given("from");
  const std::string expires = given("expires");
  if (part.dated && (given("lot").empty() || expires.empty()))
    return bad_value(
        fmt::format("{} has a last day of use: give its lot and the day, as \"lot\" and \"expires\".", part.title));
  if (!given("text").empty()) return {};
  // What ran in one place goes back there; another place is a decision, and says why.
  const auto& places = part.positions;
  if (state != "new" && from != given("position") && std::find(places.begin(), places.end(), from) != places.end())
    return refusal("wrong-place",
                   fmt::format("{} came from {}: put it back there, or say in \"text\" why not.", name, from));
  if (part.once && state == "reused")
    return refusal("one-use", fmt::format("{} is used up by fitting it: take a new one, or say in \"text\" why the "
                                          "same goes in again.",
                                          name));
  if (past_last_day(expires, it.context.now))
    return refusal("out-of-date", fmt::format("{}: its last day of use was {}; take another, or say in \"text\" why "
                                              "it is used all the same.",
                                              name, expires));
  return {};
}

} // namespace

Result<Decision> part(const Case& it) {
  Asked asked(it.action, {"build", "part", "position", "state", "size", "lot", "expires", "from", "text"});
  const std::string id = asked.text("part");
  const std::string position = asked.text("position", false);
  const std::string state = asked.text("state");
  for (const char* key : lines) asked.line(key, false);
  const auto expires = asked.date("expires");
  if (const auto wrong = asked.wrong()) return *wrong;
  const auto* known = it.build.plan->procedure().part(id);
  if (!known) return bad_value(fmt::format("There is no part \"{}\" in this procedure.", id));
  const auto& places = known->positions;
  if (places.empty() != position.empty() ||
      (!places.empty() && std::find(places.begin(), places.end(), position) == places.end()))
    return bad_value(places.empty() ? fmt::format("There is only one {}; leave the position out.", known->title)
                                    : fmt::format("Say which {}: {}.", known->title, fmt::join(places, ", ")));
  if (std::find(states.begin(), states.end(), state) == states.end())
    return bad_value(
        fmt::format("\"{}\" is no choice of {}; choose one of: {}.", state, known->title, fmt::join(states, ", ")));
  if (const auto away = away_at(it.build, id, position))
    return refusal("part-away", fmt::format("{}: enter it as back first.", away_text(it.build, *away)));
  if (const auto may = may_go_in(it, *known, part_text(it.build, id, position)); !may) return may.error();
  Decision out;
  out.answer = Value::object();
  Value body = begun(it);
  body.set("part", Value::text(id));
  if (!position.empty()) body.set("position", Value::text(position));
  body.set("state", Value::text(state));
  for (const char* key : lines)
    if (const auto* value = it.action.find(key)) body.set(key, *value);
  if (expires) {
    const std::string day = calc::text(*expires);
    body.set("expires", Value::text(day));
    if (past_last_day(day, it.context.now)) body.set("out_of_date", Value::boolean(true));
  }
  if (known->once && state == "reused") body.set("again", Value::boolean(true));
  Build next = as_it_would_be(it, body);
  if (const auto done = follow_judging(next, body, it.build.plan->entries_of_part(id)); !done) return done.error();
  out.body = std::move(body);
  return out;
}

} // namespace build
