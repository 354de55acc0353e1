// The shop's own actions: people, gauges and wrenches, settings.
#include "build/decision.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

namespace {

struct ShopCase {
  const Shop& shop;
  const Value& action;
  const Context& context;
};

Value begun_shop(const ShopCase& it) {
  return Value::object({{"asked", as_recorded(it.action)}});
}

Decision decided(Value body, bool signs) {
  Decision out;
  out.body = std::move(body);
  out.answer = Value::object();
  if (signs) out.meaning = meaning_done;
  return out;
}

Result<void> needs_role(const ShopCase& it, std::initializer_list<Role> any_of, std::string_view what) {
  const Actor* who = it.context.who();
  if (!who) return refusal("sign-in-needed", "Sign in first; every entry carries the name of who made it.");
  for (const Role role : any_of)
    if (who->roles.count(role)) return {};
  return refusal("role-needed",
                 fmt::format("{} may not {}; that is for: {}.", who->name, what, name_of(*any_of.begin())));
}

Result<Decision> enrol(const ShopCase& it) {
  Asked asked(it.action, {"person", "name", "roles", "passphrase", "owner", "owner_passphrase"});
  const std::string id = asked.id("person");
  const std::string name = asked.line("name");
  const auto roles = asked.texts("roles", true);
  if (const auto wrong = asked.wrong()) return *wrong;
  std::set<Role> granted;
  for (const auto& text : roles) {
    const auto role = role_named(text);
    if (!role)
      return bad_value(fmt::format("\"{}\" is no role; the roles are builder, inspector, owner and visitor.", text));
    granted.insert(*role);
  }
  if (granted.empty()) return bad_value("Give at least one role: builder, inspector, owner or visitor.");
  if (granted.count(Role::visitor) && granted.size() > 1)
    return bad_value("A visitor has no other role: they look and sign as a witness.");
  const bool first = !it.shop.exists();
  if (first && !granted.count(Role::owner)) return bad_value("The first person makes the shop and must be an owner.");
  if (!first)
    if (const auto may = needs_role(it, {Role::owner}, "enrol people"); !may) return may.error();
  if (it.shop.person(id))
    return bad_value(
        fmt::format("There is a person \"{}\" already, now or before; a name in the record is never given twice.", id));
  Value body = begun_shop(it);
  body.set("certificate", Value::text(it.context.outside.person_certificate_pem));
  body.set("fingerprint", Value::text(it.context.outside.person_certificate));
  if (first) {
    body.set("shop_certificate", Value::text(it.context.outside.shop_certificate_pem));
    body.set("shop_fingerprint", Value::text(it.context.outside.shop_certificate));
    if (it.context.practice) body.set("practice", Value::text("PRACTICE, NOT A RECORD"));
  }
  Decision out = decided(std::move(body), true);
  out.answer.set("certificate", Value::text(it.context.outside.person_certificate));
  if (first) out.answer.set("shop_key", Value::text(it.context.outside.shop_certificate));
  return out;
}

Result<const Person*> known_person(const ShopCase& it, Asked& asked) {
  const std::string id = asked.text("person");
  if (const auto wrong = asked.wrong()) return *wrong;
  const auto* person = it.shop.person(id);
  if (!person) return refusal("unknown-person", fmt::format("There is no person \"{}\" in this shop.", id));
  if (person->retired) return refusal("unknown-person", fmt::format("{} is retired.", person->name));
  return person;
}

// A passphrase is forgotten: another key, known as that person's from now on, with the reason in the record. What the
// old key signed stays valid.
Result<Decision> new_key(const ShopCase& it) {
  Asked asked(it.action, {"person", "passphrase", "reason", "owner", "owner_passphrase"});
  const auto person = known_person(it, asked);
  if (!person) return person.error();
  asked.line("reason");
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto may = needs_role(it, {Role::owner}, "give people a new key"); !may) return may.error();
  if (it.context.who()->person == (*person)->id)
    return bad_value("Your own passphrase is known to you: change it; a new key is given by another owner.");
  Value body = begun_shop(it);
  body.set("certificate", Value::text(it.context.outside.person_certificate_pem));
  body.set("fingerprint", Value::text(it.context.outside.person_certificate));
  body.set("before", Value::text((*person)->certificate));
  Decision out = decided(std::move(body), true);
  out.answer.set("certificate", Value::text(it.context.outside.person_certificate));
  return out;
}

// What a person's signature stands for, signed with the key that it will be made with.
constexpr std::string_view what_is_stated =
    "What I sign in this record I have done or seen myself. My signature here binds me as one on paper does. My "
    "passphrase is mine alone; I tell nobody, and when somebody may know it I change it.";

