// A whole handover, as its receiver checks it: form, signature, and the record inside. Ways to put another record under
// a good signature are tried with the shop's own keys.
#include "handover/check.h"

#include "handover/enclosure.h"
#include "handover/evidence.h"
#include "handover/make.h"
#include "handover/paper.h"
#include "handover/signature.h"
#include "record/example.h"
#include "record/folded.h"
#include "record/keyring.h"
#include "record/playing.h"
#include "record/seal.h"
#include "json/read.h"
#include "json/write.h"

#include <catch2/catch.hpp>

#include <functional>

using example::Folder;
using handover::check_pdf;
using handover::Evidence;

namespace {

const calc::Moment later{1'788'000'000'000, 0};
constexpr const char* passphrase_of_ivo = "copper and brass";

std::string handed_over(const std::filesystem::path& shop) {
  const auto made = handover::handover_of(shop, "marigold", "ivo", passphrase_of_ivo, later);
  INFO((made ? "" : made.error().message));
  REQUIRE(made);
  return made->pdf;
}

// The demo's handover, made once.
const std::string& marigold() {
  static const std::string pdf = [] {
    const Folder folder;
    playing::copy_demo_shop(folder / "d.shop");
    return handed_over(folder / "d.shop");
  }();
  return pdf;
}

std::string fault(const std::string& pdf, const record::Known& known = {}) {
  const auto report = check_pdf(pdf, known);
  if (!report) return "foreign: " + report.error().message;
  CHECK(report->intact == report->fault.empty());
  return report->fault;
}

const std::string& json_in(const handover::Enclosure& enclosure) {
  for (const auto& file : enclosure.attached)
    if (file.name == "record.json") return file.bytes;
  throw std::logic_error("no record");
}

std::string record_of_marigold() {
  return json_in(*handover::taken_apart(marigold()));
}

// The demo's shop with its keys: whatever is put together is signed properly.
class Signing {
public:
  explicit Signing(const std::string& person = "ivo", const std::string& passphrase = passphrase_of_ivo) {
    playing::copy_demo_shop(folder_ / "d.shop");
    person_ = person;
    passphrase_ = passphrase;
  }
  std::filesystem::path shop() const { return folder_ / "d.shop"; }

  std::string over(const std::vector<handover::Attached>& files) const {
    auto store = example::opened(shop());
    record::Folded folded;
    REQUIRE(folded.take_in(store));
    const auto holder = record::unlock(store, folded.shop, person_, passphrase_, later);
    REQUIRE(holder);
    const auto own = record::read_certificate(folded.shop.person(person_)->certificate_pem);
    const auto above = record::read_certificate(folded.shop.certificate_pem);
    const auto draft = blank();
    const auto pdf = handover::enclosed(
        draft, files, {holder->actor.name, "Handover", calc::utc_text(later), calc::utc_text(later)},
        [&](std::string_view content) { return handover::signature_over(content, holder->key, *own, *above); });
    REQUIRE(pdf);
    return *pdf;
  }
  std::string over(const std::string& record) const {
    return over({{"record.json", "application/json", "", "Data", record}});
  }

private:
  // What is on the page is not what is checked.
  static std::string blank() {
    handover::Paper paper = handover::Paper::in_memory();
    paper.text(20, 20, "Anything.", 4);
    REQUIRE(paper.close());
    return paper.bytes();
  }
  Folder folder_;
  std::string person_, passphrase_;
};

// The record of the demo with one thing changed in it, every hash made right again.
std::string forged(const std::function<void(std::vector<build::Event>&)>& change) {
  auto evidence = *handover::read_evidence(record_of_marigold());
  std::vector<build::Event> events;
  for (const auto& line : evidence.lines) events.push_back(std::get<build::Event>(line));
  change(events);
  example::rehash(events);
  evidence.lines.assign(events.begin(), events.end());
  return *handover::evidence_text(evidence);
}

std::string replaced(std::string text, const std::string& what, const std::string& by) {
  const auto at = text.find(what);
  REQUIRE(at != std::string::npos);
  return text.replace(at, what.size(), by);
}

} // namespace

TEST_CASE("a handover is intact, and says who signed it and whose shop it is") {
  const auto report = check_pdf(marigold(), {});
  REQUIRE(report);
  CHECK(report->fault == "");
  CHECK(report->intact);
  CHECK(report->practice);
  CHECK(report->signatures > 20);
  CHECK(report->shop_key.size() == 64);
  REQUIRE_FALSE(report->notes.empty());
  CHECK(report->notes.front() == "signed by Ivo Tarrant, at 2026-08-29 10:40:00 UTC as they state");
}

