// Faults found on parts, and what becomes of them.
#include "build/decision.h"
#include "build/findings.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace build {

namespace {

constexpr std::array<std::string_view, 4> ways = {"rework", "repair", "replace", "concession"};

Result<void> no_visitor(const Case& it) {
  const auto& roles = it.context.who()->roles;
  if (roles.size() == 1 && roles.count(Role::visitor))
    return refusal("role-needed", "A visitor looks and signs as a witness; faults are noted by the shop's own people.");
  return {};
}

// The part is there, and the position is one of its own; none means all of it.
Result<void> good_part(const procedure::Procedure& procedure, const std::string& id, const std::string& position) {
  const auto* part = procedure.part(id);
  if (!part) return bad_value(fmt::format("There is no part \"{}\" in this procedure.", id));
  if (position.empty()) return {};
  if (part->positions.empty())
    return bad_value(fmt::format("There is only one {}; leave the position out.", part->title));
  if (std::find(part->positions.begin(), part->positions.end(), position) == part->positions.end())
    return bad_value(fmt::format("Say which {}: {}.", part->title, fmt::join(part->positions, ", ")));
  return {};
}

// The finding as the procedure offers it, on this part.
Result<const procedure::OfferedFinding*> offered_on(const procedure::Procedure& procedure, const std::string& id,
                                                    const std::string& part) {
  if (id.empty()) return nullptr;
  const auto* offered = procedure.finding(id);
  if (!offered) return bad_value(fmt::format("This procedure offers no finding \"{}\".", id));
  if (std::find(offered->parts.begin(), offered->parts.end(), part) == offered->parts.end())
    return bad_value(fmt::format("\"{}\" is not found on that part; say it in your own words.", offered->text));
  return offered;
}

Result<const Finding*> named_finding(const Build& build, Asked& asked) {
  const std::string id = asked.text("finding");
  if (const auto wrong = asked.wrong()) return *wrong;
  const auto* found = find_finding(build, id);
  if (!found) return bad_value(fmt::format("There is no finding \"{}\" on this engine.", id));
  return found;
}

} // namespace

Result<Decision> finding(const Case& it) {
  Asked asked(it.action, {"build", "part", "position", "text", "offered", "place", "severity", "value", "cause"});
  const std::string part = asked.text("part");
  const std::string position = asked.text("position", false);
  const std::string offered_id = asked.text("offered", false);
  std::string text = asked.line("text", offered_id.empty());
  for (const char* key : {"place", "value"}) asked.line(key, false);
  const std::string severity = asked.text("severity", false);
  const auto cause = asked.truth("cause");
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto may = no_visitor(it); !may) return may.error();
  const auto& procedure = it.build.plan->procedure();
  if (const auto good = good_part(procedure, part, position); !good) return good.error();
  const auto offered = offered_on(procedure, offered_id, part);
  if (!offered) return offered.error();
  if (!severity.empty() && severity != "fault" && severity != "slight")
    return bad_value("\"severity\" must be fault or slight.");
  const bool slight = severity.empty() ? *offered && (*offered)->slight : severity == "slight";
  if (text.empty()) text = (*offered)->text;
  const std::string id = fmt::format("f{}", it.build.findings.size() + 1);
  Value body = begun(it);
  body.set("finding", Value::text(id));
  body.set("part", Value::text(part));
  if (!position.empty()) body.set("position", Value::text(position));
  body.set("text", Value::text(text));
  if (*offered) body.set("offered", Value::text(offered_id));
  if (slight) body.set("slight", Value::boolean(true));
  if (cause.value_or(*offered && (*offered)->cause)) body.set("cause_asked", Value::boolean(true));
  for (const char* key : {"place", "value"})
    if (const auto* value = it.action.find(key)) body.set(key, *value);
  Decision out;
  out.answer = Value::object({{"finding", Value::text(id)}});
  if (*offered && !(*offered)->usually.empty()) out.answer.set("usually", Value::text((*offered)->usually));
  out.body = std::move(body);
  return out;
}

namespace {

// Where the procedure names the proof it must be that one; else any entry, or the sentence alone.
Result<std::optional<EntryAt>> proof_of(const Case& it, const Finding& finding, Asked& asked) {
  std::optional<EntryAt> at = required_proof(it.build, finding);
  if (const auto* given = asked.any("proof", false)) {
    if (!given->is(json::Kind::object)) return bad_value("\"proof\" must hold \"step\" and \"entry\".");
    Asked place(*given, {"step", "entry"});
    const auto named = named_entry(it.build, place);
    if (!named) return named.error();
    if (at && *at != *named)
      return bad_value(fmt::format("This is proved by \"{}: {}\".", it.build.plan->step(at->step).title,
                                   it.build.plan->entry(*at).title));
    at = *named;
  }
  if (!at || proves(it.shop, it.build, finding, *at, it.context.now)) return at;
  return refusal("not-proved", fmt::format("\"{}: {}\" is to prove it, and holds no good value recorded since it was "
                                           "found.",
                                           it.build.plan->step(at->step).title, it.build.plan->entry(*at).title));
}

Result<void> may_concede(const Case& it, const Finding& finding) {
  if (!it.context.authority || !it.context.authority->roles.count(Role::owner))
    return refusal("role-needed", "A concession is given by an owner, with their passphrase in the same action.");
  if (it.context.authority->person == finding.found_by && !it.shop.one_person)
    return refusal(
        "second-person-needed",
        fmt::format("{} found this and may not alone concede it; another owner does.", it.context.authority->name));
  return {};
}

} // namespace

Result<Decision> clear(const Case& it) {
  Asked asked(it.action,
              {"build", "finding", "disposition", "text", "proof", "cause", "customer", "person", "passphrase"});
  const auto found = named_finding(it.build, asked);
  if (!found) return found.error();
  const Finding& finding = **found;
  const std::string way = asked.text("disposition", false);
  const std::string cause = asked.line("cause", false);
  asked.line("text", !way.empty());
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto may = no_visitor(it); !may) return may.error();
  if (way.empty() && cause.empty()) return bad_value("Give a \"disposition\" with its \"text\", or the \"cause\".");
  if (!way.empty() && std::find(ways.begin(), ways.end(), way) == ways.end())
    return bad_value(fmt::format("\"disposition\" must be one of {}.", fmt::join(ways, ", ")));
  if (!way.empty() && !is_open(it.shop, it.build, finding, it.context.now))
    return bad_value(fmt::format("{} is cleared already.", named(it.build, finding)));
  Value body = begun(it);
  body.set("finding", Value::text(finding.id));
  if (!cause.empty()) body.set("cause", Value::text(cause));
  Decision out;
  out.answer = Value::object();
  if (!way.empty()) {
    body.set("disposition", Value::text(way));
    body.set("text", *it.action.find("text"));
  }
  if (way == "concession") {
    if (const auto may = may_concede(it, finding); !may) return may.error();
    auto customer = customer_agreed(asked);
    if (!customer) return customer.error();
    body.set("customer", std::move(*customer));
    if (it.context.actor) body.set("asked_by", Value::text(it.context.actor->person));
    out.meaning = meaning_conceded;
  } else if (!way.empty()) {
    const auto proof = proof_of(it, finding, asked);
    if (!proof) return proof.error();
    if (*proof)
      body.set("proof", Value::object({{"step", Value::text(it.build.plan->step((*proof)->step).id)},
                                       {"entry", Value::text(it.build.plan->entry(**proof).id)}}));
  }
  out.body = std::move(body);
  return out;
}

} // namespace build
