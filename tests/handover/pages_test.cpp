// Pages read back by pdftotext and pdfinfo of poppler, as a reader of the file would have them.
#include "handover/glance.h"
#include "handover/pages.h"

#include <catch2/catch.hpp>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <memory>

namespace {

// What a program says of the PDF.
std::string said(const std::string& program, const std::string& pdf) {
  const auto path = std::filesystem::temp_directory_path() / "witnessmark-pages-test.pdf";
  std::ofstream(path, std::ios::binary) << pdf;
  const auto closed = [](FILE* pipe) { pclose(pipe); };
  const std::string command = program + " " + path.string() + (program.ends_with("pdfinfo") ? "" : " -");
  const std::unique_ptr<FILE, decltype(closed)> pipe(popen(command.c_str(), "r"), closed);
  REQUIRE(pipe);
  std::string out;
  for (int letter = std::fgetc(pipe.get()); letter != EOF; letter = std::fgetc(pipe.get()))
    out += static_cast<char>(letter);
  std::filesystem::remove(path);
  return out;
}

std::size_t count(const std::string& text, const std::string& word) {
  std::size_t found = 0;
  for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + word.size())) ++found;
  return found;
}

handover::Content marigold() {
  handover::Content content;
  content.build = "marigold";
  content.shop = "Heronsgate Engine Works";
  content.engine = "HX4-150, HX4-150-0731";
  content.customer = "Narrowboat Marigold";
  content.headline = "Released with concessions";
  content.written_at = "2026-05-08T16:00:00+01:00";
  content.shop_key = std::string(64, 'a');
  content.head = std::string(64, 'b');
  content.draft = false;
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
  const std::string pdf = pages(marigold());
  const std::string text = said("pdftotext -layout", pdf);
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
  std::string text = said("pdftotext -layout", pages(content));
  CHECK(count(text, "DRAFT") >= count(text, "\f"));
  content.draft = false;
  content.practice = true;
  text = said("pdftotext -layout", pages(content));
  CHECK(count(text, "PRACTICE, NOT A RECORD") >= count(text, "\f"));
}

TEST_CASE("the file is A4, has a title, and its date is that of the release and not the clock's") {
  const std::string told = said("TZ=UTC pdfinfo", pages(marigold()));
  CHECK(count(told, "(A4)") == 1);
  CHECK(count(told, "Build record marigold") == 1);
  CHECK(count(told, "Fri May  8 15:00:00 2026") >= 1);
}

TEST_CASE("a long list runs over onto another page and loses nothing") {
  auto content = marigold();
  const auto sheets = count(said("pdftotext", pages(content)), "\f");
  for (int i = 0; i < 90; ++i) content.worn.push_back("worn place " + std::to_string(1000 + i));
  const std::string text = said("pdftotext", pages(content));
  CHECK(count(text, "\f") > sheets);
  for (int i = 0; i < 90; ++i) CHECK(count(text, "worn place " + std::to_string(1000 + i)) == 1);
}

TEST_CASE("a value stands between its limits as far along as it is") {
  using handover::place_on;
  CHECK(place_on(between(0.02, 0.06, {{0.03, 0}}), 0.03) == Approx(0.25));
  CHECK(place_on(between(0.02, 0.06, {{0.07, 0}}), 0.07) == Approx(1.25));
  CHECK(place_on(between(std::nullopt, 0.1, {{0.05, 0}}), 0.05) == Approx(0.5));     // from nothing up to the limit
  CHECK(place_on(between(25, std::nullopt, {{27, 0}, {29, 0}}), 29) == Approx(0.5)); // the largest stands in the middle
  CHECK(place_on(between(25, std::nullopt, {{25, 0}}), 25) == Approx(0));
}
