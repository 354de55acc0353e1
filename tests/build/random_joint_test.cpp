// Joints under random actions: never is a bolt tightened beyond its uses, a stage begun before the one before is done
// on every fastener, or a step signed over an unfinished joint; and the fold of the events is the state.
#include "build/joint.h"

#include "build/tightening.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>

namespace {

class Stream {
public:
  explicit Stream(unsigned seed) : engine_(seed) {}

  std::string line(const Joints& bench) {
    const auto [step, entry] = of<std::pair<const char*, const char*>>({{"head", "bolts"},
                                                                        {"head", "bolts"},
                                                                        {"head", "again"},
                                                                        {"cover", "screws"},
                                                                        {"cover", "last"},
                                                                        {"nuts", "rod"},
                                                                        {"nuts", "castle"}});
    const std::size_t s = *bench.plan->find_step(step);
    const build::EntryAt at{s, *bench.plan->find_entry(s, entry)};
    const auto& planned = bench.plan->entry(at);
    const std::string place = fmt::format(R"("step":"{}","entry":"{}")", step, entry);
    const std::string& fastener = planned.fasteners[below(planned.fasteners.size())].id;
    switch (below(40)) {
    case 0: return fmt::format(R"({{"do":"loosen",{},"fasteners":["{}"],"reason":"x"}})", place, fastener);
    case 1:
      return fmt::format(R"({{"do":"loosen",{},"fasteners":"all","stage":"{}","reason":"x"}})", place,
                         planned.stages[below(planned.stages.size())].id);
    case 2: return fmt::format(R"({{"do":"bolt",{},"fasteners":"all","state":"{}"}})", place, of({"new", "reused"}));
    case 3:
      return fmt::format(R"({{"do":"bolt",{},"fasteners":["{}"],"state":"reused","identity":"{}"}})", place, fastener,
                         of({"A", "B"}));
    case 4:
      return fmt::format(R"({{"do":"bolt",{},"fasteners":["{}"],"length":{},"gauge":"mic"}})", place, fastener,
                         of({"99.2", "99.4", "99.5"}));
    case 5:
      return fmt::format(R"({{"do":"dispose",{},"fasteners":["{}"],"disposition":"{}","text":"x"}})", place, fastener,
                         of({"replace", "rework"}));
    case 6: return fmt::format(R"({{"do":"confirm",{}}})", place);
    case 7: return fmt::format(R"({{"do":"sign","step":"{}"}})", step);
    case 8:
      if (below(6) == 0) return fmt::format(R"({{"do":"reopen","step":"{}","reason":"x"}})", step);
      return fmt::format(R"({{"do":"extension",{},"wrench_length":"400 mm","extension":"{} mm"}})", place,
                         of({"100", "60"}));
    default: return pull(bench, at, step, entry);
    }
  }

  // What somebody would do about a refusal.
  std::string help(const Joints& bench, const std::string& refused, const std::string& code) {
    const auto action = *json::read_one(refused);
    const std::string step = action.text_or_empty("step");
    const std::string place = fmt::format(R"("step":"{}","entry":"{}")", step, action.text_or_empty("entry"));
    const std::size_t s = *bench.plan->find_step(step);
    const build::EntryAt at{s, *bench.plan->find_entry(s, action.text_or_empty("entry"))};
    const auto next = build::next_fastener(bench.build, at);
    if (code == "interrupted") return fmt::format(R"({{"do":"confirm",{}}})", place);
    if (!next) return fmt::format(R"({{"do":"sign","step":"{}"}})", step);
    const std::string& fastener = bench.plan->entry(at).fasteners[next->fastener].id;
    if (code == "bolt-length-missing")
      return fmt::format(R"({{"do":"bolt",{},"fasteners":["{}"],"length":99.2,"gauge":"mic"}})", place, fastener);
    return fmt::format(R"({{"do":"bolt",{},"fasteners":["{}"],"state":"new"}})", place, fastener);
  }

