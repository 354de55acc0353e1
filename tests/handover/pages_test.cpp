// Pages read back by other programs, as a reader of the file would have them.
#include "handover/glance.h"
#include "handover/pages.h"
#include "handover/reader.h"
#include "json/read.h"

#include <catch2/catch.hpp>

#include <algorithm>

namespace {

using reader::count;
using reader::has;
using reader::said;
using reader::sheets;

handover::Content marigold() {
  handover::Content content;
  content.build = "marigold";
  content.shop = "Heronsgate Engine Works";
  content.engine = "HX4-150, HX4-150-0731";
  content.customer = "Narrowboat Marigold";
  content.headline = "Released with concessions";
  content.written_at = "2026-05-08T16:00:00+01:00";
  content.shop_key = "9cb9c05f93d5c3f2dd23e04228af66d3ec05caeface726b4f05f7edc52342187";
  content.head = "80975e232b456fd4420cca5ba2fd4094564e3da89275453fd4680c3052178243";
  content.draft = false;
  return content;
}

// Sections of steps with readings, a confirmed entry and a signature each.
handover::Content with_steps(int sections, int steps) {
  auto content = marigold();
  for (int s = 0; s < sections; ++s) {
    auto& section = content.sections.emplace_back();
    section.title = "Part " + std::to_string(100 + s);
    for (int i = 0; i < steps; ++i) {
      const std::string number = std::to_string(1000 + s * steps + i);
      handover::StepDone step{"Step " + number, "signed", false, {{"Ivo Tarrant", "done", "2026-04-13 08:41"}}, {}};
      handover::Group group{"", "mm", "0.020 to 0.062 mm (invented example)", "within", "with micrometer mic-50", {}};
      for (int v = 0; v < i % 12; ++v) group.values.push_back({std::to_string(v) + ", front", "0.041", ""});
      handover::EntryDone work;
      work.title = "Work " + number;
      work.lines = {"done and seen"};
      handover::EntryDone readings;
      readings.title = "Clearance " + number;
      readings.groups = {group};
      step.entries = {work, readings};
      section.steps.push_back(std::move(step));
    }
  }
  return content;
}

std::string pages(const handover::Content& content) {
  const auto made = handover::pages_of(content, {});
  REQUIRE(made);
  return *made;
}

handover::Scale between(std::optional<double> low, std::optional<double> high, std::vector<handover::Mark> marks) {
  handover::Scale scale;
  scale.low = low;
  scale.high = high;
  scale.marks = std::move(marks);
  return scale;
}

} // namespace

TEST_CASE("the same content gives the same bytes, and another one other bytes") {
  const auto content = marigold();
  const std::string first = pages(content);
  CHECK(first == pages(content));
  auto other = content;
  other.customer = "Narrowboat Kingfisher";
  CHECK(first != pages(other));
}

TEST_CASE("every page says whose engine it is, and which page of how many") {
  const std::string pdf = pages(with_steps(3, 9));
  const std::string text = said("pdftotext -layout FILE -", pdf);
  const std::size_t sheets = count(text, "\f");
  REQUIRE(sheets > 3);
  for (std::size_t page = 1; page <= sheets; ++page)
    CHECK(count(text, "page " + std::to_string(page) + " of " + std::to_string(sheets)) == 1);
  CHECK(count(text, "HX4-150, HX4-150-0731, Narrowboat Marigold") == sheets);
  CHECK(count(text, "build marigold") == sheets);
  CHECK(count(text, "DRAFT") == 0);
}

TEST_CASE("a draft says so on every page, and so does practice") {
  auto content = marigold();
  content.draft = true;
  std::string text = said("pdftotext -layout FILE -", pages(content));
  CHECK(count(text, "DRAFT") >= count(text, "\f"));
  content.draft = false;
  content.practice = true;
  text = said("pdftotext -layout FILE -", pages(content));
  CHECK(count(text, "PRACTICE, NOT A RECORD") >= count(text, "\f"));
}

TEST_CASE("the file is A4, has a title, and its date is that of the release and not the clock's") {
  const std::string told = said("TZ=UTC pdfinfo FILE", pages(marigold()));
  CHECK(count(told, "(A4)") == 1);
  CHECK(count(told, "Build record marigold") == 1);
  CHECK(count(told, "Fri May  8 15:00:00 2026") >= 1);
}

TEST_CASE("lists too long for the cover leave it one page, and lose nothing") {
  auto content = marigold();
  for (int i = 0; i < 90; ++i) content.worn.push_back("worn place " + std::to_string(1000 + i));
  for (int i = 0; i < 12; ++i) content.concessions.push_back("concession " + std::to_string(1000 + i));
  const auto read = sheets(pages(content));
  CHECK(has(read[0], "Head of the build"));
  for (int i = 0; i < 12; ++i) CHECK(has(read[0], "concession " + std::to_string(1000 + i)));
  CHECK(has(read[1], "Every clearance at a glance"));
  const auto more = read[0].find("more: page ");
  REQUIRE(more != std::string::npos);
  const auto page = static_cast<std::size_t>(std::stoi(read[0].substr(more + 11)));
  std::string rest;
  for (std::size_t i = page - 1; i < read.size(); ++i) rest += read[i];
  CHECK(has(read.at(page - 1), "What the cover lists, in full"));
  for (int i = 0; i < 90; ++i) CHECK(count(rest, "worn place " + std::to_string(1000 + i)) == 1);
}