Result<Decision> statement(const ShopCase& it) {
  Asked asked(it.action, {"person"});
  const auto person = known_person(it, asked);
  if (!person) return person.error();
  if (!it.context.who() || it.context.who()->person != (*person)->id)
    return refusal("sign-in-needed", fmt::format("{} signs this alone; sign in as them.", (*person)->name));
  if ((*person)->stated)
    return refusal("already-recorded", fmt::format("{} has signed the statement already.", (*person)->name));
  Value body = begun_shop(it);
  body.set("text", Value::text(std::string(what_is_stated)));
  return decided(std::move(body), true);
}

Result<Decision> change_passphrase(const ShopCase& it) {
  Asked asked(it.action, {"person", "passphrase", "new"});
  const auto person = known_person(it, asked);
  if (!person) return person.error();
  return decided(begun_shop(it), true);
}

Result<Decision> retire(const ShopCase& it) {
  Asked asked(it.action, {"person", "reason", "owner", "owner_passphrase"});
  const auto person = known_person(it, asked);
  if (!person) return person.error();
  asked.line("reason");
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto may = needs_role(it, {Role::owner}, "retire people"); !may) return may.error();
  const auto owners = std::count_if(it.shop.people.begin(), it.shop.people.end(), [](const auto& entry) {
    return !entry.second.retired && entry.second.roles.count(Role::owner);
  });
  if ((*person)->roles.count(Role::owner) && owners < 2)
    return bad_value(fmt::format("{} is the only owner; enrol another before.", (*person)->name));
  return decided(begun_shop(it), true);
}

Result<Decision> set_shop(const ShopCase& it) {
  Asked asked(it.action, {"one_person", "name", "address", "calibration_needed", "owner", "owner_passphrase"});
  asked.truth("one_person");
  asked.truth("calibration_needed");
  asked.line("name", asked.has("name"));
  asked.line("address", false);
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto may = needs_role(it, {Role::owner}, "change the shop's settings"); !may) return may.error();
  if (!asked.has("one_person") && !asked.has("calibration_needed") && !asked.has("name") && !asked.has("address"))
    return bad_value("Say what to set: name, address, one_person or calibration_needed.");
  return decided(begun_shop(it), true);
}

// The fields of a gauge that may be stated when it is added and later; checked, not stored here.
Result<void> gauge_facts(Asked& asked, const Unit& unit) {
  for (const char* key : {"u", "repeat"})
    if (const auto value = asked.decimal(key); value && value->sign() < 0)
      return bad_value(fmt::format("\"{}\" is an uncertainty and cannot be negative.", key));
  const auto u = asked.decimal("u");
  const auto repeat = asked.decimal("repeat");
  if (repeat && (!u || *repeat > *u)) return bad_value("\"repeat\" is a part of \"u\" and cannot be larger.");
  const auto calibrated = asked.date("calibrated");
  const auto due = asked.date("due");
  if (calibrated && due && *due < *calibrated)
    return bad_value("\"due\" lies before \"calibrated\"; they may be swapped.");
  if (const auto error = asked.decimal("class_error"); error && (error->sign() < 0 || *error > Exact::ratio(1, 2)))
    return bad_value("\"class_error\" is a fraction, such as 0.04 for 4 per cent.");
  if (const auto limit = asked.decimal("use_limit"); limit && (!limit->is_whole() || limit->sign() <= 0))
    return bad_value("\"use_limit\" is how many pulls the wrench may do between calibrations, such as 5000.");
  if (const auto* range = asked.any("range", false)) {
    const bool pair = range->is(json::Kind::array) && range->items().size() == 2;
    const auto low = pair ? typed_value(range->items()[0], unit) : Result<quantity::Quantity>(bad_value(""));
    const auto high = pair ? typed_value(range->items()[1], unit) : Result<quantity::Quantity>(bad_value(""));
    if (!low || !high) return bad_value("\"range\" must be [low, high] in the gauge's unit.");
    if (high->value <= low->value) return bad_value("\"range\": low must lie below high.");
  }
  if (const auto wrong = asked.wrong()) return *wrong;
  return {};
}

