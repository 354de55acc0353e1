#include "record/store.h"

#include "record/digest.h"
#include "record/example.h"
#include "record/seal.h"

#include <catch2/catch.hpp>

#include <set>

using example::add;
using example::Folder;
using example::opened;
using example::Raw;
using example::texts;
using record::Event;
using record::Head;
using record::Result;
using record::Store;
using Texts = std::vector<std::string>;

namespace {

const std::string chain(build::shop_chain);
const std::string photograph("\x89PNG and some more bytes \0 of a picture", 39);

// A change that is no event, in its own transaction.
Result<void> put(Store& store, const std::function<Result<void>()>& change) {
  return store.transaction(change);
}

record::Sealed next_event(const Store& store) {
  Event event;
  event.chain = chain;
  event.kind = "note";
  event.body = json::Value::object({{"text", json::Value::text("next")}});
  return record::sealed(event, *store.head(chain), nullptr);
}

std::string difference(const Store& store) {
  const auto found = store.first_difference();
  REQUIRE(found.ok());
  return found->value_or("");
}

bool says(const std::string& message, std::string_view word) {
  INFO(message);
  return message.find(word) != std::string::npos;
}

} // namespace

TEST_CASE("a new shop file is empty and its heads are zeros") {
  const Folder folder;
  const Store store = opened(folder / "shop.wmk", Store::Mode::create);
  CHECK(store.head(chain)->seq == 0);
  CHECK(store.head(chain)->hash == record::no_hash);
  CHECK(store.chains()->empty());
  CHECK(store.events_since(chain, 0)->empty());
  CHECK(difference(store).empty());
}

TEST_CASE("events come back as they were written, after closing and opening") {
  const Folder folder;
  Event written;
  {
    Store store = opened(folder / "shop.wmk", Store::Mode::create);
    REQUIRE(add(store, chain, "one").ok());
    const auto next = next_event(store);
    REQUIRE(store.transaction([&] { return store.append(next); }).ok());
    written = next.event();
  }
  const Store store = opened(folder / "shop.wmk");
  const auto events = store.events_since(chain, 1);
  REQUIRE(events->size() == 1);
  CHECK(to_json(events->front()) == to_json(written));
  CHECK(events->front().hash == written.hash);
  CHECK(store.head(chain)->hash == written.hash);
  CHECK(store.events_since(chain, 2)->empty());
}

TEST_CASE("chains are told in the order they began and grow side by side") {
  const Folder folder;
  Store store = opened(folder / "shop.wmk", Store::Mode::create);
  for (const auto* name : {"shop", "build:B2", "shop", "build:B1", "build:B2"}) REQUIRE(add(store, name, name).ok());
  CHECK(*store.chains() == Texts{"shop", "build:B2", "build:B1"});
  CHECK(store.head("build:B2")->seq == 2);
  CHECK(texts(store, "build:B1") == Texts{"build:B1"});
  CHECK(difference(store).empty());
  Texts in_order;
  const auto events = store.events_in_order();
  for (const Event& event : *events) in_order.push_back(event.chain);
  CHECK(in_order == Texts{"shop", "build:B2", "shop", "build:B1", "build:B2"});
}

TEST_CASE("an event that does not follow the head is refused and nothing is kept") {
  const Folder folder;
  Store store = opened(folder / "shop.wmk", Store::Mode::create);
  REQUIRE(add(store, chain, "one").ok());
  const record::Head head = *store.head(chain);
  const auto next = next_event(store);
  const auto refused = [&](const record::Head& after, const std::string& of_chain, const std::string& kind) {
    Event event = next.event();
    event.chain = of_chain;
    event.kind = kind;
    const auto sealed = record::sealed(event, after, nullptr);
    const auto appended = store.transaction([&] { return store.append(sealed); });
    return !appended.ok() && appended.error().code == "store-failed";
  };
  CHECK(refused({0, record::no_hash}, chain, "note")); // the first of a chain that has one
  CHECK(refused({0, head.hash}, chain, "note"));
  CHECK(refused({2, head.hash}, chain, "note"));
  CHECK(refused({1, record::no_hash}, chain, "note"));
  CHECK(refused(head, "build:B1", "note")); // of a chain that has none
  CHECK(refused({0, head.hash}, "build:B1", "note"));
  CHECK(refused(head, chain, "")); // could not be read back
  CHECK(texts(store) == Texts{"one"});
  CHECK(store.transaction([&] { return store.append(next); }).ok());
}

