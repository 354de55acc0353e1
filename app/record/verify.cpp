#include "record/verify.h"

#include "build/apply.h"
#include "build/decide.h"
#include "procedure/reader.h"
#include "record/digest.h"
#include "record/parallel.h"
#include "record/photograph.h"
#include "record/seal.h"
#include "json/write.h"

#include <algorithm>
#include <fmt/format.h>
#include <map>

namespace record {

using json::Value;

namespace {

constexpr int first_rules_with_statements = 3;

using Hashes = std::vector<std::string_view>;

// Walks the events in their order, keeping what the shop and each build were at that moment.
class Walk {
public:
  // `hashes`: of the content of each event, "" where its turn must tell why there is none. With `signatures` those are
  // handed in there, and taken for good until it has done them.
  Walk(const BlobSource& blobs, const Known& known, Report& report, const Hashes& hashes, Aside* signatures)
      : blobs_(blobs), known_(known), report_(report), content_hashes_(hashes), signatures_(signatures),
        sought_(known.hashes.begin(), known.hashes.end()) {}

  void run(const std::vector<Event>& events) {
    for (const auto& event : events) {
      ++report_.events;
      if (!step(event)) return;
    }
    finish();
  }

  void run(const std::vector<Line>& lines) {
    whole_ = false;
    for (const auto& line : lines) {
      ++report_.events;
      if (const auto* withheld = std::get_if<Withheld>(&line);
          withheld ? !pass_over(*withheld) : !step(std::get<Event>(line)))
        return;
    }
    if (!lines.empty() && std::holds_alternative<Withheld>(lines.back())) {
      report_.fault = "it ends with an event that was withheld, which nothing confirms";
      return;
    }
    finish();
  }

private:
  // Nothing but its place is known of it; the link of the event after it confirms its hash.
  bool pass_over(const Withheld& withheld) {
    const auto differs = [&](std::string_view what) {
      report_.fault = fmt::format("shop, event {} (withheld): {}", withheld.seq, what);
      return false;
    };
    Head& head = heads_[std::string(build::shop_chain)];
    if (!shop_.exists()) return differs("a record does not begin with it");
    if (withheld.seq != head.seq + 1) return differs(fmt::format("event {} should come here", head.seq + 1));
    if (owed_) return differs("the shop's note of a signature should come here");
    if (!owes_statement_.empty()) return differs(fmt::format("the statement of {} should come here", owes_statement_));
    if (!withheld.used.is(json::Kind::null))
      if (const auto counted = build::count_used(shop_, withheld.used, ""); !counted)
        return differs(counted.error().message);
    head = {withheld.seq, withheld.hash};
    sought_.erase(withheld.hash);
    return true;
  }

  bool differs(const Event& event, const std::string& what) {
    report_.fault = fmt::format("{}, event {} ({}): {}", event.chain, event.seq, event.kind, what);
    return false;
  }

  bool step(const Event& event) {
    if (owed_ && (event.chain != build::shop_chain || event.body.text_or_empty("head") != owed_->hash))
      return differs(*owed_, "the shop's note of this signature is missing");
    if (!owes_statement_.empty() && (event.kind != "statement" || event.person != owes_statement_))
      return differs(event, fmt::format("the statement of {} should come here", owes_statement_));
    owes_statement_.clear();
    if (!in_chain(event) || !signature_good(event)) return false;
    if (event.time.utc_ms < newest_ms_)
      report_.notes.push_back(fmt::format("{}, event {}: the clock was set back before it.", event.chain, event.seq));
    newest_ms_ = std::max(newest_ms_, event.time.utc_ms);
    if (event.rules < newest_rules_)
      return differs(event, fmt::format("it says that it was decided by rules {} when rules {} held already",
                                        event.rules, newest_rules_));
    newest_rules_ = event.rules;
    return event.chain == build::shop_chain ? shop_event(event) : build_event(event);
  }

