#include "json/random_document.h"
#include "json/read.h"
#include "json/write.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace json;

namespace {

Value good(std::string_view text) {
  Result<Value> value = read_one(text);
  CAPTURE(text);
  if (!value) FAIL(value.error().message);
  return std::move(value).value();
}

std::string bytes_of(std::string_view hex) {
  std::string bytes;
  for (std::size_t i = 0; i < hex.size(); i += 2)
    bytes += static_cast<char>(std::stoi(std::string(hex.substr(i, 2)), nullptr, 16));
  return bytes;
}

std::string utf8_of(const std::u32string& characters) {
  std::string text;
  for (const char32_t code : characters) testing::RandomDocuments::append_utf8(text, code);
  return text;
}

std::u16string utf16_of(const std::u32string& characters) {
  std::u16string text;
  for (const char32_t code : characters) {
    if (code < 0x10000) {
      text += static_cast<char16_t>(code);
    } else {
      text += static_cast<char16_t>(0xd800 + ((code - 0x10000) >> 10));
      text += static_cast<char16_t>(0xdc00 + ((code - 0x10000) & 0x3ff));
    }
  }
  return text;
}

} // namespace

// RFC 8785 section 3.2.3.
TEST_CASE("members are sorted as the standard's sample is") {
  const Value sample = good(R"({
    "\u20ac": "Euro Sign",
    "\r": "Carriage Return",
    "\ufb33": "Hebrew Letter Dalet With Dagesh",
    "1": "One",
    "\ud83d\ude00": "Emoji: Grinning Face",
    "\u0080": "Control",
    "\u00f6": "Latin Small Letter O With Diaeresis"
  })");
  CHECK(canonical(sample) ==
        bytes_of("7b225c72223a2243617272696167652052657475726e222c2231223a224f6e65222c22c280223a22436f6e74726f6c22"
                 "2c22c3b6223a224c6174696e20536d616c6c204c6574746572204f205769746820446961657265736973222c22e282ac"
                 "223a224575726f205369676e222c22f09f9880223a22456d6f6a693a204772696e6e696e672046616365222c22efacb3"
                 "223a22486562726577204c65747465722044616c6574205769746820446167657368227d"));
}

// RFC 8785 section 3.2.2, the sample without its numbers.
TEST_CASE("texts and literals are written as the standard's sample is") {
  const Value sample =
      good(R"({"string":"\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/","literals":[null, true, false]})");
  CHECK(canonical(sample) == bytes_of("7b226c69746572616c73223a5b6e756c6c2c747275652c66616c73655d2c"
                                      "22737472696e67223a22e282ac245c75303030665c6e4127425c225c5c5c5c5c222f227d"));
}

// Test data of the standard's author: repository cyberphone/json-canonicalization, commit 19d51d7f, testdata: arrays,
// structures, unicode, french.
TEST_CASE("arrays sample comes out canonical") {
  CHECK(canonical(good(R"([ 56, { "d": true, "10": null, "1": [ ] } ])")) ==
        bytes_of("5b35362c7b2231223a5b5d2c223130223a6e756c6c2c2264223a747275657d5d"));
}

TEST_CASE("structures sample comes out canonical, once its one number is written whole") {
  CHECK(
      canonical(good(
          R"({"1":{"f":{"f":"hi","F":5},"\n":56},"10":{},"":"empty","a":{},"111":[{"e":"yes","E":"no"}],"A":{}})")) ==
      bytes_of("7b22223a22656d707479222c2231223a7b225c6e223a35362c2266223a7b2246223a352c2266223a226869227d7d2c22"
               "3130223a7b7d2c22313131223a5b7b2245223a226e6f222c2265223a22796573227d5d2c2241223a7b7d2c2261223a7b7d7d"));
  CHECK_THROWS_AS(canonical(good(R"({"1":{"\n":56.0}})")), std::logic_error);
}

TEST_CASE("unicode sample is not normalised") {
  CHECK(canonical(good(R"({"Unnormalized Unicode":"A\u030a"})")) ==
        bytes_of("7b22556e6e6f726d616c697a656420556e69636f6465223a2241cc8a227d"));
}

TEST_CASE("french sample is sorted without regard to language") {
  CHECK(canonical(good("{\"peach\":\"This sorting order\",\"p\u00e9ch\u00e9\":\"is wrong according to French\","
                       "\"p\u00eache\":\"but canonicalization MUST\",\"sin\":\"ignore locale\"}")) ==
        bytes_of("7b227065616368223a225468697320736f7274696e67206f72646572222c2270c3a96368c3a9223a2269732077726f6e"
                 "67206163636f7264696e6720746f204672656e6368222c2270c3aa636865223a226275742063616e6f6e6963616c697a"
                 "6174696f6e204d555354222c2273696e223a2269676e6f7265206c6f63616c65227d"));
}

// RFC 8785 section 3.2.3: names are compared as arrays of UTF-16 code units; here against a real conversion.
TEST_CASE("members are in the order of UTF-16 code units whatever their characters") {
  testing::RandomDocuments random(16);
  for (int round = 0; round < 300; ++round) {
    std::vector<std::u32string> keys;
    Value object = Value::object();
    for (int i = 0; i < 12; ++i) {
      std::u32string key(1 + random.below(2), U'\ue000'); // many keys with a common start
      for (std::size_t n = random.below(3); n > 0; --n) key += random.character();
      if (object.find(utf8_of(key))) continue;
      keys.push_back(key);
      object.set(utf8_of(key), Value());
    }
    std::sort(keys.begin(), keys.end(), [](const auto& a, const auto& b) { return utf16_of(a) < utf16_of(b); });
    const Value sorted = good(canonical(object));
    REQUIRE(sorted.members().size() == keys.size());
    for (std::size_t i = 0; i < keys.size(); ++i) REQUIRE(sorted.members()[i].key == utf8_of(keys[i]));
  }
}

