#include "command/prompt.h"

#include "record/seal.h"
#include "record/session.h"
#include "json/read.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <istream>
#include <ostream>
#include <sstream>

using prompt::call;
using prompt::check_refused;
using prompt::content;
using prompt::Folder;
using prompt::Said;
using prompt::write;

namespace {

const std::string enrol = R"({"do":"enrol","person":"ada","name":"Ada Vane","roles":["builder","owner"],)"
                          R"("passphrase":"kettle on the stove"})";
const std::string sign_in = R"({"do":"sign-in","person":"ada","passphrase":"kettle on the stove"})";
const std::string add_gauge = R"({"do":"add-gauge","gauge":"m1","kind":"micrometer","unit":"mm","resolution":0.001})";

// A closed practice shop with two events, made once.
const std::string& shop_bytes() {
  static const std::string bytes = [] {
    const Folder folder;
    const Said said =
        call({"drive", "--shop", folder / "shop", "--practice"}, enrol + '\n' + sign_in + '\n' + add_gauge + '\n');
    INFO(said.out);
    REQUIRE(said.lines().size() == 3);
    for (const std::string& line : said.lines()) REQUIRE_THAT(line, Catch::StartsWith("{\"ok\":true"));
    return content(folder / "shop");
  }();
  return bytes;
}

std::string shop_in(const Folder& folder) {
  write(folder / "shop", shop_bytes());
  return folder / "shop";
}

std::string replaced(std::string bytes, const std::string& from, const std::string& to) {
  const std::size_t at = bytes.find(from);
  REQUIRE(at != std::string::npos);
  return bytes.replace(at, from.size(), to);
}

// Behind the beginning, on the line that starts with it.
std::string behind(const Said& said, const std::string& beginning) {
  for (const std::string& line : said.lines())
    if (line.starts_with(beginning)) return line.substr(beginning.size());
  FAIL("no line starts with " << beginning << " in " << said.out);
  return "";
}

std::string head_of(const Said& said) {
  return behind(said, "head: shop, event 3, ");
}

std::string in_capitals(std::string text) {
  std::ranges::transform(text, text.begin(),
                         [](char c) { return c >= 'a' && c <= 'f' ? static_cast<char>(c - 32) : c; });
  return text;
}

} // namespace

// --- drive
// ------------------------------------------------------------------------------------------------------------

TEST_CASE("every line is answered with one line, refusals too") {
  const Folder folder;
  const std::string lines = "not JSON\n" + enrol + "\n\n" + enrol + "\r\n\r\n[1]\n" + R"({"do":"dance"})" + "\n" +
                            R"({"do":"sign-out"})"; // no line end
  const Said said = call({"drive", "--shop", folder / "shop"}, lines);
  CHECK(said.exit == 0);
  CHECK(said.err == "");
  const auto answers = said.lines();
  REQUIRE(answers.size() == 6);
  CHECK_THAT(answers[0], Catch::StartsWith(R"({"ok":false,"error":"not-json",)"));
  CHECK_THAT(answers[1], Catch::StartsWith(R"({"ok":true,)"));
  CHECK_THAT(answers[2], Catch::StartsWith(R"({"ok":false,"error":"sign-in-needed",)"));
  CHECK_THAT(answers[3], Catch::StartsWith(R"({"ok":false,"error":"unknown-action",)"));
  CHECK_THAT(answers[4], Catch::StartsWith(R"({"ok":false,"error":"unknown-action",)"));
  CHECK_THAT(answers[5], Catch::StartsWith(R"({"ok":true)"));
}

