// Each demo gives the answers that are kept beside it, and the shop it leaves behind is intact.
#include "procedure/reader.h"
#include "record/example.h"
#include "record/playing.h"
#include "record/verify.h"
#include "json/read.h"

#include <catch2/catch.hpp>
#include <filesystem>
#include <regex>
#include <set>

namespace {

constexpr const char* demos[] = {playing::short_block, playing::marigold};

// Hashes and fingerprints change with every run's keys.
std::string settled(const std::string& answer) {
  static const std::regex hash("[0-9a-f]{64}");
  return std::regex_replace(answer, hash, "HASH");
}

std::string read_in_project(const std::string& path) {
  return example::content(std::string(PROJECT_FOLDER) + "/" + path);
}

// What a demo does, and the dispositions in it.
std::set<std::string> ways(const std::string& demo) {
  std::set<std::string> done;
  for (const auto& line : playing::demo_lines(demo)) {
    const auto action = json::read_one(line);
    REQUIRE(action);
    done.insert(action->at("do").as_text());
    if (const auto* disposition = action->find("disposition")) done.insert(disposition->as_text());
  }
  return done;
}

// The last answer of a demo to an action of this kind.
json::Value last_answer(const std::string& demo, const std::string& kind) {
  const auto lines = playing::demo_lines(demo);
  const auto& answers = playing::demo_answers(demo);
  for (std::size_t i = lines.size(); i-- > 0;)
    if (json::read_one(lines[i])->at("do").as_text() == kind) return *json::read_one(answers[i]);
  FAIL("the demo does no " << kind);
  return {};
}

} // namespace

TEST_CASE("the answers of each demo are those that are kept") {
  for (const std::string demo : demos) {
    std::string answers;
    for (const auto& line : playing::demo_answers(demo)) answers += settled(line) + "\n";
    const std::string name = demo + ".answers";
    if (answers == read_in_project("demo/" + name)) continue;
    const auto fresh = std::filesystem::temp_directory_path() / name;
    example::write(fresh, answers);
    FAIL_CHECK("the demo answers differently; compare demo/" << name << " with " << fresh
                                                             << " and keep the new ones if they are right");
  }
}

TEST_CASE("each demo shows every way out") {
  for (const std::string demo : demos) {
    const auto done = ways(demo);
    for (const char* way :
         {"enrol", "record", "confirm", "pick", "identify", "wait", "tighten", "correct", "again", "take-back",
          "accept", "rework", "concession", "reopen", "sign", "part", "note", "release", "addendum"}) {
      INFO(demo << ": " << way);
      CHECK(done.count(way));
    }
  }
  const auto done = ways(playing::marigold);
  for (const char* way : {"replace", "loosen", "update-gauge", "new-key"}) {
    INFO(way);
    CHECK(done.count(way));
  }
}

TEST_CASE("the whole engine ends released, with nothing left open") {
  const json::Value status = last_answer(playing::marigold, "status");
  int closed = 0;
  for (const auto& step : status.at("steps").items()) {
    const std::string state = step.at("state").as_text();
    INFO(step.at("step").as_text() << ": " << state);
    const bool settled_step = state == "signed" || state == "not on this engine";
    CHECK(settled_step);
    closed += state == "signed";
  }
  CHECK(closed >= 60);
  CHECK(last_answer(playing::marigold, "release").at("outcome").as_text() == "released with concessions");
}

TEST_CASE("the procedures of the demos have no fault and leave nothing to remark") {
  for (const char* name : {"short-block", "hx4-150"}) {
    INFO(name);
    const auto read = procedure::read_procedure(read_in_project(std::string("procedures/") + name + ".json"));
    CHECK(read.procedure);
    CHECK(read.remarks.empty());
  }
}

TEST_CASE("the shop of each demo is intact and says it is practice") {
  for (const std::string demo : demos) {
    INFO(demo);
    const example::Folder folder;
    playing::copy_demo_shop(folder / "d.shop", demo);
    const auto report = record::verify_shop(folder / "d.shop", {});
    REQUIRE(report);
    CHECK(report->fault == "");
    CHECK(report->intact);
    CHECK(report->practice);
    CHECK(report->shop_key.size() == 64);
    CHECK(report->heads.size() == 2);
  }
}
