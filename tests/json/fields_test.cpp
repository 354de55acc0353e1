#include "json/fields.h"
#include "json/random_document.h"
#include "json/utf8.h"

#include <catch2/catch.hpp>

using namespace json;
using namespace std::string_literals;

namespace {

class Read {
public:
  explicit Read(std::string_view text)
      : root_(read(text).root), fields_(root_, "/limits/3", "limit \"gap\"", faults_) {}
  Fields* operator->() { return &fields_; }
  const std::vector<Fault>& faults() const { return faults_; }

  const Fault& only_fault() const {
    REQUIRE(faults_.size() == 1);
    return faults_.front();
  }

private:
  Value root_;
  std::vector<Fault> faults_;
  Fields fields_;
};

} // namespace

TEST_CASE("fields of the right kind are given without a fault") {
  Read read(R"({"t":"x","b":false,"i":-7,"n":2.500,"a":[1],"o":{"k":1},"any":null})");
  REQUIRE(read->text("t"));
  CHECK(*read->text("t") == "x");
  CHECK(read->boolean("b") == false);
  CHECK(read->integer("i") == -7);
  REQUIRE(read->number("n"));
  CHECK(*read->number("n") == quantity::Exact::ratio(5, 2));
  REQUIRE(read->array("a"));
  CHECK(read->array("a")->items().size() == 1);
  REQUIRE(read->object("o"));
  CHECK(read->object("o")->at("k").as_integer() == 1);
  REQUIRE(read->any("any"));
  CHECK(read->any("any")->is(Kind::null));
  CHECK(read->has("t"));
  CHECK_FALSE(read->has("u"));
  read->refuse_unknown();
  CHECK(read.faults().empty());
}

TEST_CASE("an absent field is a fault at the object unless it may be absent") {
  Read read("\n  {}");
  CHECK_FALSE(read->text("t", false));
  CHECK_FALSE(read->number("n", false));
  CHECK_FALSE(read->any("x", false));
  CHECK(read.faults().empty());
  CHECK_FALSE(read->text("t"));
  CHECK_FALSE(read->boolean("b"));
  CHECK_FALSE(read->integer("i"));
  CHECK_FALSE(read->number("n"));
  CHECK_FALSE(read->array("a"));
  CHECK_FALSE(read->object("o"));
  REQUIRE(read.faults().size() == 6);
  const Fault& first = read.faults().front();
  CHECK(first.message == "limit \"gap\": the field \"t\" is missing");
  CHECK(first.pointer == "/limits/3");
  CHECK(first.place.line == 2);
  CHECK(first.place.column == 3);
}

TEST_CASE("a field of the wrong kind is a fault at its value, also when it may be absent") {
  Read read("{\"n\":\n \"2.5\"}");
  CHECK_FALSE(read->number("n", false));
  CHECK(read.only_fault().message == "limit \"gap\": \"n\" must be a number, not a text");
  CHECK(read.only_fault().pointer == "/limits/3/n");
  CHECK(read.only_fault().place.line == 2);
  CHECK(read.only_fault().place.column == 2);
}

TEST_CASE("each kind is named in words") {
  const auto wrong = [](std::string_view text) {
    Read read(text);
    read->text("k");
    return read.only_fault().message;
  };
  CHECK(wrong(R"({"k":null})") == "limit \"gap\": \"k\" must be a text, not null");
  CHECK(wrong(R"({"k":true})") == "limit \"gap\": \"k\" must be a text, not true or false");
  CHECK(wrong(R"({"k":1})") == "limit \"gap\": \"k\" must be a text, not a number");
  CHECK(wrong(R"({"k":[]})") == "limit \"gap\": \"k\" must be a text, not a list");
  CHECK(wrong(R"({"k":{}})") == "limit \"gap\": \"k\" must be a text, not an object");
  CHECK(wrong(R"({"k":""})") == "limit \"gap\": \"k\" must not be empty");
}

TEST_CASE("a number that is not whole is no integer") {
  for (const char* text : {R"({"i":1.0})", R"({"i":1e2})", R"({"i":9223372036854775808})"}) {
    Read read(text);
    CHECK_FALSE(read->integer("i"));
    CHECK_THAT(read.only_fault().message, Catch::Contains("\"i\" must be a whole number"));
  }
}

TEST_CASE("a number with too many digits is a fault, not rounded") {
  Read read("{\"n\":0." + std::string(60, '1') + "}");
  CHECK_FALSE(read->number("n"));
  CHECK_THAT(read.only_fault().message, Catch::StartsWith("limit \"gap\": \"n\": "));
}

TEST_CASE("what is no object is one fault and reads as empty") {
  Read read("[1]");
  CHECK_FALSE(read->has("t"));
  CHECK_FALSE(read->text("t"));
  CHECK_FALSE(read->any("x"));
  CHECK_FALSE(read->object("o"));
  read->refuse_unknown();
  CHECK(read.only_fault().message == "limit \"gap\": must be an object, not a list");
  CHECK(read.only_fault().pointer == "/limits/3");
}

TEST_CASE("every unknown field is a fault at its key") {
  Read read("{\"low\":1,\n \"a/b~\":2, \"zzz\":3}");
  read->number("low");
  read->refuse_unknown();
  REQUIRE(read.faults().size() == 2);
  CHECK(read.faults()[0].message == "limit \"gap\": unknown field \"a/b~\"");
  CHECK(read.faults()[0].pointer == "/limits/3/a~1b~0");
  CHECK(read.faults()[0].place.line == 2);
  CHECK(read.faults()[0].place.column == 2);
  CHECK(read.faults()[1].pointer == "/limits/3/zzz");
}

