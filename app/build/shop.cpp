#include "build/shop.h"

#include "quantity/typed.h"

#include <fmt/format.h>
#include <stdexcept>

namespace build {

using json::Value;

std::string_view name_of(Role role) {
  switch (role) {
  case Role::builder: return "builder";
  case Role::inspector: return "inspector";
  case Role::owner: return "owner";
  case Role::visitor: return "visitor";
  }
  return "";
}

std::optional<Role> role_named(std::string_view name) {
  for (const Role role : {Role::builder, Role::inspector, Role::owner, Role::visitor})
    if (name_of(role) == name) return role;
  return std::nullopt;
}

namespace {

template <typename Map>
const typename Map::mapped_type* found(const Map& map, std::string_view id) {
  const auto it = map.find(id);
  return it == map.end() ? nullptr : &it->second;
}

std::optional<Exact> decimal(const Value& asked, std::string_view key) {
  const auto* value = asked.find(key);
  if (!value) return std::nullopt;
  const std::string& text = value->is(json::Kind::number) ? value->number_text() : value->as_text();
  auto number = Exact::written(text);
  if (!number) number = Exact::decimal(text); // typed with an exponent
  if (!number) throw std::logic_error("no number");
  return *number;
}

std::optional<calc::Date> date(const Value& asked, std::string_view key) {
  const auto* value = asked.find(key);
  if (!value) return std::nullopt;
  const auto parsed = calc::parse_date(value->as_text());
  if (!parsed) throw std::logic_error("no date");
  return *parsed;
}

template <typename T>
void keep_new(std::optional<T>& old, std::optional<T> now) {
  if (now) old = std::move(now);
}

void take_facts(Gauge& gauge, const Value& asked) {
  keep_new(gauge.u, decimal(asked, "u"));
  keep_new(gauge.repeat, decimal(asked, "repeat"));
  keep_new(gauge.calibrated, date(asked, "calibrated"));
  keep_new(gauge.due, date(asked, "due"));
  keep_new(gauge.class_error, decimal(asked, "class_error"));
  if (const auto limit = decimal(asked, "use_limit")) gauge.use_limit = static_cast<int>(limit->to_double());
  if (const auto* range = asked.find("range")) {
    const auto bound = [&](std::size_t i) {
      const Value& typed = range->items().at(i);
      if (typed.is(json::Kind::text)) // perhaps with another unit of its dimension
        if (const auto size = quantity::parse_typed(typed.as_text(), *gauge.unit))
          return std::optional(quantity::convert(size->value, *size->unit, *gauge.unit));
      const Value pair = Value::object({{"x", typed}});
      return decimal(pair, "x");
    };
    gauge.low = bound(0);
    gauge.high = bound(1);
  }
}

void enrol(Shop& shop, const Event& event) {
  const Value& asked = event.body.at("asked");
  if (const auto* certificate = event.body.find("shop_certificate")) {
    shop.certificate_pem = certificate->as_text();
    shop.certificate = event.body.at("shop_fingerprint").as_text();
    shop.practice = event.body.find("practice") != nullptr;
  }
  Person person;
  person.id = asked.at("person").as_text();
  person.name = asked.at("name").as_text();
  for (const auto& role : asked.at("roles").items())
    if (const auto known = role_named(role.as_text())) person.roles.insert(*known);
  person.certificate_pem = event.body.at("certificate").as_text();
  person.certificate = event.body.at("fingerprint").as_text();
  shop.people[person.id] = person;
}

void new_key(Shop& shop, const Event& event) {
  Person& person = shop.people.at(event.body.at("asked").at("person").as_text());
  person.certificate_pem = event.body.at("certificate").as_text();
  person.certificate = event.body.at("fingerprint").as_text();
  person.stated = false;
}

void statement(Shop& shop, const Event& event) {
  shop.people.at(event.person).stated = true;
}

void retire(Shop& shop, const Event& event) {
  shop.people.at(event.body.at("asked").at("person").as_text()).retired = true;
}

void set_shop(Shop& shop, const Event& event) {
  const Value& asked = event.body.at("asked");
  if (const auto* name = asked.find("name")) shop.name = name->as_text();
  if (const auto* address = asked.find("address")) shop.address = address->as_text();
  if (const auto* one = asked.find("one_person")) shop.one_person = one->as_boolean();
  if (const auto* needed = asked.find("calibration_needed")) shop.calibration_needed = needed->as_boolean();
}

void add_gauge(Shop& shop, const Event& event) {
  const Value& asked = event.body.at("asked");
  Gauge gauge;
  gauge.id = asked.at("gauge").as_text();
  gauge.kind = asked.at("kind").as_text();
  gauge.unit = quantity::find_unit(asked.at("unit").as_text());
  if (!gauge.unit) throw std::logic_error("unknown unit");
  gauge.resolution = decimal(asked, "resolution").value();
  const std::string tool = asked.text_or_empty("tool");
  if (tool == "setting") gauge.tool = Tool::setting;
  if (tool == "indicating") gauge.tool = Tool::indicating;
  take_facts(gauge, asked);
  shop.gauges[gauge.id] = gauge;
}

void update_gauge(Shop& shop, const Event& event) {
  const Value& asked = event.body.at("asked");
  Gauge& gauge = shop.gauges.at(asked.at("gauge").as_text());
  const bool found_out = asked.text_or_empty("found") == "out";
  if (found_out) {
    const auto since = date(asked, "since");
    shop.doubts.push_back({gauge.id, since ? since : gauge.calibrated, event.time, event.seq});
  }
  take_facts(gauge, asked);
  if (asked.find("calibrated")) gauge.uses = 0;
  gauge.unfit = found_out && !asked.find("calibrated") ? "it was found out and is not calibrated since" : "";
}

void check_gauge(Shop& shop, const Event& event) {
  Gauge& gauge = shop.gauges.at(event.body.at("asked").at("gauge").as_text());
  gauge.unfit = event.body.at("good").as_boolean()
                    ? ""
                    : fmt::format("its last check was {} {} off", event.body.at("off").as_text(), gauge.unit->name);
}

void open_build(Shop& shop, const Event& event) {
  OpenedBuild opened;
  opened.id = event.body.at("build").as_text();
  opened.procedure_sha256 = event.body.at("procedure").as_text();
  opened.model = event.body.at("engine").at("model").as_text();
  opened.serial = event.body.at("engine").at("serial").as_text();
  opened.customer = event.body.at("customer").as_text();
  opened.seq = event.body.at("seq").as_integer().value();
  opened.head = event.body.at("head").as_text();
  shop.builds[opened.id] = opened;
}

void take_used(Shop& shop, const Value& used, std::string_view build_id) {
  const auto count = [](const Value& value) { return static_cast<int>(value.as_integer().value()); };
  for (const auto& item : used.at("wrenches").items())
    shop.gauges.at(item.at("gauge").as_text()).uses += count(item.at("pulls"));
  for (const auto& item : used.at("bolts").items())
    shop.bolts[item.at("bolt").as_text()] =
        KnownBolt{count(item.at("uses")), std::string(build_id), item.text_or_empty("length")};
}

void anchor(Shop& shop, const Event& event) {
  OpenedBuild& opened = shop.builds.at(event.body.at("build").as_text());
  opened.seq = event.body.at("seq").as_integer().value();
  opened.head = event.body.at("head").as_text();
  opened.released =
      opened.released || (event.body.text_or_empty("why") == "release" && !event.body.find("not_released"));
  if (const auto* used = event.body.find("used")) take_used(shop, *used, opened.id);
}

void nothing(Shop&, const Event&) {}

using Apply = void (*)(Shop&, const Event&);
const std::map<std::string, Apply, std::less<>>& by_kind() {
  static const std::map<std::string, Apply, std::less<>> table = {{"enrol", enrol},
                                                                  {"retire", retire},
                                                                  {"new-key", new_key},
                                                                  {"statement", statement},
                                                                  {"set-shop", set_shop},
                                                                  {"add-gauge", add_gauge},
                                                                  {"update-gauge", update_gauge},
                                                                  {"check-gauge", check_gauge},
                                                                  {"open-build", open_build},
                                                                  {"anchor", anchor},
                                                                  {"change-passphrase", nothing}};
  return table;
}

} // namespace

const Person* Shop::person(std::string_view id) const {
  return found(people, id);
}
const Gauge* Shop::gauge(std::string_view id) const {
  return found(gauges, id);
}

Result<void> count_used(Shop& shop, const Value& used, std::string_view build_id) {
  try {
    take_used(shop, used, build_id);
  } catch (const std::exception& damage) {
    return Error{"bad-event", fmt::format("What a step used cannot be counted: {}.", damage.what())};
  }
  return {};
}

Result<void> apply(Shop& shop, const Event& event) {
  const auto it = by_kind().find(event.kind);
  const auto damaged = [&](const char* why) {
    return Error{"bad-event", fmt::format("Event {} of the shop ({}) does not fit: {}.", event.seq, event.kind, why)};
  };
  if (it == by_kind().end()) return damaged("unknown kind");
  if (event.kind != "enrol" && !shop.exists()) return damaged("there is no shop yet");
  try {
    it->second(shop, event);
  } catch (const std::exception& damage) {
    return damaged(damage.what());
  }
  shop.events = event.seq;
  shop.last = event.time;
  return {};
}

} // namespace build