TEST_CASE("canonical numbers are whole and below 2^53") {
  CHECK(canonical(Value::integer(9007199254740991)) == "9007199254740991");
  CHECK(canonical(Value::integer(-9007199254740991)) == "-9007199254740991");
  CHECK(canonical(Value::number("-0")) == "0"); // RFC 8785 appendix B
  for (const char* text : {"9007199254740992", "-9007199254740992", "18446744073709551616", "1.0", "1e3", "0.5"}) {
    CAPTURE(text);
    CHECK_THROWS_AS(canonical(Value::array({Value::number(text)})), std::logic_error);
  }
}

TEST_CASE("canonical form takes no text that could not be read back") {
  CHECK_THROWS_AS(canonical(Value::text("\xc3(")), std::logic_error);
  CHECK_THROWS_AS(canonical(Value::object({{"\xff", Value()}})), std::logic_error);
}

// RFC 8785 section 3.2.2.2.
TEST_CASE("only quotes, backslashes and control characters are escaped") {
  std::string all;
  for (char32_t code = 0; code < 0x100; ++code) testing::RandomDocuments::append_utf8(all, code);
  const std::string written = canonical(Value::text(all));
  CHECK(written.substr(0, 15) == "\"\\u0000\\u0001\\u");
  CHECK_THAT(written, Catch::Contains("\\u0007\\b\\t\\n\\u000b\\f\\r\\u000e"));
  CHECK_THAT(written, Catch::Contains("\\u001f !\\\"#") && Catch::Contains("./0") && Catch::Contains("[\\\\]"));
  CHECK_THAT(written, Catch::Contains("~\x7f\u0080\u0081"));
  CHECK(good(written).as_text() == all);
}

TEST_CASE("compact and pretty keep order and numbers") {
  const Value value = good(R"( {"b" : [1.50, {}, [], {"z":null}], "a":"\u00e9"} )");
  CHECK(compact(value) == "{\"b\":[1.50,{},[],{\"z\":null}],\"a\":\"\u00e9\"}");
  CHECK(pretty(value) == "{\n"
                         "  \"b\": [\n"
                         "    1.50,\n"
                         "    {},\n"
                         "    [],\n"
                         "    {\n"
                         "      \"z\": null\n"
                         "    }\n"
                         "  ],\n"
                         "  \"a\": \"\u00e9\"\n"
                         "}");
}

TEST_CASE("any document reads back equal from every form") {
  testing::RandomDocuments random(8785);
  for (int round = 0; round < 1500; ++round) {
    const Value value = random.document(false);
    const std::string written = compact(value);
    if (good(written) == value && good(pretty(value)) == value && compact(good(pretty(value))) == written) continue;
    FAIL_CHECK("not read back equal: " << written);
  }
}

TEST_CASE("canonical form is stable and does not depend on the order of members") {
  testing::RandomDocuments random(53);
  for (int round = 0; round < 1500; ++round) {
    const Value value = random.document(true);
    const std::string once = canonical(value);
    Value turned = value;
    if (turned.is(Kind::object)) std::reverse(turned.members().begin(), turned.members().end());
    if (canonical(good(once)) == once && canonical(turned) == once && turned == value) continue;
    FAIL_CHECK("not stable: " << once);
  }
}

TEST_CASE("equality is blind to places and order of members, not to how a number is written") {
  CHECK(good("{\"a\":1,\n\"b\":[2]}") == good(R"({"b":[2],"a":1})"));
  CHECK_FALSE(good("[1,2]") == good("[2,1]"));
  CHECK_FALSE(good("2.50") == good("2.5"));
  CHECK_FALSE(good("1") == good("\"1\""));
  CHECK_FALSE(good(R"({"a":1})") == good(R"({"b":1})"));
  CHECK_FALSE(good(R"({"a":1})") == good(R"({"a":1,"b":1})"));
}

TEST_CASE("a document of our own is put together, changed and asked") {
  Value value = Value::object({{"name", Value::text("main")}, {"count", Value::integer(-3)}});
  value.set("list", Value::array()).push(Value::boolean(true));
  value.set("count", Value::integer(4));
  CHECK(compact(value) == R"({"name":"main","count":4,"list":[true]})");
  CHECK(value.place().line == 0);
  CHECK(value.text_or_empty("name") == "main");
  CHECK(value.text_or_empty("count").empty());
  CHECK(value.text_or_empty("absent").empty());
  CHECK(value.find("absent") == nullptr);
  value.remove("count");
  CHECK(compact(value) == R"({"name":"main","list":[true]})");
}

TEST_CASE("asking a value for what it is not is a programming error") {
  const Value number = Value::integer(1);
  CHECK_THROWS_AS(number.as_text(), std::logic_error);
  CHECK_THROWS_AS(number.as_boolean(), std::logic_error);
  CHECK_THROWS_AS(number.items(), std::logic_error);
  CHECK_THROWS_AS(number.members(), std::logic_error);
  CHECK_THROWS_AS(number.find("a"), std::logic_error);
  CHECK_THROWS_AS(Value::text("1").number_text(), std::logic_error);
  CHECK_THROWS_AS(Value::object().at("a"), std::logic_error);
  CHECK_THROWS_AS(Value::object().push(Value()), std::logic_error);
  CHECK_THROWS_AS(Value::array().set("a", Value()), std::logic_error);
  CHECK_THROWS_AS(Value::array().remove("a"), std::logic_error);
  for (const char* text : {"", "1.", "01", "+1", "1 ", "0x1", "NaN", "1e", "-"}) {
    CAPTURE(text);
    CHECK_THROWS_AS(Value::number(text), std::logic_error);
  }
}
