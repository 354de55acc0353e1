// Every file of bad/ is refused for the faults that expected.txt tells, where it tells them, and for no others.
#include "procedure/reading.h"

#include <catch2/catch.hpp>

#include <filesystem>
#include <map>
#include <sstream>

namespace {

struct Expected {
  std::string place; // "line:column"
  std::string words; // the message starts with these
};

const std::string folder = "tests/procedure/bad/";

std::map<std::string, std::vector<Expected>> expected_faults() {
  std::map<std::string, std::vector<Expected>> all;
  std::istringstream text(reading::file(folder + "expected.txt"));
  for (std::string line; std::getline(text, line);) {
    const std::size_t first = line.find(' ');
    const std::size_t second = line.find(' ', first + 1);
    all[line.substr(0, first)].push_back({line.substr(first + 1, second - first - 1), line.substr(second + 1)});
  }
  return all;
}

} // namespace

TEST_CASE("each bad procedure is refused for exactly the faults expected") {
  for (const auto& [file, faults] : expected_faults()) {
    const procedure::Reading read = procedure::read_procedure(reading::file(folder + file));
    CAPTURE(file, reading::all_lines(read));
    CHECK(read.procedure == nullptr);
    REQUIRE(read.remarks.size() == faults.size());
    for (std::size_t i = 0; i < faults.size(); ++i) {
      const json::Fault& fault = read.remarks[i].fault;
      CHECK(read.remarks[i].severity == procedure::Severity::error);
      CHECK(fmt::format("{}:{}", fault.place.line, fault.place.column) == faults[i].place);
      CHECK(fault.message.substr(0, faults[i].words.size()) == faults[i].words);
    }
  }
}

TEST_CASE("every file of the bad corpus has its faults written down") {
  const auto expected = expected_faults();
  std::size_t files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(std::string(PROJECT_FOLDER) + "/" + folder)) {
    if (entry.path().extension() != ".json") continue;
    CAPTURE(entry.path().filename());
    CHECK(expected.contains(entry.path().filename().string()));
    ++files;
  }
  CHECK(files == expected.size());
  CHECK(files >= 50);
}
