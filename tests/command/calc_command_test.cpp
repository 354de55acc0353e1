#include "command/prompt.h"

#include "calc/registry.h"
#include "json/read.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <istream>
#include <sstream>

using prompt::call;
using prompt::check_refused;
using prompt::Said;

namespace {

const std::string micrometre = R"({"value":61.962,"unit":"mm"})";

Said clearance(const std::string& input) {
  return call({"calc", "clearance"}, input);
}

json::Value answer(const Said& said) {
  CAPTURE(said.out, said.err);
  CHECK(said.exit == 0);
  CHECK(said.err == "");
  auto value = json::read_one(said.out);
  REQUIRE(value.ok());
  return *std::move(value);
}

// Blanks without end, in the way of a device.
class Endless : public std::streambuf {
public:
  std::size_t given() const { return given_; }

private:
  int_type underflow() override {
    given_ += sizeof blanks_;
    setg(blanks_, blanks_, blanks_ + sizeof blanks_);
    return ' ';
  }
  char blanks_[1024] = {' '};
  std::size_t given_ = 0;
};

} // namespace

TEST_CASE("an inch is 25.4 mm") {
  // NIST SP 811 (2008), appendix B.8: inch to millimetre, exactly
  const json::Value got = answer(call({"calc", "convert"}, R"({"value":"1 in","to":"mm"})"));
  CHECK(got.text_or_empty("calculation") == "convert");
  CHECK(got.at("results").at("converted").at("value").number_text() == "25.4");
  CHECK(got.at("results").at("converted").text_or_empty("unit") == "mm");
}

TEST_CASE("every worked example gives the answer it shows") {
  for (const auto& computation : calc::all_computations()) {
    CAPTURE(computation.name);
    const Said said = call({"calc", std::string(computation.name)}, computation.example.input);
    const auto shown = json::read_one(computation.example.answer);
    REQUIRE(shown.ok());
    CHECK(answer(said) == *shown);
  }
}

TEST_CASE("a comma in the input is answered with the field and exit 2") {
  check_refused(clearance(R"({"outer":"62,016 mm","inner":)" + micrometre + "}"),
                "error: outer: \"62,016\" has a comma");
  check_refused(clearance(R"({"outer":{"value":62,016,"unit":"mm"},"inner":)" + micrometre + "}"), "line 1, column ");
}

TEST_CASE("bad input is answered with the field and exit 2") {
  check_refused(clearance(R"({"inner":"61.962 mm"})"), "error: outer: missing");
  check_refused(clearance(R"({"outer":"62 mm","inner":"61.962 mm","owter":1})"), "\"owter\": unknown field");
  check_refused(clearance(R"({"outer":"62 N.m","inner":"61.962 mm"})"), "error: outer: ");
  check_refused(clearance(R"({"outer":"62 mm","inner":61.962})"), "error: inner: ");
  check_refused(clearance(R"({"outer":[],"inner":"61.962 mm"})"), "error: outer: ");
  check_refused(clearance(R"({"outer":"-62 mm","inner":"61.962 mm"})"), "error: outer: ");
  check_refused(clearance(R"({"outer":{"value":1e40,"unit":"mm"},"inner":"61.962 mm"})"), "error: outer: ");
  check_refused(clearance(R"({"outer":{"value":1e400,"unit":"mm"},"inner":"61.962 mm"})"), "(/outer/value)");
  check_refused(clearance(R"({"outer":"inf mm","inner":"61.962 mm"})"), "error: outer: ");
  check_refused(clearance(R"([])"), "an object");
}

