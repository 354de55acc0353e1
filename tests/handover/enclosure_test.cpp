// The file around the pages: what was put in comes out, and every way of changing it afterwards is told. The signature
// itself is another test's; here it is any DER.
#include "handover/enclosure.h"

#include "handover/paper.h"

#include <catch2/catch.hpp>

using handover::Attached;
using handover::taken_apart;

namespace {

const std::string der("\x30\x03\x02\x01\x07", 5); // a SEQUENCE with one INTEGER

std::string pages() {
  handover::Paper paper = handover::Paper::in_memory();
  paper.about({"Build record b", "Heronsgate", "HX4-150", "2026-05-08T16:00:00+01:00"});
  paper.text(20, 20, "One page.", 4);
  REQUIRE(paper.close());
  return paper.bytes();
}

std::vector<Attached> files() {
  return {{"record.json", "application/json", "The record", "Data", R"({"v":1})"},
          {"record.csv", "text/csv", "The values", "Supplement", "a,b\r\n"}};
}

std::string made(const std::string& signature = der, const std::string& at = "2026-01-05T08:00:00.000Z") {
  const auto pdf = handover::enclosed(pages(), files(), {"Maud Fenwick", "Handover", at, "2026-01-04T04:13:20.000Z"},
                                      [&](std::string_view) { return signature; });
  REQUIRE(pdf);
  return *pdf;
}

std::string fault(const std::string& pdf) {
  const auto taken = taken_apart(pdf);
  return taken ? "" : taken.error().message;
}

std::string replaced(std::string text, const std::string& what, const std::string& by) {
  const auto at = text.find(what);
  REQUIRE(at != std::string::npos);
  return text.replace(at, what.size(), by);
}

std::size_t at_contents(const std::string& pdf) {
  const auto at = pdf.find("/Contents <30");
  REQUIRE(at != std::string::npos);
  return at + 11;
}

} // namespace

TEST_CASE("what was attached and signed comes out again") {
  std::string signed_bytes;
  const auto pdf = handover::enclosed(
      pages(), files(), {"Maud Fenwick", "Handover", "2026-01-05T08:00:00.000Z", "2026-01-04T04:13:20.000Z"},
      [&](std::string_view bytes) {
        signed_bytes = bytes;
        return der;
      });
  REQUIRE(pdf);
  const auto taken = taken_apart(*pdf);
  INFO(fault(*pdf));
  REQUIRE(taken);
  CHECK(taken->content == signed_bytes);
  CHECK(taken->content.size() + 2 * handover::room_for_signature + 2 == pdf->size());
  CHECK(taken->signature == der);
  CHECK(taken->signed_at == "2026-01-05 08:00:00 UTC");
  REQUIRE(taken->attached.size() == 2);
  CHECK(taken->attached[0].name == "record.csv");
  CHECK(taken->attached[0].bytes == "a,b\r\n");
  CHECK(taken->attached[1].name == "record.json");
  CHECK(taken->attached[1].bytes == R"({"v":1})");
}

TEST_CASE("the same pages give the same bytes but for time and signature") {
  const std::string one = made();
  std::string other = made(std::string("\x30\x03\x02\x01\x09", 5), "2026-01-06T11:46:40.000Z");
  REQUIRE(one.size() == other.size());
  CHECK(one != other);
  other = replaced(other, "/M (D:20260106", "/M (D:20260105");
  const auto time = one.find("/M (D:");
  other.replace(time, 22, one.substr(time, 22));
  other[at_contents(other) + 9] = '7';
  CHECK(one == other);
}

TEST_CASE("a signature longer than its place is refused, not cut") {
  const auto pdf =
      handover::enclosed(pages(), files(), {"Maud", "Handover", "2026-01-05T08:00:00.000Z", "2026-01-04T04:13:20.000Z"},
                         [](std::string_view) { return std::string(handover::room_for_signature + 1, '0'); });
  REQUIRE_FALSE(pdf);
  CHECK(pdf.error().code == "not-written");
}

TEST_CASE("what is no PDF, or has no signature of ours, is told from a damaged one") {
  for (const std::string& file : {std::string(), std::string("{}"), std::string("PK\x03\x04"), pages()}) {
    const auto taken = taken_apart(file);
    REQUIRE_FALSE(taken);
    CHECK(taken.error().code == "foreign");
  }
  CHECK_THAT(fault(pages()), Catch::Contains("a draft"));
}

TEST_CASE("a file cut anywhere is told") {
  const std::string pdf = made();
  for (std::size_t size = pdf.size() - 1; size > 20'000; size -= 997) {
    INFO(size);
    CHECK(taken_apart(pdf.substr(0, size)).error().code == "not-intact");
  }
  CHECK(fault(pdf.substr(0, pdf.size() - 1)) == "its end is missing");
  CHECK(fault(pdf.substr(0, pdf.size() / 2)) == "its end is missing");
}

