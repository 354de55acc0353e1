// The limits of every procedure of the project, copied with a slip: how many lint finds, and how often it cries wolf at
// a last digit that somebody has really changed. Seeded, so that every run slips alike. Both figures are printed.
#include "procedure/reading.h"

#include "json/write.h"

#include <catch2/catch.hpp>

#include <filesystem>
#include <iostream>
#include <random>
#include <set>

namespace {

using json::Kind;
using json::Value;
using procedure::EntryKind;

struct Copied {
  std::string path;
  json::Document document;
  std::shared_ptr<const procedure::Procedure> procedure;
};

std::vector<Copied> all_procedures() {
  std::vector<Copied> all;
  for (const auto& file : std::filesystem::directory_iterator(std::string(PROJECT_FOLDER) + "/procedures")) {
    if (file.path().extension() != ".json" || file.path().stem().extension() == ".schema") continue;
    const std::string path = fmt::format("procedures/{}", file.path().filename().string());
    const std::string text = reading::file(path);
    auto read = procedure::read_procedure(text);
    CAPTURE(path, reading::all_lines(read));
    REQUIRE(read.procedure);
    CHECK(read.remarks.empty());
    all.push_back({path, json::read(text), read.procedure});
  }
  std::ranges::sort(all, {}, &Copied::path);
  return all;
}

// A number of a limit, by the names that lead to it in the limit.
struct Number {
  std::string limit;
  std::vector<std::string> way; // "standard", "low"; a case by its index
};

void collect(const Value& value, Number at, std::vector<Number>& all) {
  if (value.is(Kind::array))
    for (std::size_t i = 0; i < value.items().size(); ++i) {
      Number next = at;
      next.way.push_back(std::to_string(i));
      collect(value.items()[i], next, all);
    }
  if (!value.is(Kind::object)) return;
  for (const auto& member : value.members()) {
    Number next = at;
    next.way.push_back(member.key);
    if (member.value.is(Kind::number) && member.value.number_text().find_first_not_of("-0.") != std::string::npos)
      all.push_back(next);
    else if (member.key != "beside")
      collect(member.value, next, all);
  }
}

std::vector<Number> numbers_of(const Copied& copied) {
  std::vector<Number> all;
  for (const auto& member : copied.document.root.at("limits").members()) collect(member.value, {member.key, {}}, all);
  return all;
}

Value* find(Value& limit, const std::vector<std::string>& way) {
  Value* at = &limit;
  for (const auto& name : way) {
    if (at->is(Kind::array)) {
      at = &at->items()[std::stoul(name)];
    } else {
      for (auto& member : at->members())
        if (member.key == name) {
          at = &member.value;
          break;
        }
    }
  }
  return at;
}

// --- which numbers something else in the procedure speaks for -------------------------------------------------------

// Limits whose numbers must go with something: a result with a usual span, sizes of a fit, the torque of a known bolt,
// an angle, a size moved by an option.
std::set<std::string> checked_limits(const procedure::Procedure& procedure) {
  std::set<std::string> all;
  const auto add_readings = [&](const procedure::Entry& entry) {
    for (const auto& [input, source] : entry.inputs)
      if (const auto* from = std::get_if<procedure::FromEntry>(&source))
        if (const auto* step = procedure.step(from->step))
          if (const auto* readings = step->find(from->entry); readings && !readings->limit.empty())
            all.insert(readings->limit);
  };
  const std::set<std::string_view> fits = {"oil-clearance", "piston-clearance", "clearance"};
  const std::set<std::string_view> usual = {
      "form",    "ring-gap",   "end-play", "backlash",     "seal-squareness", "spread", "strip-agreement",
      "run-out", "protrusion", "flatness", "straightedge", "liner-height"};
  for (const auto* step : procedure.steps())
    for (const auto& entry : step->entries) {
      if (entry.computation && (fits.contains(entry.computation->name) || usual.contains(entry.computation->name)))
        for (const auto& [result, limit] : entry.judge) all.insert(limit);
      if (entry.computation && fits.contains(entry.computation->name) && entry.judge.size() > 1) add_readings(entry);
      const bool known_bolt = entry.bolt && !entry.bolt->strength.empty();
      for (const auto& stage : entry.stages)
        if ((stage.kind == procedure::StageKind::torque && known_bolt) || stage.kind == procedure::StageKind::angle)
          all.insert(stage.limit);
    }
  return all;
}

// --- slips ----------------------------------------------------------------------------------------------------------

std::string times(const std::string& number, double factor) {
  return fmt::format("{:.10g}", std::stod(number) * factor);
}

// The last digit one up or down, as somebody edits a number who means it.
std::string nudged(std::string number, bool up) {
  char& last = number.back();
  if (last == '9' || last == '0') up = last == '0';
  last = static_cast<char>(last + (up ? 1 : -1));
  return number;
}

// With it goes what is the same number in that limit: a service bound that is the standard one, both bounds of a count.
void nudge(Value& limit, const Number& number, const std::vector<Number>& numbers, bool up) {
  const std::string before = find(limit, number.way)->number_text();
  const bool in_case = number.way.front() == "when";
  for (const Number& other : numbers) {
    if (other.limit != number.limit || (in_case && other.way[1] != number.way[1])) continue;
    if ((other.way.front() == "when") != in_case) continue;
    Value* at = find(limit, other.way);
    if (std::stod(at->number_text()) == std::stod(before)) *at = Value::number(nudged(before, up));
  }
}

bool caught(const Copied& copied, const Number& number, const std::function<void(Value& limit)>& slip) {
  Value root = copied.document.root;
  Value* limits = find(root, {"limits"});
  slip(*find(*limits, {number.limit}));
  return !procedure::read_procedure(json::compact(root)).remarks.empty();
}

struct Tally {
  int caught = 0, all = 0;
  double share() const { return all == 0 ? 0 : 100.0 * caught / all; }
  void count(bool one) {
    ++all;
    caught += one;
  }
};

bool has_pair(const Copied& copied, const Number& number) {
  Value root = copied.document.root;
  std::vector<std::string> way(number.way.begin(), number.way.end() - 1);
  const Value* bounds = find(*find(*find(root, {"limits"}), {number.limit}), way);
  return bounds->is(Kind::object) && bounds->find("low") && bounds->find("high");
}

void swap_bounds(Value& limit, const Number& number) {
  const std::vector<std::string> way(number.way.begin(), number.way.end() - 1);
  Value* bounds = find(limit, way);
  std::swap(*find(*bounds, {"low"}), *find(*bounds, {"high"}));
}

} // namespace