  bool in_chain(const Event& event) {
    Head& head = heads_[event.chain];
    if (head.hash.empty()) head.hash = no_hash;
    if (event.format > build::event_format) return differs(event, "written by a newer program");
    if (event.seq != head.seq + 1) return differs(event, fmt::format("event {} should come here", head.seq + 1));
    if (event.previous != head.hash) return differs(event, "it does not follow the event before it");
    const std::string_view ready = content_hashes_[static_cast<std::size_t>(report_.events - 1)];
    const std::string hash = ready.empty() ? hash_of(event) : std::string(ready);
    if (!event.hash.empty() && event.hash != hash) return differs(event, "its content does not give its hash");
    head = {event.seq, hash};
    sought_.erase(hash);
    return true;
  }

  // The key of the certificate the event names, which the shop's key must have certified.
  std::shared_ptr<const PublicKey> key_of(const Event& event) {
    const std::string* pem = nullptr;
    if (event.kind == "enrol" && !shop_.exists()) {
      pem = text_of(event.body, "certificate");
    } else if (const auto* person = shop_.person(event.person)) {
      pem = &person->certificate_pem;
    }
    if (!pem) return nullptr;
    if (const auto* person = shop_.person(event.person); person && person->certificate != event.certificate)
      return nullptr; // of a key that was replaced
    const auto it = keys_.find(event.certificate);
    if (it != keys_.end()) return it->second;
    const auto read = read_certificate(*pem);
    if (!read || read->fingerprint != event.certificate) return nullptr;
    return keys_.emplace(event.certificate, std::make_shared<const PublicKey>(*read)).first->second;
  }

  static const std::string* text_of(const Value& body, std::string_view key) {
    const auto* value = body.find(key);
    return value && value->is(json::Kind::text) ? &value->as_text() : nullptr;
  }

  bool signature_good(const Event& event) {
    const auto key = key_of(event);
    if (!key) return differs(event, "its certificate is not the one its person was enrolled with");
    const auto* person = shop_.person(event.person);
    if (person && person->retired) return differs(event, fmt::format("{} was retired before", person->name));
    if (person && person->name != event.name) return differs(event, "the printed name is not its person's");
    if (event.meaning.empty() != event.signature.empty())
      return differs(event, "meaning and signature do not go together");
    if (event.meaning.empty()) return true;
    ++report_.signatures;
    auto fits = [key, &event] {
      const auto der = from_base64(event.signature);
      return der && key->verify(signed_text(event), *der);
    };
    if (signatures_)
      signatures_->hand_in(std::move(fits));
    else if (!fits())
      return differs(event, fmt::format("the signature of {} does not fit its content", event.name));
    return true;
  }

  // --- deciding again -----------------------------------------------------------------------------------------------

  static bool same(const Value& a, const Value& b) { return a == b || json::canonical(a) == json::canonical(b); }

  bool compare(const Event& event, const Result<build::Decision>& decision) {
    std::string what;
    if (!decision)
      what = fmt::format("the gate refuses it: {}", decision.error().message);
    else if (!same(decision->body, event.body))
      what = fmt::format("deciding it again gives something else{}", first_difference(decision->body, event.body));
    else if (decision->meaning != event.meaning)
      what = "its signature has another meaning than the decision";
    if (what.empty()) return true;
    if (event.rules >= build::rules_now) return differs(event, what);
    report_.notes.push_back(fmt::format("{}, event {}: decided by older rules; now {}.", event.chain, event.seq, what));
    return true;
  }

  static std::string first_difference(const Value& ours, const Value& theirs) {
    for (const auto& member : ours.members()) {
      const auto* other = theirs.find(member.key);
      if (!other || !same(member.value, *other)) return fmt::format(" in \"{}\"", member.key);
    }
    for (const auto& member : theirs.members())
      if (!ours.find(member.key)) return fmt::format(" in \"{}\"", member.key);
    return "";
  }

  build::Actor actor_of(const std::string& person) const {
    const auto* known = shop_.person(person);
    return known ? build::Actor{known->id, known->name, known->certificate, known->roles} : build::Actor{};
  }

