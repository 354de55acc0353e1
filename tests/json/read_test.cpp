#include "json/random_document.h"
#include "json/read.h"
#include "json/write.h"

#include <catch2/catch.hpp>

#include <fstream>
#include <sys/stat.h>
#include <unistd.h>

using namespace json;
using namespace std::string_literals;

namespace {

Fault only_fault(std::string_view text) {
  const Document document = read(text);
  CAPTURE(text);
  REQUIRE(document.faults.size() == 1);
  CHECK(document.root.is(Kind::null));
  return document.faults.front();
}

Value good(std::string_view text) {
  Document document = read(text);
  CAPTURE(text);
  for (const Fault& fault : document.faults) UNSCOPED_INFO(fault.message);
  REQUIRE(document.faults.empty());
  return std::move(document.root);
}

bool stands_at(Place place, std::uint32_t line, std::uint32_t column) {
  UNSCOPED_INFO("stands at line " << place.line << ", column " << place.column);
  return place.line == line && place.column == column;
}

bool is_inside(Place place, const std::string& text) {
  std::vector<std::size_t> characters_of_line(1);
  for (const char c : text) {
    if (c == '\n') {
      characters_of_line.push_back(0);
    } else if ((static_cast<unsigned char>(c) & 0xc0) != 0x80) {
      ++characters_of_line.back();
    }
  }
  if (place.line < 1 || place.line > characters_of_line.size()) return false;
  return place.column >= 1 && place.column <= characters_of_line[place.line - 1] + 1;
}

std::string nested(int depth, const std::string& open, const std::string& close) {
  std::string text;
  for (int i = 0; i < depth; ++i) text += open;
  text += "0";
  for (int i = 0; i < depth; ++i) text += close;
  return text;
}

class Folder {
public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "json-test-XXXXXX").string();
    if (!::mkdtemp(name.data())) throw std::runtime_error("no temporary folder");
    path_ = name;
  }
  ~Folder() { std::filesystem::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::filesystem::path operator/(const char* name) const { return path_ / name; }

private:
  std::filesystem::path path_;
};

} // namespace

TEST_CASE("every kind of value is read") {
  const Value root = good(R"({"none":null,"yes":true,"no":false,"n":-12,"t":"a","l":[1,[]],"o":{}})");
  CHECK(root.at("none").is(Kind::null));
  CHECK(root.at("yes").as_boolean());
  CHECK_FALSE(root.at("no").as_boolean());
  CHECK(root.at("n").as_integer() == -12);
  CHECK(root.at("t").as_text() == "a");
  CHECK(root.at("l").items().size() == 2);
  CHECK(root.at("l").items()[1].items().empty());
  CHECK(root.at("o").members().empty());
  CHECK(root.members().front().key == "none");
  CHECK(root.members().back().key == "o");
}

TEST_CASE("a document may be a single value") {
  CHECK(good(" true\n").as_boolean());
  CHECK(good("\"\"").as_text().empty());
  CHECK(good("0").as_integer() == 0);
}

TEST_CASE("a number keeps its text") {
  const auto text = GENERATE("2.500"s, "-0"s, "1E-3"s, "0"s, "-0.0"s, "1e+2"s, "18446744073709551616"s,
                             "0." + std::string(2000, '3'), "1e-999"s);
  CHECK(good(text).number_text() == text);
  CHECK(good("[" + text + "]").items()[0].number_text() == text);
  CHECK(good("{\"a\" : " + text + " }").at("a").number_text() == text);
}

TEST_CASE("only a plain whole number that fits is an integer") {
  CHECK(good("9223372036854775807").as_integer() == INT64_MAX);
  CHECK(good("-9223372036854775808").as_integer() == INT64_MIN);
  CHECK(good("-0").as_integer() == 0);
  for (const char* text : {"9223372036854775808", "1.0", "1e2", "\"1\"", "null"}) {
    CAPTURE(text);
    CHECK_FALSE(good(text).as_integer().has_value());
  }
}

