#include "calc/combine.h"
#include "calc/groups.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

namespace calc {

namespace {

bool is_diagonal(const std::string& name) {
  std::string lower;
  for (const char c : name) lower += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return lower.find("diagonal") != std::string::npos;
}

// The largest gap for its length of any line, set against the one allowed.
Quantity against_allowed(const std::vector<Given>& lines, const Given& allowed) {
  const Quantity gap = allowed.quantity("gap");
  const Quantity length = allowed.quantity("length");
  std::optional<Quantity> most;
  for (const Given& line : lines) {
    const Quantity refuses = line.quantity("refuses");
    const Quantity along = line.quantity("length");
    const Exact per_gap = length.value / (along.value * gap.value);
    const Exact ratio = refuses.value * per_gap;
    const auto u = combined({{per_gap, refuses.u},
                             {ratio / along.value, along.u},
                             {ratio / gap.value, gap.u},
                             {ratio / length.value, length.u}});
    if (!most || ratio > most->value) most = Quantity{ratio, quantity::find_unit("1"), u};
  }
  return *most;
}

Result<Answer> straightedge(const Given& given) {
  const std::vector<Given>& lines = given.records("lines");
  const Given* worst = &lines.front();
  for (const Given& line : lines) {
    if (line.quantity("enters").value >= line.quantity("refuses").value)
      return bad_input("lines", fmt::format("{}: the blade that enters must be thinner than the one that does not",
                                            line.text("name")));
    if (line.quantity("refuses").value > worst->quantity("refuses").value) worst = &line;
  }
  Answer answer;
  answer.results = {{"worst", worst->quantity("refuses")}, {"where", worst->text("name")}};
  answer.results.push_back({"ratio", given.has("per_length")
                                         ? Outcome(against_allowed(lines, given.records("per_length").front()))
                                         : Outcome()});
  if (std::ranges::none_of(lines, [](const Given& line) { return is_diagonal(line.text("name")); }))
    answer.notes.push_back("no line is named a diagonal: a twist does not show on the edges");
  return answer;
}

} // namespace

std::vector<Computation> flatness_computations() {
  using enum Dimension;
  return {{
      .name = "straightedge",
      .group = "flatness",
      .purpose = "Flatness of a face by a straightedge and feeler blades, line by line.",
      .inputs = {{.name = "lines",
                  .shape = Shape::records,
                  .meaning = "lines checked; one with \"diagonal\" in its name counts as a diagonal",
                  .members = {{.name = "name", .shape = Shape::text, .meaning = "which line"},
                              {.name = "enters",
                               .dimension = length,
                               .meaning = "thickest blade that enters, 0 when none does",
                               .sign = Sign::not_negative},
                              {.name = "refuses", .dimension = length, .meaning = "thinnest blade that does not enter"},
                              {.name = "length", .dimension = length, .meaning = "length of the line"}}},
                 {.name = "per_length",
                  .shape = Shape::records,
                  .meaning = "gap allowed on a length",
                  .required = false,
                  .most = 1,
                  .members = {{.name = "gap", .dimension = length, .meaning = "gap allowed"},
                              {.name = "length", .dimension = length, .meaning = "on this length"}}}},
      .results = {{"worst", ResultKind::quantity, length, "largest of the blades that did not enter"},
                  {"where", ResultKind::text, {}, "name of that line"},
                  {"ratio", ResultKind::quantity, number,
                   "largest gap for its length over the one allowed; null without per_length"}},
      .formula =
          "worst = largest refuses; ratio = largest over lines of (refuses / length) / (per_length gap / length)",
      .source = "TM 5-4320-300-14 p. 6-36 and 6-45 (limits along and across a head and a block)",
      .example = {R"({"lines":[{"name":"left edge","enters":"0.03 mm","refuses":"0.04 mm","length":"420 mm"},)"
                  R"({"name":"front edge","enters":"0 mm","refuses":"0.03 mm","length":"160 mm"},)"
                  R"({"name":"diagonal","enters":"0.04 mm","refuses":"0.05 mm","length":"450 mm"}],)"
                  R"("per_length":{"gap":"0.03 mm","length":"150 mm"}})",
                  R"({"calculation":"straightedge","results":{"worst":{"value":0.05,"unit":"mm"},"where":"diagonal",)"
                  R"("ratio":{"value":0.9375,"unit":"1"}},"notes":[]})"},
      .work = straightedge,
  }};
}

} // namespace calc
