#include "command/prompt.h"

#include "procedure/reader.h"

#include <catch2/catch.hpp>

using prompt::call;
using prompt::check_refused;
using prompt::Folder;
using prompt::Said;
using prompt::write;

namespace {

const std::string sump = R"({
  "format": 1,
  "id": "sump",
  "title": "Sump",
  "revision": "1",
  "engine": {"model": "HX4-150"},
  "limits": {
    "gap": {"unit": "mm", "standard": {"low": 0.020, "high": 0.062}, "basis": "invented example"}
  },
  "sections": [
    {"id": "close", "title": "Close", "steps": [
      {"id": "fit-sump", "title": "Fit the sump", "entries": [
        {"id": "gap", "kind": "reading", "title": "Gap", "unit": "mm", "limit": "gap"}
      ]}
    ]}
  ]
}
)";

std::string changed(const std::string& from, const std::string& to) {
  std::string text = sump;
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

const std::string unknown_limit = R"("limit": "sump-gap")";

std::string with_error() {
  return changed(R"("limit": "gap")", unknown_limit);
}
std::string with_warning() {
  return changed(R"(, "limit": "gap")", "");
}

} // namespace

TEST_CASE("a procedure without a fault is answered with nothing") {
  const Folder folder;
  write(folder / "sump.json", sump);
  const Said said = call({"lint", folder / "sump.json"});
  CHECK(said.exit == 0);
  CHECK(said.out == "");
  CHECK(said.err == "");
}

TEST_CASE("an error is answered with file, line and column, and exit 1") {
  const Folder folder;
  const std::string file = folder / "sump.json";
  write(file, with_error());
  const Said said = call({"lint", file});
  CHECK(said.exit == 1);
  CHECK(said.err == "");
  const auto lines = said.lines();
  REQUIRE(lines.size() == 2); // the limit that is there is not used any more
  CHECK_THAT(lines[0], Catch::StartsWith(file + ":8:12: warning: W01 "));
  CHECK_THAT(lines[1], Catch::StartsWith(file + ":13:81: error: "));
  CHECK_THAT(lines[1], Catch::Contains("sump-gap"));
}

TEST_CASE("a file that is no JSON is an error with its place") {
  const Folder folder;
  const std::string file = folder / "sump.json";
  write(file, "{\n  \"format\": 1,\n}\n");
  const Said said = call({"lint", file});
  CHECK(said.exit == 1);
  CHECK_THAT(said.out, Catch::StartsWith(file + ":2:14: error: "));
}

TEST_CASE("warnings alone are no failure") {
  const Folder folder;
  const std::string file = folder / "sump.json";
  write(file, with_warning());
  const Said said = call({"lint", file});
  CHECK(said.exit == 0);
  CHECK(said.lines().size() == 1);
  CHECK_THAT(said.out, Catch::StartsWith(file + ":8:12: warning: W01 "));
}

TEST_CASE("of several files each is checked, and one error counts") {
  const Folder folder;
  write(folder / "a.json", with_error());
  write(folder / "b.json", sump);
  write(folder / "c.json", with_warning());
  const Said said = call({"lint", folder / "a.json", folder / "b.json", folder / "c.json"});
  CHECK(said.exit == 1);
  CHECK(said.err == "");
  CHECK(said.out == call({"lint", folder / "a.json"}).out + call({"lint", folder / "c.json"}).out);
}

TEST_CASE("a file that cannot be read does not keep the others from being checked") {
  const Folder folder;
  write(folder / "a.json", with_error());
  const Said said = call({"lint", folder / "none.json", folder / "a.json"});
  CHECK(said.exit == 2);
  CHECK(said.err == "error: \"" + (folder / "none.json") + "\" cannot be read: there is no such file\n");
  CHECK(said.out == call({"lint", folder / "a.json"}).out);
  check_refused(call({"lint", folder / "."}), "it is a folder");
}

TEST_CASE("the name of a file stays on its line") {
  const Folder folder;
  write(folder / "su\nmp.json", with_warning());
  const Said said = call({"lint", folder / "su\nmp.json"});
  CHECK(said.lines().size() == 1);
  CHECK_THAT(said.out, Catch::StartsWith((folder / R"(su\u000amp.json)") + ":8:12: warning: W01 "));
}

TEST_CASE("the resolved procedure reads back without a fault and stays the same") {
  const Folder folder;
  write(folder / "sump.json", sump);
  const Said said = call({"lint", "--resolved", folder / "sump.json"});
  CHECK(said.exit == 0);
  CHECK(said.err == "");
  CHECK_THAT(said.out, Catch::Contains("\"hold\": false"));
  write(folder / "resolved.json", said.out);
  CHECK(call({"lint", folder / "resolved.json"}).out == "");
  CHECK(call({"lint", "--resolved", folder / "resolved.json"}).out == said.out);
}

TEST_CASE("beside a resolved procedure its warnings go to stderr") {
  const Folder folder;
  write(folder / "sump.json", with_warning());
  const Said said = call({"lint", "--resolved", folder / "sump.json"});
  CHECK(said.exit == 0);
  CHECK_THAT(said.out, Catch::StartsWith("{\n"));
  CHECK(said.err == call({"lint", folder / "sump.json"}).out);
}

TEST_CASE("a procedure with an error is not resolved") {
  const Folder folder;
  write(folder / "sump.json", with_error());
  const Said said = call({"lint", "--resolved", folder / "sump.json"});
  CHECK(said.exit == 1);
  CHECK(said.out == "");
  CHECK(said.err == call({"lint", folder / "sump.json"}).out);
  check_refused(call({"lint", "--resolved", folder / "none.json"}), "there is no such file");
}

TEST_CASE("a warning is explained") {
  const Said said = call({"lint", "--explain", "W01"});
  CHECK(said.exit == 0);
  CHECK_THAT(said.out, Catch::StartsWith("W01: "));
  std::string text = said.out;
  for (char& c : text)
    if (c == '\n') c = ' ';
  CHECK(text == "W01: " + std::string(procedure::explain("W01")) + " ");
  for (const char* code : {"W00", "w01", "E01", "X", "W1"})
    check_refused(call({"lint", "--explain", code}), "no warning has the code \"" + std::string(code) + "\"");
}

TEST_CASE("lint with nothing to do, or with two things, says how it is used") {
  check_refused(call({"lint"}), "FILE is missing; usage: witnessmark lint FILE...");
  check_refused(call({"lint", "a.json", "--explain", "W01"}), "are not used together; usage: ");
  check_refused(call({"lint", "a.json", "--resolved", "a.json"}), "are not used together; usage: ");
  check_refused(call({"lint", "--resolved", "a.json", "--explain", "W01"}), "are not used together; usage: ");
  check_refused(call({"lint", "--resolved"}), "--resolved must be followed by its FILE; usage: ");
}