TEST_CASE("a handover is held to heads and to the shop key that its receiver knows") {
  const auto report = *check_pdf(marigold(), {});
  const auto head = std::find_if(report.heads.begin(), report.heads.end(),
                                 [](const auto& it) { return it.first == "build:marigold"; });
  REQUIRE(head != report.heads.end());
  CHECK(fault(marigold(), {{head->second.hash}, report.shop_key}).empty());
  CHECK_THAT(fault(marigold(), {{std::string(64, 'e')}, {}}), Catch::Contains("is not in this record"));
  CHECK_THAT(fault(marigold(), {{}, std::string(64, 'e')}), Catch::Contains("another shop key"));
}

TEST_CASE("a handover is signed by a builder or an owner with their passphrase, of a released build only") {
  const Folder folder;
  const auto shop = folder / "d.shop";
  playing::copy_demo_shop(shop);
  const auto refused = [&](std::string_view build, std::string_view person, std::string_view passphrase) {
    const auto made = handover::handover_of(shop, build, person, passphrase, later);
    return made ? "" : made.error().code;
  };
  CHECK(refused("marigold", "ivo", "copper and glass") == "wrong-passphrase");
  CHECK(refused("marigold", "nobody", passphrase_of_ivo) == "unknown-person");
  CHECK(refused("kestrel", "ivo", passphrase_of_ivo) == "unknown-build");
  CHECK(refused("marigold", "maud", "nine blue herons").empty());
  playing::Shop::now = later;
  auto session = record::Session::open(shop, {true, [] { return playing::Shop::now; }});
  REQUIRE(session);
  const auto enrolled = session->answer(
      R"({"do":"enrol","person":"nora","name":"Nora Pell","roles":["inspector"],"passphrase":"seven grey gulls","owner":"maud","owner_passphrase":"nine blue herons"})");
  INFO(enrolled);
  CHECK_THAT(enrolled, Catch::StartsWith("{\"ok\":true"));
  CHECK(refused("marigold", "nora", "seven grey gulls") == "role-needed");
}

TEST_CASE("wrong passphrases at the handover slow down like any others") {
  const Folder folder;
  playing::copy_demo_shop(folder / "d.shop");
  std::string message;
  for (int tries = 0; tries < 6; ++tries)
    message = handover::handover_of(folder / "d.shop", "marigold", "ivo", "not this one", later).error().message;
  CHECK_THAT(message, Catch::Contains("Too many wrong tries"));
}

TEST_CASE("an owner enrolled after the release can sign, and their enrolment comes along") {
  const Folder folder;
  const auto shop = folder / "d.shop";
  playing::copy_demo_shop(shop);
  playing::Shop::now = later;
  auto session = record::Session::open(shop, {true, [] { return playing::Shop::now; }});
  REQUIRE(session);
  CHECK_THAT(
      session->answer(
          R"({"do":"enrol","person":"nora","name":"Nora Pell","roles":["owner"],"passphrase":"seven grey gulls","owner":"maud","owner_passphrase":"nine blue herons"})"),
      Catch::StartsWith("{\"ok\":true"));
  const auto made = handover::handover_of(shop, "marigold", "nora", "seven grey gulls", later);
  REQUIRE(made);
  CHECK(fault(made->pdf).empty());
}

TEST_CASE("the same build twice differs in time and signature alone") {
  const Folder folder;
  playing::copy_demo_shop(folder / "d.shop");
  std::string one = handed_over(folder / "d.shop");
  std::string other = handed_over(folder / "d.shop");
  REQUIRE(one.size() == other.size());
  for (auto* pdf : {&one, &other}) {
    const auto at = pdf->find("/Contents <30");
    REQUIRE(at != std::string::npos);
    pdf->replace(at, 2 * handover::room_for_signature, 2 * handover::room_for_signature, '0');
  }
  CHECK(one == other);
}

TEST_CASE("a draft is no handover") {
  const Folder folder;
  playing::Shop shop(folder / "s.shop", true);
  shop.ok(
      R"({"do":"open-build","build":"b","procedure":"procedures/short-block.json","engine":{"model":"HX4-150","serial":"1","hours":"unknown"},"customer":"Marigold"})");
  const auto draft = handover::draft_of(folder / "s.shop", "b");
  REQUIRE(draft);
  CHECK_THAT(fault(*draft), Catch::StartsWith("foreign: ") && Catch::Contains("draft"));
  CHECK(handover::handover_of(folder / "s.shop", "b", "anna", "anna's passphrase", later).error().code == "build-open");
}

