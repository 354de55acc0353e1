#include "command/prompt.h"

#include "procedure/reader.h"
#include "json/read.h"

#include <catch2/catch.hpp>

using prompt::call;
using prompt::check_refused;
using prompt::content;
using prompt::Folder;
using prompt::Said;

namespace {

const std::string whole_engine = std::string(PROJECT_FOLDER) + "/procedures/hx4-150.json";

} // namespace

TEST_CASE("a new procedure keeps every step and no number of a limit, and a build may begin with it") {
  const Folder folder;
  const std::string out = folder / "new.json";
  const Said said =
      call({"new-procedure", "--from", whole_engine, "--out", out, "--id", "hx2-75", "--model", "HX2-75"});
  CHECK(said.exit == 0);
  const auto fresh = procedure::read_procedure(content(out));
  const auto old = procedure::read_procedure(content(whole_engine));
  REQUIRE(fresh.procedure);
  for (const auto& remark : fresh.remarks) CHECK(remark.severity == procedure::Severity::warning);
  CHECK(fresh.procedure->id == "hx2-75");
  CHECK(fresh.procedure->model == "HX2-75");
  CHECK(fresh.procedure->steps().size() == old.procedure->steps().size());
  REQUIRE(fresh.procedure->limits.size() == old.procedure->limits.size());
  for (const auto& limit : fresh.procedure->limits) {
    CAPTURE(limit.id);
    CHECK(limit.values.empty());
    for (const auto& one : limit.cases) CHECK(one.values.empty());
    CHECK(limit.basis == procedure::Basis::not_yet);
    CHECK(limit.unit == old.procedure->limit(limit.id)->unit);
  }
}

TEST_CASE("what else is of the old engine is listed with its place") {
  const Folder folder;
  const std::string out = folder / "new.json";
  const Said said = call({"new-procedure", "--from", whole_engine, "--out", out});
  CHECK_THAT(said.out, Catch::Contains("limits to fill in"));
  CHECK_THAT(said.out, Catch::Contains("step \"bore-size\", entry \"oversize\": nominal is 78.000 mm"));
  CHECK_THAT(said.out, Catch::Contains("gear \"crank\": 28 teeth"));
  CHECK_THAT(said.out, Catch::Contains("of class 10.9"));
}

TEST_CASE("a file that is there is not overwritten, a procedure with an error is not begun from") {
  const Folder folder;
  prompt::write(folder / "mine.json", "mine");
  check_refused(call({"new-procedure", "--from", whole_engine, "--out", folder / "mine.json"}), "mine.json");
  CHECK(content(folder / "mine.json") == "mine");
  prompt::write(folder / "bad.json", "{}");
  check_refused(call({"new-procedure", "--from", folder / "bad.json", "--out", folder / "new.json"}), "bad.json:1:1");
  check_refused(call({"new-procedure", "--from", folder / "none.json", "--out", folder / "new.json"}), "none.json");
}

TEST_CASE("a number under a basis that says there is none yet is refused") {
  std::string text = R"({"format": 1, "id": "a", "title": "A", "revision": "1", "engine": {"model": "HX4-150"},
    "limits": {"gap": {"unit": "mm", "standard": {"high": 0.1}, "basis": "not yet"}},
    "sections": [{"id": "s", "title": "S", "steps": [{"id": "a", "title": "A", "entries": [
      {"id": "r", "kind": "reading", "title": "Gap", "limit": "gap"}]}]}]})";
  const auto read = procedure::read_procedure(text);
  REQUIRE(read.remarks.size() == 1);
  CHECK_THAT(read.remarks[0].fault.message, Catch::Contains("it has numbers, so \"not yet\" is no basis"));
}
