// Pairs of units as US Army technical manuals and makers' service pages print them: good pairs agree up to the rounding
// of their last digit, known misprints do not.
#include "calculating.h"
#include "outside/ledger.h"

#include <fmt/format.h>

#include <cmath>

namespace {

const outside::Source army = {"US Army technical manuals"};
const outside::Source service_pages = {"service pages of makers and clubs (not named)"};

struct Pair {
  const char* page;
  const char* one; // as printed, with its unit
  const char* other;
};

struct Figure {
  std::string number, unit;

  explicit Figure(const std::string& printed)
      : number(printed.substr(0, printed.find(' '))), unit(printed.substr(printed.find(' ') + 1)) {}
  double value() const { return std::stod(number); }
  double half_digit() const {
    const auto dot = number.find('.');
    return 0.5 * std::pow(10.0, dot == std::string::npos ? 0 : -static_cast<double>(number.size() - dot - 1));
  }
};

double converted(const Figure& figure, const std::string& to) {
  return calculating::value(calculating::answer("convert", fmt::format(R"({{"value":{},"unit":"{}","to":"{}"}})",
                                                                       figure.number, figure.unit, to)),
                            "converted");
}

// How far apart the two may be by rounding, in the unit of the other: half the last digit of either.
double rounding(const Figure& one, const Figure& other) {
  const double per_unit = converted(one, other.unit) / one.value();
  return std::max(one.half_digit() * per_unit, other.half_digit());
}

void good(const outside::Source& source, const Pair& pair) {
  INFO(pair.page << ": " << pair.one << " and " << pair.other);
  const Figure one(pair.one);
  const Figure other(pair.other);
  outside::agrees(source, "convert", converted(one, other.unit), other.value(), rounding(one, other));
}

void bad(const outside::Source& source, const Pair& pair, const char* fault) {
  const Figure one(pair.one);
  const Figure other(pair.other);
  outside::disagrees(source, "convert", converted(one, other.unit), other.value(), rounding(one, other),
                     fmt::format("{}, {} beside {}: {}", pair.page, pair.one, pair.other, fault));
}

// The second figure worked out from the first, to the nearest of its last digit.
void nearest(const outside::Source& source, const Pair& pair) {
  INFO(pair.page << ": " << pair.one << " and " << pair.other);
  const Figure other(pair.other);
  outside::agrees(source, "convert", converted(Figure(pair.one), other.unit), other.value(), other.half_digit());
}

void not_nearest(const outside::Source& source, const Pair& pair, const char* fault = "not the nearest") {
  const Figure other(pair.other);
  outside::disagrees(source, "convert", converted(Figure(pair.one), other.unit), other.value(), other.half_digit(),
                     fmt::format("{}, {} beside {}: {}", pair.page, pair.one, pair.other, fault));
}

} // namespace

TEST_CASE("lengths printed well in inches and millimetres") {
  for (const Pair& pair : {
           Pair{"TM 5-4210-229-14&P para 6-12, oil clearance", "0.0018 in", "0.046 mm"},
           {"the same", "0.0051 in", "0.130 mm"},
           {"TM 9-2815-260-24 p. 5-65, oil clearance", "0.0016 in", "0.041 mm"},
           {"the same", "0.0043 in", "0.109 mm"},
           {"TM 9-2815-254-24 p. 3-138, oil clearance", "0.0007 in", "0.018 mm"},
           {"the same", "0.0047 in", "0.12 mm"},
           {"TM 9-2815-254-24 p. 3-151, backlash", "0.004 in", "0.10 mm"},
           {"the same", "0.007 in", "0.17 mm"},
           {"TM 5-3825-229-14&P p. 6-24, ring gap", "0.0012 in", "0.03 mm"},
           {"the same", "0.0031 in", "0.08 mm"},
           {"TM 5-1940-322-24 WP 0153, oil pump", "0.007 in", "0.1778 mm"},
           {"the same", "0.015 in", "0.381 mm"},
           {"the same", "0.005 in", "0.127 mm"},
           {"TM 5-6115-593-34 p. 1-9, end clearance", "0.006 in", "0.15 mm"},
           {"the same", "0.013 in", "0.33 mm"},
           {"the same", "0.026 in", "0.66 mm"},
           {"TM 5-6115-440-34, rod side clearance", "0.009 in", "0.2286 mm"},
           {"the same", "0.016 in", "0.4064 mm"},
           {"TM 10-4320-318-14 p. 6-14, bump clearance", "0.0216 in", "0.55 mm"},
           {"the same", "0.0255 in", "0.65 mm"},
           {"TM 9-2815-226-34-1, ring groove", "0.006 in", "0.152 mm"},
           {"TM 5-3895-359-14&P p. 0208, seal bore", "0.008 in", "0.203 mm"},
           {"TM 9-6115-604-34 fig. 9-10, seat width", "0.060 in", "1.52 mm"},
           {"the same", "0.100 in", "2.54 mm"},
           {"TM 55-1905-223-24-1, bolt stretch", "0.0135 in", "0.343 mm"},
           {"the same", "0.0185 in", "0.470 mm"},
           {"TM 5-4210-233-14&P-2 p. 6-152, washers", "0.244 in", "6.20 mm"},
           {"the same", "0.005 in", "0.127 mm"},
           {"the same", "0.010 in", "0.254 mm"},
           {"TM 9-2815-259-24 table 5-4, idler shaft", "2.7463 in", "69.757 mm"},
           {"the same, its bush", "2.7493 in", "69.832 mm"},
       })
    good(army, pair);
}