TEST_CASE("a reading rewritten under a good signature of the file is found in the record") {
  const Signing signing;
  const auto pdf = signing.over(forged([](std::vector<build::Event>& events) {
    for (auto& event : events)
      if (event.kind == "record") {
        event.body.at("asked"); // any reading: its whole body is one of another try
        event.body.set("asked", json::Value::object({{"do", json::Value::text("record")}}));
        return;
      }
  }));
  CHECK_FALSE(fault(pdf).empty());
}

TEST_CASE("a release taken out of the record is found") {
  const Signing signing;
  CHECK_FALSE(fault(signing.over(forged([](std::vector<build::Event>& events) {
                while (events.back().kind != "release") events.pop_back();
                events.pop_back();
              }))).empty());
}

TEST_CASE("the record as it is, signed anew by somebody who may, is intact") {
  CHECK(fault(Signing().over(record_of_marigold())).empty());
}

TEST_CASE("a file without a record, or with one that cannot be read, says so") {
  const Signing signing;
  CHECK(fault(signing.over(std::vector<handover::Attached>{})) == "there is no record.json in it");
  CHECK_THAT(fault(signing.over("{}")), Catch::StartsWith("the record in it "));
  CHECK_THAT(fault(signing.over("not JSON")), Catch::StartsWith("the record in it cannot be read"));
}

TEST_CASE("the record of another shop under this shop's signature is told") {
  const Folder folder;
  playing::copy_demo_shop(folder / "d.shop");
  // The demo is played again: the same work, other keys.
  auto other = record::Session::open(folder / "other.shop", {true, {}});
  REQUIRE(other);
  for (const auto& line : playing::demo_lines(playing::short_block)) other->answer(line);
  const auto theirs = handed_over(folder / "other.shop");
  CHECK(fault(Signing().over(json_in(*handover::taken_apart(theirs)))) ==
        "the file is signed under another shop key than the record in it");
}

TEST_CASE("a record is read in its one form only") {
  const std::string good = record_of_marigold();
  const auto told = [](const std::string& text) {
    const auto read = handover::read_evidence(text);
    return read ? "" : read.error().message;
  };
  CHECK(told(good).empty());
  CHECK_THAT(told(good + " "), Catch::Contains("canonical"));
  CHECK_THAT(told(replaced(good, "{\"build\"", "{ \"build\"")), Catch::Contains("canonical"));
  CHECK_THAT(told(replaced(good, "\"v\":1}", "\"v\":2}")), !Catch::Equals(""));
  CHECK_THAT(told(replaced(good, "{\"build\"", "{\"also\":1,\"build\"")), Catch::Contains("does not know"));
  CHECK_THAT(told("{\"build\":\"b\",\"events\":[],\"v\":1}"), Catch::Contains("lacks"));
  CHECK_THAT(told("{\"build\":\"b\",\"events\":[1],\"procedure\":\"\",\"v\":1}"), Catch::Contains("no event"));
  CHECK_THAT(told("{\"build\":\"b\",\"events\":[{\"chain\":\"build:b\",\"seq\":1,\"withheld\":\"" +
                  std::string(64, 'a') + "\"}],\"procedure\":\"\",\"v\":1}"),
             Catch::Contains("withholds"));
  CHECK(handover::check_evidence({"b", "", {}}, {}).fault == "there is no event in it");
}

TEST_CASE("a record of two builds, or of one that is not released, is no handover's") {
  const auto evidence = *handover::read_evidence(record_of_marigold());
  auto named_otherwise = evidence;
  named_otherwise.build = "kestrel";
  CHECK_THAT(handover::check_evidence(named_otherwise, {}).fault, Catch::Contains("is of build:marigold too"));
  auto cut = evidence;
  while (std::get<build::Event>(cut.lines.back()).kind != "sign") cut.lines.pop_back();
  cut.lines.push_back(evidence.lines[cut.lines.size()]); // the note of that signature
  CHECK(handover::check_evidence(cut, {}).fault == "the build marigold is not released in the record in it");
}

TEST_CASE("a handover of format 1 verifies for ever") {
  const auto pdf = example::content(std::string(PROJECT_FOLDER) + "/tests/record/kept/format-1.pdf");
  const auto report = check_pdf(pdf, {});
  REQUIRE(report);
  CHECK(report->fault == "");
  CHECK(report->intact);
  CHECK(report->released.count("marigold") == 1);
  CHECK_THAT(report->notes.front(), Catch::StartsWith("signed by Ivo Tarrant"));
}
