// Slips of copying that lint doubts, and what it leaves alone. Where a number is published its source stands beside it;
// everything else is made up.
#include "procedure/reading.h"

#include <catch2/catch.hpp>

#include <algorithm>

namespace {

using reading::codes;
using reading::step;
using reading::text;
using Codes = std::vector<std::string>;

std::string limit(const std::string& id, const std::string& numbers, const std::string& unit = "mm") {
  return fmt::format(R"("{}": {{"unit": "{}", "basis": "shop", {}}})", id, unit, numbers);
}
std::string between(const std::string& id, const std::string& low, const std::string& high,
                    const std::string& more = "") {
  return limit(id, fmt::format(R"("standard": {{"low": {}, "high": {}}}{})", low, high, more));
}
std::string limits(const std::vector<std::string>& all) {
  return fmt::format("\"limits\": {{{}}},", fmt::join(all, ", "));
}

std::string sized(const std::string& id, const std::string& judged_by) {
  return fmt::format(R"({{"id": "{}", "kind": "reading", "title": "Size", "unit": "mm", "limit": "{}"}})", id,
                     judged_by);
}
std::string clearance(const std::string& more = "") {
  return R"({"id": "oil", "kind": "calculated", "title": "Oil clearance", "computation": "oil-clearance",
             "inputs": {"bore": {"entry": "bore"}, "journal": {"entry": "journal"}},
             "judge": {"min": "gap", "max": "gap"})" +
         more + "}";
}

// A journal of TM 9-2815-254-24 p. 3-138 (69.920 to 69.932 mm, oil clearance 0.018 to 0.065 mm) in the bearing bore
// that follows from it.
struct Bearing {
  std::string bore_low = "69.950", bore_high = "69.985", journal_low = "69.920", journal_high = "69.932";
  std::string gap_low = "0.018", gap_high = "0.065";
  std::string accepted = "";
};
std::string document(const Bearing& it) {
  return text(limits({between("bore", it.bore_low, it.bore_high), between("journal", it.journal_low, it.journal_high),
                      between("gap", it.gap_low, it.gap_high)}),
              step("a", sized("bore", "bore") + ", " + sized("journal", "journal") + ", " + clearance(it.accepted)));
}
std::string told(const std::string& all) {
  std::string out;
  for (const auto& remark : procedure::read_procedure(all).remarks)
    out += remark.code + " " + remark.fault.message + "\n";
  return out;
}

} // namespace

TEST_CASE("a published bearing, whose clearance follows from its sizes, is left alone") {
  CHECK(codes(document({})).empty());
}

TEST_CASE("a digit that slipped in one size of a fit is found by the other two, and named") {
  const std::string slipped = told(document({.journal_low = "68.920", .journal_high = "68.932"}));
  CHECK_THAT(slipped, Catch::Contains("W20"));
  CHECK_THAT(slipped, Catch::Contains("leave 1.018 mm to 1.065 mm, but limit \"gap\" says 0.018 mm to 0.065 mm"));
  const std::string tenfold = told(document({.gap_low = "0.18", .gap_high = "0.65"}));
  CHECK_THAT(tenfold, Catch::Contains("it would fit with limit \"gap\": a tenth of what is written"));
  const std::string inches = told(document({.gap_low = "0.00071", .gap_high = "0.00256"}));
  CHECK_THAT(inches, Catch::Contains("limit \"gap\": what is written taken as inches"));
}

TEST_CASE("bore and journal changed over leave no clearance") {
  CHECK_THAT(
      told(document({.bore_low = "69.920", .bore_high = "69.932", .journal_low = "69.950", .journal_high = "69.985"})),
      Catch::Contains("W20"));
}

TEST_CASE("the last digit of a size is not doubted") {
  CHECK(codes(document({.bore_low = "69.951"})).empty());
  CHECK(codes(document({.gap_high = "0.066"})).empty());
  CHECK(codes(document({.journal_high = "69.933"})).empty());
}

TEST_CASE("a doubt that is meant so is accepted with its reason, and told when it is needed no more") {
  const Bearing wide{.gap_low = "0.118",
                     .gap_high = "0.165",
                     .accepted = R"(, "accepted": {"W20": "The maker lets this bearing float in its cap."})"};
  CHECK(codes(document(wide)).empty());
  Bearing mended = wide;
  mended.gap_low = "0.018";
  mended.gap_high = "0.065";
  CHECK(codes(document(mended)) == Codes{"W31"});
  const auto read = procedure::read_procedure(document(wide));
  REQUIRE(read.procedure);
  const auto& accepted = read.procedure->sections[0].steps[0].entries[2].accepted;
  REQUIRE(accepted.size() == 1);
  CHECK(accepted[0].second == "The maker lets this bearing float in its cap.");
}

TEST_CASE("a doubt accepted at the head of the file is accepted in all of it") {
  std::string all = document({.gap_low = "0.118", .gap_high = "0.165"});
  all.insert(1, R"("accepted": {"W20": "All clearances are those of a racing engine."}, )");
  CHECK(codes(all).empty());
}