TEST_CASE("escapes in a text become characters") {
  CHECK(good(R"("\u0022\\\/\b\f\n\r\t\u20ac\ud83d\ude00")").as_text() == "\"\\/\b\f\n\r\t\u20ac\U0001F600");
  CHECK(good(R"("a\u0000b")").as_text() == "a\0b"s);
}

TEST_CASE("values and keys know their line and column") {
  const Value root = good("{\n"
                          "  \"a\": [1,\n"
                          "    {\"b\" :2.50}],\n"
                          "  \"c\":\n"
                          "    \"}{][\\\",:\",  \"d\" : false\n"
                          "}\n");
  CHECK(stands_at(root.place(), 1, 1));
  CHECK(stands_at(root.members()[0].place, 2, 3));
  const Value& list = root.at("a");
  CHECK(stands_at(list.place(), 2, 8));
  CHECK(stands_at(list.items()[0].place(), 2, 9));
  CHECK(stands_at(list.items()[1].place(), 3, 5));
  CHECK(stands_at(list.items()[1].members()[0].place, 3, 6));
  CHECK(stands_at(list.items()[1].at("b").place(), 3, 11));
  CHECK(stands_at(root.members()[1].place, 4, 3));
  CHECK(stands_at(root.at("c").place(), 5, 5));
  CHECK(stands_at(root.members()[2].place, 5, 18));
  CHECK(stands_at(root.at("d").place(), 5, 24));
}

TEST_CASE("a line ended by carriage return and line feed is one line") {
  const Value root = good("[\r\n1,\r\n\r\n 2]\r\n");
  CHECK(stands_at(root.items()[0].place(), 2, 1));
  CHECK(stands_at(root.items()[1].place(), 4, 2));
}

TEST_CASE("a tab is one column") {
  CHECK(stands_at(good("[\t\t7]").items()[0].place(), 1, 4));
}

TEST_CASE("a character of several bytes is one column") {
  const Value root = good("[\"\u00e9\u20ac\U0001F600\", 1, {\"\u00fc\": 2}]");
  CHECK(stands_at(root.items()[1].place(), 1, 9));
  CHECK(stands_at(root.items()[2].at("\u00fc").place(), 1, 18));
}

// The list after RFC 8785 section 3.1 (input must be I-JSON, RFC 7493) and RFC 8259.
TEST_CASE("what I-JSON forbids is refused at its place") {
  struct Sample {
    std::string text;
    std::uint32_t column;
    std::string says;
  };
  const std::vector<Sample> samples = {
      {R"({"a":1,"a":2})", 8, "already given on line 1, column 2"},
      {R"({"a":1,"\u0061":2})", 8, "already given"},
      {R"("\ud800")", 2, "half of a character"},
      {R"("x\ud800y")", 3, "half of a character"},
      {R"("\ud800\u0041")", 2, "half of a character"},
      {R"("\ud800\ud800")", 2, "half of a character"},
      {R"("\udc00\ud800")", 2, "half of a character"},
      {"\"\xc3\x28\"", 2, "not valid UTF-8"},
      {"\"ab\xff\"", 4, "not valid UTF-8"},
      {"\"\xc0\x80\"", 2, "not valid UTF-8"},         // a longer form than needed
      {"\"\xed\xa0\x80\"", 2, "not valid UTF-8"},     // a surrogate in UTF-8
      {"\"\xf4\x90\x80\x80\"", 2, "not valid UTF-8"}, // above U+10FFFF
      {"1e999", 1, "too large"},
      {"[1,-1e999]", 4, "too large"},
      {std::string(400, '9'), 1, "too large"},
      {"NaN", 1, "\"NaN\" stands without quotes"},
      {"[Infinity]", 2, "stands without quotes"},
      {"{} x", 4, "behind the end of the document"},
      {"1 2", 3, "behind the end of the document"},
      {"{}\0"s, 3, "behind the end of the document"},
      {"{}\0{}"s, 3, "behind the end of the document"},
      {"\xef\xbb\xbf{}", 1, "byte order mark"},
      {"[\xef\xbb\xbf]", 2, "byte order mark"},
  };
  for (const Sample& sample : samples) {
    const Fault fault = only_fault(sample.text);
    CAPTURE(sample.text);
    CHECK_THAT(fault.message, Catch::Contains(sample.says));
    CHECK(stands_at(fault.place, 1, sample.column));
  }
}

