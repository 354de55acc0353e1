// The page that documents the format says what the program does.
#include "record/example.h"
#include "record/seal.h"
#include "json/read.h"
#include "json/write.h"

#include <catch2/catch.hpp>

namespace {

std::string page() {
  return example::content(std::string(PROJECT_FOLDER) + "/app/record/FORMAT.md");
}

std::string between(const std::string& text, const std::string& from, const std::string& to) {
  const auto start = text.find(from);
  REQUIRE(start != std::string::npos);
  const auto end = text.find(to, start + from.size());
  REQUIRE(end != std::string::npos);
  return text.substr(start + from.size(), end - start - from.size());
}

} // namespace

TEST_CASE("the worked event of the format page has the hash it states") {
  const std::string line = between(page(), "```json\n", "\n```");
  const auto value = json::read_one(line);
  REQUIRE(value);
  CHECK(json::canonical(*value) == line);
  const auto event = build::event_from_json(*value);
  REQUIRE(event);
  CHECK(record::hash_of(*event) == between(page(), "has the hash\n\n    ", "\n"));
}

TEST_CASE("the format page names the text that is signed") {
  build::Event event = *build::event_from_json(*json::read_one(between(page(), "```json\n", "\n```")));
  CHECK(record::signed_text(event).rfind("witnessmark event v1\n{", 0) == 0);
  CHECK(page().find("witnessmark event v1<newline>") != std::string::npos);
}
