#include "calc/judging.h"

#include "calculating.h"

using namespace calculating;
using calc::Bounds;
using calc::Exact;
using calc::judge;
using calc::Rule;
using calc::Verdict;

namespace {

Exact exact(std::string_view text) {
  return Exact::decimal(text).value();
}

const Bounds fit{exact("0.040"), exact("0.090")};

Verdict guarded(std::string_view value) {
  return judge(exact(value), exact("0.004"), fit, Rule::guarded);
}

} // namespace

TEST_CASE("the simple rule counts the limit itself as within") {
  const auto simple = [](std::string_view value) { return judge(exact(value), exact("0.004"), fit, Rule::simple); };
  CHECK(simple("0.040") == Verdict::within);
  CHECK(simple("0.090") == Verdict::within);
  CHECK(simple("0.0399999999999999999999999") == Verdict::outside);
  CHECK(simple("0.0900000000000000000000001") == Verdict::outside);
}

TEST_CASE("the guarded rule keeps U off the limits on both sides") {
  CHECK(guarded("0.044") == Verdict::within);
  CHECK(guarded("0.086") == Verdict::within);
  CHECK(guarded("0.0439999999999999") == Verdict::undecided);
  CHECK(guarded("0.0860000000000001") == Verdict::undecided);
  CHECK(guarded("0.036") == Verdict::undecided);
  CHECK(guarded("0.094") == Verdict::undecided);
  CHECK(guarded("0.0359999999999999") == Verdict::outside);
  CHECK(guarded("0.0940000000000001") == Verdict::outside);
}

TEST_CASE("one limit alone guards one side") {
  const Bounds most{{}, exact("0.1778")};
  CHECK(judge(exact("0.17"), exact("0.01"), most, Rule::guarded) == Verdict::undecided);
  CHECK(judge(exact("0.165"), exact("0.01"), most, Rule::guarded) == Verdict::within);
  CHECK(judge(exact("-5"), exact("0.01"), most, Rule::guarded) == Verdict::within);
  CHECK(judge(exact("-5"), exact("0.01"), {exact("0"), {}}, Rule::guarded) == Verdict::outside);
}

TEST_CASE("a gauge coarser than half the limits can prove nothing within") {
  const Bounds narrow{exact("0.018"), exact("0.024")};
  CHECK(calc::too_coarse(exact("0.005"), narrow));
  CHECK(!calc::too_coarse(exact("0.003"), narrow));
  CHECK(!calc::too_coarse(exact("5"), {exact("0.018"), {}}));
  CHECK(judge(exact("0.021"), exact("0.005"), narrow, Rule::guarded) == Verdict::undecided);
  CHECK(judge(exact("0.021"), exact("0.003"), narrow, Rule::guarded) == Verdict::within);
}

TEST_CASE("rules and verdicts have their names") {
  CHECK(calc::name_of(Verdict::undecided) == "undecided");
  CHECK(calc::rule_named(calc::name_of(Rule::guarded)) == Rule::guarded);
  CHECK(calc::rule_named(calc::name_of(Rule::simple)) == Rule::simple);
  CHECK(!calc::rule_named("strict"));
}

TEST_CASE("a verdict without u is simple and knows no probability") {
  const auto found = answer("verdict", R"({"value":"0.05 mm","low":"0.04 mm","high":"90 um"})");
  CHECK(written(found, "verdict") == "\"within\"");
  CHECK(written(found, "probability") == "null");
  CHECK(written(found, "guard_band") == "null");
  CHECK(refusal("verdict", R"({"value":"0.05 mm","low":"0.04 mm","rule":"guarded"})").starts_with("value: "));
}