TEST_CASE("what an error or an exception leaves is taken back whole") {
  const Folder folder;
  Store store = opened(folder / "shop.wmk", Store::Mode::create);
  REQUIRE(add(store, chain, "one").ok());
  const auto failing = [&]() -> Result<void> {
    REQUIRE(store.append(next_event(store)).ok());
    REQUIRE(store.put_key({"ada", "person", "locked"}).ok());
    return record::Error{"blocked", "not now"};
  };
  CHECK(store.transaction(failing).error().code == "blocked");
  CHECK_THROWS_AS(store.transaction([&]() -> Result<void> {
    REQUIRE(store.append(next_event(store)).ok());
    throw std::runtime_error("a fault of the program");
  }),
                  std::runtime_error);
  CHECK(texts(store) == Texts{"one"});
  CHECK_FALSE(store.key("ada", "person")->has_value());
  CHECK(add(store, chain, "two").ok());
}

TEST_CASE("writing outside a transaction, or a transaction inside another, is a fault of the program") {
  const Folder folder;
  Store store = opened(folder / "shop.wmk", Store::Mode::create);
  CHECK_THROWS_AS(store.append(next_event(store)), std::logic_error);
  CHECK_THROWS_AS(store.put_blob(record::sha256_hex(""), ""), std::logic_error);
  CHECK_THROWS_AS(store.put_key({"ada", "person", "locked"}), std::logic_error);
  CHECK_THROWS_AS(store.put_tries("ada", {1, 2}), std::logic_error);
  CHECK_THROWS_AS(store.transaction([&] { return add(store, chain, "inside"); }), std::logic_error);
  CHECK_THROWS_AS(store.transaction([&] { return store.backup(folder / "copy.wmk"); }), std::logic_error);
  CHECK(add(store, chain, "outside").ok());
}

TEST_CASE("a stored file is kept under its SHA-256, once") {
  const Folder folder;
  Store store = opened(folder / "shop.wmk", Store::Mode::create);
  const std::string sha256 = record::sha256_hex(photograph);
  REQUIRE(put(store, [&] { return store.put_blob(sha256, photograph); }).ok());
  REQUIRE(put(store, [&] { return store.put_blob(sha256, photograph); }).ok());
  CHECK(store.blob(sha256)->value() == photograph);
  CHECK_FALSE(store.blob(record::sha256_hex("another"))->has_value());
  CHECK(put(store, [&] { return store.put_blob(sha256, "another"); }).error().code == "store-failed");
  CHECK(Raw(folder / "shop.wmk").first("SELECT count(*) FROM blobs") == "1");
}

TEST_CASE("an empty file is stored as any other") {
  const Folder folder;
  Store store = opened(folder / "shop.wmk", Store::Mode::create);
  REQUIRE(put(store, [&] { return store.put_blob(record::sha256_hex(""), ""); }).ok());
  CHECK(store.blob(record::sha256_hex(""))->value().empty());
}

