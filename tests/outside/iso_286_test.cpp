// Limits and fits against ISO 286: the tables whole, typed here once more from public copies of them.
#include "outside/iso_286_limits.h"
#include "outside/ledger.h"

#include "calculating.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <sstream>
#include <tuple>
#include <vector>

using namespace calculating;
using outside::agrees;
using outside::Source;
using outside::Standing;

namespace {

// Part 1: table 1 from a printed extract of DIN ISO 286; tables 2 to 5 from a machine drawing textbook (table 15.2, to
// 180 mm for m to s and from 180 mm for d to k), a fastener catalogue (N to S) and an open program's copy of all.
constexpr Source part_1{"ISO 286-1:2010, tables 1 to 5"};
constexpr Source part_2{"ISO 286-2:2010, limit deviations"};
constexpr Source part_2_recalled{"ISO 286-2:2010, limit deviations", Standing::recalled};
constexpr Source tolerance_factor{"ISO 286-1:1988 (IS 919-1:1993), A.3.2, tolerance factor i"};
constexpr Source deviation_formulae{"ISO 286-1:1988, annex A, formulae of deviations", Standing::recalled};
constexpr Source part_2_of_1988{"ISO 286-2:1988 and its Technical Corrigendum 1:2006"};
constexpr Source lip_seals{"DIN 3760:1996, shaft h11 and bore H8"};
constexpr Source manuals{"workshop manuals of three small diesels, idler gear bush and shaft"};
constexpr Source handbook{"handbook fits from ISO 286-2", Standing::recalled};

constexpr std::string_view name = "fit-limits";

bool is_hole(std::string_view tolerance_class) {
  return tolerance_class.front() < 'a';
}

struct Deviations { // um
  double lower;
  double upper;
};

// From the limits of size the program answers, exactly: 0.001 mm is no double.
Deviations deviations(std::string_view tolerance_class, const std::string& size) {
  const std::string part = is_hole(tolerance_class) ? "hole" : "shaft";
  const auto found = answer(name, fmt::format(R"({{"size":"{} mm","{}":"{}"}})", size, part, tolerance_class));
  const calc::Exact nominal = calc::Exact::decimal(size).value();
  const auto um = [&](const std::string& limit) {
    return ((quantity_in(found, part + limit).value - nominal) * calc::Exact(1000)).to_double();
  };
  return {um("_low"), um("_high")};
}

// Both ends of a step: just over the one below it, and its own upper end.
std::array<std::string, 2> ends_of(int over, int up_to) {
  return {over == 0 ? "1" : fmt::format("{}.0001", over), std::to_string(up_to)};
}

constexpr std::array<int, 14> main_steps = {0, 3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500};
constexpr std::array<int, 23> fine_steps = {0,   3,   6,   10,  18,  30,  50,  65,  80,  100, 120, 140,
                                            160, 180, 200, 225, 250, 280, 315, 355, 400, 450, 500};

template <typename Check>
void at_both_ends(int over, int up_to, const Check& check) {
  for (const std::string& size : ends_of(over, up_to)) {
    INFO(size << " mm");
    check(size);
  }
}

} // namespace

TEST_CASE("ISO 286-1 table 1: every grade IT5 to IT11 in every step to 500 mm") {
  constexpr int printed[13][7] = {
      {4, 6, 10, 14, 25, 40, 60},      {5, 8, 12, 18, 30, 48, 75},      {6, 9, 15, 22, 36, 58, 90},
      {8, 11, 18, 27, 43, 70, 110},    {9, 13, 21, 33, 52, 84, 130},    {11, 16, 25, 39, 62, 100, 160},
      {13, 19, 30, 46, 74, 120, 190},  {15, 22, 35, 54, 87, 140, 220},  {18, 25, 40, 63, 100, 160, 250},
      {20, 29, 46, 72, 115, 185, 290}, {23, 32, 52, 81, 130, 210, 320}, {25, 36, 57, 89, 140, 230, 360},
      {27, 40, 63, 97, 155, 250, 400},
  };
  for (std::size_t step = 0; step < 13; ++step)
    for (int grade = 5; grade <= 11; ++grade)
      at_both_ends(main_steps[step], main_steps[step + 1], [&](const std::string& size) {
        for (const char* letter : {"H", "h", "JS", "js"}) {
          const auto found = deviations(letter + std::to_string(grade), size);
          agrees(part_1, name, found.upper - found.lower, printed[step][grade - 5], 0);
        }
      });
}

