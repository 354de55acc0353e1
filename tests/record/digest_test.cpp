#include "record/digest.h"

#include <catch2/catch.hpp>

using namespace record;

namespace {

void refuses(const Result<std::string>& bytes) {
  REQUIRE_FALSE(bytes.ok());
  CHECK(bytes.error().code == "bad-value");
}

} // namespace

TEST_CASE("SHA-256 of messages with a published digest") {
  // FIPS 180-4; NIST's example document for SHA-256 holds the first two, its further examples the last four.
  CHECK(sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(sha256_hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  CHECK(sha256_hex("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  CHECK(sha256_hex("abcdefghbcdefghicdefghijdefghijkefghijklfghijklmghijklmnhijklmnoijklmnopjklmnopqklmnopqrlmnopqrs"
                   "mnopqrstnopqrstu") == "cf5b16a778af8380036ce59e7b0492370b249b11e8f07a51afac45037afee9d1");
  CHECK(sha256_hex(std::string(1'000'000, 'a')) == "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
  CHECK(sha256_hex("\xbd") == "68325720aabd7c82f30f554b313d0570c95accbb7dc4b5aae11204c08ffe732b");
  CHECK(sha256_hex("\xc9\x8c\x8e\x55") == "7abc22c0ae5af26ce93dbb94433a0e0b2e119d014f8e7f65bd56c61ccccd9504");
  CHECK(sha256_hex(std::string(1000, 'A')) == "c2e686823489ced2017f6059b8b239318b6364f6dcd835d0a519105a1eadd6e4");
  CHECK(sha256_hex(std::string(1005, 'U')) == "f4d62ddec0f3dd90ea1380fa16a5ff8dc4c54b21740650f24afc4120903552b0");
}

TEST_CASE("SHA-256 of zeros around the end of a block") {
  // NIST's further examples for SHA-256.
  const auto zeros = [](std::size_t count) { return sha256_hex(std::string(count, '\0')); };
  CHECK(zeros(55) == "02779466cdec163811d078815c633f21901413081449002f24aa3e80f0b88ef7");
  CHECK(zeros(56) == "d4817aa5497628e7c77e6b606107042bbba3130888c5f47a375e6179be789fbb");
  CHECK(zeros(57) == "65a16cb7861335d5ace3c60718b5052e44660726da4cd13bb745381b235a1785");
  CHECK(zeros(64) == "f5a5fd42d16a20302798ef6ed309979b43003d2320d9f0e8ea9831a92759fb4b");
  CHECK(zeros(1000) == "541b3e9daa09b20bf85fa273e5cbd3e80185aa4ec298e765db87742b70138a53");
  CHECK(zeros(1'000'000) == "d29751f2649b32ff572b5e0a9f541ea660a50f94ff0beedfb0b692b924cc8025");
}

TEST_CASE("hex goes there and back, in lower case only") {
  const std::string bytes("\x00\x01\x7f\x80\xab\xff", 6);
  CHECK(hex(bytes) == "00017f80abff");
  CHECK(*from_hex("00017f80abff") == bytes);
  CHECK(hex("").empty());
  CHECK(from_hex("")->empty());
  for (const std::string_view text : {"0", "000", "0g", "AB", "0x00", " 00", "0 "}) refuses(from_hex(text));
}

TEST_CASE("base64 as published") {
  // RFC 4648, section 10
  const std::pair<std::string_view, std::string_view> pairs[] = {{"", ""},
                                                                 {"f", "Zg=="},
                                                                 {"fo", "Zm8="},
                                                                 {"foo", "Zm9v"},
                                                                 {"foob", "Zm9vYg=="},
                                                                 {"fooba", "Zm9vYmE="},
                                                                 {"foobar", "Zm9vYmFy"}};
  for (const auto& [bytes, text] : pairs) {
    CHECK(base64(bytes) == text);
    CHECK(*from_base64(text) == bytes);
  }
}

TEST_CASE("every byte goes through base64 and back") {
  std::string bytes;
  for (int i = 0; i < 256; ++i) {
    bytes += static_cast<char>(i);
    CHECK(*from_base64(base64(bytes)) == bytes);
  }
}

TEST_CASE("base64 in any spelling but one is refused") {
  for (const std::string_view text : {"Zg", "Zg=", "Zg===", "Zh==", "Zm9=", "Zm8", "=m9v",
                                      "Z===", "====", "Zg==Zg==", "Zm9v\n", "Zm 9", "Zm9-", "Zm9_", "Zm9v="}) {
    INFO(text);
    refuses(from_base64(text));
  }
}