TEST_CASE("a line is answered before the next is read") {
  // Gives a line only when all before it have been answered.
  struct Waiting : std::streambuf {
    explicit Waiting(const std::ostringstream& watched) : out(watched) {}
    int_type underflow() override {
      const std::string answers = out.str();
      CHECK(std::ranges::count(answers, '\n') == given);
      if (given == 3) return traits_type::eof();
      ++given;
      setg(line.data(), line.data(), line.data() + line.size());
      return traits_type::to_int_type(line.front());
    }
    const std::ostringstream& out;
    std::string line = "{\"do\":\"sign-out\"}\n";
    int given = 0;
  };
  const Folder folder;
  std::ostringstream out;
  std::ostringstream err;
  Waiting waiting(out);
  std::istream in(&waiting);
  CHECK(command::run({"drive", "--shop", folder / "shop"}, {in, out, err}) == 0);
  CHECK(waiting.given == 3);
}

TEST_CASE("an answer is pushed out at once") {
  struct Counting : std::stringbuf {
    int sync() override {
      ++times;
      return 0;
    }
    int times = 0;
  } counting;
  const Folder folder;
  std::istringstream in("{\"do\":\"sign-out\"}\n{\"do\":\"sign-out\"}\n");
  std::ostream out(&counting);
  std::ostringstream err;
  CHECK(command::run({"drive", "--shop", folder / "shop"}, {in, out, err}) == 0);
  CHECK(counting.times >= 2);
}

TEST_CASE("a line longer than any JSON is answered, and the next is read") {
  const Folder folder;
  const Said said = call({"drive", "--shop", folder / "shop"},
                         std::string(json::largest_text + 1000, ' ') + "\n{\"do\":\"sign-out\"}\n");
  CHECK(said.exit == 0);
  REQUIRE(said.lines().size() == 2);
  CHECK_THAT(said.lines()[0], Catch::StartsWith(R"({"ok":false,"error":"not-json",)"));
  CHECK_THAT(said.lines()[1], Catch::StartsWith(R"({"ok":true)"));
}

TEST_CASE("when answers cannot be written no more lines are read") {
  struct Full : std::streambuf {
  } full;
  const Folder folder;
  std::istringstream in("{\"do\":\"sign-out\"}\n{\"do\":\"sign-out\"}\n");
  std::ostream out(&full);
  std::ostringstream err;
  CHECK(command::run({"drive", "--shop", folder / "shop"}, {in, out, err}) == 2);
  CHECK(err.str() == "error: the answer could not be written to stdout\n");
  CHECK(static_cast<int>(in.tellg()) == 18);
}

TEST_CASE("lines that break off are answered as far as they came, with exit 2") {
  struct Broken : std::streambuf {
    explicit Broken() { setg(line.data(), line.data(), line.data() + line.size()); }
    int_type underflow() override { throw std::ios_base::failure("the disk is gone"); }
    std::string line = "{\"do\":\"sign-out\"}\n";
  } broken;
  const Folder folder;
  std::istream in(&broken);
  std::ostringstream out;
  std::ostringstream err;
  CHECK(command::run({"drive", "--shop", folder / "shop"}, {in, out, err}) == 2);
  CHECK(out.str() == "{\"ok\":true}\n");
  CHECK(err.str() == "error: stdin could not be read to its end\n");
}

