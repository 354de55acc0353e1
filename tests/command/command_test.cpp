#include "command/prompt.h"

#include <catch2/catch.hpp>

#include <ostream>
#include <sstream>

using prompt::call;
using prompt::check_refused;
using prompt::Said;

namespace {

const std::vector<std::string> commands = {"drive",    "lint",  "calc",          "verify", "backup",
                                           "handover", "order", "new-procedure", "limits", "speed"};

} // namespace

TEST_CASE("called without anything, the program shows its help on stderr") {
  const Said said = call({});
  CHECK(said.exit == 2);
  CHECK(said.out == "");
  CHECK(said.err == call({"--help"}).out);
}

// The window is chosen before the command line is asked for anything; its own options are told about there.
TEST_CASE("help lists every command, the window and no other") {
  const Said said = call({"--help"});
  CHECK(said.exit == 0);
  CHECK(said.err == "");
  std::vector<std::string> listed;
  for (const std::string& line : said.lines())
    if (line.starts_with("  ")) listed.push_back(line.substr(2, line.find(' ', 2) - 2));
  std::vector<std::string> all = commands;
  all.emplace_back("bench");
  CHECK(listed == all);
  CHECK_THAT(said.out, Catch::Contains("The engine maker's manual, local codes and licensed practice come first."));
}

TEST_CASE("every command tells how it is used") {
  for (const std::string& command : commands) {
    CAPTURE(command);
    const Said said = call({command, "--help"});
    CHECK(said.exit == 0);
    CHECK(said.err == "");
    CHECK_THAT(said.out, Catch::StartsWith("witnessmark " + command + " "));
    CHECK(call({command, "--nonsense", "--help"}).out == said.out);
  }
}

TEST_CASE("help keeps to 100 columns") {
  for (const std::string& command : commands)
    for (const std::string& line : call({command, "--help"}).lines()) CHECK(line.size() <= 100);
}

TEST_CASE("the version names the formats it writes") {
  const Said said = call({"--version"});
  CHECK(said.exit == 0);
  CHECK(said.lines().size() == 1);
  CHECK_THAT(said.out, Catch::Matches(R"(witnessmark \d+\.\d+ \(record format 1, rules \d+\)\n)"));
}

TEST_CASE("help and version stand alone") {
  check_refused(call({"--help", "lint"}), "\"lint\" is one too many");
  check_refused(call({"--version", "--verbose"}), "\"--verbose\" is not known");
}

TEST_CASE("a command that is not there is named") {
  for (const char* name : {"paint", "bench", "haste", "Calc", "-h", ""}) {
    CAPTURE(name);
    check_refused(call({name}), std::string("there is no command \"") + name + "\"");
    check_refused(call({name, "--help"}), std::string("there is no command \"") + name + "\"");
  }
}

TEST_CASE("a refusal stays on its line and shows what cannot be seen") {
  check_refused(call({"pa\nint\x1b[31m\xff"}), R"(there is no command "pa\u000aint\u001b[31m\xff")");
}

TEST_CASE("a very long word is cut") {
  const Said said = call({std::string(1'000'000, 'x')});
  check_refused(said, "xxx...");
  CHECK(said.err.size() < 5'000);
}

TEST_CASE("an answer that cannot be written is no success") {
  struct Full : std::streambuf {
  } full; // takes nothing, like a full disk
  std::istringstream in;
  std::ostream out(&full);
  std::ostringstream err;
  CHECK(command::run({"calc", "--list"}, {in, out, err}) == 2);
  CHECK(err.str() == "error: the answer could not be written to stdout\n");
}