TEST_CASE("nine of ten slips in limits that something speaks for are found, and few harmless edits are") {
  constexpr int slips_of_each = 24; // numbers of each procedure, for each factor
  std::mt19937 dice(20261126);
  Tally of_checked, of_all;
  std::vector<Copied> procedures = all_procedures();
  REQUIRE(procedures.size() >= 2);
  Tally harmless;
  for (const auto& copied : procedures) {
    const auto checked = checked_limits(*copied.procedure);
    std::vector<Number> numbers = numbers_of(copied);
    const std::size_t how_many = std::min<std::size_t>(numbers.size(), slips_of_each);
    for (const double factor : {10.0, 0.1, 25.4, 1 / 25.4, 0.0}) {
      std::shuffle(numbers.begin(), numbers.end(), dice);
      for (std::size_t i = 0; i < how_many; ++i) {
        const Number& number = numbers[i];
        if (factor == 0 && !has_pair(copied, number)) continue;
        const bool found = caught(copied, number, [&](Value& limit) {
          if (factor == 0) return swap_bounds(limit, number);
          Value* at = find(limit, number.way);
          *at = Value::number(times(at->number_text(), factor));
        });
        of_all.count(found);
        if (checked.contains(number.limit)) of_checked.count(found);
      }
    }
    std::shuffle(numbers.begin(), numbers.end(), dice);
    const std::size_t edits = 200 / procedures.size() + 1;
    for (std::size_t i = 0; i < edits; ++i) {
      const Number& number = numbers[i % numbers.size()];
      harmless.count(caught(copied, number, [&](Value& limit) { nudge(limit, number, numbers, i % 2 == 0); }));
    }
  }
  std::cout << fmt::format("slips: {} of {} found in limits that something speaks for ({:.1f} %), {} of {} in all "
                           "({:.1f} %); {} of {} harmless edits of a last digit doubted ({:.1f} %)\n",
                           of_checked.caught, of_checked.all, of_checked.share(), of_all.caught, of_all.all,
                           of_all.share(), harmless.caught, harmless.all, harmless.share());
  CHECK(of_checked.all >= 100);
  CHECK(of_checked.share() >= 90);
  CHECK(harmless.all >= 200);
  CHECK(harmless.share() < 5);
}
