#include "build/decision.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

namespace {

using Handler = Result<Decision> (*)(const Case&);

enum class Needs { builder, anybody, release };

struct BuildAction {
  std::string_view name;
  Handler handler;
  Needs needs;
};

constexpr BuildAction build_actions[] = {
    {"record", record, Needs::builder},     {"again", record, Needs::builder},
    {"correct", correct, Needs::builder},   {"take-back", take_back, Needs::builder},
    {"zero", zero, Needs::builder},         {"acknowledge", acknowledge, Needs::anybody},
    {"confirm", confirm, Needs::builder},   {"pick", pick, Needs::builder},
    {"identify", identify, Needs::builder}, {"wait", start_wait, Needs::builder},
    {"part", part, Needs::builder},         {"note", note, Needs::anybody},
    {"attach", attach, Needs::anybody},     {"finding", finding, Needs::anybody},
    {"clear", clear, Needs::anybody},       {"send", send, Needs::builder},
    {"back", back, Needs::builder},         {"fill-limit", fill_limit, Needs::builder},
    {"tighten", tighten, Needs::builder},   {"loosen", loosen, Needs::builder},
    {"bolt", bolt, Needs::builder},         {"extension", extension, Needs::builder},
    {"dispose", dispose, Needs::anybody},   {"accept", accept, Needs::builder},
    {"sign", sign, Needs::anybody},         {"reopen", reopen, Needs::builder},
    {"release", release, Needs::release},   {"addendum", addendum, Needs::release}};

constexpr std::string_view shop_actions[] = {"enrol",    "change-passphrase", "new-key",      "statement",  "retire",
                                             "set-shop", "add-gauge",         "update-gauge", "check-gauge"};

const BuildAction* find_action(std::string_view name) {
  for (const auto& action : build_actions)
    if (action.name == name) return &action;
  return nullptr;
}

Result<void> may_act(Needs needs, const Context& context) {
  const Actor* who = context.who();
  if (!who) return refusal("sign-in-needed", "Sign in first; every entry carries the name of who made it.");
  if (needs == Needs::builder && !context.actor)
    return refusal("sign-in-needed", "Sign in first; every entry carries the name of who made it.");
  const auto& roles = who->roles;
  if (needs == Needs::builder && !roles.count(Role::builder))
    return refusal("role-needed", fmt::format("{} is not enrolled as a builder.", who->name));
  if (needs == Needs::release) {
    if (!context.authority)
      return refusal("wrong-passphrase",
                     "This is signed with the passphrase in the same action: give person and passphrase.");
    if (!roles.count(Role::builder) && !roles.count(Role::owner))
      return refusal("role-needed",
                     fmt::format("{} may not release an engine; a builder or an owner does.", who->name));
  }
  return {};
}

} // namespace

Target target_of(std::string_view action) {
  if (action == "open-build" || find_action(action)) return Target::build;
  if (std::find(std::begin(shop_actions), std::end(shop_actions), action) != std::end(shop_actions))
    return Target::shop;
  return Target::none;
}

namespace {

Result<Decision> open_build(const Shop& shop, const Value& action, const Context& context) {
  Asked asked(action, {"build", "procedure", "engine", "customer"});
  const std::string id = asked.id("build");
  asked.text("procedure");
  asked.line("customer");
  const auto* engine = asked.any("engine");
  if (const auto wrong = asked.wrong()) return *wrong;
  if (!engine->is(json::Kind::object)) return bad_value("\"engine\" must hold model, serial and hours.");
  Asked facts(*engine, {"model", "serial", "hours"});
  facts.line("model");
  facts.line("serial");
  const auto* hours = facts.any("hours");
  if (const auto wrong = facts.wrong()) return *wrong;
  const std::string hours_text = hours->is(json::Kind::number) ? hours->number_text() : facts.line("hours");
  if (const auto wrong = facts.wrong()) return *wrong;
  if (hours_text != "unknown" && !Exact::decimal(hours_text))
    return bad_value("\"hours\" must be the hours run, or \"unknown\".");
  if (shop.builds.count(id))
    return bad_value(fmt::format("There is a build \"{}\" already; give this one another name.", id));
  const auto& plan = *context.outside.plan;
  Value body = Value::object({{"asked", as_recorded(action)}, {"build", Value::text(id)}});
  body.set("procedure", Value::object({{"id", Value::text(plan.procedure().id)},
                                       {"title", Value::text(plan.procedure().title)},
                                       {"revision", Value::text(plan.procedure().revision)},
                                       {"sha256", Value::text(context.outside.procedure_sha256)}}));
  body.set("engine", Value::object({{"model", Value::text(engine->text_or_empty("model"))},
                                    {"serial", Value::text(engine->text_or_empty("serial"))},
                                    {"hours", Value::text(hours_text)}}));
  body.set("customer", Value::text(action.text_or_empty("customer")));
  body.set("shop", Value::object({{"name", Value::text(shop.name)}, {"certificate", Value::text(shop.certificate)}}));
  if (shop.practice) body.set("practice", Value::boolean(true));
  Decision out;
  out.answer = Value::object({{"first", plan.size() ? Value::text(plan.step(0).id) : Value()}});
  out.body = std::move(body);
  return out;
}

} // namespace

Result<Decision> decide_build(const Shop& shop, const Build* build, const Value& action, const Context& context) {
  const std::string name = action.text_or_empty("do");
  if (name == "open-build") {
    if (const auto may = may_act(Needs::builder, context); !may) return may.error();
    return open_build(shop, action, context);
  }
  const auto* known = find_action(name);
  if (!known) return refusal("unknown-action", fmt::format("There is no action \"{}\".", name));
  if (const auto may = may_act(known->needs, context); !may) return may.error();
  if (build->released() && name != "addendum")
    return refusal("released", "This engine is released; what comes after goes into an addendum.");
  return known->handler(Case{shop, *build, action, context});
}

} // namespace build