TEST_CASE("a key or a count of wrong tries is replaced by the next one of that owner and kind") {
  const Folder folder;
  Store store = opened(folder / "shop.wmk", Store::Mode::create);
  CHECK_FALSE(store.key("ada", "person")->has_value());
  CHECK(store.tries("ada")->wrong == 0);
  REQUIRE(put(store, [&] { return store.put_key({"ada", "person", "first"}); }).ok());
  REQUIRE(put(store, [&] { return store.put_key({"ada", "shop", "of the shop"}); }).ok());
  REQUIRE(put(store, [&] { return store.put_key({"ada", "person", "second"}); }).ok());
  REQUIRE(put(store, [&] { return store.put_tries("ada", {1, 10}); }).ok());
  REQUIRE(put(store, [&] { return store.put_tries("ada", {2, 20}); }).ok());
  CHECK(store.key("ada", "person")->value().locked_pem == "second");
  CHECK(store.key("ada", "shop")->value().locked_pem == "of the shop");
  CHECK(store.tries("ada")->wrong == 2);
  CHECK(store.tries("ada")->last_utc_ms == 20);
}

TEST_CASE("another connection's events are seen, and that there are some") {
  const Folder folder;
  Store here = opened(folder / "shop.wmk", Store::Mode::create);
  Store there = opened(folder / "shop.wmk");
  const std::int64_t before = *here.data_version();
  REQUIRE(add(here, chain, "mine").ok());
  CHECK(*here.data_version() == before);
  REQUIRE(add(there, chain, "theirs").ok());
  CHECK(*here.data_version() != before);
  CHECK(texts(here) == Texts{"mine", "theirs"});
  REQUIRE(add(here, chain, "mine again").ok());
  CHECK(texts(there) == Texts{"mine", "theirs", "mine again"});
}

TEST_CASE("each column of an event changed by another hand is told") {
  const Folder folder;
  const auto path = folder / "shop.wmk";
  example::make_shop(path, 3);
  const std::string altered[] = {"chain = 'build:B1', seq = 1",
                                 "seq = 7",
                                 "hash = '" + record::no_hash + "'",
                                 "kind = 'sign'",
                                 "time = '2024-05-01T07:00:00.009Z'",
                                 "event = replace(event, '\"3\"', '\"4\"')",
                                 "event = event || ' '",
                                 "event = '{}'",
                                 "event = 'x'",
                                 "id = 9"};
  for (const std::string& change : altered) {
    const auto copy = folder / "copy.wmk";
    std::filesystem::copy_file(path, copy, std::filesystem::copy_options::overwrite_existing);
    Raw(copy).forge("events", "UPDATE events SET " + change + " WHERE id = 3");
    INFO(change);
    CHECK(says(difference(opened(copy)), "event"));
  }
}

TEST_CASE("an event whose text was changed is not read") {
  const Folder folder;
  example::make_shop(folder / "shop.wmk", 3);
  Raw(folder / "shop.wmk").forge("events", "UPDATE events SET event = replace(event, '\"2\"', '\"5\"') WHERE id = 2");
  const auto events = opened(folder / "shop.wmk").events_since(chain, 0);
  REQUIRE_FALSE(events.ok());
  CHECK(events.error().code == "store-damaged");
  CHECK(says(events.error().message, "event 2 "));
  CHECK(opened(folder / "shop.wmk").events_since(chain, 2).ok());
}

TEST_CASE("an event taken out is told, in the middle and at the end") {
  const Folder folder;
  for (const std::string_view id : {"2", "3"}) {
    const auto path = folder / id;
    example::make_shop(path, 3);
    Raw(path).forge("events", "DELETE FROM events WHERE id = " + std::string(id));
    CHECK(says(difference(opened(path)), id == "2" ? "event 3" : "its head is event 3"));
  }
}

TEST_CASE("a head that does not fit its chain is told") {
  const Folder folder;
  const auto path = folder / "shop.wmk";
  example::make_shop(path, 2);
  const std::string good = Raw(path).first("SELECT hash FROM heads");
  CHECK(Raw(path).run("UPDATE heads SET seq = 1").empty());
  CHECK(says(difference(opened(path)), "its head is event 1"));
  CHECK(Raw(path).run("UPDATE heads SET seq = 2, hash = '" + record::no_hash + "'").empty());
  CHECK(says(difference(opened(path)), record::no_hash.substr(0, 40)));
  CHECK(Raw(path).run("UPDATE heads SET hash = '" + good + "'").empty());
  CHECK(difference(opened(path)).empty());
  CHECK(Raw(path).run("INSERT INTO heads VALUES('build:B1', 1, '" + good + "')").empty());
  CHECK(says(difference(opened(path)), "no events"));
  CHECK(Raw(path).run("DELETE FROM heads").empty());
  CHECK(says(difference(opened(path)), "no head"));
}

