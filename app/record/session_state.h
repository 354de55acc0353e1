// The inside of a session: who is signed in, what has been read, and the steps an action goes through. Only for the
// files of the session itself.
#pragma once

#include "record/folded.h"
#include "record/keyring.h"
#include "record/session.h"

namespace record {

using build::Decision;
using calc::Moment;
using json::Value;

Value refused(const Error& error); // the answer to an action
Value accepted(const Value& answer);

struct Session::State {
  std::filesystem::path path;
  SessionOptions options;
  std::optional<Store> store;
  Folded folded;

  build::Shop& shop = folded.shop;

  Result<bool> refresh() { return store ? folded.take_in(*store) : Result<bool>(false); }

  Result<build::Build*> find_build(std::string_view id, const Progress& progress = {});

  struct SignedIn {
    Holder holder;
    std::int64_t since = 0;
    std::int64_t last = 0;
  };
  std::optional<SignedIn> signed_in;

  // What one action brings beside its line: the time, and whoever proves themselves in it.
  struct Doing {
    const Holder* proved() const { return authority ? &*authority : founds ? &*states : nullptr; }

    Value action; // without "at"
    Moment now;
    std::optional<Holder> authority;
    build::Outside outside;
    std::vector<LockedKey> keys;   // written with the event
    std::optional<Holder> states;  // whoever signs their statement right after
    bool founds = false;           // they are the first person of the shop and act for themselves
    std::string kept_sha256, kept; // bytes kept with the event: a procedure, a photograph
  };

  bool practice() const { return shop.exists() ? shop.practice : options.practice; }
  Result<Moment> moment_of(Value& action);
  void end_idle(const Moment& now);
  build::Context context(const Doing& doing) const;
  const PrivateKey* signer(const Doing& doing) const;

  // Person and passphrase, where the action carries them for itself.
  Result<void> authenticate(Doing& doing);
  Event event_of(const Doing& doing, std::string chain, const Decision& decision) const;

  // The shop's own note of where a build stands: at its opening, at each signature and at release.
  std::optional<Event> anchor_of(const Event& event, std::string_view build_id) const;

  // Whoever acts may have been retired or given a new key by somebody else since they proved themselves.
  Result<void> still_themselves(const Doing& doing);

  // The person just certified signs what their signature stands for, with the key it will be made with.
  Result<Event> stated(const Doing& doing, const Event& enrolled);
  Result<Event> append(Event event, const PrivateKey* key);
  Value answer_of(const Decision& decision, const Event& event) const;
  Value act_on_shop(Doing& doing);
  Value act_on_build(Doing& doing);
  Value open_build(Doing& doing);
  Value attach(Doing& doing);
  Value enrol(Doing& doing);

  // A passphrase is forgotten: another key for the same person, certified by an owner who knows their own.
  Value new_key(Doing& doing);

  // The owner who certifies: whose passphrase came with the action, else who is signed in; null when that is no owner.
  const Holder* certifier(const Doing& doing) const;
  Error no_certifier(const Doing& doing, std::string_view what) const;

  // Makes a key for a person and has the shop's key certify it.
  static void certify(Doing& doing, const PrivateKey& shop_key, const Certificate& shop_certificate,
                      build::Actor whose);
  Value change_passphrase(Doing& doing);
  Value sign_in(Doing& doing);
  Value status(const Doing& doing);
  Value compare(const Doing& doing);
  Value preview(const Doing& doing);
  Value perform(Value action);
  Value dispatch(Doing& doing);
};

} // namespace record
