// The uncertainty of a result from what it rests on.
#include "calc/combine.h"
#include "calc/groups.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace calc {

namespace {

constexpr std::size_t most_parts = 50;

// The square of what the standard uncertainty is a part of: a half-width's sqrt(3) or sqrt(6), a U's k.
Result<Exact> squared_divisor(const Given& part, std::size_t number) {
  const bool normal = part.text("shape") == "normal";
  if (normal != part.has("k"))
    return bad_input(fmt::format("parts, number {}, k", number),
                     normal ? "missing; a U goes with its k" : "goes with the shape normal only");
  if (normal) return part.number("k") * part.number("k");
  return Exact(part.text("shape") == "rectangular" ? 3 : 6);
}

Result<Exact> variance(const Given& part, std::size_t number) {
  const Result<Exact> divisor = squared_divisor(part, number);
  if (!divisor) return divisor.error();
  const Quantity value = part.quantity("value");
  if (value.u)
    return bad_input(fmt::format("parts, number {}, value", number), "is an uncertainty and carries no u of its own");
  const Exact moved = value.value * (part.has("sensitivity") ? part.number("sensitivity") : Exact(1));
  return moved * moved / *divisor;
}

Result<Answer> uncertainty(const Given& given) {
  const std::vector<Given>& parts = given.records("parts");
  std::vector<Exact> variances;
  Exact sum;
  for (const Given& part : parts) {
    const Result<Exact> one = variance(part, variances.size() + 1);
    if (!one) return one.error();
    variances.push_back(*one);
    sum += *one;
  }
  const double standard = std::sqrt(sum.to_double());
  const Unit* unit = parts.front().readings("value").unit;
  Answer answer;
  Outcome shares;
  if (sum.sign() > 0) {
    Outcomes each;
    for (const Exact& one : variances) each.emplace_back(one / sum);
    shares = each;
    const auto largest = std::ranges::max_element(variances);
    answer.notes.push_back(fmt::format("the largest part is {}, {} %",
                                       parts[static_cast<std::size_t>(largest - variances.begin())].text("name"),
                                       (*largest / sum * Exact(100)).fixed(0)));
  }
  answer.results = {{"standard", Quantity{Exact::rounded(standard), unit, {}}},
                    {"expanded", Quantity{Exact::rounded(2 * standard), unit, {}}},
                    {"shares", shares}};
  return answer;
}

} // namespace

std::vector<Computation> uncertainty_computations() {
  return {{
      .name = "uncertainty",
      .group = "uncertainty",
      .purpose = "Uncertainty of a result from the independent parts it rests on.",
      .inputs = {{.name = "parts",
                  .shape = Shape::records,
                  .meaning = "what contributes, 50 at most",
                  .most = most_parts,
                  .members = {{.name = "name", .shape = Shape::text, .meaning = "what it is"},
                              {.name = "value",
                               .meaning = "half-width, or the U of a normal part",
                               .sign = Sign::not_negative},
                              {.name = "shape",
                               .shape = Shape::text,
                               .meaning = "how it is spread; normal goes with k",
                               .words = {"normal", "rectangular", "triangular"}},
                              {.name = "k",
                               .shape = Shape::number,
                               .meaning = "of a normal part: U is k times the standard uncertainty",
                               .required = false},
                              {.name = "sensitivity",
                               .shape = Shape::number,
                               .meaning = "how far the result moves for each of it, 1 unless said",
                               .required = false,
                               .sign = Sign::any}}}},
      .results = {{"standard", ResultKind::quantity, {}, "standard uncertainty of the result"},
                  {"expanded", ResultKind::quantity, {}, "twice that: U with k = 2"},
                  {"shares", ResultKind::quantities, {}, "part of each in the square of it; null when all are 0"}},
      .formula =
          "u = value/k, value/sqrt(3) or value/sqrt(6); standard = root of the sum of (sensitivity u)^2; expanded "
          "= 2 standard; share = (sensitivity u)^2 / standard^2",
      .source = "JCGM 100:2008, 5.1.2 (combination), 4.3.7 and 4.3.9 (half-widths)",
      .example = {R"({"parts":[{"name":"step","value":"0.0005 mm","shape":"rectangular"},{"name":"setting ring",)"
                  R"("value":"0.002 mm","shape":"normal","k":2},{"name":"repeatability","value":"0.0015 mm",)"
                  R"("shape":"normal","k":1}]})",
                  R"({"calculation":"uncertainty","results":{"standard":{"value":0.00182574185835,)"
                  R"("unit":"mm"},"expanded":{"value":0.0036514837167,"unit":"mm"},"shares":[0.025,0.3,)"
                  R"(0.675]},"notes":["the largest part is repeatability, 68 %"]})"},
      .work = uncertainty,
  }};
}

} // namespace calc
