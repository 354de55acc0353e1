// The short-block demo gives the answers that are kept beside it, and the shop it leaves behind is intact.
#include "record/example.h"
#include "record/playing.h"
#include "record/verify.h"
#include "json/read.h"

#include <catch2/catch.hpp>
#include <filesystem>
#include <regex>
#include <set>

namespace {

// Hashes and fingerprints change with every run's keys.
std::string settled(const std::string& answer) {
  static const std::regex hash("[0-9a-f]{64}");
  return std::regex_replace(answer, hash, "HASH");
}

} // namespace

TEST_CASE("the demo's answers are those that are kept") {
  std::string answers;
  for (const auto& line : playing::demo_answers()) answers += settled(line) + "\n";
  const std::string kept = example::content(std::string(PROJECT_FOLDER) + "/demo/short-block.answers");
  if (answers != kept) {
    const auto fresh = std::filesystem::temp_directory_path() / "short-block.answers";
    example::write(fresh, answers);
    FAIL_CHECK("the demo answers differently; compare demo/short-block.answers with "
               << fresh << " and keep the new ones if they are right");
  }
}

TEST_CASE("the demo holds every kind of entry and shows every way out") {
  std::set<std::string> done;
  for (const auto& line : playing::demo_lines()) {
    const auto action = json::read_one(line);
    REQUIRE(action);
    done.insert(action->at("do").as_text());
    if (const auto* disposition = action->find("disposition")) done.insert(disposition->as_text());
  }
  for (const char* way :
       {"enrol", "record", "confirm", "pick", "identify", "wait", "tighten", "correct", "again", "take-back", "accept",
        "rework", "concession", "reopen", "sign", "part", "note", "release", "addendum"}) {
    INFO(way);
    CHECK(done.count(way));
  }
}

TEST_CASE("the demo shop is intact and says it is practice") {
  const example::Folder folder;
  playing::copy_demo_shop(folder / "d.shop");
  const auto report = record::verify_shop(folder / "d.shop", {});
  REQUIRE(report);
  CHECK(report->fault == "");
  CHECK(report->intact);
  CHECK(report->practice);
  CHECK(report->shop_key.size() == 64);
  CHECK(report->heads.size() == 2);
}
