// Least-squares lines and planes against the certified values of the Statistical Reference Datasets of NIST: Norris, a
// line; Pontius, a quadratic, which is a plane over x and its square. The sets are numbers without unit and stand here
// for millimetres.
#include "outside/ledger.h"

#include "calc/zone.h"
#include "calculating.h"

#include <fmt/format.h>

#include <cmath>

using calc::Exact;
using calc::Spot;
using namespace calculating;
using outside::agrees;

namespace {

const outside::Source nist = {"NIST StRD, linear regression: Norris, Pontius"};

double digits_9(double certified) {
  return 5e-10 * std::abs(certified);
}

// Points as they are printed, in rows of a place and a height.
using Printed = std::vector<std::vector<std::string>>;

const std::vector<std::string> norris_x = {
    "0.2", "337.4", "118.2", "884.6", "10.1",  "226.5", "666.3", "996.3", "448.6", "777.0", "558.2", "0.4",
    "0.6", "775.5", "666.9", "338.0", "447.5", "11.6",  "556.0", "228.1", "995.8", "887.6", "120.2", "0.3",
    "0.3", "556.8", "339.1", "887.2", "999.0", "779.0", "11.1",  "118.3", "229.2", "669.1", "448.9", "0.5"};
const std::vector<std::string> norris_y = {
    "0.1", "338.8", "118.1", "888.0", "9.2",   "228.1", "668.5", "998.5", "449.1", "778.9", "559.2", "0.3",
    "0.1", "778.1", "668.8", "339.3", "448.9", "10.8",  "557.7", "228.3", "998.0", "888.8", "119.6", "0.3",
    "0.6", "557.6", "339.3", "888.0", "998.5", "778.9", "10.2",  "117.6", "228.9", "668.4", "449.2", "0.2"};

// Loads are 150 000, 300 000, ... 3 000 000, twice over.
const std::vector<std::string> pontius_y = {
    "0.11019", "0.21956", "0.32949", "0.43899", "0.54803", "0.65694", "0.76562", "0.87487", "0.98292", "1.09146",
    "1.20001", "1.30822", "1.41599", "1.52399", "1.63194", "1.73947", "1.84646", "1.95392", "2.06128", "2.16844",
    "0.11052", "0.22018", "0.32939", "0.43886", "0.54798", "0.65739", "0.76596", "0.87474", "0.98300", "1.09150",
    "1.20004", "1.30818", "1.41613", "1.52408", "1.63159", "1.73965", "1.84696", "1.95445", "2.06177", "2.16829"};

Printed norris() {
  Printed rows;
  for (std::size_t i = 0; i < norris_x.size(); ++i) rows.push_back({norris_x[i], norris_y[i]});
  return rows;
}

Printed pontius() {
  Printed rows;
  for (std::size_t i = 0; i < pontius_y.size(); ++i) {
    const long long load = 150'000 * (static_cast<long long>(i) % 20 + 1);
    rows.push_back({std::to_string(load), std::to_string(load * load), pontius_y[i]});
  }
  return rows;
}

std::string input(const Printed& rows) {
  std::string points;
  for (const auto& row : rows) points += fmt::format("{}[{}]", points.empty() ? "" : ",", fmt::join(row, ","));
  return R"({"points":[)" + points + R"(],"unit":"mm"})";
}

calc::Datum fitted(const Printed& rows) {
  std::vector<Spot> spots;
  for (const auto& row : rows) {
    Spot spot;
    for (const std::string& text : row) spot.place.push_back(Exact::decimal(text).value());
    spot.height = spot.place.back();
    spot.place.pop_back();
    spots.push_back(spot);
  }
  return calc::least_squares(spots).value();
}

// What is left above a line or plane: at the origin first, then its slopes.
std::vector<double> left_by(const std::vector<double>& certified, const Printed& rows) {
  std::vector<double> left;
  for (const auto& row : rows) {
    double rest = std::stod(row.back()) - certified[0];
    for (std::size_t k = 1; k < certified.size(); ++k) rest -= certified[k] * std::stod(row[k - 1]);
    left.push_back(rest);
  }
  return left;
}

std::vector<double> coefficients(const calc::Datum& datum) {
  std::vector<double> found = {datum.at_origin.to_double()};
  for (const Exact& slope : datum.slopes) found.push_back(slope.to_double());
  return found;
}

double residual_deviation(const std::vector<double>& left, std::size_t parameters) {
  double squares = 0;
  for (const double each : left) squares += each * each;
  return std::sqrt(squares / static_cast<double>(left.size() - parameters));
}

// Coefficients, residual standard deviation, and the range of what the certified coefficients leave.
void check(std::string_view computation, const Printed& rows, const std::vector<double>& certified, double deviation) {
  const std::vector<double> found = coefficients(fitted(rows));
  REQUIRE(found.size() == certified.size());
  for (std::size_t k = 0; k < found.size(); ++k)
    agrees(nist, computation, found[k], certified[k], digits_9(certified[k]));
  agrees(nist, computation, residual_deviation(left_by(found, rows), found.size()), deviation, digits_9(deviation));
  const std::vector<double> left = left_by(certified, rows);
  const auto [low, high] = std::ranges::minmax_element(left);
  const auto answered = answer(computation, input(rows));
  agrees(nist, computation, value(answered, "least_squares"), *high - *low, digits_9(*high - *low));
  if (computation != "flatness") return;
  agrees(nist, computation, written(answered, "high") == std::to_string(high - left.begin()));
  agrees(nist, computation, written(answered, "low") == std::to_string(low - left.begin()));
}

} // namespace

TEST_CASE("Norris: the certified line, and the range of what it leaves") {
  check("straightness", norris(), {-0.262323073774029, 1.00211681802045}, 0.884796396144373);
}

TEST_CASE("Pontius: the certified plane over x and x squared, and the range of what it leaves") {
  check("flatness", pontius(), {0.673565789473684e-3, 0.732059160401003e-6, -0.316081871345029e-14},
        0.205177424076185e-3);
}
