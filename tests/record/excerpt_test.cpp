// The record of one build taken out of a shop that worked on two at once.
#include "record/example.h"
#include "record/excerpt.h"
#include "record/playing.h"
#include "record/seal.h"
#include "record/verify.h"
#include "json/write.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <fstream>
#include <functional>

using build::Event;
using example::Folder;
using record::Line;
using record::Withheld;

namespace {

struct TwoBuilds {
  std::vector<Event> events;
  std::string procedure;
};

std::string replaced(std::string text, const std::string& what, const std::string& by) {
  for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + by.size()))
    text.replace(at, what.size(), by);
  return text;
}

// The short-block demo with the same work done, line by line, on a second engine of another customer.
const TwoBuilds& two_builds() {
  static const TwoBuilds record = [] {
    const Folder folder;
    playing::copy_demo_shop(folder / "made-first.shop"); // goes to the project's folder
    auto session = record::Session::open(folder / "two.shop", {.practice = true, .clock = {}});
    REQUIRE(session);
    for (const auto& line : playing::demo_lines(playing::short_block)) {
      session->answer(line);
      if (line.find(R"("build": "marigold")") == std::string::npos) continue;
      session->answer(replaced(replaced(line, "marigold", "kestrel"), "Narrowboat Marigold", "Launch Kestrel"));
    }
    const auto store = example::opened(folder / "two.shop", record::Store::Mode::read_only);
    TwoBuilds out;
    out.events = *store.events_in_order();
    for (const auto& event : out.events)
      if (event.kind == "open-build" && event.chain != build::shop_chain)
        out.procedure = **store.blob(event.body.at("procedure").at("sha256").as_text());
    return out;
  }();
  return record;
}

record::Report check(const std::vector<Line>& lines, const record::Known& known = {}) {
  return record::verify_excerpt(
      lines,
      [](std::string_view) -> record::Result<std::optional<std::string>> {
        return std::optional<std::string>(two_builds().procedure);
      },
      known);
}

std::vector<Line> marigold() {
  return record::excerpt_of(two_builds().events, "marigold", "ivo");
}

std::size_t first_withheld(
    const std::vector<Line>& lines, const std::function<bool(const Withheld&)>& is = [](const auto&) { return true; }) {
  const auto it = std::find_if(lines.begin(), lines.end(), [&](const Line& line) {
    const auto* withheld = std::get_if<Withheld>(&line);
    return withheld && is(*withheld);
  });
  REQUIRE(it != lines.end());
  return static_cast<std::size_t>(it - lines.begin());
}

} // namespace

TEST_CASE("a build taken out of a shop with another one is intact alone") {
  for (const auto* build : {"marigold", "kestrel"}) {
    const auto lines = record::excerpt_of(two_builds().events, build, "ivo");
    const auto report = check(lines);
    INFO(build);
    CHECK(report.fault == "");
    CHECK(report.intact);
    CHECK(report.heads.size() == 2); // of the shop and of this build
    CHECK(report.released.count(build) == 1);
    CHECK(first_withheld(lines) > 0);
  }
}

TEST_CASE("an excerpt tells nothing of the other customer's engine") {
  for (const auto& line : marigold()) {
    const auto* event = std::get_if<Event>(&line);
    if (!event) continue;
    const std::string text = json::canonical(build::to_json(*event));
    CHECK(text.find("estrel") == std::string::npos);
  }
}

TEST_CASE("pulls of a wrench on another engine still count in an excerpt") {
  const auto lines = marigold();
  const auto uses = [](const Withheld& it) { return it.used.is(json::Kind::object); };
  CHECK(first_withheld(lines, uses) > 0);
}

TEST_CASE("an event withheld under a wrong hash breaks the chain at the next") {
  auto lines = marigold();
  std::get<Withheld>(lines[first_withheld(lines)]).hash[0] ^= 1;
  const auto report = check(lines);
  CHECK_FALSE(report.intact);
  CHECK_THAT(report.fault, Catch::Contains("does not follow the event before it"));
}

TEST_CASE("an event withheld at another place is named") {
  auto lines = marigold();
  ++std::get<Withheld>(lines[first_withheld(lines)]).seq;
  CHECK_THAT(check(lines).fault, Catch::Contains("(withheld): event "));
}

TEST_CASE("what a withheld step used must be countable") {
  auto lines = marigold();
  std::get<Withheld>(lines[first_withheld(lines)]).used = json::Value::object();
  CHECK_THAT(check(lines).fault, Catch::Contains("cannot be counted"));
}

TEST_CASE("a withheld event at the very end, which nothing confirms, is not taken") {
  auto lines = marigold();
  std::int64_t last = 0; // of the shop's chain
  for (const auto& line : lines) {
    if (const auto* withheld = std::get_if<Withheld>(&line)) last = withheld->seq;
    if (const auto* event = std::get_if<Event>(&line); event && event->chain == build::shop_chain) last = event->seq;
  }
  lines.emplace_back(Withheld{last + 1, std::string(64, 'c'), {}});
  CHECK_THAT(check(lines).fault, Catch::Contains("nothing confirms"));
}

TEST_CASE("a person's certificate cannot be withheld") {
  auto lines = marigold();
  for (auto& line : lines) {
    const auto* event = std::get_if<Event>(&line);
    if (!event || event->kind != "enrol" || event->seq == 1) continue;
    line = Withheld{event->seq, record::hash_of(*event), {}};
    break;
  }
  CHECK_FALSE(check(lines).intact);
}

TEST_CASE("a record does not begin with something withheld") {
  CHECK_THAT(check({Withheld{1, std::string(64, 'a'), {}}}).fault, Catch::Contains("does not begin"));
}

TEST_CASE("the note of this build's signature cannot be withheld") {
  auto lines = marigold();
  for (auto& line : lines) {
    const auto* event = std::get_if<Event>(&line);
    if (!event || event->kind != "anchor") continue;
    line = Withheld{event->seq, record::hash_of(*event), {}};
    break;
  }
  CHECK_THAT(check(lines).fault, Catch::Contains("note of a signature should come here"));
}

TEST_CASE("an excerpt ends with the last that speaks of its build, or of its signer's key") {
  const auto lines = marigold();
  CHECK(std::get<Event>(lines.back()).body.at("asked").text_or_empty("build") == "marigold");
  auto later = two_builds().events;
  Event enrolled = later.front();
  enrolled.body.at("asked");
  enrolled.body = json::Value::object({{"asked", json::Value::object({{"person", json::Value::text("nora")}})}});
  later.push_back(enrolled);
  CHECK(record::excerpt_of(later, "marigold", "ivo").size() == lines.size());
  const auto with_her = record::excerpt_of(later, "marigold", "nora");
  CHECK(std::get<Event>(with_her.back()).kind == "enrol");
}