TEST_CASE("a passphrase is never repeated, however its line is spoilt") {
  const std::vector<std::string> secret_lines = {
      R"({"do":"enrol","person":"ben","name":"Ben Low","roles":["builder"],"passphrase":"zanzibar quagmire"})",
      R"({"do":"enrol","person":"ben","name":"Ben Low","roles":["builder"],"passphrase":"zanzib"})",
      R"({"do":"enrol","person":"ben","name":"Ben Low","roles":"builder","passphrase":"zanzibar quagmire"})",
      R"({"do":"enrol","person":"ben","passphrase":"zanzibar quagmire"})",
      R"({"do":"sign-in","person":"ada","passphrase":"zanzibar quagmire"})",
      R"({"do":"sign-in","person":"zoe","passphrase":"zanzibar quagmire"})",
      R"({"do":"sign-in","person":"ada","passphrase":"zanzibar \u0007 quagmire"})",
      R"({"do":"sign-in","person":"ada","passphrase":["zanzibar","quagmire"]})",
      R"({"do":"sign-in","person":"ada","pasphrase":"zanzibar quagmire"})",
      R"({"do":"sign-in","person":"ada","passphrase":zanzibar quagmire})",
      R"({"do":"sign-in","person":"ada","passphrase":"zanzibar" quagmire})",
      R"({"do":"sign-in","person":"ada","passphrase":"zanzibar" "quagmire"})",
      R"({"do":"sign-in","person":"ada","passphrase":"zanzibar quagmire)",
      R"({"do":"sign-in","person":"ada","passphrase":"zanzibar quagmire","passphrase":"zanzibar quagmire"})",
      R"({"do":"dance","passphrase":"zanzibar quagmire"})",
      R"({"do":"change-passphrase","person":"ada","passphrase":"zanzibar quagmire","new":"zanzibar"})",
      R"({"do":"change-passphrase","person":"ada","passphrase":"kettle on the stove","new":"zanzib"})",
      R"({"do":"change-passphrase","person":"ada","passphrase":"kettle on the stove","new":"zanzibar quagmire"})",
      R"(zanzibar quagmire)"};
  const Folder folder;
  const std::string shop = shop_in(folder);
  std::string lines = sign_in + '\n';
  for (const std::string& line : secret_lines) lines += line + '\n';
  const Said said = call({"drive", "--shop", shop}, lines);
  CHECK(said.exit == 0);
  CHECK(said.lines().size() == secret_lines.size() + 1);
  for (const std::string secret : {"zanz", "quag", "kettle"}) {
    for (const std::string& answer : said.lines()) CHECK_THAT(answer, !Catch::Contains(secret));
    CHECK(said.err.find(secret) == std::string::npos);
    CHECK(content(shop).find(secret) == std::string::npos);
  }
}

TEST_CASE("a practice session on a real shop is refused and changes nothing") {
  const Folder folder;
  REQUIRE_THAT(call({"drive", "--shop", folder / "shop"}, enrol).out, Catch::StartsWith(R"({"ok":true,)"));
  const std::string before = content(folder / "shop");
  check_refused(call({"drive", "--shop", folder / "shop", "--practice"}, sign_in), "practice");
  CHECK(content(folder / "shop") == before);
  CHECK_THAT(call({"verify", folder / "shop"}).out, !Catch::Contains("PRACTICE"));
}

TEST_CASE("a file that is no shop file is neither driven nor changed") {
  const Folder folder;
  write(folder / "letter.txt", "Dear Sir,\n");
  check_refused(call({"drive", "--shop", folder / "letter.txt"}, enrol), "no shop file");
  CHECK(content(folder / "letter.txt") == "Dear Sir,\n");
  check_refused(call({"drive", "--shop", folder / "."}, enrol), "no shop file");
}

TEST_CASE("without an enrolment no file appears") {
  const Folder folder;
  const Said said = call({"drive", "--shop", folder / "shop"}, sign_in);
  CHECK(said.exit == 0);
  CHECK_THAT(said.out, Catch::StartsWith(R"({"ok":false,"error":"sign-in-needed",)"));
  CHECK_FALSE(std::filesystem::exists(folder / "shop"));
}

// --- verify
// -----------------------------------------------------------------------------------------------------------

TEST_CASE("an intact shop file is said to be so, with its key, its heads and what stays open") {
  const Folder folder;
  const Said said = call({"verify", shop_in(folder)});
  CHECK(said.exit == 0);
  CHECK(said.err == "");
  const auto lines = said.lines();
  REQUIRE(lines.size() == 6);
  CHECK(lines[0] == "intact (events: 3, signatures: 2)");
  CHECK_THAT(lines[1], Catch::Matches("shop key: [0-9a-f]{64}"));
  CHECK(lines[2] == "PRACTICE, NOT A RECORD");
  CHECK_THAT(lines[3], Catch::Matches("head: shop, event 3, [0-9a-f]{64}"));
  CHECK_THAT(lines[4], Catch::StartsWith("note: compare the shop key"));
  CHECK_THAT(lines[5], Catch::StartsWith("note: the file alone does not show"));
  CHECK(content(folder / "shop") == shop_bytes());
}