Result<Decision> add_gauge(const ShopCase& it) {
  Asked asked(it.action, {"gauge", "kind", "unit", "resolution", "u", "repeat", "range", "calibrated", "due", "tool",
                          "class_error", "use_limit"});
  const std::string id = asked.id("gauge");
  const std::string kind = asked.text("kind");
  const std::string unit_name = asked.text("unit");
  const auto resolution = asked.decimal("resolution", true);
  const std::string tool = asked.text("tool", false);
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto may = needs_role(it, {Role::builder, Role::owner}, "add gauges"); !may) return may.error();
  const auto& kinds = gauge_kinds();
  if (std::find(kinds.begin(), kinds.end(), kind) == kinds.end())
    return bad_value(
        fmt::format("\"{}\" is no kind of gauge that is known here; the kinds are: {}.", kind, fmt::join(kinds, ", ")));
  const Unit* unit = quantity::find_unit(unit_name);
  if (!unit) return Error{"bad-unit", fmt::format("\"{}\" is no unit that is known here.", unit_name)};
  if (resolution->sign() <= 0) return bad_value("\"resolution\" is the smallest division and must be more than 0.");
  if (!tool.empty() && tool != "setting" && tool != "indicating")
    return bad_value("\"tool\" must be setting (it clicks) or indicating (it shows the peak).");
  const bool turning = unit->dimension == quantity::Dimension::torque;
  if (kind == "torque wrench" && (tool.empty() || !turning))
    return bad_value("A torque wrench needs \"tool\" (setting or indicating) and a unit of torque.");
  if (const auto facts_good = gauge_facts(asked, *unit); !facts_good) return facts_good.error();
  if (it.shop.gauge(id))
    return bad_value(fmt::format("There is a gauge \"{}\" already; give this one another name.", id));
  return decided(begun_shop(it), false);
}

Result<const Gauge*> known_gauge(const ShopCase& it, Asked& asked) {
  const std::string id = asked.text("gauge");
  if (const auto wrong = asked.wrong()) return *wrong;
  const auto* gauge = it.shop.gauge(id);
  if (!gauge) return refusal("gauge-unknown", fmt::format("There is no gauge \"{}\" in the shop.", id));
  return gauge;
}

Result<Decision> update_gauge(const ShopCase& it) {
  Asked asked(it.action,
              {"gauge", "calibrated", "due", "u", "repeat", "found", "since", "range", "class_error", "use_limit"});
  const auto gauge = known_gauge(it, asked);
  if (!gauge) return gauge.error();
  const std::string found = asked.text("found", false);
  asked.date("since");
  if (const auto facts_good = gauge_facts(asked, *(*gauge)->unit); !facts_good) return facts_good.error();
  if (!found.empty() && found != "in" && found != "out")
    return bad_value("\"found\" says how the gauge was found at calibration: in or out.");
  if (const auto may = needs_role(it, {Role::builder, Role::owner}, "update gauges"); !may) return may.error();
  Value body = begun_shop(it);
  Decision out = decided(Value(), found == "out");
  if (found == "out") {
    body.set("touched", it.context.outside.touched);
    out.answer.set("touched", it.context.outside.touched);
  }
  out.body = std::move(body);
  return out;
}

Result<Decision> check_gauge(const ShopCase& it) {
  Asked asked(it.action, {"gauge", "standard", "size", "reading"});
  const auto gauge = known_gauge(it, asked);
  if (!gauge) return gauge.error();
  asked.line("standard");
  const auto* size_given = asked.any("size");
  const auto* reading_given = asked.any("reading");
  if (const auto wrong = asked.wrong()) return *wrong;
  if ((*gauge)->tool != Tool::measuring)
    return refusal("gauge-unfit", "Only measuring gauges are checked against a standard here; a wrench is calibrated.");
  if (const auto may = needs_role(it, {Role::builder, Role::owner}, "check gauges"); !may) return may.error();
  const Unit& unit = *(*gauge)->unit;
  const auto size = typed_value(*size_given, unit);
  const auto reading = typed_value(*reading_given, unit);
  if (!size) return size.error();
  if (!reading) return reading.error();
  const Exact there = quantity::convert(size->value, *size->unit, unit);
  const Exact read = quantity::convert(reading->value, *reading->unit, unit);
  const Trust its = trust(**gauge, read, unit);
  const bool good = (read - there).abs() <= its.u;
  Value body = begun_shop(it);
  body.set("off", Value::text((read - there).text()));
  body.set("allowed", Value::text(its.u.text()));
  body.set("good", Value::boolean(good));
  Decision out = decided(std::move(body), false);
  out.answer.set("good", Value::boolean(good));
  out.answer.set("off", Value::text((read - there).text()));
  return out;
}

struct ShopAction {
  std::string_view name;
  Result<Decision> (*handler)(const ShopCase&);
};
constexpr ShopAction shop_actions[] = {{"enrol", enrol},
                                       {"change-passphrase", change_passphrase},
                                       {"new-key", new_key},
                                       {"statement", statement},
                                       {"retire", retire},
                                       {"set-shop", set_shop},
                                       {"add-gauge", add_gauge},
                                       {"update-gauge", update_gauge},
                                       {"check-gauge", check_gauge}};

} // namespace

Result<Decision> decide_shop(const Shop& shop, const Value& action, const Context& context) {
  const std::string name = action.text_or_empty("do");
  if (!shop.exists() && name != "enrol")
    return refusal("sign-in-needed", "There is no shop in this file yet; enrol its owner first.");
  for (const auto& one : shop_actions)
    if (one.name == name) return one.handler(ShopCase{shop, action, context});
  return refusal("unknown-action", fmt::format("There is no action \"{}\".", name));
}

} // namespace build
