// People in a session: proving who one is, enrolling, new keys, passphrases.
#include "record/session_state.h"

#include <algorithm>
#include <fmt/format.h>

namespace record {

Result<void> Session::State::authenticate(Doing& doing) {
  const std::string name = doing.action.text_or_empty("do");
  const bool own = name == "sign" || name == "dispose" || name == "clear" || name == "release" || name == "addendum" ||
                   name == "change-passphrase";
  const bool by_owner = name == "enrol" || name == "new-key" || name == "retire" || name == "set-shop";
  if (!own && !by_owner) return {};
  const std::string who = own ? "person" : "owner";
  const std::string secret = own ? "passphrase" : "owner_passphrase";
  const auto* person = doing.action.find(who);
  const auto* passphrase = doing.action.find(secret);
  if (!person && !passphrase) return {};
  if (!person || !passphrase || !person->is(json::Kind::text) || !passphrase->is(json::Kind::text))
    return Error{"bad-value", fmt::format("\"{}\" and \"{}\" belong together, both as text.", who, secret)};
  auto holder = unlock(*store, shop, person->as_text(), passphrase->as_text(), doing.now);
  if (!holder) return holder.error();
  doing.authority = std::move(*holder);
  return {};
}

Result<void> Session::State::still_themselves(const Doing& doing) {
  if (!shop.exists()) return {};
  const auto changed = [&](const Holder& holder) {
    const auto* person = shop.person(holder.actor.person);
    return !person || person->retired || person->certificate != holder.actor.certificate;
  };
  if (signed_in && changed(signed_in->holder)) {
    const std::string name = signed_in->holder.actor.name;
    signed_in.reset();
    return Error{"sign-in-needed", fmt::format("{} was retired or given a new key meanwhile; sign in again.", name)};
  }
  if (doing.authority && changed(*doing.authority))
    return Error{"sign-in-needed",
                 fmt::format("{} was retired or given a new key meanwhile.", doing.authority->actor.name)};
  return {};
}

Result<Event> Session::State::stated(const Doing& doing, const Event& enrolled) {
  build::Shop next = shop;
  if (const auto applied = build::apply(next, enrolled); !applied) return applied.error();
  const Value asked =
      Value::object({{"do", Value::text("statement")}, {"person", Value::text(doing.states->actor.person)}});
  build::Context its;
  its.now = doing.now;
  its.authority = &doing.states->actor;
  auto decided = build::decide_shop(next, asked, its);
  if (!decided) return decided.error();
  Event event = enrolled;
  event.person = doing.states->actor.person;
  event.name = doing.states->actor.name;
  event.certificate = doing.states->actor.certificate;
  event.kind = "statement";
  event.body = decided->body;
  event.meaning = decided->meaning;
  return append(std::move(event), &doing.states->key);
}

Value Session::State::enrol(Doing& doing) {
  const std::string passphrase = doing.action.text_or_empty("passphrase");
  if (const auto good = good_passphrase(passphrase); !good) return refused(good.error());
  const std::string id = doing.action.text_or_empty("person");
  const std::string name = doing.action.text_or_empty("name");
  const bool first = !shop.exists();
  std::optional<PrivateKey> made_shop_key;
  Certificate shop_certificate;
  if (first) {
    made_shop_key = PrivateKey::generate();
    shop_certificate = certify_shop(*made_shop_key, fmt::format("Shop of {}", name), doing.now);
  } else {
    auto read = read_certificate(shop.certificate_pem);
    if (!read) return refused(read.error());
    shop_certificate = std::move(*read);
  }
  const Holder* owner_now = first ? nullptr : certifier(doing);
  if (!first && !owner_now) return refused(no_certifier(doing, "enrols people"));
  const PrivateKey& shop_key = first ? *made_shop_key : *owner_now->shop_key;
  doing.outside.shop_certificate_pem = shop_certificate.pem;
  doing.outside.shop_certificate = shop_certificate.fingerprint;
  certify(doing, shop_key, shop_certificate, {id, name, {}, {}});
  if (first) {
    doing.founds = true;
    doing.states->actor.roles = {build::Role::owner};
  }
  // Asked before anything is written, so that a refusal leaves no file behind.
  const auto decided = build::decide_shop(shop, doing.action, context(doing));
  if (!decided) return refused(decided.error());
  const auto roles = doing.action.at("roles").items();
  const bool owner = std::any_of(roles.begin(), roles.end(), [](const Value& r) { return r.as_text() == "owner"; });
  doing.keys = {{id, "person", doing.states->key.lock(passphrase)}};
  if (owner) doing.keys.push_back({id, "shop", shop_key.lock(passphrase)});
  if (!store) {
    auto made = Store::open(path, Store::Mode::create);
    if (!made) return refused(made.error());
    store = std::move(*made);
  }
  return act_on_shop(doing);
}

Value Session::State::new_key(Doing& doing) {
  const std::string passphrase = doing.action.text_or_empty("passphrase");
  if (const auto good = good_passphrase(passphrase); !good) return refused(good.error());
  const Holder* owner = certifier(doing);
  if (!owner) return refused(no_certifier(doing, "gives people a new key"));
  const auto* person = shop.person(doing.action.text_or_empty("person"));
  if (person) {
    const auto shop_certificate = read_certificate(shop.certificate_pem);
    if (!shop_certificate) return refused(shop_certificate.error());
    certify(doing, *owner->shop_key, *shop_certificate, {person->id, person->name, {}, person->roles});
    doing.keys = {{person->id, "person", doing.states->key.lock(passphrase)}};
    if (person->roles.count(build::Role::owner))
      doing.keys.push_back({person->id, "shop", owner->shop_key->lock(passphrase)});
  }
  return act_on_shop(doing); // refuses whom it does not know
}

const Holder* Session::State::certifier(const Doing& doing) const {
  const Holder* holder = doing.authority ? &*doing.authority : signed_in ? &signed_in->holder : nullptr;
  return holder && holder->shop_key ? holder : nullptr;
}

Error Session::State::no_certifier(const Doing& doing, std::string_view what) const {
  const Holder* holder = doing.authority ? &*doing.authority : signed_in ? &signed_in->holder : nullptr;
  if (!holder)
    return {"sign-in-needed",
            fmt::format("An owner {}: one signs in, or gives \"owner\" and \"owner_passphrase\".", what)};
  return {"role-needed", fmt::format("{} is not an owner; an owner {}.", holder->actor.name, what)};
}

void Session::State::certify(Doing& doing, const PrivateKey& shop_key, const Certificate& shop_certificate,
                             build::Actor whose) {
  PrivateKey key = PrivateKey::generate();
  const Certificate certificate = certify_person(shop_key, shop_certificate, key, whose.name, doing.now);
  doing.outside.person_certificate_pem = certificate.pem;
  doing.outside.person_certificate = certificate.fingerprint;
  whose.certificate = certificate.fingerprint;
  doing.states = Holder{std::move(whose), std::move(key), {}};
}

Value Session::State::change_passphrase(Doing& doing) {
  if (!doing.authority) return refused({"wrong-passphrase", "Give person, passphrase and the new one."});
  const std::string fresh = doing.action.text_or_empty("new");
  if (const auto good = good_passphrase(fresh); !good) return refused(good.error());
  const std::string& id = doing.authority->actor.person;
  doing.keys = {{id, "person", doing.authority->key.lock(fresh)}};
  if (doing.authority->shop_key) doing.keys.push_back({id, "shop", doing.authority->shop_key->lock(fresh)});
  return act_on_shop(doing);
}

Value Session::State::sign_in(Doing& doing) {
  if (!store) return refused({"sign-in-needed", "There is no shop in this file yet; enrol its owner first."});
  auto holder =
      unlock(*store, shop, doing.action.text_or_empty("person"), doing.action.text_or_empty("passphrase"), doing.now);
  if (!holder) return refused(holder.error());
  signed_in = SignedIn{std::move(*holder), doing.now.utc_ms, doing.now.utc_ms};
  return accepted(Value::object({{"person", Value::text(signed_in->holder.actor.person)}}));
}

} // namespace record