TEST_CASE("a head noted earlier is found as it may be typed") {
  const Folder folder;
  const std::string shop = shop_in(folder);
  const std::string head = head_of(call({"verify", shop}));
  for (const std::string& typed : {head, in_capitals(head), head.substr(0, 32) + " " + head.substr(32),
                                   head.substr(0, 2) + ":" + head.substr(2)}) {
    const Said said = call({"verify", shop, "--known", typed});
    CHECK(said.exit == 0);
    CHECK_THAT(said.out, !Catch::Contains("the file alone"));
  }
}

TEST_CASE("a head that is not in the record is found missing") {
  const Folder folder;
  const std::string shop = shop_in(folder);
  const std::string head = head_of(call({"verify", shop}));
  const std::string other(64, 'a');
  const Said said = call({"verify", shop, "--known", head, other});
  CHECK(said.exit == 1);
  CHECK(said.err == "");
  CHECK_THAT(said.lines()[0], Catch::StartsWith("not intact: ") && Catch::Contains(other));
  behind(said, "shop key: ");
}

TEST_CASE("a shop key is told from another") {
  const Folder folder;
  const std::string shop = shop_in(folder);
  const std::string key = behind(call({"verify", shop}), "shop key: ");
  const Said right = call({"verify", shop, "--shop-key", in_capitals(key)});
  CHECK(right.exit == 0);
  CHECK_THAT(right.out, !Catch::Contains("compare the shop key"));
  const Said wrong = call({"verify", shop, "--shop-key", std::string(64, '0')});
  CHECK(wrong.exit == 1);
  CHECK_THAT(wrong.lines()[0], Catch::StartsWith("not intact: ") && Catch::Contains("shop key"));
  CHECK(behind(wrong, "shop key: ") == key);
}

TEST_CASE("a hash that is mistyped is no proof of anything") {
  const Folder folder;
  const std::string shop = shop_in(folder);
  const std::string short_by_one(63, 'a');
  check_refused(call({"verify", shop, "--known", short_by_one}), "--known: " + short_by_one + " is no hash");
  check_refused(call({"verify", shop, "--known", std::string(63, 'a') + "g"}), "is no hash");
  check_refused(call({"verify", shop, "--shop-key", "1234"}), "--shop-key: 1234 is no fingerprint");
  check_refused(call({"verify", "--known", std::string(64, 'a'), shop}), "FILE is missing");
}

TEST_CASE("a word changed in the file is found") {
  const Folder folder;
  write(folder / "shop", replaced(shop_bytes(), "micrometer", "micrometre"));
  const Said said = call({"verify", folder / "shop"});
  CHECK(said.exit == 1);
  CHECK(said.err == "");
  CHECK_THAT(said.lines()[0], Catch::StartsWith("not intact: "));
  behind(said, "shop key: ");
}

TEST_CASE("a changed table makes the file not intact, not unreadable") {
  const Folder folder;
  write(folder / "shop", replaced(shop_bytes(), "CREATE TRIGGER", "CREATE trigger"));
  const Said said = call({"verify", folder / "shop"});
  CHECK(said.exit == 1);
  CHECK_THAT(said.lines()[0], Catch::StartsWith("not intact: "));
  CHECK(behind(said, "shop key: ") == "none found");
}

TEST_CASE("a file that is no shop file is neither intact nor not") {
  const Folder folder;
  write(folder / "letter.txt", "Dear Sir,\n");
  write(folder / "empty", "");
  check_refused(call({"verify", folder / "letter.txt"}), "no shop file");
  check_refused(call({"verify", folder / "empty"}), "no shop file");
  check_refused(call({"verify", folder / "."}), "no shop file");
  check_refused(call({"verify", folder / "none"}), "there is no file");
  check_refused(call({"verify"}), "FILE is missing; usage: witnessmark verify FILE");
  check_refused(call({"verify", folder / "empty", folder / "letter.txt"}), "is one too many; usage: ");
}