TEST_CASE("a verdict with u tells its probability under either rule") {
  const auto found = answer("verdict", R"({"value":{"value":0.0925,"unit":"mm","u":0.004},"high":"0.09 mm"})");
  CHECK(written(found, "verdict") == "\"outside\"");
  CHECK(value(found, "guard_band") == 0.004);
  const auto on_the_edge =
      answer("verdict", R"({"value":{"value":0.09,"unit":"mm","u":0.004},"high":"0.09 mm","rule":"guarded"})");
  CHECK(written(on_the_edge, "verdict") == "\"undecided\"");
  CHECK(written(on_the_edge, "probability") == "0.5");
  const auto sure =
      answer("verdict", R"({"value":{"value":0.09,"unit":"mm","u":0},"high":"0.09 mm","rule":"guarded"})");
  CHECK(written(sure, "probability") == "1");
  CHECK(written(sure, "verdict") == "\"within\"");
}

TEST_CASE("limits that make no sense are refused") {
  CHECK(refusal("verdict", R"({"value":"1 mm"})").starts_with("low: "));
  CHECK(refusal("verdict", R"({"value":"1 mm","low":"3 mm","high":"2 mm"})") == "low: is above high");
  CHECK(refusal("verdict", R"({"value":"1 mm","low":"3 bar"})").starts_with("low: "));
  CHECK(refusal("verdict", R"({"value":"1 mm","low":"3 mm","rule":"hopeful"})").starts_with("rule: "));
  CHECK(has_note(answer("verdict", R"({"value":{"value":21,"unit":"um","u":5},"low":"18 um","high":"24 um",)"
                                   R"("rule":"guarded"})"),
                 "can prove no value within"));
}

TEST_CASE("temperatures are judged across their scales") {
  CHECK(written(answer("verdict", R"({"value":"212 degF","low":"100 degC","high":"373.15 K"})"), "verdict") ==
        "\"within\"");
}

TEST_CASE("the mean of readings is exact and its U is never less than the scatter says") {
  CHECK(written(answer("mean-of", R"({"values":{"values":[0.66,0.70],"unit":"mm"}})"), "mean") ==
        R"({"value":0.68,"unit":"mm","u":0.04})");
  const auto stated = answer("mean-of", R"({"values":{"values":[1,1,1,1],"unit":"mm","u":0.03,"u_shared":0.04}})");
  CHECK(u(stated, "mean") == Approx(0.0427200187266).epsilon(1e-11));
  CHECK(value(stated, "u") == u(stated, "mean"));
  CHECK(value(stated, "standard_deviation") == 0);
  const auto scattered = answer("mean-of", R"({"values":{"values":[1,2,3,4],"unit":"mm","u":0.01}})");
  CHECK(value(scattered, "u") == Approx(2 * std::sqrt(5.0 / 3) / 2).epsilon(1e-11));
}

TEST_CASE("one reading has no scatter") {
  const auto alone = answer("mean-of", R"({"values":"3 bar"})");
  CHECK(written(alone, "standard_deviation") == "null");
  CHECK(written(alone, "u") == "null");
  CHECK(written(alone, "mean") == R"({"value":3,"unit":"bar"})");
  CHECK(written(answer("mean-of", R"({"values":{"value":3,"unit":"bar","u":0.1}})"), "u") ==
        R"({"value":0.1,"unit":"bar"})");
}

TEST_CASE("a conversion keeps the U and refuses another dimension") {
  CHECK(written(answer("convert", R"({"value":100,"unit":"degC","u":1,"to":"degF"})"), "converted") ==
        R"({"value":212,"unit":"degF","u":1.8})");
  CHECK(written(answer("convert", R"({"value":"2.4395 in","to":"mm"})"), "converted") ==
        R"({"value":61.9633,"unit":"mm"})");
  CHECK(refusal("convert", R"({"value":60,"unit":"psi","to":"mm"})").starts_with("to: "));
  CHECK(refusal("convert", R"({"value":60,"unit":"psi","to":"ells"})").starts_with("to: "));
  CHECK(refusal("convert", R"({"value":60,"to":"mm"})").starts_with("value: "));
}