TEST_CASE("lengths misprinted") {
  bad(army, {"TM 10-3930-664-24 p. 3-59", "0.015 in", "0.0381 mm"}, "ten times too small");
  bad(army, {"TM 10-3930-664-24 p. 3-59", "0.003 in", "0.05 mm"}, "another value");
  bad(army, {"TM 9-6115-670-14&P p. 6-78", "0.012 in", "0.03 mm"}, "0.0012 in is meant");
  bad(army, {"TM 9-2815-254-24 p. 3-137", "2.7548 in", "69.920 mm"}, "digits; the clearances bear out 69.920");
  bad(army, {"TM 9-2815-254-24 p. 3-137", "2.7533 in", "69.632 mm"}, "digits; 69.932 is meant");
  bad(army, {"TM 9-2815-254-24 p. 3-137", "2.0849 in", "52.918 mm"}, "digits, 0.04 mm apart");
  bad(army, {"TM 9-2815-254-24 p. 3-137", "2.0854 in", "52.930 mm"}, "digits, 0.04 mm apart");
  bad(army, {"TM 9-2815-254-24 p. 3-138", "0.0025 in", "0.065 mm"}, "0.0026 in is nearer");
  bad(army, {"TM 9-6115-604-34 table 1-4", "0.0025 in", "0.089 mm"}, "0.0035 in is meant");
  bad(army, {"TM 9-6115-604-34 table 1-4", "74.915 in", "190.284 mm"}, "7.4915 in is meant");
  bad(army, {"TM 5-2815-241-34&P p. 2-150", "0.003 in", "0.06 mm"}, "another value");
  bad(army, {"TM 5-2815-241-34&P p. 2-148", "6.5635 in", "188.713 mm"}, "digits; 166.713 is meant");
  bad(army, {"TM 10-4320-344-24 p. 4-5", "0.0035 in", "0.0189 mm"}, "digits; 0.0889 is meant");
  bad(army, {"TM 10-4320-309-14 p. 5-2", "0.015 in", "0.40 mm"}, "cut off, not rounded");
}

TEST_CASE("torques and pressures printed well") {
  for (const Pair& pair : {
           Pair{"TM 10-3930-669-20 app. E", "29.5 lbf.ft", "40 N.m"},
           {"the same", "59 lbf.ft", "80 N.m"},
           {"the same", "66 lbf.ft", "90 N.m"},
           {"the same", "21 lbf.ft", "28 N.m"},
           {"TM 5-3805-274-13&P", "19 lbf.ft", "25.8 N.m"},
           {"the same", "17 lbf.ft", "23.0 N.m"},
           {"TM 5-3805-298-23-2 WP 0176", "30 lbf.ft", "41 N.m"},
           {"TM 5-2420-230-24-2, compression", "350 psi", "2413 kPa"},
           {"the same", "300 psi", "2068 kPa"},
           {"the same", "100 psi", "690 kPa"},
           {"TM 5-3895-359-14&P p. 0498, compression", "25 psi", "172 kPa"},
           {"TM 5-3895-347-14&P, oil pressure", "25 psi", "172.37 kPa"},
           {"TM 10-4320-309-14 p. 5-2, nozzle", "2844 psi", "200 kgf/cm2"},
           {"TM 10-3930-653-14&P para 4-2-4-7, piston weights", "2 g", "0.0705 oz"},
       })
    good(army, pair);
}

