#include "calc/inputs.h"

#include "json/read.h"

#include <catch2/catch.hpp>

using calc::Dimension;
using calc::Field;
using calc::Shape;
using calc::Sign;

namespace {

calc::Result<calc::Given> given(const std::vector<Field>& fields, std::string_view input) {
  return calc::read_inputs(fields, json::read_one(input).value());
}

std::string message(const std::vector<Field>& fields, std::string_view input) {
  const auto read = given(fields, input);
  if (read) return "";
  CHECK(read.error().code == "bad-input");
  return read.error().message;
}

const Field bore = {.name = "bore", .shape = Shape::one, .dimension = Dimension::length};
const Field sizes = {.name = "sizes", .shape = Shape::list, .dimension = Dimension::length};
const Field grid = {.name = "grid", .shape = Shape::grid, .dimension = Dimension::length};
const Field dial = {.name = "dial", .shape = Shape::pairs, .dimension = Dimension::length, .sign = Sign::any};
const Field torque = {
    .name = "torque", .shape = Shape::one, .dimension = Dimension::torque, .meaning = "", .required = false};

} // namespace

TEST_CASE("a quantity is an object or what a person types") {
  CHECK(given({bore}, R"({"bore":{"value":61.962,"unit":"mm"}})")->quantity("bore").value.text() == "61.962");
  const auto typed = given({bore}, R"({"bore":"2.4395 in"})");
  CHECK(typed->quantity("bore").value.text() == "2.4395");
  CHECK(typed->quantity("bore").unit->name == "in");
  CHECK(!typed->quantity("bore").u);
  CHECK(given({bore}, R"({"bore":{"value":"1.5 thou","unit":"mm","u":0.01}})")->quantity("bore").value.text() ==
        "0.0381");
}

TEST_CASE("the first field's unit is everybody's unit") {
  const auto read = given(
      {bore, sizes, torque},
      R"({"torque":"20 lbf.ft","sizes":{"values":["1 in","25.4 mm"],"u":"1 thou"},"bore":{"value":30,"unit":"mm"}})");
  REQUIRE(read.ok());
  const calc::Readings& converted = read->readings("sizes");
  CHECK(converted.unit->name == "mm");
  CHECK(converted.written_in->name == "in");
  CHECK(converted.flat()[0] == converted.flat()[1]);
  CHECK(converted.u->text() == "0.0254");
  CHECK(read->quantity("torque").unit->name == "lbf.ft");
}

TEST_CASE("a setting shared by the readings cancels in their difference and adds elsewhere") {
  const auto read = given({sizes}, R"({"sizes":{"values":[1,2,3,4],"unit":"mm","u":0.003,"u_shared":0.004}})");
  const calc::Readings& sized = read->readings("sizes");
  CHECK(sized.u_single()->text() == "0.005");
  CHECK(sized.u_difference()->text() == "0.00424264068712");
  CHECK(sized.u_mean(4)->text() == "0.00427200187266");
  const auto only_shared = given({sizes}, R"({"sizes":{"values":[1,2],"unit":"mm","u_shared":0.004}})");
  CHECK(only_shared->readings("sizes").u_difference()->text() == "0");
  CHECK(only_shared->readings("sizes").u_mean(2)->text() == "0.004");
  CHECK(!given({sizes}, R"({"sizes":["1 mm"]})")->readings("sizes").u_mean(1));
}

TEST_CASE("a point left out of a grid is kept as a gap") {
  const auto read = given({grid}, R"({"grid":{"values":[[1,null],[3,4]],"unit":"mm"}})");
  REQUIRE(read.ok());
  CHECK(read->readings("grid").rows.size() == 2);
  CHECK(!read->readings("grid").rows[0][1]);
  CHECK(read->readings("grid").flat().size() == 3);
}

TEST_CASE("points have the columns they should have") {
  const Field points = {
      .name = "points", .shape = Shape::points, .dimension = Dimension::length, .sign = Sign::any, .columns = 3};
  CHECK(given({points}, R"({"points":{"points":[[0,0,-0.01],[1,0,0.02]],"unit":"mm"}})")
            ->readings("points")
            .rows[1][2]
            ->text() == "0.02");
  CHECK(message({points}, R"({"points":{"points":[[0,0],[1,0]],"unit":"mm"}})") ==
        "points: wants 3 values in each row");
  CHECK(message({points}, R"({"points":{"values":[[0,0,1]],"unit":"mm"}})") == "points: unknown field \"values\"");
  CHECK(message({points}, R"({"points":{"points":[[0,0,null]],"unit":"mm"}})") ==
        "points: holds null where a number is wanted");
}

