// Photographs beside the entries of a build: what is taken for one, and that each byte of it is looked after.
#include "record/photograph.h"

#include "record/digest.h"
#include "record/example.h"
#include "record/excerpt.h"
#include "record/playing.h"
#include "record/verify.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

using example::Folder;
using record::photograph_facts;

using namespace std::string_literals;

namespace {

// Only what stands at the front: a PNG of 4 x 3 (ISO/IEC 15948, 11.2.2), a JPEG of 640 x 480 (ISO/IEC 10918-1, B.2.2)
// with a comment before its frame.
const std::string png = "\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x04\0\0\0\x03\x08\x02\0\0\0"s;
const std::string jpeg = "\xff\xd8\xff\xfe\0\x04hi\xff\xc0\0\x11\x08\x01\xe0\x02\x80\x03\x01\x22\0"s;

void open_build(playing::Shop& shop) {
  REQUIRE(shop.ok(fmt::format(
      R"({{"do":"open-build","build":"b","procedure":"{}/procedures/short-block.json","engine":{{"model":"HX4-150","serial":"1","hours":"unknown"}},"customer":"Marigold"}})",
      PROJECT_FOLDER)));
  shop.ok(R"({"do":"acknowledge","build":"b","step":"wash-inspect"})");
}

std::string attach(const std::filesystem::path& file) {
  return fmt::format(R"({{"do":"attach","build":"b","step":"wash-inspect","entry":"galleries","path":"{}"}})",
                     file.string());
}

} // namespace

TEST_CASE("kind and size of a photograph come from its own header") {
  const auto one = photograph_facts(png);
  REQUIRE(one);
  CHECK(one->text_or_empty("media") == "image/png");
  CHECK(one->at("width").as_integer() == 4);
  CHECK(one->at("height").as_integer() == 3);
  CHECK(one->text_or_empty("sha256") == record::sha256_hex(png));
  const auto other = photograph_facts(jpeg);
  REQUIRE(other);
  CHECK(other->text_or_empty("media") == "image/jpeg");
  CHECK(other->at("width").as_integer() == 640);
  CHECK(other->at("height").as_integer() == 480);
}

TEST_CASE("what is no photograph, or cut off in its header, is refused") {
  for (const std::string& bytes :
       {std::string(), std::string("GIF89a"), std::string("%PDF-1.7"), std::string(100, '\xff')})
    CHECK_FALSE(photograph_facts(bytes));
  for (std::size_t size = 0; size < 24; ++size) CHECK_FALSE(photograph_facts(png.substr(0, size)));
  for (std::size_t size = 0; size < 17; ++size) CHECK_FALSE(photograph_facts(jpeg.substr(0, size)));
  std::string endless = jpeg;
  endless[4] = endless[5] = '\0'; // a part of length nothing
  CHECK_FALSE(photograph_facts(endless.substr(0, 12)));
}

TEST_CASE("a photograph is kept by its hash, stands in the state, and is verified with the record") {
  const Folder folder;
  playing::Shop shop(folder / "s.shop", true);
  open_build(shop);
  example::write(folder / "a.png", png);
  example::write(folder / "b.txt", "no picture");
  CHECK(shop.refused(attach(folder / "none.png")) == "unreadable");
  CHECK(shop.refused(attach(folder / "b.txt")) == "no-photograph");
  const auto answer = shop.perform(attach(folder / "a.png"));
  INFO(answer.text_or_empty("message"));
  REQUIRE(answer.at("ok").as_boolean());
  CHECK(answer.text_or_empty("sha256") == record::sha256_hex(png));
  CHECK(shop.refused(attach(folder / "a.png")) == "bad-value"); // the same once more
  const auto build = shop.session.build("b");
  REQUIRE(build);
  REQUIRE((*build)->photographs.size() == 1);
  CHECK((*build)->photographs[0].width == 4);
  CHECK((*build)->photographs[0].name == "Anna Reed");
  const auto report = record::verify_shop(folder / "s.shop", {});
  REQUIRE(report);
  CHECK(report->fault == "");
}

TEST_CASE("a photograph exchanged or gone is found by verify") {
  const Folder folder;
  {
    playing::Shop shop(folder / "s.shop", true);
    open_build(shop);
    example::write(folder / "a.png", png);
    REQUIRE(shop.ok(attach(folder / "a.png")));
  }
  const auto store = example::opened(folder / "s.shop", record::Store::Mode::read_only);
  const auto events = *store.events_in_order();
  const auto with = [&](const std::optional<std::string>& photograph) {
    return record::verify_events(events,
                                 [&](std::string_view sha256) -> record::Result<std::optional<std::string>> {
                                   return sha256 == record::sha256_hex(png) ? photograph : *store.blob(sha256);
                                 },
                                 {});
  };
  CHECK(with(png).intact);
  CHECK_THAT(with(jpeg).fault, Catch::Contains("its photograph is missing or changed"));
  CHECK_THAT(with(std::nullopt).fault, Catch::Contains("its photograph is missing or changed"));
}

TEST_CASE("a signed step takes no more photographs") {
  const Folder folder;
  playing::copy_demo_shop(folder / "d.shop");
  playing::Shop::now = {1'788'000'000'000, 0};
  auto session = record::Session::open(folder / "d.shop", {true, [] { return playing::Shop::now; }});
  REQUIRE(session);
  session->answer(R"({"do":"sign-in","person":"ivo","passphrase":"copper and brass"})");
  example::write(folder / "a.png", png);
  auto line = attach(folder / "a.png");
  line.replace(line.find("\"b\""), 3, "\"marigold\"");
  const auto answer = session->answer(line);
  CHECK_THAT(answer, Catch::Contains("\"ok\":false"));
}