TEST_CASE("ISO 286-1 tables 2 to 5: every deviation d to s and D to S in every step to 500 mm") {
  struct Row {
    int up_to;
    int d, e, f, g;           // below the nominal size for shafts, above it for holes
    int k, m, n, p, r, s;     // above it for shafts; k in grades 5 to 7, zero in others
    std::array<int, 4> delta; // grades 5 to 8, raises holes
  };
  constexpr Row printed[] = {
      {3, 20, 14, 6, 2, 0, 2, 4, 6, 10, 14, {0, 0, 0, 0}},
      {6, 30, 20, 10, 4, 1, 4, 8, 12, 15, 19, {1, 3, 4, 6}},
      {10, 40, 25, 13, 5, 1, 6, 10, 15, 19, 23, {2, 3, 6, 7}},
      {18, 50, 32, 16, 6, 1, 7, 12, 18, 23, 28, {3, 3, 7, 9}},
      {30, 65, 40, 20, 7, 2, 8, 15, 22, 28, 35, {3, 4, 8, 12}},
      {50, 80, 50, 25, 9, 2, 9, 17, 26, 34, 43, {4, 5, 9, 14}},
      {65, 100, 60, 30, 10, 2, 11, 20, 32, 41, 53, {5, 6, 11, 16}},
      {80, 100, 60, 30, 10, 2, 11, 20, 32, 43, 59, {5, 6, 11, 16}},
      {100, 120, 72, 36, 12, 3, 13, 23, 37, 51, 71, {5, 7, 13, 19}},
      {120, 120, 72, 36, 12, 3, 13, 23, 37, 54, 79, {5, 7, 13, 19}},
      {140, 145, 85, 43, 14, 3, 15, 27, 43, 63, 92, {6, 7, 15, 23}},
      {160, 145, 85, 43, 14, 3, 15, 27, 43, 65, 100, {6, 7, 15, 23}},
      {180, 145, 85, 43, 14, 3, 15, 27, 43, 68, 108, {6, 7, 15, 23}},
      {200, 170, 100, 50, 15, 4, 17, 31, 50, 77, 122, {6, 9, 17, 26}},
      {225, 170, 100, 50, 15, 4, 17, 31, 50, 80, 130, {6, 9, 17, 26}},
      {250, 170, 100, 50, 15, 4, 17, 31, 50, 84, 140, {6, 9, 17, 26}},
      {280, 190, 110, 56, 17, 4, 20, 34, 56, 94, 158, {7, 9, 20, 29}},
      {315, 190, 110, 56, 17, 4, 20, 34, 56, 98, 170, {7, 9, 20, 29}},
      {355, 210, 125, 62, 18, 4, 21, 37, 62, 108, 190, {7, 11, 21, 32}},
      {400, 210, 125, 62, 18, 4, 21, 37, 62, 114, 208, {7, 11, 21, 32}},
      {450, 230, 135, 68, 20, 5, 23, 40, 68, 126, 232, {7, 13, 23, 34}},
      {500, 230, 135, 68, 20, 5, 23, 40, 68, 132, 252, {7, 13, 23, 34}},
  };
  int over = 0;
  for (const Row& row : printed) {
    at_both_ends(over, row.up_to, [&](const std::string& size) {
      const auto shaft = [&](const char* letter, int grade) {
        return deviations(letter + std::to_string(grade), size);
      };
      const auto upper = [&](const char* letter, int grade, int um) {
        INFO(letter << grade);
        agrees(part_1, name, shaft(letter, grade).upper, um, 0);
      };
      const auto lower = [&](const char* letter, int grade, int um) {
        INFO(letter << grade);
        agrees(part_1, name, shaft(letter, grade).lower, um, 0);
      };
      for (int grade = 5; grade <= 11; ++grade) {
        upper("d", grade, -row.d), upper("e", grade, -row.e), upper("f", grade, -row.f), upper("g", grade, -row.g);
        lower("D", grade, row.d), lower("E", grade, row.e), lower("F", grade, row.f), lower("G", grade, row.g);
        lower("k", grade, grade <= 7 ? row.k : 0), lower("m", grade, row.m), lower("n", grade, row.n);
        lower("p", grade, row.p), lower("r", grade, row.r), lower("s", grade, row.s);
        const int delta = grade <= 8 ? row.delta[static_cast<std::size_t>(grade - 5)] : 0;
        const bool exception = grade == 6 && over >= 250 && row.up_to <= 315;
        if (grade <= 8 || row.up_to == 3) upper("K", grade, -row.k + delta); // none above grade 8 over 3 mm
        upper("M", grade, exception ? -9 : -row.m + delta);
        if (grade <= 8)
          upper("N", grade, -row.n + delta);
        else if (size != "1") // none at 1 mm
          upper("N", grade, row.up_to == 3 ? -4 : 0);
        const int raised = grade <= 7 ? delta : 0;
        upper("P", grade, -row.p + raised), upper("R", grade, -row.r + raised), upper("S", grade, -row.s + raised);
      }
    });
    over = row.up_to;
  }
}

