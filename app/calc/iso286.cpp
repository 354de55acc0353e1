#include "calc/iso286.h"

#include "quantity/quoted.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <optional>
#include <stdexcept>
#include <string>

namespace calc {

using quantity::Error;
using quantity::Exact;
using quantity::Result;

namespace {

struct Step {
  int up_to;                    // mm
  std::array<int, 8> tolerance; // IT4 to IT11, um; IT4 only serves the difference to IT5
  int d, e, f, g;               // um a shaft stays below its nominal size
  int k, m, n, p;               // um it stays above
};

constexpr std::array<Step, 13> steps = {{
    {3, {3, 4, 6, 10, 14, 25, 40, 60}, 20, 14, 6, 2, 0, 2, 4, 6},
    {6, {4, 5, 8, 12, 18, 30, 48, 75}, 30, 20, 10, 4, 1, 4, 8, 12},
    {10, {4, 6, 9, 15, 22, 36, 58, 90}, 40, 25, 13, 5, 1, 6, 10, 15},
    {18, {5, 8, 11, 18, 27, 43, 70, 110}, 50, 32, 16, 6, 1, 7, 12, 18},
    {30, {6, 9, 13, 21, 33, 52, 84, 130}, 65, 40, 20, 7, 2, 8, 15, 22},
    {50, {7, 11, 16, 25, 39, 62, 100, 160}, 80, 50, 25, 9, 2, 9, 17, 26},
    {80, {8, 13, 19, 30, 46, 74, 120, 190}, 100, 60, 30, 10, 2, 11, 20, 32},
    {120, {10, 15, 22, 35, 54, 87, 140, 220}, 120, 72, 36, 12, 3, 13, 23, 37},
    {180, {12, 18, 25, 40, 63, 100, 160, 250}, 145, 85, 43, 14, 3, 15, 27, 43},
    {250, {14, 20, 29, 46, 72, 115, 185, 290}, 170, 100, 50, 15, 4, 17, 31, 50},
    {315, {16, 23, 32, 52, 81, 130, 210, 320}, 190, 110, 56, 17, 4, 20, 34, 56},
    {400, {18, 25, 36, 57, 89, 140, 230, 360}, 210, 125, 62, 18, 4, 21, 37, 62},
    {500, {20, 27, 40, 63, 97, 155, 250, 400}, 230, 135, 68, 20, 5, 23, 40, 68},
}};

struct FineStep { // r and s change within a step above 50 mm
  int up_to;
  int r, s;
};

constexpr std::array<FineStep, 22> fine_steps = {{
    {3, 10, 14},     {6, 15, 19},     {10, 19, 23},    {18, 23, 28},    {30, 28, 35},   {50, 34, 43},
    {65, 41, 53},    {80, 43, 59},    {100, 51, 71},   {120, 54, 79},   {140, 63, 92},  {160, 65, 100},
    {180, 68, 108},  {200, 77, 122},  {225, 80, 130},  {250, 84, 140},  {280, 94, 158}, {315, 98, 170},
    {355, 108, 190}, {400, 114, 208}, {450, 126, 232}, {500, 132, 252},
}};

template <typename Steps>
const auto& step_of(const Steps& all, const Exact& size) {
  return *std::ranges::find_if(all, [&](const auto& step) { return size <= Exact(step.up_to); });
}

constexpr std::array<std::string_view, 12> letters = {"d", "e", "f", "g", "h", "js", "k", "m", "n", "p", "r", "s"};
constexpr std::string_view letters_of_holes = "D E F G H JS K M N P R S";
constexpr std::string_view letters_of_shafts = "d e f g h js k m n p r s";

struct ToleranceClass {
  std::string letter; // small, of a hole as well
  int grade;