  std::size_t below(std::size_t n) { return engine_() % n; }

private:
  template <typename T>
  T of(std::initializer_list<T> list) {
    return *(list.begin() + below(list.size()));
  }

  // Mostly what comes next, now and then something else.
  std::string pull(const Joints& bench, build::EntryAt at, const char* step, const char* entry) {
    const auto& planned = bench.plan->entry(at);
    const auto next = build::next_fastener(bench.build, at).value_or(build::NextFastener{});
    const auto& stage = planned.stages[below(12) ? next.stage : below(planned.stages.size())];
    const std::size_t f = below(12) ? next.fastener : below(planned.fasteners.size());
    const std::string who = below(4) ? planned.fasteners[f].id : "all";
    using procedure::StageKind;
    switch (stage.kind) {
    case StageKind::torque: return Joints::pull(step, entry, who, stage.id, of({"40", "40", "41", "60", "32", "45"}));
    case StageKind::angle: return Joints::pull(step, entry, who, stage.id, of({"90", "90", "92", "84", "97"}), "");
    case StageKind::stretch: return Joints::pull(step, entry, who, stage.id, of({"0.15", "0.12", "0.18"}), "mic");
    case StageKind::check: return Joints::pull(step, entry, who, stage.id, of({"80", "80", "50"}), "peak");
    case StageKind::loosen:
    case StageKind::mark:
    case StageKind::wait: break;
    }
    return Joints::pull(step, entry, who, stage.id, "", "");
  }

  std::mt19937 engine_;
};

void stages_in_step(const Joints& bench) {
  for (std::size_t s = 0; s < bench.plan->size(); ++s)
    for (std::size_t e = 0; e < bench.plan->step(s).entries.size(); ++e)
      for (const auto& done : bench.build.entry({s, e}).fasteners)
        for (std::size_t stage = 0; stage + 1 < done.size(); ++stage) CHECK(!done[stage].below);
}

void within_uses(const Joints& bench) {
  for (const auto& [place, bolt] : bench.build.bolts)
    if (place.first == "head/bolts") CHECK(bolt.uses <= 3); // two allowed, and one gone too far on the way
}

} // namespace

TEST_CASE("random work on joints keeps their order, their bolts and their record") {
  std::size_t pulls = 0;
  std::size_t signatures = 0;
  for (unsigned seed = 1; seed <= 30; ++seed) {
    Stream stream(seed);
    Joints bench;
    std::string refused;
    std::string code;
    for (int turn = 0; turn < 400; ++turn) {
      bench.later(static_cast<int>(stream.below(6)));
      const std::string line = refused.empty() ? stream.line(bench) : stream.help(bench, refused, code);
      const bool signing = line.starts_with(R"({"do":"sign")");
      const auto before = bench.build;
      const auto answer = bench.perform(line);
      INFO("seed " << seed << " turn " << turn << ": " << line);
      if (!answer.at("ok").as_boolean()) {
        CHECK(everything(before) == everything(bench.build));
        const bool pull = line.starts_with(R"({"do":"tighten")");
        refused = pull && stream.below(4) ? line : "";
        code = answer.at("error").as_text();
        continue;
      }
      refused.clear();
      pulls += line.starts_with(R"({"do":"tighten")");
      stages_in_step(bench);
      within_uses(bench);
      if (!signing) continue;
      ++signatures;
      const auto step = *bench.plan->find_step((*json::read_one(line)).text_or_empty("step"));
      for (std::size_t e = 0; e < bench.plan->step(step).entries.size(); ++e)
        CHECK(!build::next_fastener(bench.build, {step, e}));
    }
    auto folded = build::begin(bench.events.front(), bench.plan);
    REQUIRE(folded);
    for (std::size_t e = 1; e < bench.events.size(); ++e) REQUIRE(build::apply(*folded, bench.events[e]));
    CHECK(everything(*folded) == everything(bench.build));
  }
  CHECK(pulls > 1000);
  CHECK(signatures > 0);
}
