// The shop: its people, its gauges and wrenches, its settings and the builds it has opened, folded from the shop chain.
#pragma once

#include "build/event.h"
#include "quantity/quantity.h"

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace build {

using quantity::Exact;
using quantity::Unit;

// A visitor looks at a hold point as the second person and signs as a witness; nothing else.
enum class Role { builder, inspector, owner, visitor };
std::string_view name_of(Role role);
std::optional<Role> role_named(std::string_view name);

struct Person {
  std::string id;
  std::string name;
  std::set<Role> roles;
  std::string certificate_pem;
  std::string certificate; // fingerprint
  bool stated = false;     // signed, with this key, what their signature stands for
  bool retired = false;
};

enum class Tool { measuring, setting, indicating }; // a setting wrench clicks; an indicating one shows the peak

struct Gauge {
  std::string id;
  std::string kind; // "micrometer", "bore gauge", "torque wrench", ...
  const Unit* unit = nullptr;
  Exact resolution;
  std::optional<Exact> u;      // expanded, stated on the certificate
  std::optional<Exact> repeat; // the part of u that is repeatability and shrinks with repetition
  std::optional<Exact> low, high;
  std::optional<calc::Date> calibrated;
  std::optional<calc::Date> due;
  Tool tool = Tool::measuring;
  std::optional<Exact> class_error; // torque tools: fraction of the value set
  int uses = 0;                     // torque tools: pulls since the last calibration, as far as steps are signed
  std::optional<int> use_limit;     // and how many it may do between calibrations
  std::string unfit;                // why it may not be used, or ""
};

// A gauge found out at its calibration: what it measured between `since` and `found` is in doubt.
struct Doubt {
  std::string gauge;
  std::optional<calc::Date> since; // its last good calibration; none when none is known
  Moment found;
  std::int64_t seq = 0; // of the shop's event that says so
};

struct OpenedBuild {
  std::string id;
  std::string procedure_sha256;
  std::string model, serial, customer;
  std::int64_t seq = 0; // of the build's chain, as last anchored
  std::string head;
  bool released = false;
};

// A bolt with a mark of its own, as it was when a step was last signed.
struct KnownBolt {
  int uses = 0;
  std::string build;  // where it was last
  std::string length; // with its unit, as last measured; "" when it was not
};

struct Shop {
  bool practice = false;
  std::string name;
  std::string address;
  bool one_person = false;
  bool calibration_needed = false; // a gauge without a stated calibration is refused
  std::string certificate_pem;     // the shop's own
  std::string certificate;         // its fingerprint: the shop key's name in the world
  std::map<std::string, Person, std::less<>> people;
  std::map<std::string, Gauge, std::less<>> gauges;
  std::map<std::string, OpenedBuild, std::less<>> builds;
  std::vector<Doubt> doubts;                           // in the order they were found
  std::map<std::string, KnownBolt, std::less<>> bolts; // by identity
  std::int64_t events = 0;
  Moment last;

  bool exists() const { return !certificate.empty(); }
  const Person* person(std::string_view id) const;
  const Gauge* gauge(std::string_view id) const;
};

// Counts what a step used: {"wrenches": [{gauge, pulls}], "bolts": [{bolt, uses, length?}]}. `build_id` may be "" where
// it is not known. Code "bad-event" when it does not fit.
Result<void> count_used(Shop& shop, const json::Value& used, std::string_view build_id);

// Copies what the event says into the shop. An event that does not fit (damaged, or of no shop) is an error,
// code "bad-event".
Result<void> apply(Shop& shop, const Event& event);

} // namespace build