TEST_CASE("torques misprinted") {
  not_nearest(army, {"TM 10-3930-669-20 app. E", "7 lbf.ft", "10 N.m"});
  bad(army, {"TM 55-1905-223-24-1", "270 lbf.ft", "365 N.m"}, "366 is meant");
  bad(army, {"TM 9-6115-604-34 table 1-3", "5.0 lbf.in", "0.46 N.m"}, "0.56 stands beside it in the other row");
}

TEST_CASE("TM 9-2320-362-14&P table F-1: torques of inch and metric screws") {
  constexpr const char* page = "TM 9-2320-362-14&P table F-1";
  for (const auto& [lbf_ft, newton_metres] : std::initializer_list<std::pair<const char*, const char*>>{
           {"6", "8"},     {"15", "20"},   {"26", "35"}, {"43", "58"},   {"65", "88"},   {"90", "122"},  {"130", "176"},
           {"185", "251"}, {"440", "597"}, {"10", "14"}, {"37", "50"},   {"60", "81"},   {"178", "241"}, {"260", "353"},
           {"635", "861"}, {"20", "27"},   {"40", "54"}, {"70", "95"},   {"113", "153"}, {"176", "239"}, {"343", "465"},
           {"12", "16"},   {"23", "31"},   {"48", "65"}, {"132", "179"}, {"207", "281"}, {"399", "541"}})
    nearest(army, {page, fmt::format("{} lbf.ft", lbf_ft).c_str(), fmt::format("{} N.m", newton_metres).c_str()});
  not_nearest(army, {page, "80 lbf.ft", "109 N.m"});
  not_nearest(army, {page, "21 lbf.ft", "29 N.m"});
  not_nearest(army, {page, "300 lbf.ft", "408 N.m"});
  not_nearest(army, {page, "420 lbf.ft", "570 N.m"});
}

TEST_CASE("TM 9-6115-604-34 table 1-3: torques of locknuts") {
  for (const auto& [lbf_in, newton_metres] : std::initializer_list<std::pair<const char*, const char*>>{{"4.0", "0.45"},
                                                                                                        {"12", "1.4"},
                                                                                                        {"15", "1.7"},
                                                                                                        {"20", "2.3"},
                                                                                                        {"27", "3.1"},
                                                                                                        {"34", "3.8"},
                                                                                                        {"51", "5.8"},
                                                                                                        {"9.0", "1.0"},
                                                                                                        {"22", "2.5"},
                                                                                                        {"28", "3.2"},
                                                                                                        {"43", "4.9"}})
    nearest(army, {"TM 9-6115-604-34 table 1-3", fmt::format("{} lbf.in", lbf_in).c_str(),
                   fmt::format("{} N.m", newton_metres).c_str()});
}

TEST_CASE("service pages of makers and clubs") {
  for (const Pair& pair : {
           Pair{"head bolts of a diesel", "50 lbf.ft", "68 N.m"},
           {"the same", "205 lbf.ft", "278 N.m"},
           {"cover bolts", "22 N.m", "224 kgf.cm"},
           {"the same", "22 N.m", "16 lbf.ft"},
           {"bearing caps", "98.1 N.m", "10 kgf.m"},
           {"the same", "98.1 N.m", "72 lbf.ft"},
           {"flywheel bolts", "128 N.m", "1305 kgf.cm"},
           {"final torque of a head bolt", "122 N.m", "90 lbf.ft"},
           {"head bolt, length below the head", "99.4 mm", "3.91 in"},
           {"head bolt, necking", "0.25 mm", "0.0098 in"},
           {"another head bolt, necking", "0.11 mm", "0.0043 in"},
           {"head bolt, pitting", "0.12 mm", "0.005 in"},
           {"the same", "3.2 mm", "0.125 in"},
       })
    good(service_pages, pair);
  bad(service_pages, {"head bolt, free length", "185.6 mm", "7.130 in"}, "4.5 mm apart");
  nearest(service_pages, {"a club's page", "1 kgf.m", "7.23 lbf.ft"});
  not_nearest(service_pages, {"a club's page", "1 lbf.ft", "0.1387 kgf.m"}, "not the inverse of 7.23 lbf.ft");
  not_nearest(service_pages, {"head bolts of a diesel", "125 lbf.ft", "170 N.m"});
  not_nearest(service_pages, {"flywheel bolts", "128 N.m", "95 lbf.ft"});
}
