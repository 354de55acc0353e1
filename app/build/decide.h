// The gate. One action in, one event body out, or a refusal that says what to do instead. Pure: the time, the person
// and whatever had to be read from disk come in the context. Every consequence is written into the body; `apply` only
// copies.
#pragma once

#include "build/blockers.h"
#include "build/shop.h"
#include "build/state.h"

namespace build {

struct Actor {
  std::string person;
  std::string name;
  std::string certificate; // fingerprint
  std::set<Role> roles;
};

// What was read from outside for an action, and is part of its event.
struct Outside {
  std::shared_ptr<const Plan> plan;   // open-build
  std::string procedure_sha256;       // open-build
  std::string shop_certificate_pem;   // the first enrol
  std::string shop_certificate;       // its fingerprint
  std::string person_certificate_pem; // enrol
  std::string person_certificate;
  json::Value photograph; // attach: {sha256, size, media, width, height}
  json::Value touched;    // update-gauge found out: [{build, step, entry}], from every build of the shop
};

struct Context {
  Moment now;
  const Actor* actor = nullptr;     // signed in
  const Actor* authority = nullptr; // whose passphrase came with this very action
  bool practice = false;            // the first enrol: a practice shop
  Outside outside;

  // Who acts: the authority when there is one, else the person signed in.
  const Actor* who() const { return authority ? authority : actor; }
};

struct Decision {
  json::Value body;    // what `apply` copies; "asked" holds the action as it came, without secrets
  std::string meaning; // of the signature; "" when the event is not signed
  json::Value answer;  // what the ok answer holds beyond the event
};

enum class Target { shop, build, none };
// Which chain an action writes to; none: an action the gate does not know.
Target target_of(std::string_view action);

Result<Decision> decide_shop(const Shop& shop, const json::Value& action, const Context& context);
// `build` must exist but for open-build, which answers the first event of its chain.
Result<Decision> decide_build(const Shop& shop, const Build* build, const json::Value& action, const Context& context);

// The blockers behind a `sign` or `release` that was refused as "blocked".
std::vector<Blocker> what_blocks(const Shop& shop, const Build& build, const json::Value& action,
                                 const Context& context);

// What reopening would take along, for a preview: the same body that the event would get.
Result<json::Value> preview_reopen(const Shop& shop, const Build& build, const json::Value& action,
                                   const Context& context);

} // namespace build