  // Who was signed in and whose passphrase came with the action, as the event tells.
  struct People {
    std::optional<build::Actor> actor, authority;
  };
  People people_of(const Event& event) const {
    People out;
    const auto* asked = event.body.find("asked");
    const bool own_hand = asked && asked->find("person") && event.chain != build::shop_chain;
    const std::string asked_by = event.body.text_or_empty("asked_by");
    if (own_hand || event.kind == "change-passphrase")
      out.authority = actor_of(event.person);
    else
      out.actor = actor_of(event.person);
    if (!asked_by.empty()) out.actor = actor_of(asked_by);
    return out;
  }

  bool shop_event(const Event& event) {
    const bool anchor = event.kind == "anchor" || event.kind == "open-build";
    if (anchor ? !anchored(event) : !shop_decided(event)) return false;
    if (const auto applied = build::apply(shop_, event); !applied) return differs(event, applied.error().message);
    if ((event.kind == "enrol" || event.kind == "new-key") && event.rules >= first_rules_with_statements)
      owes_statement_ = event.body.at("asked").text_or_empty("person");
    return event.seq != 1 || shop_made(event);
  }

  bool shop_made(const Event& event) {
    report_.shop_key = shop_.certificate;
    report_.practice = shop_.practice;
    const auto certificate = read_certificate(shop_.certificate_pem);
    if (!certificate || certificate->fingerprint != shop_.certificate || !issued_by(*certificate, *certificate))
      return differs(event, "the shop's own certificate is damaged");
    shop_certificate_ = *certificate;
    if (known_.shop_key && *known_.shop_key != shop_.certificate)
      return differs(event, "signed under another shop key than the one given");
    return certified(event);
  }

  bool certified(const Event& event) {
    const auto* pem = text_of(event.body, "certificate");
    const auto certificate = pem ? read_certificate(*pem) : Result<Certificate>(Error{"", ""});
    if (!certificate || certificate->fingerprint != event.body.text_or_empty("fingerprint"))
      return differs(event, "the certificate of the person enrolled is damaged");
    if (!issued_by(*certificate, shop_certificate_))
      return differs(event, "the shop's key has not certified the person enrolled");
    return true;
  }

  bool shop_decided(const Event& event) {
    const auto* asked = event.body.find("asked");
    if (!asked || !asked->is(json::Kind::object) || asked->text_or_empty("do") != event.kind)
      return differs(event, "what was asked is missing");
    const People people = people_of(event);
    build::Context context;
    context.now = event.time;
    build::Actor founder{event.person, event.name, event.certificate, {build::Role::owner}};
    context.actor = !shop_.exists() ? &founder : people.actor ? &*people.actor : nullptr;
    context.authority = people.authority ? &*people.authority : nullptr;
    context.practice = event.body.find("practice") != nullptr;
    context.outside.person_certificate_pem = event.body.text_or_empty("certificate");
    context.outside.person_certificate = event.body.text_or_empty("fingerprint");
    context.outside.shop_certificate_pem = event.body.text_or_empty("shop_certificate");
    context.outside.shop_certificate = event.body.text_or_empty("shop_fingerprint");
    if (const auto* touched = event.body.find("touched")) context.outside.touched = *touched;
    if (!compare(event, build::decide_shop(shop_, *asked, context))) return false;
    const bool certifies = event.kind == "new-key" || (event.kind == "enrol" && event.seq != 1);
    return !certifies || certified(event);
  }

  // The shop's note of a build's head must be of the event just before it.
  bool anchored(const Event& event) {
    if (!owed_) return differs(event, "it notes a signature that is not there");
    const bool opening = owed_->kind == "open-build";
    Value expected = Value::object({{"build", Value::text(std::string(build::build_of_chain(owed_->chain)))},
                                    {"seq", Value::integer(owed_->seq)},
                                    {"head", Value::text(owed_->hash)}});
    if (opening) {
      expected.set("procedure", owed_->body.at("procedure").at("sha256"));
      expected.set("engine", owed_->body.at("engine"));
      expected.set("customer", owed_->body.at("customer"));
    } else {
      expected.set("why", Value::text(owed_->kind));
      if (const auto* used = owed_->body.find("used")) expected.set("used", *used);
      if (owed_->body.text_or_empty("outcome") == build::Build::not_released)
        expected.set("not_released", Value::boolean(true));
    }
    if (!same(expected, event.body) || event.person != owed_->person || (event.kind == "open-build") != opening)
      return differs(event, "it does not agree with the event it notes");
    owed_.reset();
    return true;
  }

