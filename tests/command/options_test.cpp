#include "command/options.h"

#include <catch2/catch.hpp>

using command::Arguments;
using command::read_arguments;
using command::Takes;
using command::Usage;

namespace {

const Usage usage = {.line = "witnessmark paint FILE... --brush FILE [--coats N] [--hue HUE...] [--wet]",
                     .switches = {{.name = "--brush", .takes = Takes::one, .value = "FILE", .required = true},
                                  {.name = "--coats", .takes = Takes::one, .value = "N"},
                                  {.name = "--hue", .takes = Takes::several, .value = "HUE"},
                                  {.name = "--wet"}},
                     .operand = "FILE",
                     .least = 1,
                     .most = 2};

Arguments good(const std::vector<std::string>& arguments) {
  auto read = read_arguments(usage, arguments);
  INFO((read ? "" : read.error().message));
  REQUIRE(read.ok());
  return *std::move(read);
}

std::string refusal(const std::vector<std::string>& arguments) {
  const auto read = read_arguments(usage, arguments);
  REQUIRE(!read.ok());
  CHECK(read.error().code == "bad-arguments");
  CHECK_THAT(read.error().message, Catch::EndsWith("; usage: " + std::string(usage.line)));
  return read.error().message;
}

void check_refusal(const std::vector<std::string>& arguments, const std::string& beginning) {
  CHECK_THAT(refusal(arguments), Catch::StartsWith(beginning + "; usage: "));
}

using Texts = std::vector<std::string>;

} // namespace

TEST_CASE("a switch takes the value behind it or behind an equals sign") {
  CHECK(good({"a", "--brush", "b"}).value("--brush") == "b");
  CHECK(good({"--brush=b", "a"}).value("--brush") == "b");
  CHECK(good({"--brush=b=c", "a"}).value("--brush") == "b=c");
  CHECK(good({"--brush", "b", "a"}).operands() == Texts{"a"});
}

TEST_CASE("a value may start with one dash, with two only behind an equals sign") {
  CHECK(good({"--brush", "-b", "a"}).value("--brush") == "-b");
  CHECK(good({"--brush=--b", "a"}).value("--brush") == "--b");
  check_refusal({"a", "--brush", "--wet"}, "--brush must be followed by its FILE");
}

TEST_CASE("a switch without a value is there or not") {
  CHECK(good({"--brush", "b", "--wet", "a"}).has("--wet"));
  CHECK(good({"--brush", "b", "--wet", "a"}).operands() == Texts{"a"});
  CHECK_FALSE(good({"--brush", "b", "a"}).has("--wet"));
  check_refusal({"a", "--brush", "b", "--wet=yes"}, "--wet takes no value");
}

TEST_CASE("a switch that takes several stops at the next switch and adds up") {
  const Arguments read = good({"a", "--hue", "red", "blue", "--wet", "--hue=green", "--brush", "b"});
  CHECK(read.values("--hue") == Texts{"red", "blue", "green"});
  CHECK(good({"a", "--brush", "b"}).values("--hue").empty());
  check_refusal({"a", "--brush", "b", "--hue"}, "--hue must be followed by its HUE");
  check_refusal({"a", "--brush", "b", "--hue", "red", "--hue"}, "--hue must be followed by its HUE");
}

TEST_CASE("everything behind two dashes is an operand") {
  CHECK(good({"--brush", "b", "--", "--wet", "-x"}).operands() == Texts{"--wet", "-x"});
  CHECK(good({"--brush", "b", "--", "--"}).operands() == Texts{"--"});
}

TEST_CASE("a switch that nobody knows is named") {
  check_refusal({"a", "--brsh", "b"}, "\"--brsh\" is not known");
  check_refusal({"a", "-w"}, "\"-w\" is not known");
  check_refusal({"a", "--bru", "b"}, "\"--bru\" is not known");
}

TEST_CASE("a value given to a switch that nobody knows is not repeated") {
  CHECK_THAT(refusal({"a", "--passphrase=heron"}), !Catch::Contains("heron"));
  CHECK_THAT(refusal({"a", "--passphrase", "heron"}), !Catch::Contains("heron"));
}

TEST_CASE("a switch or its value is missing") {
  check_refusal({"a"}, "--brush FILE is missing");
  check_refusal({"a", "--brush"}, "--brush must be followed by its FILE");
  check_refusal({"a", "--brush="}, "--brush must be followed by its FILE");
  check_refusal({"a", "--brush", ""}, "--brush must be followed by its FILE");
}

TEST_CASE("a switch is given twice") {
  check_refusal({"a", "--brush", "b", "--brush", "c"}, "--brush is given twice");
  check_refusal({"a", "--brush", "b", "--wet", "--wet"}, "--wet is given twice");
}

TEST_CASE("an operand is missing or one too many") {
  check_refusal({"--brush", "b"}, "FILE is missing");
  check_refusal({"a", "b", "c", "--brush", "b"}, "\"c\" is one too many");
  CHECK(good({"a", "b", "--brush", "b"}).operands() == Texts{"a", "b"});
}

TEST_CASE("asking for the value of a switch that is not there is a mistake of the program") {
  const Arguments read = good({"a", "--brush", "b", "--hue", "red", "blue"});
  CHECK_THROWS_AS(read.value("--coats"), std::logic_error);
  CHECK_THROWS_AS(read.value("--hue"), std::logic_error);
}

TEST_CASE("help is asked for wherever it stands, but not behind two dashes") {
  CHECK(command::ask_for_help({"--help"}));
  CHECK(command::ask_for_help({"a", "--brsh", "--help"}));
  CHECK_FALSE(command::ask_for_help({"a", "help", "-h"}));
  CHECK_FALSE(command::ask_for_help({"--", "--help"}));
}