TEST_CASE("every duplicate key is told, with its pointer") {
  const Document document = read("{\"a\":1,\n"
                                 " \"a\":2, \"b\":[0,{\"x/y\":1,\"x/y\":2,\"~\":0,\"~\":[]}],\n"
                                 " \"a\":{\"b\":1}}");
  REQUIRE(document.faults.size() == 4);
  CHECK(document.root.is(Kind::null));
  CHECK(document.faults[0].pointer == "/a");
  CHECK(stands_at(document.faults[0].place, 2, 2));
  CHECK(document.faults[1].pointer == "/b/1/x~1y");
  CHECK(document.faults[2].pointer == "/b/1/~0");
  CHECK(document.faults[3].pointer == "/a");
  CHECK(stands_at(document.faults[3].place, 3, 2));
}

TEST_CASE("the same key in two objects is no duplicate") {
  CHECK(good(R"({"a":{"a":[{"a":1},{"a":2}]},"b":{"a":3}})").members().size() == 2);
}

TEST_CASE("nesting of 64 is read, 65 is refused") {
  CHECK(good(nested(64, "[", "]")).is(Kind::array));
  CHECK(good(nested(64, "{\"a\":", "}")).is(Kind::object));
  const Fault lists = only_fault(nested(65, "[", "]"));
  CHECK(stands_at(lists.place, 1, 65));
  CHECK_THAT(lists.message, Catch::Contains("64"));
  const Fault objects = only_fault(nested(65, "{\"a\":", "}"));
  CHECK(stands_at(objects.place, 1, 64 * 5 + 1));
  CHECK(objects.pointer.size() == 2 * 64);
  CHECK_THAT(only_fault(std::string(1000000, '[')).message, Catch::Contains("64"));
}

TEST_CASE("a text over 16 MB is refused for its size alone") {
  std::string text(largest_text, ' ');
  text.front() = '?';
  CHECK_THAT(only_fault(text).message, Catch::Contains("a value is missing"));
  text += ' ';
  CHECK_THAT(only_fault(text).message, Catch::Contains("larger than 16 MB"));
}