  Result<std::shared_ptr<const build::Plan>> plan_of(const std::string& sha256) {
    const auto it = plans_.find(sha256);
    if (it != plans_.end()) return it->second;
    const auto bytes = blobs_(sha256);
    if (!bytes) return bytes.error();
    if (!*bytes || sha256_hex(**bytes) != sha256)
      return Error{"store-damaged", "the procedure it was opened with is missing or changed"};
    const auto reading = procedure::read_procedure(**bytes);
    if (!reading.procedure) return Error{"store-damaged", "the procedure it was opened with cannot be read"};
    return plans_.emplace(sha256, std::make_shared<const build::Plan>(reading.procedure)).first->second;
  }

  // An excerpt tells of photographs and does not hold them.
  std::string photograph_fault(const Value& stated) const {
    if (!whole_ || !stated.is(json::Kind::object)) return "";
    const auto bytes = blobs_(stated.text_or_empty("sha256"));
    if (!bytes) return bytes.error().message;
    const auto facts = *bytes ? photograph_facts(**bytes) : Result<Value>(Error{"", ""});
    return facts && same(*facts, stated) ? "" : "its photograph is missing or changed";
  }

  bool build_event(const Event& event) {
    const auto* asked = event.body.find("asked");
    if (!asked || !asked->is(json::Kind::object) || asked->text_or_empty("do") != event.kind)
      return differs(event, "what was asked is missing");
    if (build::chain_of_build(asked->text_or_empty("build")) != event.chain)
      return differs(event, "it was asked of another build");
    const People people = people_of(event);
    build::Context context;
    context.now = event.time;
    context.actor = people.actor ? &*people.actor : nullptr;
    context.authority = people.authority ? &*people.authority : nullptr;
    if (const auto* photograph = event.body.find("photograph"); photograph && event.kind == "attach") {
      if (const auto fault = photograph_fault(*photograph); !fault.empty()) return differs(event, fault);
      context.outside.photograph = *photograph;
    }
    const bool opening = event.kind == "open-build";
    const auto it = builds_.find(event.chain);
    if (opening != (it == builds_.end())) return differs(event, "a build is opened once, first of all");
    if (opening) {
      const auto* procedure = event.body.find("procedure");
      const std::string sha256 =
          procedure && procedure->is(json::Kind::object) ? procedure->text_or_empty("sha256") : "";
      const auto plan = plan_of(sha256);
      if (!plan) return differs(event, plan.error().message);
      context.outside.plan = *plan;
      context.outside.procedure_sha256 = sha256;
    }
    if (!compare(event, build::decide_build(shop_, opening ? nullptr : &it->second, *asked, context))) return false;
    std::optional<Event> hashed;
    if (event.hash.empty()) hashed.emplace(event).hash = heads_[event.chain].hash;
    const Event& placed = hashed ? *hashed : event;
    if (opening) {
      auto begun = build::begin(placed, context.outside.plan);
      if (!begun) return differs(event, begun.error().message);
      builds_.emplace(event.chain, std::move(*begun));
    } else if (const auto applied = build::apply(it->second, placed); !applied) {
      return differs(event, applied.error().message);
    }
    if (opening || event.kind == "sign" || event.kind == "release") owed_ = placed;
    return true;
  }

  void finish() {
    if (owed_) {
      differs(*owed_, "the shop's note of this signature is missing");
      return;
    }
    if (!owes_statement_.empty()) {
      report_.fault = fmt::format("shop: the statement of {} is missing at the end", owes_statement_);
      return;
    }
    for (const auto& hash : known_.hashes)
      if (sought_.contains(hash)) {
        report_.fault = fmt::format("the head {} is not in this record: something was cut off or put back", hash);
        return;
      }
    for (const auto& [chain, head] : heads_) report_.heads.emplace_back(chain, head);
    for (const auto& [id, person] : shop_.people)
      if (!person.retired && (person.roles.count(build::Role::builder) || person.roles.count(build::Role::owner)))
        report_.signers.emplace(person.certificate, person.name);
    for (const auto& [chain, build] : builds_)
      if (build.released()) report_.released.insert(build.id);
    report_.intact = true;
  }

