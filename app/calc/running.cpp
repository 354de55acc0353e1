// What lets an engine run smoothly: shafts that turn true, parts of one weight and one size.
#include "calc/combine.h"
#include "calc/groups.h"

#include <algorithm>

namespace calc {

namespace {

Exact number_of(const std::vector<Exact>& values, std::vector<Exact>::const_iterator at) {
  return whole(static_cast<std::size_t>(at - values.begin()) + 1);
}

Result<Answer> run_out(const Given& given) {
  const Readings& dial = given.readings("readings");
  const std::vector<Exact> values = dial.flat();
  const Exact half = Exact::ratio(1, 2);
  const Exact total = range(values);
  return Answer{{{"total", Quantity{total, dial.unit, dial.u_difference()}},
                 {"bend", Quantity{total * half, dial.unit, combined({{half, dial.u_difference()}})}},
                 {"high_at", number_of(values, std::ranges::max_element(values))}},
                {}};
}

Answer apart(const Readings& of, const char* most, const char* least) {
  const std::vector<Exact> values = of.flat();
  return Answer{{{"spread", Quantity{range(values), of.unit, of.u_difference()}},
                 {most, number_of(values, std::ranges::max_element(values))},
                 {least, number_of(values, std::ranges::min_element(values))}},
                {}};
}

Result<Answer> match(const Given& given) {
  return apart(given.readings("weights"), "heaviest", "lightest");
}

Result<Answer> spread(const Given& given) {
  return apart(given.readings("sizes"), "largest", "smallest");
}

} // namespace

std::vector<Computation> running_computations() {
  using enum Dimension;
  return {
      {.name = "run-out",
       .group = "running",
       .purpose = "How far a shaft or a face runs out of true, from a dial read round one turn.",
       .inputs = {{.name = "readings",
                   .shape = Shape::list,
                   .dimension = length,
                   .meaning = "dial readings round one turn, with their signs",
                   .sign = Sign::any,
                   .least = 2}},
       .results = {{"total", ResultKind::quantity, length, "whole swing of the dial"},
                   {"bend", ResultKind::quantity, length, "how far the axis stands off there, half of it"},
                   {"high_at", ResultKind::number, {}, "reading that is highest, from 1; the first of equal ones"}},
       .formula = "total = largest - smallest reading; bend = total / 2",
       .source = "TM 10-3930-664-24 p. 3-41 and TM 9-2815-202-34 p. 4-75 (total from signed readings); geometry "
                 "(half of it)",
       .example = {R"({"readings":{"values":[0,0.02,0.05,0.03,-0.01,-0.02],"unit":"mm","u":0.003}})",
                   R"({"calculation":"run-out","results":{"total":{"value":0.07,"unit":"mm",)"
                   R"("u":0.00424264068712},"bend":{"value":0.035,"unit":"mm","u":0.00212132034356},)"
                   R"("high_at":3},"notes":[]})"},
       .work = run_out},
      {.name = "match",
       .group = "running",
       .purpose = "How far the weights of pistons, rods or pairs of them lie apart.",
       .inputs = {{.name = "weights",
                   .shape = Shape::list,
                   .dimension = mass,
                   .meaning = "weight of each, in the order of the cylinders",
                   .least = 2}},
       .results = {{"spread", ResultKind::quantity, mass, "heaviest - lightest"},
                   {"heaviest", ResultKind::number, {}, "which one, from 1; the first of equal ones"},
                   {"lightest", ResultKind::number, {}, "which one, from 1; the first of equal ones"}},
       .formula = "spread = largest - smallest weight",
       .source = "TM 10-3930-653-14&P, pistons (difference in weight between assemblies)",
       .example = {R"({"weights":{"values":[812.4,814.1,811.9,813.0],"unit":"g","u":0.2}})",
                   R"({"calculation":"match","results":{"spread":{"value":2.2,"unit":"g","u":0.282842712475},)"
                   R"("heaviest":2,"lightest":3},"notes":[]})"},
       .work = match},
      {.name = "spread",
       .group = "running",
       .purpose = "How far sizes that should be alike lie apart: shells of a pair, springs, push-rods.",
       .inputs = {{.name = "sizes", .shape = Shape::list, .dimension = length, .meaning = "size of each", .least = 2}},
       .results = {{"spread", ResultKind::quantity, length, "largest - smallest"},
                   {"largest", ResultKind::number, {}, "which one, from 1; the first of equal ones"},
                   {"smallest", ResultKind::number, {}, "which one, from 1; the first of equal ones"}},
       .formula = "spread = largest - smallest size",
       .source =
           "D. C. Montgomery, Introduction to Statistical Quality Control, 2nd edition (1991) (range of a sample)",
       .example = {R"({"sizes":{"values":[1.998,2.001],"unit":"mm","u":0.003}})",
                   R"({"calculation":"spread","results":{"spread":{"value":0.003,"unit":"mm","u":0.00424264068712},)"
                   R"("largest":2,"smallest":1},"notes":[]})"},
       .work = spread}};
}

} // namespace calc