TEST_CASE("ISO 286-2: limit deviations of the classes in common use, whole") {
  std::istringstream lines{std::string(iso_286::limit_deviations)};
  std::string upper_line;
  std::string lower_line;
  std::size_t classes = 0;
  std::getline(lines, upper_line); // the line break before the first class
  while (std::getline(lines, upper_line) && std::getline(lines, lower_line)) {
    std::istringstream uppers{upper_line};
    std::istringstream lowers{lower_line};
    std::string tolerance_class;
    int seen_over = 0;
    int seen_to = 0;
    uppers >> tolerance_class >> seen_over >> seen_to;
    INFO(tolerance_class);
    std::vector<Deviations> printed;
    for (Deviations each{}; uppers >> each.upper && lowers >> each.lower;) printed.push_back(each);
    const bool fine = printed.size() == 22;
    REQUIRE((fine || printed.size() == 13));
    for (std::size_t step = 0; step < printed.size(); ++step) {
      const int over = fine ? fine_steps[step] : main_steps[step];
      const int up_to = fine ? fine_steps[step + 1] : main_steps[step + 1];
      const Source& source = over >= seen_over && up_to <= seen_to ? part_2 : part_2_recalled;
      at_both_ends(over, up_to, [&](const std::string& size) {
        if (tolerance_class == "N9" && size == "1") return;
        const auto found = deviations(tolerance_class, size);
        agrees(source, name, found.upper, printed[step].upper, 0);
        agrees(source, name, found.lower, printed[step].lower, 0);
      });
    }
    ++classes;
  }
  CHECK(classes == 64);
}

TEST_CASE("ISO 286-2:1988: three cells its corrigendum put right") {
  const std::string why = "misprint of the first print, put right by the corrigendum";
  outside::disagrees(part_2_of_1988, name, deviations("E8", "100").upper, 125, 0.5, why);
  outside::disagrees(part_2_of_1988, name, deviations("R10", "25").upper, -10, 0.5, why);
  outside::disagrees(part_2_of_1988, name, deviations("f9", "300").lower, -185, 0.5, why);
  agrees(part_2_of_1988, name, deviations("E8", "100").upper, 126, 0);
  agrees(part_2_of_1988, name, deviations("R10", "25").upper, -28, 0);
  agrees(part_2_of_1988, name, deviations("f9", "300").lower, -186, 0);
}

