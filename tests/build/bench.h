// A bench without disk, clock or keys: action lines go through the gate, events are applied, answers come back as the
// command line would give them. Passphrases are not checked here but by the record's own tests: "right" is right.
#pragma once

#include "build/apply.h"
#include "build/decide.h"
#include "build/status.h"
#include "procedure/reader.h"
#include "json/read.h"
#include "json/write.h"

#include <initializer_list>
#include <string>
#include <vector>

class Bench {
public:
  // Enrols anna (builder, owner), ben (builder), carl (inspector) and some gauges, opens build "b" and signs anna in.
  explicit Bench(std::string_view procedure = small_engine());
  static std::string_view small_engine();
  // The same with these limits copied from a manual and checked by nobody.
  static std::string small_engine_unchecked(std::initializer_list<std::string_view> limits);

  // `build` is added where the line names none. {"ok":true,...} or {"ok":false,"error","message"}.
  json::Value perform(const std::string& line);
  bool ok(const std::string& line);             // fails the test with the message when refused
  std::string refused(const std::string& line); // the error's code; "" when it was accepted
  std::string message;                          // of the last refusal

  void signed_in(const std::string& person) { person_ = person; }
  void later(int minutes) { now.utc_ms += minutes * 60'000LL; }
  std::string state(const std::string& step) const;
  std::vector<std::string> blocking(const std::string& step) const; // codes
  const build::EntryState& entry(const std::string& step, const std::string& entry) const;

  // Enough to make steps signable.
  void clean(); // acknowledge, confirm and sign the first step
  void mains(); // good readings of bores and journals, signed
  void caps();  // tightened through both stages, strip read, signed

  build::Moment now{1'767'600'000'000, 60}; // 2026-01-05 09:00 local
  build::Shop shop;
  build::Build build;
  std::vector<build::Event> events; // of the build
  std::shared_ptr<const build::Plan> plan;

private:
  json::Value act(const json::Value& action);
  void note_in_shop(const build::Event& event);
  build::Actor actor(const std::string& person) const;
  std::string person_;
};

// Everything a build holds, as text, to compare two of them.
std::string everything(const build::Build& build);
