// Minimum zones solved as linear programmes and least-squares fits by packages that share nothing with this program:
// linear_programmes.py makes the sets, has them solved and writes linear_programmes.json. The sets are made here once
// more by the same recipe.
#include "outside/ledger.h"

#include "calculating.h"

#include <fmt/format.h>

#include <cstdint>
#include <set>

using namespace calculating;

namespace {

class Generator {
public:
  explicit Generator(std::uint64_t seed) : state_(seed) {}
  std::int64_t below(std::int64_t limit) {
    state_ = state_ * 6364136223846793005u + 1442695040888963407u;
    return static_cast<std::int64_t>(state_ >> 33) % limit;
  }

private:
  std::uint64_t state_;
};

std::int64_t floor_of(std::int64_t value, std::int64_t divisor) {
  return value / divisor - (value % divisor < 0 ? 1 : 0);
}

std::int64_t shaped(std::string_view shape, std::int64_t x, std::int64_t y) {
  if (shape == "scattered") return 0;
  if (shape == "bowl") return floor_of(x * x + y * y, 100'000);
  if (shape == "saddle") return floor_of(x * x - y * y, 100'000);
  if (shape == "twisted") return floor_of(x * y, 50'000);
  if (shape == "tilted") return 3 * x - 7 * y;
  throw std::logic_error("a shape without a recipe");
}

struct Set {
  std::string shape, layout;
  std::int64_t count, scatter, seed;
  double minimum_zone, least_squares;
};

std::string points_of(const Set& set) {
  Generator draw(static_cast<std::uint64_t>(set.seed));
  std::string points;
  for (std::int64_t i = 0; i < set.count; ++i) {
    const bool grid = set.layout == "grid";
    const std::int64_t x = grid ? i % 40 * 1000 : draw.below(400'001);
    const std::int64_t across = grid ? i / 40 * 1000 : draw.below(160'001);
    const std::int64_t y = set.layout == "line" ? 0 : across;
    const std::int64_t z = shaped(set.shape, x, y) + draw.below(set.scatter);
    points += points.empty() ? "[" : ",";
    points += set.layout == "line" ? fmt::format("[{},{}]", x, z) : fmt::format("[{},{},{}]", x, y, z);
  }
  return points + "]";
}

double number_in(const json::Value& object, std::string_view key) {
  return std::stod(object.at(key).number_text());
}

json::Value solved() {
  return json::read_one(json::read_file(std::string(PROJECT_FOLDER) + "/tests/outside/linear_programmes.json").value())
      .value();
}

std::vector<Set> sets_of(const json::Value& document) {
  std::vector<Set> sets;
  for (const json::Value& set : document.at("sets").items())
    sets.push_back({set.at("shape").as_text(), set.at("layout").as_text(), set.at("count").as_integer().value(),
                    set.at("scatter").as_integer().value(), set.at("seed").as_integer().value(),
                    number_in(set, "minimum_zone"), number_in(set, "least_squares")});
  return sets;
}

} // namespace

TEST_CASE("minimum zones and least squares agree with linear programmes and fits solved elsewhere") {
  const json::Value document = solved();
  const outside::Source solver = {document.at("solver").as_text(), outside::Standing::reference};
  std::set<std::string> large;
  for (const Set& set : sets_of(document)) {
    INFO(set.layout << ", " << set.shape << ", " << set.count << " points scattered over " << set.scatter);
    const std::string name = set.layout == "line" ? "straightness" : "flatness";
    const auto found = answer(name, R"({"points":)" + points_of(set) + R"(,"unit":"um"})");
    outside::agrees(solver, name, value(found, "minimum_zone"), set.minimum_zone, 5e-10 * set.minimum_zone);
    outside::agrees(solver, name, value(found, "least_squares"), set.least_squares, 5e-10 * set.least_squares);
    if (set.count >= 2000) large.insert(set.layout);
  }
  CHECK(large == std::set<std::string>{"anywhere", "grid", "line"});
}
