// Files that no procedure should be: each is refused in one line that says what to do, within seconds and little
// memory, by lint and by opening a build alike.
#include "command/prompt.h"

#include <catch2/catch.hpp>

#include <chrono>
#include <filesystem>
#include <fmt/format.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

using namespace std::string_literals;
using prompt::call;
using prompt::content;
using prompt::Folder;
using prompt::Said;

namespace {

struct Hostile {
  std::string name, bytes, says;
};

std::string in_utf16(const std::string& ascii, bool big, const std::string& mark) {
  std::string out = mark;
  for (const char c : ascii) out += big ? std::string{'\0', c} : std::string{c, '\0'};
  return out;
}

std::string repeated(std::string_view text, std::size_t times) {
  std::string out;
  out.reserve(text.size() * times);
  for (std::size_t i = 0; i < times; ++i) out += text;
  return out;
}

std::string whole() {
  return content(std::string(PROJECT_FOLDER) + "/procedures/short-block.json");
}

std::vector<Hostile> all_hostile() {
  const std::string good = whole();
  std::string latin = good, nul = good;
  latin.replace(latin.find("Main"), 4, "M\xe4in");
  nul.replace(nul.find("Main"), 4, "M\0in"s);
  return {
      {"fifty-megabytes", "[" + repeated("1,", 25'000'000) + "1]", "larger than 16 MB; is it the right file?"},
      {"deep-lists", repeated("[", 100'000) + repeated("]", 100'000), "nested 64 deep at most"},
      {"deep-objects", repeated("{\"a\":", 100'000), "nested 64 deep at most"},
      {"utf-16-little", in_utf16(good, false, "\xff\xfe"), "save it as UTF-8"},
      {"utf-16-big", in_utf16(good, true, "\xfe\xff"), "save it as UTF-8"},
      {"utf-16-no-mark", in_utf16(good, false, ""), "save it as UTF-8"},
      {"utf-16-big-no-mark", in_utf16(good, true, ""), "save it as UTF-8"},
      {"latin-1", latin, "save the file as UTF-8"},
      {"byte-order-mark", "\xef\xbb\xbf" + good, "byte order mark; save the file without it"},
      {"nul-in-a-text", nul, "a control character inside a text is written"},
      {"nul-behind", good + "\0\0"s, "remove it"},
      {"nul-only", std::string(5000, '\0'), "UTF-16 or not text at all"},
      {"empty", "", "the text is empty; is it the right file?"},
      {"blank", " \n\n", "the text is empty; is it the right file?"},
      {"no-json", "Dear Ruth,\nhere is", "stands without quotes"},
  };
}

// What lint and open-build say of a path, each in one line.
struct Both {
  std::string lint, open;
  double seconds = 0;
};

Both both(const Folder& folder, const std::string& path) {
  static int shop = 0;
  const auto began = std::chrono::steady_clock::now();
  const Said lint = call({"lint", path});
  const std::string enrol =
      R"({"do":"enrol","person":"ruth","name":"Ruth Ansell","roles":["builder","owner"],"passphrase":"correct horse"})";
  const std::string open = fmt::format(
      R"({{"do":"open-build","build":"b","procedure":"{}","engine":{{"model":"HX4-150","serial":"1","hours":"1"}},"customer":"C"}})",
      path);
  const Said drive =
      call({"drive", "--shop", folder / fmt::format("{}.wm", ++shop), "--practice"},
           enrol + "\n" + R"({"do":"sign-in","person":"ruth","passphrase":"correct horse"})" + "\n" + open + "\n");
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - began;
  CHECK(lint.exit != 0);
  CHECK(lint.lines().size() + (lint.err.empty() ? 0 : 1) == 1);
  REQUIRE(drive.lines().size() == 3);
  CHECK_THAT(drive.lines().back(), Catch::Contains("\"ok\":false"));
  return {lint.out + lint.err, drive.lines().back(), took.count()};
}

void check_said(const Both& said, const std::string& says) {
  CHECK_THAT(said.lint, Catch::Contains(says));
  std::string escaped;
  for (const char c : says) escaped += c == '"' ? "\\\"" : std::string(1, c);
  CHECK_THAT(said.open, Catch::Contains(escaped));
  CHECK(said.seconds < 20); // 0.5 s measured, Release
}

std::string of_steps(std::size_t count, std::string_view head, const std::function<std::string(std::size_t)>& members,
                     std::string_view entries) {
  std::string out = fmt::format(R"({{"format":1,"id":"a","title":"A","revision":"1","engine":{{"model":"HX4-150"}},{}
    "sections":[{{"id":"s","title":"S","steps":[)",
                                head);
  for (std::size_t i = 0; i < count; ++i)
    out += fmt::format(R"({}{{"id":"s{}","title":"T",{}"entries":[{}]}})", i == 0 ? "" : ",", i, members(i), entries);
  return out + "]}]}";
}

double seconds_to_lint(const std::string& path, int exit) {
  const auto began = std::chrono::steady_clock::now();
  const Said said = call({"lint", path});
  CHECK(said.exit == exit);
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
}

#ifdef __SANITIZE_ADDRESS__
constexpr std::size_t many = 10'000; // the sanitizer costs ten times the time and memory
#else
constexpr std::size_t many = 100'000;
#endif

// Most that this process has held at once, in MB.
long most_memory() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return usage.ru_maxrss / 1024;
}

} // namespace

TEST_CASE("a file in another encoding, too large, too deep or empty is refused in one line that says what to do") {
  const Folder folder;
  for (const Hostile& one : all_hostile()) {
    CAPTURE(one.name);
    const std::string path = folder / (one.name + ".json");
    prompt::write(path, one.bytes);
    check_said(both(folder, path), one.says);
  }
}

TEST_CASE("a file cut off anywhere is refused where it ends") {
  const Folder folder;
  const std::string good = whole();
  const std::string path = folder / "cut.json";
  for (std::size_t length = 1; length < good.size() - 1; length += good.size() / 23) {
    CAPTURE(length);
    prompt::write(path, good.substr(0, length));
    const Said said = call({"lint", path});
    CHECK(said.exit == 1);
    CHECK(said.lines().size() == 1);
  }
}

TEST_CASE("a folder, a device, a pipe and a file nobody may read are refused and not waited for") {
  const Folder folder;
  REQUIRE(::mkfifo((folder / "pipe").c_str(), 0600) == 0);
  std::filesystem::create_symlink("loop", folder / "loop");
  check_said(both(folder, folder / "."), "it is a folder; name a file in it");
  check_said(both(folder, folder / "pipe"), "it is a device or a pipe, not a file");
  check_said(both(folder, "/dev/zero"), "it is a device or a pipe, not a file");
  check_said(both(folder, "/dev/null"), "it is a device or a pipe, not a file");
  check_said(both(folder, folder / "loop"), "cannot be read");
  check_said(both(folder, folder / "none.json"), "there is no such file");
  prompt::write(folder / "locked.json", whole());
  REQUIRE(::chmod((folder / "locked.json").c_str(), 0) == 0);
  if (::access((folder / "locked.json").c_str(), R_OK) != 0) // root may read it all the same
    check_said(both(folder, folder / "locked.json"), "cannot be read");
}

// 316 MB and 2.2 s measured (Release, two cores) for a hundred thousand steps; a sanitized build takes several times
// that.
TEST_CASE("a hundred thousand steps, limits or entries are checked in seconds") {
  const Folder folder;
  const std::string path = folder / "large.json";
  const auto no_members = [](std::size_t) { return std::string(); };
  const std::string done = R"({"id":"a","kind":"confirm","title":"D"})";
  constexpr double most = 30;

  prompt::write(path, of_steps(many, "", no_members, done));
  CHECK(seconds_to_lint(path, 0) < most);
  prompt::write(path,
                of_steps(
                    many, "",
                    [](std::size_t i) { return i == 0 ? std::string() : fmt::format(R"("after":["s{}"],)", i - 1); },
                    done));
  CHECK(seconds_to_lint(path, 0) < most);

  std::string limits = "\"limits\":{";
  for (std::size_t i = 0; i < many; ++i)
    limits += fmt::format(R"({}"l{}":{{"unit":"mm","standard":{{"high":1}},"basis":"shop"}})", i == 0 ? "" : ",", i);
  prompt::write(path, of_steps(1, limits + "},", no_members, done));
  CHECK(seconds_to_lint(path, 0) < most);

  std::string choices, cases;
  for (std::size_t i = 0; i < many; ++i) {
    choices += fmt::format(R"({}"{}")", i == 0 ? "" : ",", i);
    cases += fmt::format(R"({}{{"option":"o","is":"{}","target":1}})", i == 0 ? "" : ",", i);
  }
  prompt::write(path, of_steps(1,
                               fmt::format(R"("options":[{{"id":"o","title":"O","choices":[{}]}}],
                                 "limits":{{"l":{{"unit":"mm","basis":"shop","when":[{}]}}}},)",
                                           choices, cases),
                               no_members, done));
  CHECK(seconds_to_lint(path, 1) < most);

  std::string entries = done;
  for (std::size_t i = 0; i < many; ++i) entries += fmt::format(R"(,{{"id":"e{}","kind":"confirm","title":"D"}})", i);
  prompt::write(path, of_steps(1, "", no_members, entries));
  CHECK(seconds_to_lint(path, 0) < most);
  CHECK(most_memory() < 4000);
}