  const BlobSource& blobs_;
  const Known& known_;
  Report& report_;
  const Hashes& content_hashes_;
  Aside* signatures_;
  build::Shop shop_;
  Certificate shop_certificate_;
  std::map<std::string, build::Build, std::less<>> builds_; // by chain
  std::map<std::string, std::shared_ptr<const build::Plan>, std::less<>> plans_;
  std::map<std::string, std::shared_ptr<const PublicKey>, std::less<>> keys_; // by fingerprint of the certificate
  std::map<std::string, Head, std::less<>> heads_;
  std::set<std::string_view> sought_; // of the known ones, those that have not come yet
  std::string owes_statement_;        // a person just certified, who must state next what their signature stands for
  std::optional<Event> owed_;         // a signature the shop chain must note next
  std::int64_t newest_ms_ = 0;
  int newest_rules_ = 0;
  bool whole_ = true; // not an excerpt
};

const Event* event_in(const Event& event) {
  return &event;
}
const Event* event_in(const Line& line) {
  return std::get_if<Event>(&line);
}

template <typename Lines>
std::vector<std::string> hashes_of(const Lines& lines) {
  std::vector<std::string> hashes(lines.size());
  in_parallel(lines.size(), [&](std::size_t i) {
    try {
      if (const Event* event = event_in(lines[i])) hashes[i] = hash_of(*event);
    } catch (const std::logic_error&) { // told when its turn comes
    }
  });
  return hashes;
}

template <typename Lines>
Report walk(const Lines& lines, const BlobSource& blobs, const Known& known, const Hashes& hashes, Aside* signatures) {
  Report report;
  if (lines.empty()) {
    report.fault = "there is no event in it";
    return report;
  }
  try {
    Walk(blobs, known, report, hashes, signatures).run(lines);
  } catch (const std::logic_error& damage) {
    report.intact = false;
    report.fault = fmt::format("event {} of those in it cannot be understood: {}", report.events, damage.what());
  }
  return report;
}

// Signatures and hashes are most of the work, and done by all cores. When a signature is not good, everything is looked
// at again one after the other, so that the first thing that differs is told.
template <typename Lines>
Report on_all_cores(const Lines& lines, const BlobSource& blobs, const Known& known, const Hashes& hashes) {
  Aside signatures;
  Report report = walk(lines, blobs, known, hashes, &signatures);
  return signatures.all_good() ? report : walk(lines, blobs, known, hashes, nullptr);
}

} // namespace

Report verify_events(const std::vector<Event>& events, const BlobSource& blobs, const Known& known) {
  const auto hashes = hashes_of(events);
  return on_all_cores(events, blobs, known, Hashes(hashes.begin(), hashes.end()));
}

Report verify_excerpt(const std::vector<Line>& lines, const BlobSource& blobs, const Known& known) {
  const auto hashes = hashes_of(lines);
  return on_all_cores(lines, blobs, known, Hashes(hashes.begin(), hashes.end()));
}

Result<Report> verify_shop(const std::filesystem::path& path, const Known& known) {
  const auto store = Store::open(path, Store::Mode::read_only);
  if (!store) return store.error();
  std::vector<Event> read;
  const auto difference = store->first_difference(&read);
  if (!difference) return difference.error();
  const auto events = *difference ? store->events_in_order() : Result<std::vector<Event>>(std::move(read));
  if (!*difference && events) {
    Hashes hashes; // just worked out from the content, row by row
    for (const Event& event : *events) hashes.emplace_back(event.hash);
    return on_all_cores(
        *events, [&](std::string_view sha256) { return store->blob(sha256); }, known, hashes);
  }
  Report report;
  report.fault = *difference ? **difference : events.error().message;
  if (events && !events->empty()) report.shop_key = events->front().body.text_or_empty("shop_fingerprint");
  return report;
}

} // namespace record