  bool loose() const { return letter <= "h"; }
};

std::optional<ToleranceClass> read_class(FitPart part, std::string_view text) {
  const auto digits = std::ranges::find_if(text, [](char c) { return std::isdigit(static_cast<unsigned char>(c)); });
  std::string letter(text.begin(), digits);
  const std::string_view grade(digits, text.end());
  const auto of_the_part = [&](unsigned char c) { return part == FitPart::hole ? std::isupper(c) : std::islower(c); };
  if (!std::ranges::all_of(letter, of_the_part)) return {};
  std::ranges::transform(letter, letter.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  if (std::ranges::find(letters, letter) == letters.end()) return {};
  for (int number = 5; number <= 11; ++number)
    if (grade == std::to_string(number)) return ToleranceClass{letter, number};
  return {};
}

// What the shafts' tables give for the letter, without its sign, um.
int fundamental(const std::string& letter, const Exact& size) {
  constexpr std::array<std::pair<std::string_view, int Step::*>, 8> columns = {{{"d", &Step::d},
                                                                                {"e", &Step::e},
                                                                                {"f", &Step::f},
                                                                                {"g", &Step::g},
                                                                                {"k", &Step::k},
                                                                                {"m", &Step::m},
                                                                                {"n", &Step::n},
                                                                                {"p", &Step::p}}};
  if (letter == "r") return step_of(fine_steps, size).r;
  if (letter == "s") return step_of(fine_steps, size).s;
  for (const auto& [name, column] : columns)
    if (name == letter) return step_of(steps, size).*column;
  return 0; // h
}

int tolerance(int grade, const Exact& size) {
  return step_of(steps, size).tolerance.at(static_cast<std::size_t>(grade - 4));
}

// Upper deviation of a hole K to S, um; none where the standard has none. Up to grade 8 (K, M, N) or 7 (P to S) the
// shaft's deviation with its sign turned is raised by delta, the step from the grade before to this one.
std::optional<int> tight_upper(const ToleranceClass& of, const Exact& size) {
  const int turned = -fundamental(of.letter, size);
  const bool first_step = size <= Exact(3);
  const int delta = first_step ? 0 : tolerance(of.grade, size) - tolerance(of.grade - 1, size);
  if (of.letter == "m" && of.grade == 6 && size > Exact(250) && size <= Exact(315)) return -9; // not -11
  if (of.grade <= (of.letter < "p" ? 8 : 7)) return turned + delta;
  if (of.letter == "k" && !first_step) return {};
  if (of.letter == "n" && size <= Exact(1)) return {};
  if (of.letter == "n" && !first_step) return 0;
  return turned;
}

LimitDeviations in_mm(int lower, int upper) {
  return {Exact::ratio(lower, 1000), Exact::ratio(upper, 1000)};
}

} // namespace

bool has_limits(const Exact& size) {
  return size >= Exact(1) && size <= Exact(steps.back().up_to);
}

Result<LimitDeviations> limit_deviations(FitPart part, std::string_view tolerance_class, const Exact& size) {
  if (!has_limits(size)) throw std::logic_error("a size without limits of ISO 286-1");
  const bool hole = part == FitPart::hole;
  const auto of = read_class(part, tolerance_class);
  if (!of)
    return Error{"bad-class", fmt::format("{} is not a {} of {} with a grade from 5 to 11, such as {}",
                                          quantity::quoted(tolerance_class), hole ? "hole" : "shaft",
                                          hole ? letters_of_holes : letters_of_shafts, hole ? "H7" : "h6")};
  const int width = tolerance(of->grade, size);
  if (of->letter == "js") return LimitDeviations{Exact::ratio(-width, 2000), Exact::ratio(width, 2000)};
  const int away = of->letter == "k" && of->grade > 7 ? 0 : fundamental(of->letter, size);
  if (!hole) return of->loose() ? in_mm(-away - width, -away) : in_mm(away, away + width);
  if (of->loose()) return in_mm(away, away + width);
  const auto upper = tight_upper(*of, size);
  if (!upper)
    return Error{"bad-class",
                 fmt::format("{} is not defined by ISO 286-1 at this size", quantity::quoted(tolerance_class))};
  return in_mm(*upper - width, *upper);
}

} // namespace calc