TEST_CASE("ISO 286-1 annex A: grades follow from the tolerance factor, as near as the standard rounds") {
  constexpr int factors[] = {7, 10, 16, 25, 40, 64, 100};
  for (std::size_t step = 0; step < 13; ++step) {
    const double over = step == 0 ? 1 : main_steps[step];
    const double size = std::sqrt(over * main_steps[step + 1]);
    const double i = 0.45 * std::cbrt(size) + 0.001 * size;
    for (int grade = 5; grade <= 11; ++grade) {
      const double exact = factors[grade - 5] * i;
      const double allowed = step == 0 ? 0.16 * exact : std::max(0.7, 0.03 * exact);
      const auto found = deviations("H" + std::to_string(grade), std::to_string(main_steps[step + 1]));
      INFO("IT" << grade << " up to " << main_steps[step + 1] << ": " << found.upper << " for " << exact);
      agrees(tolerance_factor, name, std::abs(found.upper - exact) <= allowed);
    }
  }
}

TEST_CASE("ISO 286-1 annex A: deviations follow from their formulae, as near as the standard rounds") {
  for (std::size_t step = 0; step < 22; ++step) {
    const double over = step == 0 ? 1 : fine_steps[step];
    const int up_to = fine_steps[step + 1];
    const std::string size = std::to_string(up_to);
    const double fine = std::sqrt(over * up_to);
    const auto main = std::lower_bound(main_steps.begin(), main_steps.end(), up_to);
    const double whole = std::sqrt(std::max(1, *(main - 1)) * static_cast<double>(*main));
    const auto near = [&](const char* letter, double got, double formula, double from, double to) {
      INFO(letter << " up to " << size << " mm: " << got << " for " << formula);
      agrees(deviation_formulae, name, got >= formula + from && got <= formula + to);
    };
    const auto below = [&](const char* letter) { return -deviations(letter, size).upper; };
    const auto above = [&](const char* letter) { return deviations(letter, size).lower; };
    const auto it = [&](const char* grade) { return deviations(grade, size).upper; };
    for (const auto& [letter, of, formula] :
         {std::tuple("d", "d9", 16 * std::pow(whole, 0.44)), std::tuple("e", "e8", 11 * std::pow(whole, 0.41))}) {
      const double rounding = std::max(1.1, 0.025 * formula); // to 5 um from 100 um, to 10 um from 200 um
      near(letter, below(of), formula, -rounding, rounding);
    }
    near("f", below("f7"), 5.5 * std::pow(whole, 0.41), -1.1, 1.1); // to 2 um from 45 um on
    near("g", below("g6"), 2.5 * std::pow(whole, 0.34), -1.1, 1.1);
    if (step > 0) near("k", above("k6"), 0.6 * std::cbrt(whole), -0.7, 0.7);
    near("m", above("m6"), it("H7") - it("H6"), step == 0 ? -2 : 0, 0);
    near("n", above("n6"), 5 * std::pow(whole, 0.34), step == 0 ? -2.5 : -1.1, 1.1);
    near("p", above("p6"), it("H7"), step == 0 ? -4 : 0, 5);
    near("s", above("s6"), up_to <= 50 ? it("H8") : it("H7") + 0.4 * fine, up_to <= 50 ? 0 : -1.1,
         up_to <= 50 ? 4 : 1.1);
    near("r", above("r6"), std::sqrt(above("p6") * above("s6")), -1.5, 1.5); // geometric mean of p and s
  }
}