TEST_CASE("the name of a field from elsewhere stays on the line") {
  check_refused(clearance(R"({"a\nerror: b\u001b[2J":1})"), "unknown field");
  check_refused(clearance(R"({"a\nerror: b\u001b[2J":1,"a\nerror: b\u001b[2J":2})"), R"("a\u000aerror: b\u001b[2J")");
}

TEST_CASE("what is no JSON is answered with line and column") {
  check_refused(clearance(""), "stdin, line 1, column 1: ");
  check_refused(clearance("{\n  \"outer\": 62.\n}"), "stdin, line 2, column 12: ");
  check_refused(clearance("{\"outer\":NaN}"), "stdin, line 1, column 10: ");
  check_refused(clearance(R"({"outer":"62 mm","outer":"61 mm"})"), "stdin, line 1, column 18: ");
  check_refused(clearance(R"({"outer":"62 mm","inner":"61.962 mm"} {})"), "stdin, line 1, column 39: ");
  check_refused(clearance("\xef\xbb\xbf{}"), "byte order mark");
  check_refused(clearance("{\"outer\":\"\xff\"}"), "UTF-8");
  check_refused(clearance(std::string("{}\0{}", 5)), "stdin, line 1, column 3: ");
  check_refused(clearance(std::string(1000, '[')), "nested");
}

TEST_CASE("input over 16 MB is refused, and so is one without end") {
  const std::string good = R"({"outer":"62.016 mm","inner":"61.962 mm"})";
  const std::string blanks(json::largest_text - good.size(), ' ');
  CHECK(clearance(blanks + good).exit == 0);
  check_refused(clearance(blanks + " " + good), "larger than 16 MB");

  Endless endless;
  std::istream in(&endless);
  std::ostringstream out;
  std::ostringstream err;
  CHECK(command::run({"calc", "clearance"}, {in, out, err}) == 2);
  CHECK_THAT(err.str(), Catch::Contains("larger than 16 MB"));
  CHECK(endless.given() < json::largest_text + (1u << 20));
}

TEST_CASE("input that breaks off is refused, whatever came before") {
  struct Broken : std::streambuf {
    int_type underflow() override { throw std::ios_base::failure("the disk is gone"); }
  } broken;
  std::istream in(&broken);
  std::ostringstream out;
  std::ostringstream err;
  CHECK(command::run({"calc", "clearance"}, {in, out, err}) == 2);
  CHECK(out.str() == "");
  CHECK(err.str() == "error: stdin could not be read to its end\n");
}

TEST_CASE("the list shows every computation, names and purposes in two columns") {
  const Said said = call({"calc", "--list"});
  CHECK(said.exit == 0);
  const auto lines = said.lines();
  const auto& all = calc::all_computations();
  REQUIRE(lines.size() == all.size());
  const std::size_t column = lines.front().find(all.front().purpose);
  for (std::size_t i = 0; i < all.size(); ++i) {
    CHECK_THAT(lines[i], Catch::StartsWith(std::string(all[i].name) + "  "));
    CHECK(lines[i].find(all[i].purpose) == column);
  }
}

namespace {

// Line ends and indents do not count.
std::string run_together(const std::string& text) {
  std::istringstream words(text);
  std::string all;
  for (std::string word; words >> word;) all += word + ' ';
  return all;
}

void check_inputs(const std::string& help, const std::vector<calc::Field>& fields) {
  for (const auto& field : fields) {
    CHECK_THAT(help, Catch::Contains(std::string(field.name) + ": "));
    CHECK_THAT(help, Catch::Contains(run_together(std::string(field.meaning))));
    for (const auto word : field.words) CHECK_THAT(help, Catch::Contains("\"" + std::string(word) + "\""));
    check_inputs(help, field.members);
  }
}

} // namespace

TEST_CASE("help on a computation shows inputs, results, formula, source and a worked example") {
  for (const auto& computation : calc::all_computations()) {
    CAPTURE(computation.name);
    const std::string name(computation.name);
    const Said said = call({"calc", name, "--help"});
    CHECK(said.exit == 0);
    CHECK(call({"calc", "--help", name}).out == said.out);
    const std::string help = run_together(said.out);
    CHECK_THAT(help, Catch::StartsWith("witnessmark calc " + name));
    for (const auto text : {computation.purpose, computation.formula, computation.source, computation.example.input,
                            computation.example.answer})
      CHECK_THAT(help, Catch::Contains(run_together(std::string(text))));
    check_inputs(help, computation.inputs);
    for (const auto& result : computation.results) CHECK_THAT(help, Catch::Contains(std::string(result.name) + ": "));
  }
}

TEST_CASE("help on an input says what it must be") {
  const std::string help = run_together(call({"calc", "straightedge", "--help"}).out);
  CHECK_THAT(help, Catch::Contains("enters: a quantity (a length), not negative "));
  CHECK_THAT(help, Catch::Contains("refuses: a quantity (a length), greater than 0 "));
  CHECK_THAT(help, Catch::Contains("per_length: an object, optional "));
}

TEST_CASE("help on all computations lists the units") {
  CHECK_THAT(call({"calc", "--help"}).out, Catch::Contains("\n  N.m kgf.m kgf.cm lbf.ft lbf.in\n"));
}

TEST_CASE("a computation that is not there is named") {
  check_refused(call({"calc", "guess"}, "{}"), "there is no computation \"guess\"");
  check_refused(call({"calc", "guess", "--help"}), "there is no computation \"guess\"");
}

TEST_CASE("calc without a name, or with too much, says how it is used") {
  check_refused(call({"calc"}), "NAME is missing; usage: witnessmark calc NAME");
  check_refused(call({"calc", "form", "clearance"}), "\"clearance\" is one too many; usage: ");
  check_refused(call({"calc", "--list", "form"}), "--list takes no NAME; usage: ");
  check_refused(call({"calc", "form", "--unit", "mm"}), "\"--unit\" is not known; usage: ");
}