TEST_CASE("an undersize that moves its limits by something else is doubted, a wall that moves by half is not") {
  const std::string option =
      R"("options": [{"id": "under", "title": "Under size", "choices": ["standard", "0.25"], "given": "standard"}],)";
  const auto moved = [&](const std::string& low, const std::string& high) {
    // The bearing bore moves along, as thicker shells are fitted.
    return told(text(option + limits({between("journal", "69.920", "69.932",
                                              fmt::format(R"(, "when": [{{"option": "under", "is": "0.25",
                                                "standard": {{"low": {}, "high": {}}}}}])",
                                                          low, high))}),
                     step("a", sized("journal", "journal"))));
  };
  CHECK(moved("69.670", "69.682").empty());
  CHECK(moved("70.045", "70.057").empty()); // a wall
  CHECK_THAT(moved("69.920", "69.932"), Catch::StartsWith("W24"));
  CHECK_THAT(moved("69.670", "69.862"), Catch::StartsWith("W24")); // two digits changed over
  CHECK_THAT(moved("67.420", "67.432"), Catch::StartsWith("W24"));
}

TEST_CASE("one number in two units must be one number") {
  struct Line {
    const char* mm;
    const char* in;
    bool one;
  };
  // TM 5-4210-229-14&P para 6-12 (0.0018 in, 0.046 mm), TM 9-2815-260-24 p. 5-65 (0.0043 in, 0.109 mm); misprinted:
  // TM 10-3930-664-24 p. 3-59 (0.015 in, 0.0381 mm), TM 5-2815-241-34&P p. 2-148 (6.5635 in, 188.713 mm) and p. 2-150
  // (0.003 in, 0.06 mm).
  for (const Line& line : {Line{"0.046", "0.0018", true}, Line{"0.109", "0.0043", true}, Line{"0.0381", "0.015", false},
                           Line{"188.713", "6.5635", false}, Line{"0.06", "0.003", false}}) {
    CAPTURE(line.mm);
    const std::string all =
        text(limits({limit("size", fmt::format(R"("standard": {{"high": {}}}, "beside": {{"unit": "in",
                           "standard": {{"high": {}}}}})",
                                               line.mm, line.in))}),
             step("a", sized("r", "size")));
    CHECK(codes(all) == (line.one ? Codes{} : Codes{"W25"}));
  }
}

TEST_CASE("beside a length no torque can stand") {
  const std::string all = text(limits({limit("size", R"("standard": {"high": 1}, "beside": {"unit": "N.m"})")}),
                               step("a", sized("r", "size")));
  CHECK_THAT(told(all), Catch::Contains("beside mm stands N.m, which measures something else"));
}

TEST_CASE("a ring gap far from what its bore wants is doubted") {
  const auto ring = [](const std::string& low, const std::string& high) {
    return told(
        text(limits({between("bore", "83.000", "83.020"), between("ring", low, high)}),
             step("a", sized("bore", "bore") + R"(, {"id": "gap", "kind": "reading", "title": "Gap", "unit": "mm"},
                     {"id": "ring", "kind": "calculated", "title": "Ring gap", "computation": "ring-gap",
                      "inputs": {"gap": {"entry": "gap"}, "gauge_bore": {"entry": "bore"}, "working_bore": {"entry": "bore"}},
                      "judge": {"gap_at_working": "ring"}})")));
  };
  // 0.003 to 0.004 of the bore, common practice, no source; TM 9-2815-254-24 p. 3-133 has 0.2 to 0.4 mm.
  CHECK(ring("0.249", "0.332").empty());
  CHECK(ring("0.2", "0.4").empty());
  CHECK_THAT(ring("2.49", "3.32"), Catch::Contains("W21") && Catch::Contains("a tenth of what is written"));
  CHECK_THAT(ring("0.0098", "0.0131"), Catch::Contains("W21") && Catch::Contains("taken as inches"));
}

TEST_CASE("bounds that come from two lines of the manual are doubted") {
  const auto only = [](const std::string& low, const std::string& high, const std::string& more = "") {
    return codes(text(limits({between("size", low, high, more)}), step("a", sized("r", "size"), "")));
  };
  CHECK(only("0.050", "0.400").empty()); // TM 5-6115-584-34, rod side 0.0020 to 0.0160 in: eight times
  CHECK(only("0.003", "0.035").empty()); // a press fit
  CHECK(only("0.004", "0.080") == Codes{"W22"});
  CHECK(only("0.02", "0.62") == Codes{"W22"});
  CHECK(only("4.8", "48.026") == Codes{"W22"});
  CHECK(only("0.25", "0.4", R"(, "service": {"low": 0.25, "high": 8.0})") == Codes{"W22", "W05"});
}

TEST_CASE("a gauge too coarse for its limit is named") {
  const auto with = [](const std::string& kinds) {
    return codes(text(limits({between("size", "47.964", "47.980")}),
                      step("a", fmt::format(R"({{"id": "r", "kind": "reading", "title": "Size", "unit": "mm",
                                               "limit": "size", "gauges": [{}]}})",
                                            kinds))));
  };
  CHECK(with(R"("micrometer")").empty());
  CHECK(with(R"("caliper")") == Codes{"W23"});
  CHECK(with(R"("caliper", "micrometer")").empty());
}

