#include "desktop/options.h"

#include <catch2/catch.hpp>

using desktop::default_shop;
using desktop::read_options;

namespace {

void check_refused(const std::vector<std::string>& arguments, const std::string& part) {
  const auto read = read_options(arguments);
  REQUIRE(!read.ok());
  CHECK(read.error().code == "bad-arguments");
  CHECK_THAT(read.error().message, Catch::Contains(part) && Catch::Contains("bench --help"));
}

} // namespace

TEST_CASE("bench alone leaves everything open") {
  const auto read = read_options({});
  REQUIRE(read);
  CHECK(!read->help);
  CHECK(read->shop.empty());
  CHECK(read->picture.empty());
  CHECK(!read->size);
  CHECK(!read->scale);
}

TEST_CASE("bench takes its options in both forms") {
  const auto read = read_options(
      {"--shop", "a.wm", "--build=hx4", "--screen", "log", "--picture=x.png", "--size", "1024x600", "--scale=1.5"});
  REQUIRE(read);
  CHECK(read->shop == "a.wm");
  CHECK(read->build == "hx4");
  CHECK(read->screen == "log");
  CHECK(read->picture == "x.png");
  CHECK(read->size->width == 1024);
  CHECK(read->size->height == 600);
  CHECK(*read->scale == 1.5F);
}

TEST_CASE("bench begins with a computation that is there") {
  CHECK(read_options({"--calc", "oil-clearance"})->computation == "oil-clearance");
  CHECK(read_options({})->computation.empty());
}

TEST_CASE("a look given on the command line goes before the one that was kept") {
  bench::Look kept;
  kept.theme = "dark";
  kept.text = 150;
  CHECK(desktop::look_of(*read_options({}), kept) == kept);
  const auto read = read_options({"--theme", "contrast", "--text=125", "--units", "inch"});
  REQUIRE(read);
  const bench::Look look = desktop::look_of(*read, kept);
  CHECK(look.theme == "contrast");
  CHECK(look.text == 125);
  CHECK(look.inches);
  kept.inches = true;
  CHECK_FALSE(desktop::look_of(*read_options({"--units=mm"}), kept).inches);
}

TEST_CASE("a look that there is not is refused") {
  check_refused({"--theme", "pink"}, "--theme \"pink\" is none of light, dark, contrast");
  check_refused({"--text", "110"}, "--text \"110\" is none of 100, 125, 150, 200");
  check_refused({"--text", "large"}, "is none of 100, 125, 150, 200");
  check_refused({"--units", "furlong"}, "--units \"furlong\" is neither mm nor inch");
}

TEST_CASE("help is given whatever else is wrong") {
  CHECK(read_options({"--nonsense", "--help"})->help);
}

TEST_CASE("help names every option and keeps to 100 columns") {
  const std::string text = desktop::help();
  for (const char* name : {"--shop FILE", "--build ID", "--screen NAME", "--calc NAME", "--scale S", "--size WxH",
                           "--picture FILE", "--theme NAME", "--text N", "--units NAME"})
    CHECK_THAT(text, Catch::Contains(std::string("\n  ") + name));
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t end = text.find('\n', from);
    CHECK(end - from <= 100);
    from = end + 1;
  }
}

TEST_CASE("bench refuses what it does not know") {
  check_refused({"shop.wm"}, "\"shop.wm\" is not known");
  check_refused({"--practice"}, "\"--practice\" is not known");
  check_refused({"--shop"}, "--shop must be followed by its value");
  check_refused({"--shop="}, "--shop must be followed by its value");
  check_refused({"--shop", "--build", "hx4"}, "--shop must be followed by its value");
  check_refused({"--shop", "a", "--shop", "b"}, "--shop is given twice");
  check_refused({"--screen", "engine"}, "--screen \"engine\" is none of builds, sheet, strip-down, findings, parts, "
                                        "sizes, limits, log, shop, people, gauges, work, keys, look");
  check_refused({"--calc", "alchemy"}, "--calc \"alchemy\" is no computation");
}

TEST_CASE("a size is two whole numbers, neither too small nor too large") {
  for (const char* size : {"1024", "x", "1024x", "1024x599", "1023x600", "-1024x600", "1024 x 600", "1024x600x",
                           "20000x600", "1e3x600", "99999999999x600"}) {
    CAPTURE(size);
    check_refused({"--size", size}, "is no size from 1024x600 to 16384x16384");
  }
}

TEST_CASE("a scale is a number from 1 to 3") {
  for (const char* scale : {"0", "0.99", "3.01", "1,5", "two", "nan", "inf", "1.5x"}) {
    CAPTURE(scale);
    check_refused({"--scale", scale}, "is no number from 1 to 3");
  }
}

// XDG Base Directory Specification 0.8: "If $XDG_DATA_HOME is either not set or empty, a default equal to
// $HOME/.local/share should be used"; a relative path is invalid and to be ignored.
TEST_CASE("the default shop file is in the data folder") {
  CHECK(*default_shop("/data", "/ada") == "/data/witnessmark/shop.wm");
  CHECK(*default_shop(nullptr, "/ada") == "/ada/.local/share/witnessmark/shop.wm");
  CHECK(*default_shop("", "/ada") == "/ada/.local/share/witnessmark/shop.wm");
  CHECK(*default_shop("data", "/ada") == "/ada/.local/share/witnessmark/shop.wm");
  CHECK(*default_shop("/data", nullptr) == "/data/witnessmark/shop.wm");
  CHECK(default_shop(nullptr, nullptr).error().code == "no-home");
  CHECK(default_shop(nullptr, "").error().code == "no-home");
}

TEST_CASE("bench closes after a number of frames, from one") {
  CHECK(read_options({"--frames", "3"})->frames == 3);
  CHECK(!read_options({})->frames);
  for (const std::string text : {"0", "-1", "many", "1.5"}) check_refused({"--frames=" + text}, "--frames");
}