TEST_CASE("bad input is told by the field it stands in") {
  CHECK(message({bore}, "{}") == "bore: missing");
  CHECK(message({bore}, R"({"bore":"1 mm","born":1})") == "\"born\": unknown field, known are bore");
  CHECK(message({bore}, R"({"bore":12})") == "bore: says no unit");
  CHECK(message({bore}, R"({"bore":"12"})").starts_with("bore: "));
  CHECK(message({bore}, R"({"bore":{"value":12}})") == "bore: says no unit");
  CHECK(message({bore}, R"({"bore":{"value":12,"unit":"ells"}})") == "bore: unit \"ells\" is unknown");
  CHECK(message({bore}, R"({"bore":{"value":12,"unit":7}})") == "bore: unit must be text");
  CHECK(message({bore}, R"({"bore":{"value":12,"unit":"bar"}})") ==
        "bore: bar measures a pressure, a length is wanted");
  CHECK(message({bore}, R"({"bore":{"value":"1 psi","unit":"mm"}})").starts_with("bore: "));
  CHECK(message({bore}, R"({"bore":{"value":12,"unit":"mm","v":1}})") == "bore: unknown field \"v\"");
  CHECK(message({bore}, R"({"bore":{"unit":"mm"}})") == "bore: must hold value or values, one of them");
  CHECK(message({bore}, R"({"bore":{"value":1,"values":[1],"unit":"mm"}})").starts_with("bore: "));
  CHECK(message({bore}, R"({"bore":{"values":[1,2],"unit":"mm"}})") == "bore: must be one quantity, not several");
  CHECK(message({bore}, R"({"bore":{"value":[1],"unit":"mm"}})") == "bore: value must be one number");
  CHECK(message({bore}, R"({"bore":null})") == "bore: must be a quantity, not null");
  CHECK(message({bore}, R"({"bore":{"value":true,"unit":"mm"}})") ==
        "bore: holds true or false where a number is wanted");
  CHECK(message({bore}, R"({"bore":"1,5 mm"})").starts_with("bore: \"1,5\" has a comma"));
  CHECK(message({bore}, R"({"bore":"nan mm"})").starts_with("bore: "));
  CHECK(message({bore}, R"({"bore":{"value":1e13,"unit":"mm"}})").starts_with("bore: "));
  CHECK(message({bore}, R"({"bore":"0 mm"})") == "bore: must be greater than 0");
  CHECK(message({bore}, R"({"bore":{"value":1,"unit":"mm","u":-0.1}})") == "bore, u: must not be negative");
  CHECK(message({bore}, R"({"bore":{"value":1,"unit":"mm","u":"1 bar"}})").starts_with("bore, u: "));
  CHECK(message({bore}, R"({"bore":{"value":1,"unit":"mm","u_shared":[1]}})").starts_with("bore, u_shared: "));
  CHECK(message({bore}, "[]") == "input: must be an object holding bore");
}

TEST_CASE("bad rows are refused") {
  CHECK(message({grid}, R"({"grid":{"values":[[1,2],[3]],"unit":"mm"}})") == "grid: has rows of different length");
  CHECK(message({grid}, R"({"grid":{"values":[],"unit":"mm"}})") == "grid: is empty");
  CHECK(message({grid}, R"({"grid":{"values":[[]],"unit":"mm"}})") == "grid: holds an empty row");
  CHECK(message({grid}, R"({"grid":{"values":[[null],[null]],"unit":"mm"}})") == "grid: holds no reading at all");
  CHECK(message({grid}, R"({"grid":{"values":[1,2],"unit":"mm"}})") == "grid: must be rows: an array of arrays");
  CHECK(message({grid}, R"({"grid":{"values":[[1],2],"unit":"mm"}})") == "grid: must be rows: an array of arrays");
  CHECK(message({grid}, R"({"grid":"1 mm"})") == "grid: must be rows: an array of arrays");
  CHECK(message({sizes}, R"({"sizes":{"values":[1,null],"unit":"mm"}})") ==
        "sizes: holds null where a number is wanted");
  CHECK(message({sizes}, R"({"sizes":{"values":[[1],[2]],"unit":"mm"}})") ==
        "sizes: must be one row of values, not several");
  CHECK(message({sizes}, R"({"sizes":["1 mm",2]})") == "sizes: says no unit");
  CHECK(message({sizes}, R"({"sizes":["1 mm","2"]})").starts_with("sizes: "));
  CHECK(message({dial}, R"({"dial":{"values":[[1,2,3]],"unit":"mm"}})") == "dial: wants 2 values in each row");
  CHECK(message({dial}, R"({"dial":{"values":[[1,null]],"unit":"mm"}})") ==
        "dial: holds null where a number is wanted");
}