TEST_CASE("the code on the cover reads as key and head, and a draft has none") {
  auto content = marigold();
  // 150 dots an inch are what a cheap printer and a poor camera leave: common practice, no source.
  const std::string look =
      "pdftoppm -r 150 -f 1 -l 1 -singlefile -png FILE BESIDE && zbarimg --quiet --raw BESIDE.png 2>&1";
  CHECK(has(said(look, pages(content)),
            "WITNESSMARK 1 BUILD marigold KEY " + content.shop_key + " HEAD " + content.head + "\n"));
  content.build = std::string(60, 'x'); // the longest there may be
  CHECK(has(said(look, pages(content)), "BUILD " + content.build + " KEY " + content.shop_key));
  content.draft = true;
  CHECK_FALSE(has(said(look, pages(content)), "WITNESSMARK"));
}

TEST_CASE("an engine that has not run says so on its cover") {
  auto content = marigold();
  CHECK(count(said("pdftotext FILE -", pages(content)), "NOT YET RUN") == 0);
  content.not_yet_run = true;
  content.deferred = {"First start"};
  content.reason = "Started in the boat.";
  const std::string cover = sheets(pages(content)).front();
  CHECK(has(cover, "NOT YET RUN"));
  CHECK(has(cover, "Left open at release: First start. Started in the boat."));
}

TEST_CASE("a hundred limits stand on one page, each by its name") {
  auto content = marigold();
  for (int s = 0; s < 10; ++s) {
    auto& section = content.sections.emplace_back();
    section.title = "Section " + std::to_string(s);
    for (int i = 0; i < 10; ++i) {
      auto scale = between(20, 60, {{30, 2}, {40, 2}, {41, 2}, {42, 2}});
      scale.title = "Clearance " + std::to_string(100 + 10 * s + i);
      scale.low_text = "20";
      scale.high_text = "60";
      scale.unit = "mm";
      section.scales.push_back(scale);
    }
  }
  content.sections[3].scales[4].trouble = "outside: concession";
  content.sections[3].scales[4].tightest = "61 at 2";
  content.sections[3].scales[5].doubt = "numbers not checked by a second person";
  content.unchecked = 1;
  const auto all = sheets(pages(content));
  CHECK(has(all.front(), "1 limit in force on this engine"));
  const std::string& page = all.at(1);
  for (int i = 100; i < 200; ++i) CHECK(count(page, "Clearance " + std::to_string(i)) == 1);
  CHECK(has(page, "100 limits judged: 99 plainly within; 1 outside: concession; 1 by numbers not checked"));
  CHECK(has(page, "Clearance 134: 61 at 2"));
  CHECK(has(page, "Clearance 135 (numbers not"));
}

TEST_CASE("every chapter and section has a bookmark that leads to its page") {
  const std::string pdf = pages(with_steps(12, 9));
  const auto read = sheets(pdf);
  const auto told = json::read_one(said("qpdf --json --json-key=pages FILE", pdf));
  REQUIRE(told);
  std::vector<std::string> titles;
  for (const auto& page : told->at("pages").items()) {
    const auto number = static_cast<std::size_t>(*page.at("pageposfrom1").as_integer());
    for (const auto& mark : page.at("outlines").items()) {
      titles.push_back(mark.at("title").as_text());
      if (titles.back() != "Cover") CHECK(has(read.at(number - 1), titles.back()));
    }
  }
  std::vector<std::string> wanted{"Cover", "Every clearance at a glance", "The work, step by step"};
  for (int s = 0; s < 12; ++s) wanted.push_back("Part " + std::to_string(100 + s));
  for (const char* last : {"What went otherwise, and what was done", "Parts fitted", "Gauges and wrenches used",
                           "Safety notices", "How to check this file"})
    wanted.emplace_back(last);
  CHECK(titles == wanted);
}

TEST_CASE("no step's title stands alone at the foot of a page") {
  for (const auto& page : sheets(pages(with_steps(7, 20))))
    for (int i = 1000; i < 1140; ++i)
      if (has(page, "Step " + std::to_string(i))) CHECK(has(page, "Work " + std::to_string(i)));
}

TEST_CASE("sixty steps take less than 500 kB") {
  CHECK(pages(with_steps(6, 10)).size() < 500'000);
}

TEST_CASE("a signed file says how to check it, a draft that there is nothing to check") {
  auto content = marigold();
  std::string text = sheets(pages(content)).back();
  for (const char* word :
       {"record.json", "record.csv", "witnessmark verify FILE.pdf --shop-key FINGERPRINT", "signatures"})
    CHECK(has(text, word));
  content.draft = true;
  text = sheets(pages(content)).back();
  CHECK(has(text, "It is not signed"));
  CHECK_FALSE(has(text, "record.json"));
}

TEST_CASE("a value stands between its limits as far along as it is") {
  using handover::place_on;
  CHECK(place_on(between(0.02, 0.06, {{0.03, 0}}), 0.03) == Approx(0.25));
  CHECK(place_on(between(0.02, 0.06, {{0.07, 0}}), 0.07) == Approx(1.25));
  CHECK(place_on(between(std::nullopt, 0.1, {{0.05, 0}}), 0.05) == Approx(0.5));     // from nothing up to the limit
  CHECK(place_on(between(25, std::nullopt, {{27, 0}, {29, 0}}), 29) == Approx(0.5)); // the largest stands in the middle
  CHECK(place_on(between(25, std::nullopt, {{25, 0}}), 25) == Approx(0));
}
