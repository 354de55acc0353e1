// Deformable gauging strips: the wider one was pressed, the smaller the clearance.
#include "calc/combine.h"
#include "calc/groups.h"

#include <fmt/format.h>

#include <algorithm>

namespace calc {

namespace {

// A clearance read off a strip.
struct Read {
  Exact clearance;
  Exact slope;                // how fast it falls as the width grows
  std::optional<Exact> own_u; // from the strip or its scale, the same error for every width
  Exact floor;                // its U is never less
};

std::optional<Exact> not_below(const Exact& floor, const std::optional<Exact>& u) {
  if (floor.sign() == 0) return u;
  return u ? quantity::max(*u, floor) : floor;
}

Answer answer_of(const std::vector<Read>& reads, const Readings& width, const Exact& mean_clearance,
                 const std::optional<Exact>& taper) {
  const Exact share = Exact(1) / whole(reads.size());
  std::vector<Part> mean_parts;
  Exact slopes;
  std::optional<Exact> own;
  Exact floor;
  Outcomes values;
  for (const Read& read : reads) {
    const auto u = combined({{read.slope, width.u_single()}, {1, read.own_u}});
    values.emplace_back(Quantity{read.clearance, width.unit, not_below(read.floor, u)});
    mean_parts.push_back({read.slope * share, width.u});
    slopes += read.slope * share;
    if (read.own_u) own = own.value_or(0) + *read.own_u * share;
    floor = quantity::max(floor, read.floor);
  }
  mean_parts.push_back({slopes, width.u_shared});
  mean_parts.push_back({1, own});

  Answer answer;
  answer.results = {
      {"clearance", values},
      {"mean", Quantity{mean_clearance, width.unit, not_below(floor, combined(mean_parts))}},
  };
  if (!taper) {
    answer.results.push_back({"taper", Outcome()});
    answer.notes.push_back("taper: one width shows none");
    return answer;
  }
  const auto [least, most] = std::ranges::minmax(reads, {}, &Read::clearance);
  const auto own_difference = own ? std::optional(most.own_u.value_or(0) - least.own_u.value_or(0)) : std::nullopt;
  const auto u = combined(
      {{most.slope, width.u}, {least.slope, width.u}, {most.slope - least.slope, width.u_shared}, {1, own_difference}});
  answer.results.push_back({"taper", Quantity{*taper, width.unit, not_below(floor, u)}});
  return answer;
}

// The strip keeps its volume and its length, so its section keeps its area: pi d^2 / 4 = c w.
Answer by_volume(const Readings& width, const Quantity& diameter) {
  const std::vector<Exact> widths = width.flat();
  const auto clearance_at = [&](const Exact& one_over_width) {
    return times_pi(diameter.value * diameter.value * one_over_width / Exact(4));
  };
  std::vector<Read> reads;
  std::vector<Exact> inverses;
  for (const Exact& each : widths) {
    inverses.push_back(Exact(1) / each);
    const Exact clearance = clearance_at(inverses.back());
    const Exact per_diameter = Exact(2) * clearance / diameter.value;
    const auto own_u = diameter.u ? std::optional(per_diameter * *diameter.u) : std::nullopt;
    reads.push_back({clearance, clearance / each, own_u, {}});
  }
  const auto taper = widths.size() > 1 ? std::optional(clearance_at(range(inverses))) : std::nullopt;
  Answer answer = answer_of(reads, width, clearance_at(mean(inverses)), taper);
  answer.notes.insert(answer.notes.begin(), "from the strip's volume: a plausibility figure, its printed scale counts");
  return answer;
}

struct Mark {
  Quantity width;
  Quantity clearance;
};

// Widest first, so that clearance rises along the list.
Result<std::vector<Mark>> printed_scale(const Given& given) {
  std::vector<Mark> marks;
  for (const Given& mark : given.records("scale"))
    marks.push_back({mark.quantity("width"), mark.quantity("clearance")});
  std::ranges::sort(marks, std::greater(), [](const Mark& mark) { return mark.width.value; });
  for (std::size_t i = 1; i < marks.size(); ++i)
    if (marks[i].width.value == marks[i - 1].width.value || marks[i].clearance.value <= marks[i - 1].clearance.value)
      return bad_input("scale", "a wider mark must stand for a smaller clearance");
  return marks;
}

// Linear in 1/width between two marks.
Read between(const Mark& wide, const Mark& narrow, const Exact& width) {
  const Exact low = Exact(1) / wide.width.value;
  const Exact step = narrow.clearance.value - wide.clearance.value;
  const Exact rise = step / (Exact(1) / narrow.width.value - low);
  const Exact slope = rise / (width * width);
  const auto larger = [](const std::optional<Exact>& a, const std::optional<Exact>& b) { return std::max(a, b); };
  return {wide.clearance.value + rise * (Exact(1) / width - low), slope,
          combined({{slope, larger(wide.width.u, narrow.width.u)}, {1, larger(wide.clearance.u, narrow.clearance.u)}}),
          step / Exact(2)};
}

Result<Answer> by_scale(const Given& given, const Readings& width) {
  const Result<std::vector<Mark>> marks = printed_scale(given);
  if (!marks) return marks.error();
  const Exact& widest = marks->front().width.value;
  const Exact& narrowest = marks->back().width.value;
  std::vector<Read> reads;
  std::vector<Exact> clearances;
  for (const Exact& each : width.flat()) {
    if (each > widest || each < narrowest)
      return bad_input("width", fmt::format("{} {} is beyond the scale ({} to {})", each.text(), width.unit->name,
                                            narrowest.text(), widest.text()));
    std::optional<Read> read; // on a mark, that of the larger step beside it
    for (std::size_t i = 1; i < marks->size(); ++i) {
      if (each > (*marks)[i - 1].width.value || each < (*marks)[i].width.value) continue;
      const Read here = between((*marks)[i - 1], (*marks)[i], each);
      if (!read || here.floor > read->floor) read = here;
    }
    reads.push_back(*read);
    clearances.push_back(read->clearance);
  }
  const auto taper = clearances.size() > 1 ? std::optional(range(clearances)) : std::nullopt;
  return answer_of(reads, width, mean(clearances), taper);
}

Result<Answer> strip_clearance(const Given& given) {
  const Readings& width = given.readings("width");
  const bool volume = given.has("strip_diameter");
  if (volume && given.has("scale")) return bad_input("scale", "give either strip_diameter or scale, not both");
  if (volume) return by_volume(width, given.quantity("strip_diameter"));
  if (!given.has("scale")) return bad_input("strip_diameter", "missing; give strip_diameter or scale");
  return by_scale(given, width);
}

Result<Answer> strip_agreement(const Given& given) {
  const Quantity strip = given.quantity("strip");
  const Quantity computed = given.quantity("computed");
  if (!strip.u) return bad_input("strip", "carries no u");
  if (!computed.u) return bad_input("computed", "carries no u");
  const Quantity difference{strip.value - computed.value, strip.unit, combined({{1, strip.u}, {1, computed.u}})};
  return Answer{{{"difference", difference}, {"agrees", difference.value.abs() <= *difference.u}}, {}};
}

} // namespace

std::vector<Computation> strip_computations() {
  using enum Dimension;
  return {
      {.name = "strip-clearance",
       .group = "strip",
       .purpose = "Clearance from the width of a crushed gauging strip.",
       .inputs = {{.name = "width",
                   .shape = Shape::list,
                   .dimension = length,
                   .meaning = "widths of the crushed strip, one or several along it"},
                  {.name = "strip_diameter",
                   .dimension = length,
                   .meaning = "diameter of the strip before; this or a scale",
                   .required = false},
                  {.name = "scale",
                   .shape = Shape::records,
                   .meaning = "marks of the strip's printed scale; this or a strip_diameter",
                   .required = false,
                   .least = 2,
                   .members = {{.name = "width", .dimension = length, .meaning = "width of the mark"},
                               {.name = "clearance", .dimension = length, .meaning = "clearance printed at it"}}}},
       .results = {{"clearance", ResultKind::quantities, length, "at each width"},
                   {"mean", ResultKind::quantity, length, "of the clearances"},
                   {"taper", ResultKind::quantity, length, "max - min along the strip; null with one width"}},
       .formula =
           "by volume clearance = pi strip_diameter^2 / (4 width); by scale linear in 1/width between two marks, "
           "never beyond them, U at least half the step between their clearances",
       .source = "geometry (equal areas); TM 5-2420-222-34 para 1-16 (use inside the strip's range only)",
       .example = {R"({"width":{"values":[1.25,1.4],"unit":"mm"},"scale":[)"
                   R"({"width":"1.0 mm","clearance":"0.062 mm"},{"width":"1.5 mm","clearance":"0.041 mm"},)"
                   R"({"width":"2.0 mm","clearance":"0.031 mm"}]})",
                   R"({"calculation":"strip-clearance","results":{"clearance":[{"value":0.0494,"unit":"mm",)"
                   R"("u":0.0105},{"value":0.044,"unit":"mm","u":0.0105}],"mean":{"value":0.0467,"unit":"mm",)"
                   R"("u":0.0105},"taper":{"value":0.0054,"unit":"mm","u":0.0105}},"notes":[]})"},
       .work = strip_clearance},
      {.name = "strip-agreement",
       .group = "strip",
       .purpose = "Whether a strip and the sizes measured tell of the same clearance.",
       .inputs =
           {{.name = "strip", .dimension = length, .meaning = "clearance by the strip, with its u", .sign = Sign::any},
            {.name = "computed",
             .dimension = length,
             .meaning = "clearance computed from sizes, with its u",
             .sign = Sign::any}},
       .results = {{"difference", ResultKind::quantity, length, "strip - computed"},
                   {"agrees", ResultKind::truth, {}, "no further apart than their U together"}},
       .formula = "agrees = abs(strip - computed) <= sqrt(U_strip^2 + U_computed^2)",
       .source = "ISO 13528 (a normalized error of at most 1), from memory",
       .example =
           {R"({"strip":{"value":0.048,"unit":"mm","u":0.008},"computed":{"value":0.055,"unit":"mm","u":0.006}})",
            R"({"calculation":"strip-agreement","results":{"difference":{"value":-0.007,"unit":"mm","u":0.01},)"
            R"("agrees":true},"notes":[]})"},
       .work = strip_agreement}};
}

} // namespace calc
