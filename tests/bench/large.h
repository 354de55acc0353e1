// A procedure far larger than any engine's, made up for measuring: sections of a hundred steps, each with a set of
// readings at two places, a mark and something to confirm.
#pragma once

#include <fmt/format.h>

#include <string>

inline std::string large_procedure(int steps) {
  std::string out =
      R"({"format":1,"id":"large","title":"Large","revision":"1","engine":{"model":"HX4-150"},"limits":{"bore":)"
      R"({"title":"Bore","unit":"mm","standard":{"low":78.000,"high":78.020},"basis":"invented example"}},"sections":[)";
  for (int s = 0; s < steps; ++s) {
    const bool first = s % 100 == 0;
    if (first)
      out +=
          fmt::format(R"({}{{"id":"section-{}","title":"Section {}","steps":[)", s > 0 ? "]}," : "", s / 100, s / 100);
    out += fmt::format(
        R"({}{{"id":"step-{}","title":"Measure cylinder group {} and look it over",{}"positions":["1","2"],"entries":[)"
        R"({{"id":"bore","kind":"readings","title":"Bore","unit":"mm","rows":["top","middle","bottom"],)"
        R"("columns":["along","across"],"limit":"bore","gauges":["bore gauge"]}},)"
        R"({{"id":"mark","kind":"identity","title":"Mark"}},{{"id":"seen","kind":"confirm","title":"Looked over"}}]}})",
        first ? "" : ",", s, s, s > 0 ? fmt::format(R"("after":["step-{}"],)", s - 1) : "");
  }
  return out + "]}]}";
}
