#include "calc/combine.h"
#include "calc/groups.h"

#include <fmt/format.h>

namespace calc {

namespace {

// min, max and mean of (outer - inner), everything set against everything.
std::vector<NamedOutcome> differences(const Readings& outer, const Readings& inner) {
  const std::vector<Exact> outers = outer.flat();
  const std::vector<Exact> inners = inner.flat();
  const auto single = combined({{1, outer.u_single()}, {1, inner.u_single()}});
  const auto of_means = combined({{1, outer.u_mean(outers.size())}, {1, inner.u_mean(inners.size())}});
  return {{"min", Quantity{smallest(outers) - largest(inners), outer.unit, single}},
          {"max", Quantity{largest(outers) - smallest(inners), outer.unit, single}},
          {"mean", Quantity{mean(outers) - mean(inners), outer.unit, of_means}}};
}

Result<Answer> clearance(const Given& given) {
  return Answer{differences(given.readings("outer"), given.readings("inner")), {}};
}

Result<Answer> interference(const Given& given) {
  return Answer{differences(given.readings("part"), given.readings("bore")), {}};
}

Result<Answer> piston_clearance(const Given& given) {
  return Answer{differences(given.readings("bore"), given.readings("piston")), {}};
}

std::vector<Exact> present(const std::vector<std::optional<Exact>>& row) {
  std::vector<Exact> values;
  for (const auto& cell : row)
    if (cell) values.push_back(*cell);
  return values;
}

struct AtPlane {
  Exact value;
  std::size_t plane; // from 1
};

Result<Answer> oil_clearance(const Given& given) {
  const Readings& bore = given.readings("bore");
  const Readings& journal = given.readings("journal");
  Answer answer;
  answer.results = differences(bore, journal);
  Outcome where_min;
  Outcome where_max;
  if (bore.rows.size() == journal.rows.size()) {
    std::optional<AtPlane> least;
    std::optional<AtPlane> most;
    for (std::size_t i = 0; i < bore.rows.size(); ++i) {
      const std::vector<Exact> bores = present(bore.rows[i]);
      const std::vector<Exact> journals = present(journal.rows[i]);
      if (bores.empty() || journals.empty()) continue;
      const Exact tight = smallest(bores) - largest(journals);
      const Exact loose = largest(bores) - smallest(journals);
      if (!least || tight < least->value) least = {tight, i + 1};
      if (!most || loose > most->value) most = {loose, i + 1};
    }
    if (!least) return bad_input("journal", "no plane holds a reading of both bore and journal");
    std::get<Quantity>(answer.results[0].outcome).value = least->value;
    std::get<Quantity>(answer.results[1].outcome).value = most->value;
    where_min = whole(least->plane);
    where_max = whole(most->plane);
  } else {
    answer.notes.push_back(fmt::format("the bore has {} planes and the journal {}: min and max are over all of them",
                                       bore.rows.size(), journal.rows.size()));
  }
  answer.results.push_back({"where_min", where_min});
  answer.results.push_back({"where_max", where_max});
  return answer;
}

Result<Answer> end_play(const Given& given) {
  const Readings& dial = given.readings("readings");
  std::vector<Exact> plays;
  for (const auto& pair : dial.rows) plays.push_back((*pair[0] - *pair[1]).abs());
  const std::size_t count = plays.size();
  const Exact play = mean(plays);
  const Exact spread = range(plays);
  const auto one_play = dial.u_difference(); // whatever the dial's setting, it cancels
  Answer answer;
  answer.results = {{"play", Quantity{play, dial.unit, combined({{1, one_play, count}})}},
                    {"spread", Quantity{spread, dial.unit, combined({{1, one_play}, {1, one_play}})}}};
  if (one_play && spread > *one_play)
    answer.notes.push_back(fmt::format("the tries differ by more than the U of one play ({}): measure again",
                                       quantity::text({*one_play, dial.unit, {}})));
  if (play.sign() == 0)
    answer.notes.push_back("no play at all: the shaft binds or the dial did not follow, not a good result");
  return answer;
}

Result<Answer> ring_gap(const Given& given) {
  const Quantity gap = given.quantity("gap");
  const Quantity gauge = given.quantity("gauge_bore");
  const Quantity working = given.quantity("working_bore");
  const Exact pi = times_pi(1);
  const Exact at_working = Exact::rounded((gap.value + times_pi(working.value - gauge.value)).to_double());
  const Exact per_bore = at_working / working.value;
  Answer answer;
  answer.results = {
      {"gap_at_working", Quantity{at_working, gap.unit, combined({{1, gap.u}, {pi, working.u}, {pi, gauge.u}})}},
      {"per_bore", Quantity{per_bore, quantity::find_unit("1"),
                            combined({{Exact(1) / working.value, gap.u},
                                      {(pi - per_bore) / working.value, working.u},
                                      {pi / working.value, gauge.u}})}}};
  if (at_working.sign() <= 0) answer.notes.push_back("the ends of the ring would meet in the working bore");
  return answer;
}

} // namespace

std::vector<Computation> clearance_computations() {
  using enum Dimension;
  const std::vector<ResultField> extremes = {{"min", ResultKind::quantity, length, "tightest"},
                                             {"max", ResultKind::quantity, length, "loosest"},
                                             {"mean", ResultKind::quantity, length, "of the means"}};
  std::vector<ResultField> oil_results = extremes;
  oil_results.push_back({"where_min", ResultKind::number, {}, "plane of min, from 1; null when planes differ"});
  oil_results.push_back({"where_max", ResultKind::number, {}, "plane of max, from 1; null when planes differ"});
  return {
      {.name = "oil-clearance",
       .group = "clearance",
       .purpose = "Oil clearance of a bearing from the diameters of its bore and its journal.",
       .inputs = {{.name = "bore",
                   .shape = Shape::grid,
                   .dimension = length,
                   .meaning = "bearing diameters, one row a plane, null where an oil hole is skipped"},
                  {.name = "journal",
                   .shape = Shape::grid,
                   .dimension = length,
                   .meaning = "journal diameters, the same planes in the same order"}},
       .results = oil_results,
       .formula = "in each plane smallest bore - largest journal and largest bore - smallest journal; min and max are "
                  "their extremes; mean = mean of bores - mean of journals",
       .source = "TM 9-2815-254-24 p. 3-137 to 3-140 (two places along the journal, clearance from sizes)",
       .example = {R"({"bore":{"values":[[50.036,50.031],[50.034,50.030]],"unit":"mm","u":0.004},)"
                   R"("journal":{"values":[[49.982,49.976],[49.978,49.974]],"unit":"mm","u":0.003}})",
                   R"({"calculation":"oil-clearance","results":{"min":{"value":0.049,"unit":"mm","u":0.005},)"
                   R"("max":{"value":0.06,"unit":"mm","u":0.005},"mean":{"value":0.05525,"unit":"mm","u":0.0025},)"
                   R"("where_min":1,"where_max":1},"notes":[]})"},
       .work = oil_clearance},
      {.name = "clearance",
       .group = "clearance",
       .purpose = "Clearance of any two parts, one inside the other: pins, stems, grooves, rotors, bushes.",
       .inputs =
           {{.name = "outer",
             .shape = Shape::readings,
             .dimension = length,
             .meaning = "sizes of the surrounding part"},
            {.name = "inner", .shape = Shape::readings, .dimension = length, .meaning = "sizes of the part inside"}},
       .results = extremes,
       .formula = "min = smallest outer - largest inner; max = largest outer - smallest inner; mean = mean of outer - "
                  "mean of inner; + is loose",
       .source = "TM 9-6115-670-14&P p. 6-12 (guide and stem: the corners of both sizes)",
       .example = {R"({"outer":{"values":[7.006,7.018],"unit":"mm","u":0.003},)"
                   R"("inner":{"values":[6.968,6.975],"unit":"mm","u":0.004}})",
                   R"({"calculation":"clearance","results":{"min":{"value":0.031,"unit":"mm","u":0.005},)"
                   R"("max":{"value":0.05,"unit":"mm","u":0.005},"mean":{"value":0.0405,"unit":"mm",)"
                   R"("u":0.00353553390594}},"notes":[]})"},
       .work = clearance},
      {.name = "interference",
       .group = "clearance",
       .purpose = "How much larger a part is than the bore it is pressed or shrunk into.",
       .inputs = {{.name = "bore", .shape = Shape::readings, .dimension = length, .meaning = "diameters of the bore"},
                  {.name = "part",
                   .shape = Shape::readings,
                   .dimension = length,
                   .meaning = "diameters of the part, at the same temperature"}},
       .results = {{"min", ResultKind::quantity, length, "tight at its least; negative: loose there"},
                   {"max", ResultKind::quantity, length, "tight at its most"},
                   {"mean", ResultKind::quantity, length, "of the means"}},
       .formula =
           "min = smallest part - largest bore; max = largest part - smallest bore; mean = mean of part - mean of "
           "bore; + is tight",
       .source = "ISO 286-1:2010, 3 (interference: size of the shaft less that of the hole), from memory",
       .example = {R"({"bore":{"values":[40.004,40.010],"unit":"mm","u":0.003},)"
                   R"("part":{"values":[40.031,40.028],"unit":"mm","u":0.004}})",
                   R"({"calculation":"interference","results":{"min":{"value":0.018,"unit":"mm","u":0.005},)"
                   R"("max":{"value":0.027,"unit":"mm","u":0.005},"mean":{"value":0.0225,"unit":"mm",)"
                   R"("u":0.00353553390594}},"notes":[]})"},
       .work = interference},
      {.name = "end-play",
       .group = "clearance",
       .purpose = "End play of a shaft from a dial read with the shaft pried fully one way and the other.",
       .inputs = {{.name = "readings",
                   .shape = Shape::pairs,
                   .dimension = length,
                   .meaning = "dial readings, one row a try: one way, other way",
                   .sign = Sign::any}},
       .results = {{"play", ResultKind::quantity, length, "mean of the tries"},
                   {"spread", ResultKind::quantity, length, "largest try - smallest try"}},
       .formula = "play = mean of abs(one way - other way); spread = their range",
       .source = "TM 5-4210-233-14&P-2 p. 6-152 and other manuals: pry one way, zero, pry the other way, read",
       .example = {R"({"readings":{"values":[[0,0.142],[0.002,0.146],[-0.001,0.141]],"unit":"mm","u":0.006}})",
                   R"({"calculation":"end-play","results":{"play":{"value":0.142666666667,"unit":"mm",)"
                   R"("u":0.00489897948557},"spread":{"value":0.002,"unit":"mm","u":0.012}},"notes":[]})"},
       .work = end_play},
      {.name = "piston-clearance",
       .group = "clearance",
       .purpose = "Clearance of a piston in its bore.",
       .inputs = {{.name = "bore", .shape = Shape::readings, .dimension = length, .meaning = "bore diameters"},
                  {.name = "piston",
                   .dimension = length,
                   .meaning = "skirt diameter at the maker's height, square to the pin, both at one temperature"}},
       .results = extremes,
       .formula = "bore - piston, for the smallest bore, the largest and the mean",
       .source = "TM 5-5065 para 235 (clearance as the difference of sleeve and piston)",
       .example = {R"({"bore":{"values":[[83.062,83.041],[83.018,83.012]],"unit":"mm"},)"
                   R"("piston":{"value":82.945,"unit":"mm"}})",
                   R"({"calculation":"piston-clearance","results":{"min":{"value":0.067,"unit":"mm"},)"
                   R"("max":{"value":0.117,"unit":"mm"},"mean":{"value":0.08825,"unit":"mm"}},"notes":[]})"},
       .work = piston_clearance},
      {.name = "ring-gap",
       .group = "clearance",
       .purpose = "End gap of a piston ring in the bore it will work in, from the gap measured in another.",
       .inputs = {{.name = "gap", .dimension = length, .meaning = "gap as measured", .sign = Sign::not_negative},
                  {.name = "gauge_bore", .dimension = length, .meaning = "diameter where the gap was measured"},
                  {.name = "working_bore", .dimension = length, .meaning = "diameter where the ring will work"}},
       .results = {{"gap_at_working", ResultKind::quantity, length, "gap in the working bore"},
                   {"per_bore", ResultKind::quantity, number, "that gap as a part of the working bore"}},
       .formula = "gap_at_working = gap + pi (working_bore - gauge_bore); per_bore = gap_at_working / working_bore",
       .source = "TM 5-6115-593-34 table 1-2, note (0.003 in of gap for 0.001 in of bore)",
       .example = {R"({"gap":"0.30 mm","gauge_bore":"83.000 mm","working_bore":"83.062 mm"})",
                   R"({"calculation":"ring-gap","results":{"gap_at_working":{"value":0.494778744523,"unit":"mm"},)"
                   R"("per_bore":{"value":0.00595674007998,"unit":"1"}},"notes":[]})"},
       .work = ring_gap}};
}

} // namespace calc
