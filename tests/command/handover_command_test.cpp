#include "command/prompt.h"
#include "handover/fontconfig_keeps.h"

#include <catch2/catch.hpp>

#include <fmt/format.h>

#include <filesystem>

using prompt::call;
using prompt::check_refused;
using prompt::content;
using prompt::Folder;
using prompt::Said;
using prompt::write;

namespace {

// A practice shop with one open build.
std::string shop_in(const Folder& folder) {
  const std::string lines = fmt::format(
      R"({{"do":"enrol","person":"ada","name":"Ada Vane","roles":["builder","owner"],"passphrase":"kettle on the stove"}})"
      "\n"
      R"({{"do":"sign-in","person":"ada","passphrase":"kettle on the stove"}})"
      "\n"
      R"({{"do":"open-build","build":"b1","procedure":"{}/procedures/short-block.json","engine":{{"model":"HX4-150","serial":"1","hours":"unknown"}},"customer":"Marigold"}})"
      "\n",
      PROJECT_FOLDER);
  const Said said = call({"drive", "--shop", folder / "shop", "--practice"}, lines);
  INFO(said.out);
  for (const std::string& line : said.lines()) REQUIRE_THAT(line, Catch::StartsWith("{\"ok\":true"));
  return folder / "shop";
}

} // namespace

TEST_CASE("an open build is handed over as a draft, and the shop file is left as it was") {
  const Folder folder;
  const std::string shop = shop_in(folder);
  const std::string before = content(shop);
  const Said said = call({"handover", "--shop", shop, "--build", "b1", "--out", folder / "b1.pdf"});
  INFO(said.err);
  CHECK(said.exit == 0);
  CHECK_THAT(said.out, Catch::StartsWith("draft, not signed: "));
  CHECK_THAT(content(folder / "b1.pdf"), Catch::StartsWith("%PDF-1."));
  CHECK(content(shop) == before);
}

TEST_CASE("a draft never takes the place of a file that is there") {
  const Folder folder;
  const std::string shop = shop_in(folder);
  write(folder / "kept.pdf", "the only copy");
  check_refused(call({"handover", "--shop", shop, "--build", "b1", "--out", folder / "kept.pdf"}), "is there already");
  CHECK(content(folder / "kept.pdf") == "the only copy");
}

TEST_CASE("a draft of a build that is not there, or of no shop file, is refused") {
  const Folder folder;
  const std::string shop = shop_in(folder);
  check_refused(call({"handover", "--shop", shop, "--build", "b2", "--out", folder / "a.pdf"}), "b2");
  check_refused(call({"handover", "--shop", folder / "none", "--build", "b1", "--out", folder / "a.pdf"}), "none");
}

TEST_CASE("an open build is not signed, whoever asks for it") {
  const Folder folder;
  const std::string shop = shop_in(folder);
  check_refused(call({"handover", "--shop", shop, "--build", "b1", "--out", folder / "a.pdf", "--person", "ada"},
                     "kettle on the stove\n"),
                "not released");
  CHECK_FALSE(std::filesystem::exists(folder / "a.pdf"));
}

TEST_CASE("verify takes a draft for what it is") {
  const Folder folder;
  const std::string shop = shop_in(folder);
  REQUIRE(call({"handover", "--shop", shop, "--build", "b1", "--out", folder / "b1.pdf"}).exit == 0);
  check_refused(call({"verify", folder / "b1.pdf"}), "a draft has none");
}
