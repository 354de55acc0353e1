#include "json/read.h"
#include "json/splice.h"
#include "json/write.h"

#include <catch2/catch.hpp>

using namespace json;

namespace {

std::string exchanged(const std::string& text, const std::string& key, const std::string& fresh) {
  return spliced(text, span_of(text, read(text).root.at(key).place()), fresh);
}

} // namespace

TEST_CASE("each kind of value is exchanged for another, and the bytes around it stay") {
  const std::string text =
      "{ \"a\" : [1, {\"]\": \"}\"}] ,\n\t\"é\": \"x\\\"]\",\"c\":-1.50e2\n, \"d\":{}, \"e\": null }";
  CHECK(exchanged(text, "a", "1") == "{ \"a\" : 1 ,\n\t\"é\": \"x\\\"]\",\"c\":-1.50e2\n, \"d\":{}, \"e\": null }");
  CHECK(exchanged(text, "é", "1") ==
        "{ \"a\" : [1, {\"]\": \"}\"}] ,\n\t\"é\": 1,\"c\":-1.50e2\n, \"d\":{}, \"e\": null }");
  CHECK(exchanged(text, "c", "1") ==
        "{ \"a\" : [1, {\"]\": \"}\"}] ,\n\t\"é\": \"x\\\"]\",\"c\":1\n, \"d\":{}, \"e\": null }");
  for (const char* key : {"a", "é", "c", "d", "e"}) {
    const auto span = span_of(text, read(text).root.at(key).place());
    CHECK(read_one(text.substr(span.from, span.to - span.from)).value() == read(text).root.at(key));
  }
}

TEST_CASE("a value on one line has a blank behind each comma and colon") {
  CHECK(spaced(read(R"({"a":[1,2.50],"b":{"c":"x,y:z"},"d":[],"e":{}})").root) ==
        R"({"a": [1, 2.50], "b": {"c": "x,y:z"}, "d": [], "e": {}})");
}