TEST_CASE("a stored file changed by another hand is told and not handed out") {
  const Folder folder;
  const auto path = folder / "shop.wmk";
  const std::string sha256 = record::sha256_hex(photograph);
  {
    Store store = opened(path, Store::Mode::create);
    REQUIRE(put(store, [&] { return store.put_blob(sha256, photograph); }).ok());
  }
  Raw(path).forge("blobs", "UPDATE blobs SET bytes = x'00'");
  const Store store = opened(path);
  CHECK(says(difference(store), sha256.substr(0, 40)));
  CHECK(store.blob(sha256).error().code == "store-damaged");
}

TEST_CASE("a copy holds all that the file in use holds, and goes on by itself") {
  const Folder folder;
  Store store = opened(folder / "shop.wmk", Store::Mode::create);
  REQUIRE(add(store, chain, "one").ok());
  REQUIRE(put(store, [&] { return store.put_blob(record::sha256_hex(photograph), photograph); }).ok());
  REQUIRE(put(store, [&] { return store.put_key({"ada", "person", "locked"}); }).ok());
  REQUIRE(store.backup(folder / "copy.wmk").ok());
  REQUIRE(add(store, chain, "two").ok());

  {
    const Store copy = opened(folder / "copy.wmk", Store::Mode::read_only);
    CHECK(texts(copy) == Texts{"one"});
    CHECK(copy.blob(record::sha256_hex(photograph))->value() == photograph);
    CHECK(copy.key("ada", "person")->value().locked_pem == "locked");
    CHECK(difference(copy).empty());
  }
  Store copy = opened(folder / "copy.wmk");
  REQUIRE(add(copy, chain, "another two").ok());
  CHECK(texts(copy) == Texts{"one", "another two"});
  CHECK(texts(store) == Texts{"one", "two"});
}

TEST_CASE("a copy never overwrites and leaves nothing beside it") {
  const Folder folder;
  const Store store = opened(folder / "shop.wmk", Store::Mode::create);
  example::write(folder / "copy.wmk", "the only copy of something");
  CHECK(store.backup(folder / "copy.wmk").error().code == "store-exists");
  CHECK(example::content(folder / "copy.wmk") == "the only copy of something");
  CHECK(store.backup(folder / "no such folder" / "copy.wmk").error().code == "store-failed");
  REQUIRE(store.backup(folder / "copy2.wmk").ok());
  CHECK(folder.names() == Texts{"copy.wmk", "copy2.wmk", "shop.wmk", "shop.wmk-shm", "shop.wmk-wal"});
}

TEST_CASE("a damaged file is not copied") {
  const Folder folder;
  example::make_shop(folder / "shop.wmk", 2);
  Raw(folder / "shop.wmk").forge("events", "UPDATE events SET kind = 'sign' WHERE id = 2");
  const auto copied = opened(folder / "shop.wmk").backup(folder / "copy.wmk");
  REQUIRE_FALSE(copied.ok());
  CHECK(copied.error().code == "store-damaged");
  CHECK(folder.names() == Texts{"shop.wmk"});
}

TEST_CASE("a copy can be made from a file opened for reading") {
  const Folder folder;
  example::make_shop(folder / "shop.wmk", 2);
  REQUIRE(opened(folder / "shop.wmk", Store::Mode::read_only).backup(folder / "copy.wmk").ok());
  CHECK(texts(opened(folder / "copy.wmk")) == Texts{"1", "2"});
}