TEST_CASE("too few or too many values are refused") {
  const Field two = {.name = "loads", .shape = Shape::list, .dimension = Dimension::force, .least = 2, .most = 2};
  CHECK(message({two}, R"({"loads":["1 N"]})") == "loads: wants at least 2 values, not 1");
  CHECK(message({two}, R"({"loads":"1 N"})") == "loads: wants at least 2 values, not 1");
  CHECK(message({two}, R"({"loads":["1 N","2 N","3 N"]})") == "loads: wants at most 2 values, not 3");
}

TEST_CASE("bare numbers, counts and words") {
  const Field factor = {.name = "factor", .shape = Shape::number};
  const Field teeth = {.name = "teeth", .shape = Shape::count};
  const Field parts = {.name = "parts", .shape = Shape::numbers};
  const Field kind = {.name = "kind", .shape = Shape::text, .words = {"bore", "journal"}};
  const Field name = {.name = "name", .shape = Shape::text};
  CHECK(given({factor}, R"({"factor":1.50})")->number("factor").text() == "1.5");
  CHECK(message({factor}, R"({"factor":"1.5"})") == "factor: must be a number without unit, not a text");
  CHECK(message({factor}, R"({"factor":0})") == "factor: must be greater than 0");
  CHECK(given({teeth}, R"({"teeth":28})")->number("teeth") == calc::Exact(28));
  CHECK(message({teeth}, R"({"teeth":28.5})") == "teeth: must be a whole number from 1");
  CHECK(message({teeth}, R"({"teeth":-3})") == "teeth: must be greater than 0");
  CHECK(given({parts}, R"({"parts":[0.5,1]})")->numbers("parts").size() == 2);
  CHECK(message({parts}, R"({"parts":0.5})") == "parts: must be an array of numbers, not a number");
  CHECK(message({parts}, R"({"parts":[]})") == "parts: is empty");
  CHECK(message({parts}, R"({"parts":[null]})") == "parts: must be a number without unit, not null");
  CHECK(message({kind}, R"({"kind":"shaft"})") == "kind: must be one of bore, journal");
  CHECK(message({kind}, R"({"kind":1})") == "kind: must be text, not a number");
  CHECK(message({name}, R"({"name":""})") == "name: is empty");
  CHECK(message({name}, "{\"name\":\"a\\u202eb\"}") == "name: holds characters that cannot be seen");
}

TEST_CASE("objects in a list are told apart by their number") {
  const Field marks = {.name = "marks", .shape = Shape::records, .least = 2, .members = {bore}};
  CHECK(given({marks}, R"({"marks":[{"bore":"1 in"},{"bore":"1 mm"}]})")
            ->records("marks")[1]
            .quantity("bore")
            .unit->name == "in");
  CHECK(message({marks}, R"({"marks":[{"bore":"1 mm"},{"bore":"-1 mm"}]})") ==
        "marks, number 2, bore: must be greater than 0");
  CHECK(message({marks}, R"({"marks":[{"bore":"1 mm"}]})") == "marks: wants at least 2 objects, not 1");
  CHECK(message({marks}, R"({"marks":{"bore":"1 mm"}})") == "marks: must be an array of objects, not an object");
  CHECK(message({marks}, R"({"marks":[1,2]})") == "marks, number 1: must be an object holding bore");
}

TEST_CASE("fields that leave the dimension open agree on one") {
  const Field value = {.name = "value", .sign = Sign::any};
  const Field low = {.name = "low", .sign = Sign::any};
  CHECK(given({value, low}, R"({"value":"20 psi","low":"1 bar"})")->quantity("low").unit->name == "psi");
  CHECK(message({value, low}, R"({"value":"20 psi","low":"1 mm"})") ==
        "low: mm measures a length, a pressure is wanted");
}

TEST_CASE("a quantity may stand beside the other fields") {
  const Field value = {.name = "value", .sign = Sign::any, .beside = true};
  const Field to = {.name = "to", .shape = Shape::text};
  CHECK(given({value, to}, R"({"value":60,"unit":"psi","u":1,"to":"kPa"})")->quantity("value").u->text() == "1");
  CHECK(given({value, to}, R"({"value":{"value":60,"unit":"psi"},"to":"kPa"})")->quantity("value").value.text() ==
        "60");
  CHECK(
      message({value, to}, R"({"value":{"value":60,"unit":"psi"},"unit":"psi","to":"kPa"})").starts_with("\"unit\":"));
  CHECK(message({value, to}, R"({"unit":"psi","to":"kPa"})") == "value: missing");
}

TEST_CASE("asking for an input that is not there is a programming error") {
  const auto read = given({torque}, "{}");
  CHECK(!read->has("torque"));
  CHECK_THROWS_AS(read->readings("torque"), std::logic_error);
}