TEST_CASE("broken text is explained where it breaks") {
  struct Sample {
    std::string text;
    std::uint32_t line, column;
    std::string pointer, says;
  };
  const std::vector<Sample> samples = {
      {"", 1, 1, "", "the text is empty; is it the right file?"},
      {" \n\t", 2, 2, "", "the text is empty; is it the right file?"},
      {"[1\n 2]", 2, 2, "", "a comma or the closing ] is missing here"},
      {"{\"a\":1 \"b\":2}", 1, 8, "", "a comma or the closing } is missing here"},
      {"{\"a\":[1}", 1, 8, "/a", "a comma or the closing ] is missing here"},
      {"{\"a\" 1}", 1, 6, "/a", "a colon is missing here, between a field's name and its value"},
      {"[1,]", 1, 3, "", "nothing follows this comma; remove it"},
      {"{\"a\":1 ,\n}", 1, 8, "", "nothing follows this comma; remove it"},
      {"[1,,2]", 1, 4, "", "a value is missing before \",\""},
      {"[,1]", 1, 2, "", "a value is missing before \",\""},
      {"{\"a\":}", 1, 6, "/a", "a value is missing before \"}\""},
      {"]", 1, 1, "", "a value is missing before \"]\""},
      {"{,}", 1, 2, "", "the name of a field is missing before \",\""},
      {"{1:2}", 1, 2, "", "the name of a field is missing here; it stands in double quotes"},
      {"{a:2}", 1, 2, "", "the name of a field stands in double quotes"},
      {"{'a':2}", 1, 2, "", "text stands in double quotes, not in single ones"},
      {"[\u201ca\u201d]", 1, 2, "", "text stands in straight double quotes"},
      {"[1, // one\n2]", 1, 5, "", "a comment has no place in JSON; remove it"},
      {"[True]", 1, 2, "", "\"True\" stands without quotes, and only true, false, null and numbers may"},
      {"[nul]", 1, 2, "", "\"nul\" stands without quotes, and only true, false, null and numbers may"},
      {"[truely]", 1, 6, "", "this does not belong to the number or word before it"},
      {"[012]", 1, 3, "", "this does not belong to the number or word before it"},
      {"1.2.3", 1, 4, "", "this does not belong to the number or word before it"},
      {"[.5]", 1, 2, "", "a number starts with a digit or a minus sign"},
      {"[+5]", 1, 2, "", "a number starts with a digit or a minus sign"},
      {"[-]", 1, 2, "", "a minus sign must be followed by the digits of a number"},
      {"[5.]", 1, 2, "", "a number needs a digit behind its decimal point"},
      {"[5e+]", 1, 2, "", "a number needs a digit in its exponent"},
      {"[1", 1, 3, "", "the text ends inside a list; its closing ] is missing, or the file is not whole"},
      {"[", 1, 2, "", "the text ends inside a list; its closing ] is missing, or the file is not whole"},
      {"{\"a\":[]\n", 2, 1, "", "the text ends inside an object; its closing } is missing, or the file is not whole"},
      {"{\"a\":", 1, 6, "/a", "the text ends where a value is missing; is the file whole?"},
      {"{\"a\"", 1, 5, "/a", "the text ends behind the name of a field; is the file whole?"},
      {"[\"ab", 1, 2, "", "the text that starts here has no closing quote"},
      {"[\"ab\\", 1, 2, "", "the text that starts here has no closing quote"},
      {"[\"ab\n\"]", 1, 2, "",
       "the text that starts here has no closing quote on its line; a line end inside it is "
       "written \\n"},
      {"[\"a\tb\"]", 1, 4, "", "a control character inside a text is written \\u0009"},
      {"[\"a\0b\"]"s, 1, 4, "", "a control character inside a text is written \\u0000"},
      {"[ \0]"s, 1, 3, "", "a control character stands here; remove it"},
      {"[\0]\0"s, 1, 1, "",
       "the text is UTF-16 or not text at all; open it in the editor that wrote it and save it as UTF-8"},
      {"\xfe\xff\0["s, 1, 1, "",
       "the text is UTF-16 or not text at all; open it in the editor that wrote it and save it as UTF-8"},
      {"[\"\\q\"]", 1, 3, "",
       "behind a backslash stands one of \" \\ / b f n r t u; a backslash itself is written \\\\"},
      {"[\"a\\u12g4\"]", 1, 4, "", "\\u takes four hexadecimal digits"},
      {"[\xff]", 1, 2, "", "these bytes are not valid UTF-8; save the file as UTF-8"},
  };
  for (const Sample& sample : samples) {
    const Fault fault = only_fault(sample.text);
    CAPTURE(sample.text);
    CHECK(fault.message == sample.says);
    CHECK(stands_at(fault.place, sample.line, sample.column));
    CHECK(fault.pointer == sample.pointer);
  }
}

TEST_CASE("duplicates before a syntax error are told as well") {
  const Document document = read(R"({"a":1,"a":2,"b":x})");
  REQUIRE(document.faults.size() == 2);
  CHECK_THAT(document.faults[0].message, Catch::Contains("already given"));
  CHECK_THAT(document.faults[1].message, Catch::Contains("\"x\" stands without quotes"));
}

TEST_CASE("a hostile key cannot break the line of a message") {
  const Fault fault =
      only_fault("{\"a\\n\\u202e" + std::string(200, 'b') + "\":1,\"a\\n\\u202e" + std::string(200, 'b') + "\":2}");
  CHECK(fault.message.find('\n') == std::string::npos);
  CHECK_THAT(fault.message, Catch::Contains("\"a\\u000a\\u202ebbb"));
  CHECK(fault.message.size() < 200);
}

TEST_CASE("read_one gives the first fault as an error") {
  CHECK(read_one("[1]").value().items().size() == 1);
  const auto refused = read_one("{\n \"a\":1,\n \"a\":2 x}");
  REQUIRE_FALSE(refused.ok());
  CHECK(refused.error().code == "not-json");
  CHECK(refused.error().message ==
        "line 3, column 2: the field \"a\" is already given on line 2, column 2; keep one of the two");
}