TEST_CASE("a misspelt field is told the name that was meant") {
  const auto meant = [](std::string_view key) {
    Read read("{\"" + std::string(key) + "\":1}");
    for (const char* known : {"id", "tighten", "tolerance", "u", "unit", "high"}) read->any(known, false);
    read->refuse_unknown();
    const std::string& message = read.only_fault().message;
    const auto at = message.find("did you mean \"");
    return at == std::string::npos ? ""s : message.substr(at + 14, message.find('"', at + 14) - at - 14);
  };
  CHECK(meant("tolerence") == "tolerance"); // one letter changed
  CHECK(meant("tigthen") == "tighten");     // two letters swapped
  CHECK(meant("tightten") == "tighten");    // one letter too many
  CHECK(meant("hig") == "high");            // one letter too few
  CHECK(meant("Unit") == "unit");
  CHECK(meant("tollerence") == "tolerance");
  CHECK(meant("colour") == "");
  CHECK(meant("x") == "");
  CHECK(meant("di") == "id");
  CHECK(meant(std::string(5000, 't')) == "");
}

TEST_CASE("a fault of the caller's own stands at its member or at the object") {
  Read read("\n{\"low\":\n1}");
  read->fault("low", "is above the high limit");
  read->fault("", "has no side");
  read->fault("absent", "would be needed");
  REQUIRE(read.faults().size() == 3);
  CHECK(read.faults()[0].message == "limit \"gap\": is above the high limit");
  CHECK(read.faults()[0].pointer == "/limits/3/low");
  CHECK(read.faults()[0].place.line == 3);
  CHECK(read.faults()[1].pointer == "/limits/3");
  CHECK(read.faults()[1].place.line == 2);
  CHECK(read.faults()[2].pointer == "/limits/3");
}

TEST_CASE("a fault at the object stays there though a member has an empty name") {
  Read read(R"({"":1})");
  read->fault("", "has no side");
  CHECK(read.only_fault().pointer == "/limits/3");
  CHECK(read.only_fault().place.column == 1);
}

// RFC 6901 section 3.
TEST_CASE("a pointer escapes tilde and slash") {
  Read read("{}");
  CHECK(read->pointer_to("a/b") == "/limits/3/a~1b");
  CHECK(read->pointer_to("m~n") == "/limits/3/m~0n");
  CHECK(read->pointer_to("~1") == "/limits/3/~01");
}

// Unicode Character Database: General_Category Cc, Zl, Zp and PropList.txt Bidi_Control, as perl 5.36 lists them.
TEST_CASE("hidden characters are found and no others") {
  const auto is_listed = [](char32_t code) {
    return code <= 0x1f || (code >= 0x7f && code <= 0x9f) || code == 0x61c || code == 0x200e || code == 0x200f ||
           code == 0x2028 || code == 0x2029 || (code >= 0x202a && code <= 0x202e) || (code >= 0x2066 && code <= 0x2069);
  };
  for (char32_t code = 0; code < 0x3000; ++code) {
    std::string text = "a";
    testing::RandomDocuments::append_utf8(text, code);
    if (has_hidden_characters(text + "b") != is_listed(code)) FAIL_CHECK("U+" << std::hex << std::uint32_t{code});
  }
}

TEST_CASE("bytes that are not UTF-8 count as hidden, letters of any language do not") {
  CHECK(has_hidden_characters("ab\xff"));
  CHECK(has_hidden_characters("\xe2\x82"));
  CHECK_FALSE(has_hidden_characters(""));
  CHECK_FALSE(has_hidden_characters("Kolbenspiel 0,05 mm \u00b1 \u03bc \u0416 \u05d0 \u4e2d \U0001F600"));
}

// RFC 3629 sections 3 and 4: first and last character of each length, and the sequences its grammar leaves out.
TEST_CASE("UTF-8 is taken strictly") {
  for (const char* good : {"\x7f", "\xc2\x80", "\xdf\xbf", "\xe0\xa0\x80", "\xed\x9f\xbf", "\xee\x80\x80",
                           "\xef\xbf\xbf", "\xf0\x90\x80\x80", "\xf4\x8f\xbf\xbf"}) {
    CAPTURE(shown(good));
    CHECK(is_utf8("a"s + good + "b"));
  }
  for (const char* bad :
       {"\x80", "\xbf", "\xc0\x80", "\xc1\xbf", "\xc2", "\xc2\xc2", "\xe0\x9f\xbf", "\xed\xa0\x80", "\xed\xbf\xbf",
        "\xe2\x82", "\xf0\x8f\xbf\xbf", "\xf0\x90\x80", "\xf4\x90\x80\x80", "\xf5\x80\x80\x80", "\xff"}) {
    CAPTURE(shown(bad));
    CHECK_FALSE(is_utf8("a"s + bad));
    CHECK_FALSE(is_utf8(bad + "b"s));
  }
}

TEST_CASE("foreign text is shown on one line, escaped and cut") {
  CHECK(shown("gap") == "\"gap\"");
  CHECK(shown("a\nb\u202e\xff") == "\"a\\u000ab\\u202e\\xff\"");
  std::string long_text;
  for (int i = 0; i < 100; ++i) long_text += "\u00e9";
  CHECK(shown(long_text).size() == 2 + 60 * 2 + 3);
  CHECK(shown("abcd", 4) == "\"abcd\"");
  CHECK(shown("abcde", 4) == "\"abcd...\"");
}