TEST_CASE("something added behind the end is told") {
  CHECK_FALSE(fault(made() + "\n").empty());
  CHECK_FALSE(fault(made() + "%%EOF\n").empty());
  CHECK_FALSE(fault(made() + std::string(50, 'x')).empty());
}

TEST_CASE("an update written behind the signature is told") {
  const std::string pdf = made();
  const auto place = pdf.rfind("startxref\n");
  const std::string before = pdf.substr(place + 10, pdf.find('\n', place + 10) - place - 10);
  const auto trailer = pdf.rfind("trailer <<");
  const std::string old = pdf.substr(trailer, pdf.find(">>", trailer) - trailer);
  const std::string update = pdf + "999 0 obj\n<< /Added true >>\nendobj\nxref\n999 1\n" + "0000000000 00000 n \n" +
                             old + " /Prev " + before + " >>\nstartxref\n" +
                             std::to_string(pdf.size() + pdf.substr(0, 0).size() + 39) + "\n%%EOF\n";
  CHECK_FALSE(fault(update).empty());
}

TEST_CASE("the range must reach both ends, and leave out the signature alone") {
  const std::string pdf = made();
  const auto at = pdf.find("/ByteRange [ 0 ");
  REQUIRE(at != std::string::npos);
  const auto from = pdf.substr(at + 15, pdf.find(' ', at + 15) - at - 15);
  const auto second = at + 15 + from.size() + 1;
  const auto to = pdf.substr(second, pdf.find(' ', second) - second);
  const auto third = second + to.size() + 1;
  const auto rest = pdf.substr(third, pdf.find(' ', third) - third);
  const auto with = [&](std::size_t place, const std::string& was, long by) {
    std::string number = std::to_string(std::stol(was) + by);
    REQUIRE(number.size() == was.size());
    std::string out = pdf;
    return out.replace(place, was.size(), number);
  };
  CHECK(fault(pdf).empty());
  CHECK(fault(with(third, rest, -1)) == "something was added after it was signed");
  CHECK(fault(with(third, rest, 1)) == "its end is missing");
  CHECK_THAT(fault(with(second, to, 1)), Catch::Contains("not where it says"));
  CHECK_THAT(fault(with(at + 15, from, 1)), Catch::Contains("not where it says"));
  CHECK_THAT(fault(replaced(pdf, "/ByteRange [ 0 ", "/ByteRange [ 1 ")), Catch::Contains("what it covers"));
  CHECK_THAT(fault(replaced(pdf, "/ByteRange [ 0 ", "/ByteRange [ - ")), !Catch::Equals(""));
}

TEST_CASE("the place of the signature holds lower-case hex of the signature, then zeros") {
  const std::string pdf = made(std::string("\x30\x03\x02\x01\x0a", 5));
  const auto at = at_contents(pdf);
  const auto with = [&](std::size_t place, char c) {
    std::string out = pdf;
    out[at + place] = c;
    return fault(out);
  };
  CHECK(fault(pdf).empty());
  CHECK_THAT(with(9, 'A'), Catch::Contains("not where it says")); // the same bytes, written otherwise
  CHECK_THAT(with(16000, '1'), Catch::Contains("behind its signature"));
  CHECK_FALSE(with(2000, ' ').empty());
  CHECK_FALSE(with(2000, '>').empty());
  CHECK_FALSE(with(0, '4').empty());
}

TEST_CASE("more or less in the signature's dictionary is told") {
  const std::string pdf = made();
  CHECK_FALSE(fault(replaced(pdf, "/Filter /Adobe.PPKLite", "/Filtre /Adobe.PPKLite")).empty());
  CHECK_FALSE(fault(replaced(pdf, "/SubFilter /ETSI.CAdES.detached", "/SubFilter /ETSI.CAdES.detacheX")).empty());
  CHECK_FALSE(fault(replaced(pdf, "/Type /Sig ", "/Type /Sug ")).empty());
}

TEST_CASE("a second signature is told") {
  // Another object gets a range of its own; nothing moves, so that the index still fits.
  CHECK(fault(replaced(made(), "/Rect [ 0 0 0 0 ]", "/ByteRange [ 0 ] ")) == "it carries more than one signature");
}

TEST_CASE("no byte outside the signature can be changed without notice of form or content") {
  const std::string pdf = made();
  const std::string content = taken_apart(pdf)->content;
  const auto from = at_contents(pdf);
  int told = 0;
  for (std::size_t at = 0; at < pdf.size(); at += 11) {
    if (at >= from && at < from + 2 * handover::room_for_signature) continue;
    std::string other = pdf;
    other[at] ^= 1;
    const auto taken = taken_apart(other);
    const bool noticed = !taken || taken->content != content;
    CHECK(noticed);
    told += noticed;
  }
  CHECK(told > 500);
}
