// Releasing the engine, handing it back unreleased, and adding to a released record.
#include "build/decision.h"
#include "build/doubt.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

namespace {

// Whether any value here was judged by the wider limits of a used part.
bool any_service(const Build& build) {
  for (std::size_t s = 0; s < build.plan->size(); ++s)
    for (std::size_t e = 0; e < build.plan->step(s).entries.size(); ++e) {
      const EntryAt at{s, e};
      const auto& entry = build.plan->entry(at);
      if (!has_anything(build.entry(at)) || entry_on(build, at) == Holds::no) continue;
      const std::size_t positions = procedure::cells_of(build.plan->step(s), entry).positions;
      const auto by_service = [&](const std::string& limit) {
        for (std::size_t p = 0; p < positions; ++p)
          if (applied(build, at, limit, p).column == "service") return true;
        return false;
      };
      if (!entry.limit.empty() && by_service(entry.limit)) return true;
      for (const auto& [result, limit] : entry.judge)
        if (by_service(limit)) return true;
    }
  return false;
}

bool any_concession(const Build& build) {
  for (std::size_t s = 0; s < build.plan->size(); ++s) {
    Value body = Value::object();
    list_exceptions(build, s, body);
    if (body.find("conceded")) return true;
  }
  return false;
}

} // namespace

namespace {

// Handed back without a release: signed, with the list of what keeps it from one. Work may go on.
Result<Decision> hand_back(const Case& it, const std::vector<Blocker>& in_the_way) {
  if (in_the_way.empty()) return bad_value("Nothing keeps this engine from release; release it.");
  Value body = begun(it);
  body.set("outcome", Value::text(std::string(Build::not_released)));
  Value list = Value::array();
  for (const auto& blocker : in_the_way)
    list.push(Value::object({{"code", Value::text(blocker.code)},
                             {"message", Value::text(blocker.message)},
                             {"step", Value::text(blocker.step)}}));
  body.set("blockers", std::move(list));
  Decision out;
  out.meaning = meaning_released;
  out.answer = Value::object({{"outcome", body.at("outcome")}, {"blockers", body.at("blockers")}});
  out.body = std::move(body);
  return out;
}

} // namespace

Result<Decision> release(const Case& it) {
  Asked asked(it.action, {"build", "person", "passphrase", "deferred", "reason", "outcome"});
  const auto deferred = asked.texts("deferred");
  const std::string outcome = asked.text("outcome", false);
  asked.line("reason", !deferred.empty() || !outcome.empty());
  if (const auto wrong = asked.wrong()) return *wrong;
  if (!outcome.empty() && outcome != Build::not_released)
    return bad_value("\"outcome\" may only be \"not released\": handed back as it is, with the reason.");
  for (const auto& id : deferred) {
    const auto& sections = it.build.plan->procedure().sections;
    const auto section = std::find_if(sections.begin(), sections.end(), [&](const auto& s) { return s.id == id; });
    if (section == sections.end()) return bad_value(fmt::format("There is no section \"{}\" in this procedure.", id));
    if (!section->deferrable)
      return bad_value(fmt::format("The section \"{}\" may not be left open at release.", section->title));
  }
  const auto in_the_way = release_blockers(it.shop, it.build, deferred, it.context.now);
  if (outcome == Build::not_released) return hand_back(it, in_the_way);
  if (!in_the_way.empty())
    return refusal("blocked", fmt::format("{} things keep this engine from release; the first: {}", in_the_way.size(),
                                          in_the_way.front().message));
  Value body = begun(it);
  const bool concessions = any_concession(it.build);
  body.set("outcome", Value::text(concessions ? "released with concessions" : "released"));
  // "Rebuilt" is said only of an engine held to the limits of new parts throughout.
  body.set("work", Value::text(any_service(it.build) ? "overhauled" : "rebuilt"));
  if (!deferred.empty()) body.set("deferred", text_list(deferred));
  Decision out;
  out.meaning = meaning_released;
  out.answer = Value::object({{"outcome", body.at("outcome")}, {"work", body.at("work")}});
  out.body = std::move(body);
  return out;
}

namespace {

// "entries": [{step, entry, text}]: what an addendum speaks of. A doubt about a gauge is settled by being told.
Result<Value> named_in_addendum(const Case& it, Asked& asked) {
  Value out = Value::array();
  const Value* given = asked.any("entries", false);
  if (!given) return out;
  if (!given->is(json::Kind::array) || given->items().empty())
    return bad_value("\"entries\" must be a list of {\"step\", \"entry\", \"text\"}.");
  for (const auto& item : given->items()) {
    if (!item.is(json::Kind::object)) return bad_value("\"entries\": each must hold \"step\", \"entry\" and \"text\".");
    Asked one(item, {"step", "entry", "text"});
    const auto at = named_entry(it.build, one);
    if (!at) return at.error();
    const std::string text = one.line("text");
    if (const auto wrong = one.wrong()) return *wrong;
    Value named = Value::object({{"step", Value::text(it.build.plan->step(at->step).id)},
                                 {"entry", Value::text(it.build.plan->entry(*at).id)},
                                 {"text", Value::text(text)}});
    if (const auto doubt = in_doubt(it.shop, it.build, *at); doubt.doubt) named.set("doubt", to_json(*doubt.doubt));
    out.push(std::move(named));
  }
  return out;
}

} // namespace

Result<Decision> addendum(const Case& it) {
  Asked asked(it.action, {"build", "person", "passphrase", "text", "entries"});
  asked.line("text", !asked.has("entries"));
  const auto entries = named_in_addendum(it, asked);
  if (!entries) return entries.error();
  if (const auto wrong = asked.wrong()) return *wrong;
  if (!it.build.released())
    return refusal("not-released", "An addendum is for a released engine; this build is still open.");
  Decision out;
  out.meaning = meaning_done;
  out.answer = Value::object();
  out.body = begun(it);
  if (!entries->items().empty()) out.body.set("entries", *entries);
  return out;
}

} // namespace build