TEST_CASE("idler bush and shaft of three small diesels are H7 and f7") {
  const auto small = answer(name, R"({"size":"20 mm","hole":"H7","shaft":"f7"})");
  agrees(manuals, name, value(small, "hole_low"), 20.000, 1e-9);
  agrees(manuals, name, value(small, "hole_high"), 20.021, 1e-9);
  agrees(manuals, name, value(small, "shaft_low"), 19.959, 1e-9);
  agrees(manuals, name, value(small, "shaft_high"), 19.980, 1e-9);
  const auto large = answer(name, R"({"size":"45 mm","hole":"H7","shaft":"f7"})");
  agrees(manuals, name, value(large, "hole_low"), 45.000, 1e-9);
  agrees(manuals, name, value(large, "hole_high"), 45.025, 1e-9);
  agrees(manuals, name, value(large, "shaft_low"), 44.950, 1e-9);
  agrees(manuals, name, value(large, "shaft_high"), 44.975, 1e-9);
  agrees(manuals, name, value(large, "clearance_min"), 0.025, 1e-9);
  agrees(manuals, name, value(large, "clearance_max"), 0.075, 1e-9);
}

TEST_CASE("fits from handbooks: limits of both parts and the clearances between them") {
  struct Fit {
    int size;
    const char* hole;
    const char* shaft;
    double hole_low, hole_high, shaft_low, shaft_high; // mm
    double least, most;                                // um, - interference
  };
  constexpr Fit fits[] = {
      {40, "H7", "p6", 40.000, 40.025, 40.026, 40.042, -42, -1},
      {40, "H6", "p6", 40.000, 40.016, 40.026, 40.042, -42, -10},
      {45, "H7", "f7", 45.000, 45.025, 44.950, 44.975, 25, 75},
      {45, "H7", "h6", 45.000, 45.025, 44.984, 45.000, 0, 41},
      {20, "H7", "f7", 20.000, 20.021, 19.959, 19.980, 20, 62},
      {22, "H7", "s6", 22.000, 22.021, 22.035, 22.048, -48, -14},
      {50, "H7", "s6", 50.000, 50.025, 50.043, 50.059, -59, -18},
      {60, "H7", "s6", 60.000, 60.030, 60.053, 60.072, -72, -23},
  };
  for (const Fit& fit : fits) {
    INFO(fit.size << fit.hole << "/" << fit.shaft);
    const auto found =
        answer(name, fmt::format(R"({{"size":"{} mm","hole":"{}","shaft":"{}"}})", fit.size, fit.hole, fit.shaft));
    agrees(handbook, name, value(found, "hole_low"), fit.hole_low, 1e-9);
    agrees(handbook, name, value(found, "hole_high"), fit.hole_high, 1e-9);
    agrees(handbook, name, value(found, "shaft_low"), fit.shaft_low, 1e-9);
    agrees(handbook, name, value(found, "shaft_high"), fit.shaft_high, 1e-9);
    agrees(handbook, name, value(found, "clearance_min") * 1000, fit.least, 1e-9);
    agrees(handbook, name, value(found, "clearance_max") * 1000, fit.most, 1e-9);
  }
}

TEST_CASE("DIN 3760: shafts h11 and bores H8 of rotary lip seals") {
  constexpr double printed[4][3] = {{30, -130, 33}, {50, -160, 39}, {80, -190, 46}, {120, -220, 54}};
  for (const auto& [size, shaft, bore] : printed) {
    const std::string at = fmt::format("{:g}", size);
    agrees(lip_seals, name, deviations("h11", at).upper, 0, 0);
    agrees(lip_seals, name, deviations("h11", at).lower, shaft, 0);
    agrees(lip_seals, name, deviations("H8", at).lower, 0, 0);
    agrees(lip_seals, name, deviations("H8", at).upper, bore, 0);
  }
  const auto seal = answer(name, R"({"size":"70 mm","shaft":"h11"})");
  agrees(lip_seals, name, value(seal, "shaft_low"), 69.810, 1e-9);
  agrees(lip_seals, name, value(answer(name, R"({"size":"90 mm","hole":"H8"})"), "hole_high"), 90.054, 1e-9);
}
