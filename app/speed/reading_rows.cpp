// What is read, checked and worked out: builds, records, procedures, blockers, faces.
#include "speed/floor.h"
#include "speed/rows.h"

#include "build/blockers.h"
#include "calc/registry.h"
#include "procedure/reader.h"
#include "record/verify.h"

#include <fmt/format.h>

#include <stdexcept>

namespace speed {

namespace {

using json::Value;

constexpr int steps_of_300_events = 75;
constexpr std::string_view one_of_300 = "b00000";

// A shop of so many released builds of 300 events.
std::filesystem::path released_builds(const Folder& folder, int builds) {
  auto file = folder / fmt::format("released-{}.shop", builds);
  make_shop(file, {{std::string(one_of_300), steps_of_300_events, steps_of_300_events, true}});
  fill_shop(file, one_of_300, 1, builds);
  return file;
}

// A shop of one build in which all steps are done: four events each.
std::filesystem::path done_steps(const Folder& folder, int steps) {
  auto file = folder / fmt::format("done-{}.shop", steps);
  make_shop(file, {{"long", steps, steps}});
  return file;
}

void verify(const std::filesystem::path& file) {
  const auto report = record::verify_shop(file, {});
  if (!report || !report->intact) throw std::runtime_error(report ? report->fault : report.error().message);
}

void read_procedure(const std::string& text) {
  if (!procedure::read_procedure(text).procedure) throw std::runtime_error("the long procedure has a fault");
}

// Opening the build of a session that has read the shop, anew each time.
double open_once(const std::filesystem::path& file) {
  record::Session session = session_on(file);
  return seconds_of([&] {
    if (!session.build("long")) throw std::runtime_error("the long build cannot be opened");
  });
}

class LongBuild {
public:
  LongBuild(const Folder& folder, int steps) : player_(folder / fmt::format("blockers-{}.shop", steps)) {
    player_.open_build("long", steps);
  }
  double blockers(int rounds) {
    const auto build = player_.session.build("long");
    const auto now = player_.session.now();
    return median_of(rounds, [&] {
      if (build::release_blockers(player_.session.shop(), **build, {}, now).empty())
        throw std::runtime_error("nothing keeps an empty build from being released");
    });
  }

private:
  Player player_;
};

// A face of rows and columns, hollow in the middle and rough.
Value face(int across, int down) {
  std::vector<Value> points;
  unsigned rough = 1;
  for (int y = 0; y < down; ++y)
    for (int x = 0; x < across; ++x) {
      rough = rough * 1103515245u + 12345u;
      const int aside = x - across / 2;
      const int away = y - down / 2;
      const int hollow = aside * aside / 20 + away * away / 10;
      points.push_back(
          Value::array({Value::integer(std::int64_t{10} * x), Value::integer(std::int64_t{10} * y),
                        Value::number(fmt::format("0.{:04}", hollow + static_cast<int>(rough >> 16) % 90))}));
    }
  return Value::object({{"points", Value::array(std::move(points))}, {"unit", Value::text("mm")}});
}

} // namespace

std::vector<Row> opening(const Setting& setting) {
  const auto file = done_steps(setting.folder, 1250);
  std::vector<double> ours;
  std::vector<double> floor;
  for (int round = 0; round < setting.rounds(11, 5); ++round) {
    ours.push_back(open_once(file));
    floor.push_back(seconds_of([&] { read_rows(file, "build:long"); }));
  }
  return {ratio("open a build of 5,000 events", of_pairs(ours, floor), 1.8)};
}

std::vector<Row> verifying(const Setting& setting) {
  const int builds = setting.rounds(12, 4);
  const auto file = released_builds(setting.folder, builds);
  const PlainKey key;
  std::vector<Signed> texts;
  for (std::string& text : rows_of(file)) {
    const bool has_one = text.find(R"("sig":)") != std::string::npos;
    const std::string signature = has_one ? key.sign(text) : "";
    texts.push_back({std::move(text), signature});
  }
  const auto pairs = in_turn(
      setting.rounds(9, 5), [&] { verify(file); }, [&] { check(texts, key, setting.cores); });
  return {ratio(fmt::format("verify {} released builds of 300 events, {} cores", builds, setting.cores), pairs, 1.5)};
}

std::vector<Row> procedures(const Setting& setting) {
  const std::string text = procedure_of(10'000);
  const auto pairs = in_turn(
      setting.rounds(7, 3), [&] { read_procedure(text); }, [&] { parse(text); });
  return {ratio("read and check a 10,000-step procedure", pairs, 3)};
}

std::vector<Row> standing(const Setting& setting) {
  return {alone("blockers of a 2,000-step build, from scratch",
                LongBuild(setting.folder, 2000).blockers(setting.rounds(51, 21)), 2e-3)};
}

std::vector<Row> computing(const Setting& setting) {
  const auto* flatness = calc::find_computation("flatness");
  const Value input = face(50, 40);
  const double seconds = median_of(setting.rounds(9, 3), [&] {
    if (const auto answer = calc::compute(*flatness, input); !answer) throw std::runtime_error(answer.error().message);
  });
  return {alone("minimum-zone flatness of 2,000 points", seconds, 50e-3)};
}

// --- growth
// -----------------------------------------------------------------------------------------------------------

namespace {

// Turn about, so that what the machine does meanwhile meets all three sizes.
Growth grown(std::string what, std::string size, std::vector<double> sizes, int rounds,
             const std::vector<std::function<double()>>& works) {
  std::vector<std::vector<double>> seconds(works.size());
  for (int round = 0; round < rounds; ++round)
    for (std::size_t i = 0; i < works.size(); ++i) seconds[i].push_back(works[i]());
  Growth out{std::move(what), std::move(size), std::move(sizes), {}};
  for (auto& one : seconds) out.seconds.push_back(median(std::move(one)));
  return out;
}

} // namespace

Growth growth_of_opening(const Setting& setting) {
  std::vector<std::function<double()>> works;
  for (const int steps : {78, 312, 1248})
    works.emplace_back([file = done_steps(setting.folder, steps)] { return open_once(file); });
  return grown("open a build", "events", {312, 1248, 4992}, 5, works);
}

Growth growth_of_verifying(const Setting& setting) {
  std::vector<std::function<double()>> works;
  for (const int builds : {1, 4, 16})
    works.emplace_back([file = released_builds(setting.folder, builds)] { return seconds_of([&] { verify(file); }); });
  return grown("verify a shop", "builds", {1, 4, 16}, setting.rounds(5, 3), works);
}

Growth growth_of_reading(const Setting& setting) {
  std::vector<std::function<double()>> works;
  for (const int steps : {625, 2500, 10'000})
    works.emplace_back([text = procedure_of(steps)] { return seconds_of([&] { read_procedure(text); }); });
  return grown("read and check a procedure", "steps", {625, 2500, 10'000}, setting.rounds(5, 3), works);
}

Growth growth_of_blockers(const Setting& setting) {
  std::vector<std::function<double()>> works;
  for (const int steps : {125, 500, 2000}) {
    auto build = std::make_shared<LongBuild>(setting.folder, steps);
    works.emplace_back([build] { return build->blockers(5); });
  }
  return grown("blockers of a build", "steps", {125, 500, 2000}, 5, works);
}

Growth growth_of_shops(const Setting& setting) {
  std::vector<std::function<double()>> works;
  for (const int builds : {8, 32, 128})
    works.emplace_back(
        [file = released_builds(setting.folder, builds)] { return seconds_of([&] { session_on(file); }); });
  return grown("read the list of a shop's builds", "builds", {8, 32, 128}, 5, works);
}

} // namespace speed