TEST_CASE("a file from a newer program is not called damaged") {
  const Folder folder;
  std::string bytes = shop_bytes();
  bytes[63] = 99; // user_version stands in bytes 60 to 63: www.sqlite.org/fileformat2.html, section 1.3
  write(folder / "shop", bytes);
  check_refused(call({"verify", folder / "shop"}), "newer version");
  check_refused(call({"backup", "--shop", folder / "shop", "--out", folder / "copy"}), "newer version");
}

// --- backup
// -----------------------------------------------------------------------------------------------------------

TEST_CASE("a shop file is copied while it is in use") {
  const Folder folder;
  const std::string shop = shop_in(folder);
  auto session = record::Session::open(shop, {});
  REQUIRE(session.ok());
  const Said said = call({"backup", "--shop", shop, "--out", folder / "copy"});
  CHECK(said.exit == 0);
  CHECK(said.err == "");
  CHECK(said.lines().front() == "copied: " + (folder / "copy"));
  CHECK(said.lines()[1] == "intact (events: 3, signatures: 2)");
  CHECK(head_of(call({"verify", folder / "copy"})) == head_of(said));
  CHECK_THAT(session->answer(sign_in), Catch::StartsWith(R"({"ok":true,)"));
}

TEST_CASE("a copy does not take the place of a file that is there") {
  const Folder folder;
  write(folder / "copy", "Dear Sir,\n");
  check_refused(call({"backup", "--shop", shop_in(folder), "--out", folder / "copy"}), "there already");
  CHECK(content(folder / "copy") == "Dear Sir,\n");
  check_refused(call({"backup", "--shop", folder / "shop", "--out", folder / "shop"}), "there already");
  CHECK(content(folder / "shop") == shop_bytes());
}

TEST_CASE("what cannot be copied leaves nothing behind") {
  const Folder folder;
  write(folder / "letter.txt", "Dear Sir,\n");
  write(folder / "damaged", replaced(shop_bytes(), "micrometer", "micrometre"));
  check_refused(call({"backup", "--shop", folder / "letter.txt", "--out", folder / "copy"}), "no shop file");
  check_refused(call({"backup", "--shop", folder / "none", "--out", folder / "copy"}), "there is no file");
  check_refused(call({"backup", "--shop", folder / "damaged", "--out", folder / "copy"}), "not kept");
  check_refused(call({"backup", "--shop", shop_in(folder), "--out", folder / "away/copy"}), "cannot be made");
  CHECK_FALSE(std::filesystem::exists(folder / "copy"));
}

TEST_CASE("a record that was sound on the disk but is not intact is copied and said to be so") {
  const Folder folder;
  auto store = record::Store::open(folder / "shop", record::Store::Mode::create);
  REQUIRE(store.ok());
  const auto written = store->transaction([&] {
    record::Event event;
    event.chain = build::shop_chain;
    event.kind = "add-gauge"; // by nobody, in no shop
    event.body = json::Value::object();
    return store->append(record::sealed(event, {0, record::no_hash}, nullptr));
  });
  INFO((written ? "" : written.error().message));
  REQUIRE(written.ok());
  const Said said = call({"backup", "--shop", folder / "shop", "--out", folder / "copy"});
  CHECK(said.exit == 1);
  CHECK(said.err == "");
  REQUIRE(said.lines().size() >= 2);
  CHECK(said.lines()[0] == "copied: " + (folder / "copy"));
  CHECK_THAT(said.lines()[1], Catch::StartsWith("not intact: shop, event 1 "));
  CHECK(call({"verify", folder / "copy"}).exit == 1);
}

TEST_CASE("backup says how it is used") {
  check_refused(call({"backup", "--shop", "shop"}), "--out FILE is missing; usage: witnessmark backup");
  check_refused(call({"backup", "--out", "copy"}), "--shop FILE is missing; usage: witnessmark backup");
  check_refused(call({"backup", "shop", "copy"}), "\"shop\" is one too many; usage: witnessmark backup");
}
