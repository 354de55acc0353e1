#include "command/prompt.h"

#include "procedure/reader.h"
#include "procedure/transcribed.h"

#include <catch2/catch.hpp>

#include <csignal>
#include <filesystem>
#include <sys/resource.h>
#include <sys/stat.h>

using Catch::Contains;
using Catch::StartsWith;
using prompt::call;
using prompt::check_refused;
using prompt::content;
using prompt::Folder;
using prompt::Said;

namespace {

const std::string short_block = std::string(PROJECT_FOLDER) + "/procedures/short-block.json";

std::string emptied(const Folder& folder) {
  std::string out = folder / "mine.json";
  REQUIRE(call({"new-procedure", "--from", short_block, "--out", out}).exit == 0);
  return out;
}

std::vector<std::string> files_in(const Folder& folder) {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder / "")) names.push_back(entry.path().filename());
  return names;
}

const std::vector<std::string> numbers = {"--standard", "51.980", "52.000"};

Said enter(const std::string& file, const std::string& id, std::vector<std::string> more) {
  std::vector<std::string> all = {"limits",      file,      "--enter", id,         "--as",
                                  "Ruth Ansell", "--basis", "maker",   "--source", "Manual, page 3-12"};
  all.insert(all.end(), more.begin(), more.end());
  return call(all);
}
Said check(const std::string& file, const std::string& id, std::vector<std::string> more) {
  std::vector<std::string> all = {"limits", file, "--check", id, "--as", "Tom Bell"};
  all.insert(all.end(), more.begin(), more.end());
  return call(all);
}

} // namespace

TEST_CASE("every number that a new procedure needs is listed as empty, with its unit and what it limits") {
  const Folder folder;
  const Said said = call({"limits", emptied(folder)});
  CHECK(said.exit == 0);
  CHECK(said.lines().front() == "empty: main-bore: Main bearing bore, shells in; mm; not yet");
  CHECK_THAT(said.out, Contains("empty: main-bore --line 1: Main bearing bore, shells in, main-undersize 0.25; mm"));
  const auto procedure = procedure::read_procedure(content(folder / "mine.json")).procedure;
  const auto sets = procedure::number_sets(*procedure).size();
  CHECK(said.lines().size() == sets + 1);
  CHECK(said.lines().back() == "sets of numbers: " + std::to_string(sets) + " empty");
}

TEST_CASE("numbers are entered by one and checked by another, who is told that they agree and nothing else") {
  const Folder folder;
  const std::string file = emptied(folder);
  const Said entered = enter(file, "main-bore", numbers);
  CHECK(entered.exit == 0);
  CHECK_THAT(entered.out, StartsWith("entered: main-bore: Main bearing bore, shells in; standard 51.98 to 52.00 mm; "
                                     "maker: Manual, page 3-12; entered by Ruth Ansell on "));
  const Said blind = call({"limits", file, "--to-check"});
  CHECK(blind.lines().size() == 2);
  CHECK_THAT(blind.out, Contains("main-bore") && !Contains("51.98") && !Contains("52"));
  const Said agrees = check(file, "main-bore", numbers);
  CHECK(agrees.exit == 0);
  CHECK(agrees.out == "agrees: main-bore\n");
  CHECK_THAT(call({"limits", file, "--of", "main-bore"}).out, StartsWith("checked: main-bore: "));
}

TEST_CASE("a second reading that differs shows both, calls nothing checked, and lint tells of it") {
  const Folder folder;
  const std::string file = emptied(folder);
  enter(file, "main-bore", numbers);
  const Said differs = check(file, "main-bore", {"--standard", "51.890", "52.000"});
  CHECK(differs.exit == 1);
  CHECK_THAT(differs.out, StartsWith("differs: main-bore: standard low: 51.98 entered, 51.89 checked\n"));
  CHECK_THAT(call({"limits", file}).out, Contains("1 differs"));
  CHECK_THAT(call({"lint", file}).out, Contains("W33"));
  CHECK(check(file, "main-bore", numbers).exit == 0);
  CHECK(call({"lint", file}).out.find("W33") == std::string::npos);
}