TEST_CASE("a file is read whole and unchanged") {
  const Folder folder;
  const std::string content = "\r\n\0\xff plain bytes"s + std::string(200000, 'x');
  std::ofstream(folder / "some.json", std::ios::binary) << content;
  CHECK(read_file(folder / "some.json").value() == content);
  CHECK(read_file(folder / "some.json", content.size()).ok());
  const auto larger = read_file(folder / "some.json", content.size() - 1);
  REQUIRE_FALSE(larger.ok());
  CHECK(larger.error().code == "unreadable");
  CHECK_THAT(larger.error().message, Catch::Contains("some.json") && Catch::Contains("larger than"));
}

TEST_CASE("what is no plain file is refused by name and not waited for") {
  const Folder folder;
  REQUIRE(::mkfifo((folder / "pipe").c_str(), 0600) == 0);
  const std::vector<std::pair<std::filesystem::path, std::string>> samples = {
      {folder / "absent.json", "there is no such file"},
      {folder / ".", "it is a folder; name a file in it"},
      {folder / "pipe", "it is a device or a pipe, not a file; save it as a file first"},
      {"/dev/zero", "it is a device or a pipe, not a file; save it as a file first"},
      {folder / "absent.json" / "deeper", "there is no such file"},
  };
  for (const auto& [path, says] : samples) {
    const auto refused = read_file(path);
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.error().code == "unreadable");
    CHECK(refused.error().message == "\"" + path.string() + "\" cannot be read: " + says);
  }
}

TEST_CASE("damaged text never crashes and gives a document or a fault inside the text") {
  testing::RandomDocuments random(20240);
  const std::string spare = "{}[]\":,0123456789.eE+-truefalsn\\ud8 \n\r\t\0\xc3\xa9\xed\xff/'"s;
  int refused = 0;
  for (int round = 0; round < 3000; ++round) {
    std::string text = round % 2 == 0 ? compact(random.document(false)) : pretty(random.document(false));
    for (std::size_t damages = 1 + random.below(3); damages > 0; --damages) {
      const std::size_t at = random.below(text.size() + 1);
      const char byte = random.below(4) == 0 ? static_cast<char>(random.below(256)) : spare[random.below(spare.size())];
      switch (random.below(4)) {
      case 0: text.insert(at, 1, byte); break;
      case 1: text.erase(at, 1 + random.below(3)); break;
      case 2: text.resize(at); break;
      default:
        if (at < text.size()) text[at] = byte;
      }
    }
    const Document document = read(text);
    if (document.faults.empty()) {
      CHECK(read_one(compact(document.root)).value() == document.root);
      continue;
    }
    ++refused;
    for (const Fault& fault : document.faults) {
      if (is_inside(fault.place, text) && !fault.message.empty()) continue;
      FAIL_CHECK("fault outside of the text: " << fault.message << " in " << text);
    }
  }
  CHECK(refused > 1500);
}

TEST_CASE("a field given twice is told with the place of the first, in objects of few fields and of many") {
  for (const int fields : {2, 23, 24, 25, 26, 300}) {
    std::string text = "{";
    for (int i = 0; i < fields; ++i) text += "\"f" + std::to_string(i) + "\":0,\n";
    for (const int twice : {0, fields - 1, 1}) {
      const auto document = json::read(text + "\"f" + std::to_string(twice) + "\":1}");
      INFO(fields << " fields, " << twice);
      REQUIRE(document.faults.size() == 1);
      const std::string place = "line " + std::to_string(twice + 1) + ", column " + (twice == 0 ? "2" : "1");
      CHECK(document.faults.front().message.find("\"f" + std::to_string(twice) + "\" is already given on " + place) !=
            std::string::npos);
      CHECK(document.faults.front().place.line == static_cast<std::uint32_t>(fields + 1));
    }
    CHECK(json::read(text + "\"other\":1}").faults.empty());
  }
}