TEST_CASE("sizes to choose from hold together") {
  const auto washers = [](const std::string& sizes) {
    return codes(text(limits({between("play", "0.1", "0.28")}),
                      step("a", fmt::format(R"({{"id": "p", "kind": "reading", "title": "Play", "unit": "mm"}},
       {{"id": "w", "kind": "reading", "title": "Washer", "unit": "mm"}},
       {{"id": "choice", "kind": "calculated", "title": "Washer", "computation": "thrust-selection",
         "inputs": {{"play": {{"entry": "p"}}, "fitted": {{"entry": "w"}}, "low": {{"limit": "play", "bound": "low"}},
                    "high": {{"limit": "play", "bound": "high"}},
                    "available": {{"constant": {{"values": [{}], "unit": "mm"}}}}}}}})",
                                            sizes))));
  };
  CHECK(washers("2.31, 2.36, 2.41").empty());
  CHECK(washers("2.31, 23.6, 2.41") == Codes{"W26"});
}

TEST_CASE("gasket grades follow on one another and cover what is allowed") {
  const auto grades = [](const std::string& first_to, const std::string& last_to) {
    return codes(text(
        limits({between("high", "0.4", "0.6")}),
        step("a", fmt::format(R"({{"id": "h", "kind": "readings", "title": "Height", "unit": "mm", "rows": ["1", "2"],
           "columns": ["front", "rear"]}},
         {{"id": "grade", "kind": "calculated", "title": "Grade", "computation": "protrusion",
           "inputs": {{"readings": {{"entry": "h"}}, "grades": {{"constant": [
             {{"name": "1", "from": {{"value": 0.4, "unit": "mm"}}, "to": {{"value": {}, "unit": "mm"}}}},
             {{"name": "2", "from": {{"value": 0.5, "unit": "mm"}}, "to": {{"value": {}, "unit": "mm"}}}}]}}}},
           "judge": {{"highest": "high"}}}})",
                              first_to, last_to))));
  };
  CHECK(grades("0.5", "0.6").empty());
  CHECK(grades("0.48", "0.6") == Codes{"W27"});
  CHECK(grades("0.5", "0.7") == Codes{"W27"});
}

TEST_CASE("a cam gear turns at half the speed of the crank, whatever is between") {
  const auto train = [](int cam) {
    return codes(text(fmt::format(R"("gear-train": [{{"id": "crank", "title": "Crank", "teeth": 28}},
      {{"id": "idler", "title": "Idler", "teeth": 41, "meshes": "crank", "direction": 80}},
      {{"id": "cam", "title": "Camshaft", "teeth": {}, "meshes": "idler", "direction": 160}}],)",
                                  cam),
                      step("a", R"({"id": "c", "kind": "confirm", "title": "Marks"})")));
  };
  CHECK(train(56).empty());
  CHECK(train(58) == Codes{"W28"});
}

TEST_CASE("work that hurts people asks for its caution") {
  const auto work = [](const std::string& words, const std::string& hazard) {
    const std::string caution =
        hazard.empty() ? ""
                       : fmt::format(R"("cautions": [{{"word": "WARNING", "hazard": "{}", "consequence": "It maims.",
                                        "avoid": "Stay clear."}}],)",
                                     hazard);
    return codes(text("", step("a", R"({"id": "c", "kind": "confirm", "title": "Done"})",
                               fmt::format(R"("text": "{}", {})", words, caution))));
  };
  CHECK(work("Compress the valve spring and fit the collets.", "") == Codes{"W29"});
  CHECK(work("Compress the valve spring and fit the collets.", "A compressed spring throws its collets.").empty());
  CHECK(work("Gear heated to 180 degC.", "Old gaskets may hold asbestos.") == Codes{"W29"});
  CHECK(work("Final torque, do not turn the crank.", "").empty());
  CHECK(work("Turn the crank to the mark.", "") == Codes{"W29"});
  CHECK(work("Drain the petrol and take the carburettor bowl off.", "") == Codes{"W29"});
  CHECK(work("Drain the petrol and take the carburettor bowl off.", "Petrol vapour burns.").empty());
  CHECK(work("Head lowered on the hoist.", "The head hangs over the block.").empty());
}

TEST_CASE("a section strung on one line is doubted, one that is not is left alone") {
  const auto line = [](bool strung) {
    std::vector<std::string> steps;
    for (int i = 0; i < 5; ++i)
      steps.push_back(step(fmt::format("s{}", i), R"({"id": "c", "kind": "confirm", "title": "Done"})",
                           i == 0 ? "" : fmt::format(R"("after": ["s{}"],)", strung || i < 4 ? i - 1 : 1)));
    return codes(text("", fmt::format("{}", fmt::join(steps, ", "))));
  };
  CHECK(line(true) == Codes{"W30"});
  CHECK(line(false).empty());
}
