// Procedures for tests: read from the project, or put together from the lines that matter.
#pragma once

#include "procedure/reader.h"

#include <fmt/format.h>

#include <string>
#include <vector>

namespace reading {

inline std::string file(const std::string& path) {
  return json::read_file(std::string(PROJECT_FOLDER) + "/" + path).value();
}

// `members`: options, parts and limits, each followed by a comma; `steps`: objects separated by commas.
inline std::string text(const std::string& members, const std::string& steps) {
  return fmt::format(R"({{"format": 1, "id": "test", "title": "Test", "revision": "1", "engine": {{"model": "HX4-150"}},
  {} "sections": [{{"id": "one", "title": "One", "steps": [{}]}}]}})",
                     members, steps);
}

inline std::string step(const std::string& id, const std::string& entries, const std::string& members = "") {
  return fmt::format(R"({{"id": "{}", "title": "Step", {} "entries": [{}]}})", id, members, entries);
}

inline std::vector<std::string> lines(const procedure::Reading& reading) {
  std::vector<std::string> all;
  for (const procedure::Remark& remark : reading.remarks) all.push_back(procedure::line_of(remark, "f"));
  return all;
}

inline std::string all_lines(const procedure::Reading& reading) {
  std::string all;
  for (const std::string& line : lines(reading)) all += line + "\n";
  return all;
}

// The codes of the warnings, or the first error.
inline std::vector<std::string> codes(const std::string& document) {
  const procedure::Reading read = procedure::read_procedure(document);
  std::vector<std::string> all;
  for (const procedure::Remark& remark : read.remarks) {
    if (remark.severity == procedure::Severity::error) return {line_of(remark, "f")};
    all.push_back(remark.code);
  }
  return all;
}

} // namespace reading