TEST_CASE("a likely slip is told before it is saved, and saved only when it is meant so") {
  const Folder folder;
  const std::string file = emptied(folder);
  const std::string before = content(file);
  const Said slip = enter(file, "main-clearance", {"--standard", "0.020", "0.620"});
  CHECK(slip.exit == 1);
  CHECK_THAT(slip.out, StartsWith("warning: W2") && Contains("not saved"));
  CHECK(content(file) == before);
  CHECK(enter(file, "main-clearance", {"--standard", "0.020", "0.620", "--anyway"}).exit == 0);
  CHECK(content(file) != before);
}

TEST_CASE("the maker gives none, a bound alone, a line of when, a unit: all can be said") {
  const Folder folder;
  const std::string file = emptied(folder);
  CHECK_THAT(enter(file, "main-clearance", {"--none"}).out, StartsWith("maker gives none: main-clearance"));
  CHECK_THAT(enter(file, "journal-form", {"--standard", "-", "0.0004 in"}).out, Contains("standard at most 0.0004 in"));
  CHECK_THAT(enter(file, "main-cap-snug", {"--target", "18", "--unit", "lbf.ft"}).out, Contains("target 18 lbf.ft"));
  CHECK(enter(file, "main-journal", {"--standard", "47.964", "47.980"}).exit == 0);
  CHECK_THAT(enter(file, "main-journal", {"--line", "1", "--standard", "47.714", "47.730"}).out,
             StartsWith("entered: main-journal --line 1: "));
}

TEST_CASE("what cannot be meant is refused in one line, and the file stays as it was") {
  const Folder folder;
  const std::string file = emptied(folder);
  const std::string before = content(file);
  check_refused(enter(file, "main-bore", {"--standard", "51.98"}), "takes two numbers");
  check_refused(enter(file, "main-bore", {"--standard", "51,98", "52"}), "comma");
  check_refused(enter(file, "main-bore", {"--standard", "51.98 N.m", "52"}), "torque");
  check_refused(enter(file, "main-bore", {}), "--none");
  check_refused(enter(file, "nothing", numbers), "no limit \"nothing\"");
  check_refused(check(file, "main-bore", numbers), "no numbers yet");
  check_refused(call({"limits", file, "--enter", "main-bore", "--standard", "51.98", "52"}), "--as NAME");
  check_refused(call({"limits", file, "--enter", "main-bore", "--as", "R", "--standard", "51.98", "52"}),
                "where the numbers come from");
  check_refused(call({"limits", file, "--of", "nothing"}), "no limit \"nothing\"");
  check_refused(call({"limits", file, "--basis", "shop"}), "goes with --enter or --check");
  check_refused(call({"limits", folder / "none.json"}), "there is no such file");
  prompt::write(folder / "bad.json", "{}");
  check_refused(call({"limits", folder / "bad.json"}), "bad.json:1:1");
  CHECK(content(file) == before);
}

TEST_CASE("a disk that is full in the middle of saving leaves the file as it was and nothing beside it") {
  const Folder folder;
  const std::string file = emptied(folder);
  const std::string before = content(file);
  rlimit old{};
  REQUIRE(getrlimit(RLIMIT_FSIZE, &old) == 0);
  const auto handler = std::signal(SIGXFSZ, SIG_IGN);
  const rlimit small{100, old.rlim_max};
  REQUIRE(setrlimit(RLIMIT_FSIZE, &small) == 0);
  const Said full = enter(file, "main-bore", numbers);
  setrlimit(RLIMIT_FSIZE, &old);
  std::signal(SIGXFSZ, handler);
  check_refused(full, "the disk is full");
  CHECK(content(file) == before);
  CHECK(files_in(folder) == std::vector<std::string>{"mine.json"});
}

TEST_CASE("a saved file keeps its rights, and a link stays a link") {
  const Folder folder;
  const std::string file = emptied(folder);
  std::filesystem::create_symlink("mine.json", folder / "link.json");
  REQUIRE(::chmod(file.c_str(), 0664) == 0);
  CHECK(enter(folder / "link.json", "main-bore", numbers).exit == 0);
  CHECK(std::filesystem::is_symlink(folder / "link.json"));
  struct stat state {};
  REQUIRE(::stat(file.c_str(), &state) == 0);
  CHECK((state.st_mode & 0777) == 0664);
  CHECK_THAT(content(file), Contains("51.980"));
}
