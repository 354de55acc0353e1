// Which files are opened, which are refused, what may be done to them from outside, and that looking leaves no trace.
#include "record/example.h"
#include "record/fault_vfs.h"

#include <catch2/catch.hpp>

using example::add;
using example::Folder;
using example::opened;
using example::Raw;
using example::texts;
using record::Store;
using Texts = std::vector<std::string>;

namespace fs = std::filesystem;

namespace {

constexpr Store::Mode modes_of_existing[] = {Store::Mode::read_only, Store::Mode::read_write};

// Refused in both ways with this code, in one sentence that names the file, and the file stays as it was, alone.
std::string refused(const Folder& folder, const fs::path& path, std::string_view code) {
  const std::string before = example::content(path);
  const Texts names = folder.names();
  std::string message;
  for (const Store::Mode mode : modes_of_existing) {
    const auto store = Store::open(path, mode);
    REQUIRE_FALSE(store.ok());
    message = store.error().message;
    CHECK(store.error().code == code);
    CHECK(message.find(path.native()) != std::string::npos);
    CHECK(message.find('\n') == std::string::npos);
  }
  CHECK(example::content(path) == before);
  CHECK(folder.names() == names);
  return message;
}

// The error of a statement in each guarded way, on a connection with SQLite's own settings.
std::string denied(const fs::path& path, const std::string& sql) {
  Raw raw(path);
  const std::string before = raw.first("SELECT group_concat(id || hash || event) FROM events");
  const std::string message = raw.run(sql);
  CHECK(raw.first("SELECT group_concat(id || hash || event) FROM events") == before);
  return message;
}

std::string four_bytes_at(const fs::path& path, std::size_t at) {
  return example::content(path).substr(at, 4);
}

} // namespace

TEST_CASE("the file says in its first bytes what it is") {
  const Folder folder;
  example::make_shop(folder / "shop.wmk", 0);
  // SQLite database file format, section 1.3: application ID at 68, user version at 60, WAL at 18 and 19
  CHECK(four_bytes_at(folder / "shop.wmk", 68) == "WMRK");
  CHECK(four_bytes_at(folder / "shop.wmk", 60) == std::string("\0\0\0\1", 4));
  CHECK(example::content(folder / "shop.wmk").substr(18, 2) == "\2\2");
}

TEST_CASE("a new file is never made over another, whatever that is") {
  const Folder folder;
  example::write(folder / "shop.wmk", "");
  fs::create_directory(folder / "folder");
  fs::create_symlink(folder / "nowhere", folder / "link");
  for (const std::string_view name : {"shop.wmk", "folder", "link"})
    CHECK(Store::open(folder / name, Store::Mode::create).error().code == "store-exists");
  CHECK(Store::open(folder / "no folder" / "shop.wmk", Store::Mode::create).error().code == "store-failed");
  CHECK(folder.names() == Texts{"folder", "link", "shop.wmk"});
  CHECK(example::content(folder / "shop.wmk").empty());
}

TEST_CASE("a file that is not there is not made by opening it") {
  const Folder folder;
  for (const Store::Mode mode : modes_of_existing)
    CHECK(Store::open(folder / "shop.wmk", mode).error().code == "store-absent");
  CHECK(folder.names().empty());
}

TEST_CASE("a foreign file is refused and stays as it is") {
  const Folder folder;
  example::write(folder / "empty", "");
  refused(folder, folder / "empty", "store-foreign");
  example::write(folder / "letter", "Dear Sirs, please find enclosed");
  refused(folder, folder / "letter", "store-foreign");
  example::write(folder / "long letter", std::string(8192, 'x'));
  refused(folder, folder / "long letter", "store-foreign");
  REQUIRE(Raw(folder / "other.db").run("CREATE TABLE events(id)").empty());
  refused(folder, folder / "other.db", "store-foreign");
  REQUIRE(Raw(folder / "other.wal").run("PRAGMA journal_mode = WAL; CREATE TABLE events(id)").empty());
  refused(folder, folder / "other.wal", "store-foreign");
  fs::create_directory(folder / "folder");
  refused(folder, folder / "folder", "store-foreign");
}

TEST_CASE("a file of a newer program is refused and stays as it is") {
  const Folder folder;
  example::make_shop(folder / "shop.wmk", 1);
  REQUIRE(Raw(folder / "shop.wmk").run("PRAGMA user_version = 2").empty());
  CHECK(refused(folder, folder / "shop.wmk", "store-newer").find("newer") != std::string::npos);
}

TEST_CASE("a file that a newer program has just changed, still in its log, is refused too") {
  const Folder folder;
  example::make_shop(folder / "shop.wmk", 1);
  Raw newer(folder / "shop.wmk");
  REQUIRE(newer.run("PRAGMA user_version = 2").empty());
  REQUIRE(four_bytes_at(folder / "shop.wmk", 60) == std::string("\0\0\0\1", 4));
  for (const Store::Mode mode : modes_of_existing)
    CHECK(Store::open(folder / "shop.wmk", mode).error().code == "store-newer");
}

TEST_CASE("a changed, missing or added table, index or trigger is damage") {
  const Folder folder;
  const std::pair<std::string, std::string> changes[] = {
      {"DROP TRIGGER events_stay", "11 of 12"},
      {"DROP TRIGGER events_next; CREATE TRIGGER events_next BEFORE INSERT ON events BEGIN SELECT 1; END",
       "events_next"},
      {"CREATE TRIGGER more AFTER INSERT ON events BEGIN SELECT 1; END", "more"},
      {"CREATE TABLE notes(text)", "notes"},
      {"CREATE INDEX by_kind ON events(kind)", "by_kind"},
      {"CREATE VIEW signed AS SELECT * FROM events", "signed"},
      {"ALTER TABLE keys ADD COLUMN plain TEXT", "keys"},
      {"DROP TABLE attempts", "11 of 12"}};
  for (const auto& [sql, named] : changes) {
    const auto path = folder / "shop.wmk";
    fs::remove(path);
    example::make_shop(path, 1);
    REQUIRE(Raw(path).run(sql).empty());
    INFO(sql);
    CHECK(refused(folder, path, "store-damaged").find(named) != std::string::npos);
  }
}

TEST_CASE("a trigger dropped while the file is open is told by the comparison") {
  const Folder folder;
  const Store store = opened(folder / "shop.wmk", Store::Mode::create);
  REQUIRE(Raw(folder / "shop.wmk").run("DROP TRIGGER blobs_kept").empty());
  CHECK(store.first_difference()->value().find("11 of 12") != std::string::npos);
}

TEST_CASE("bytes overwritten in a page are damage, told in one sentence") {
  const Folder folder;
  example::make_shop(folder / "shop.wmk", 40);
  std::string bytes = example::content(folder / "shop.wmk");
  for (std::size_t page = 4096; page < bytes.size(); page += 4096) bytes.replace(page, 64, std::string(64, '\xee'));
  example::write(folder / "shop.wmk", bytes);
  const Store store = opened(folder / "shop.wmk", Store::Mode::read_only);
  CHECK(store.events_since(build::shop_chain, 0).error().code == "store-damaged");
  CHECK(store.first_difference()->has_value());
  bytes.replace(100, 64, std::string(64, '\xee')); // the page of the schema
  example::write(folder / "other.wmk", bytes);
  refused(folder, folder / "other.wmk", "store-damaged");
}

TEST_CASE("another program cannot change, delete, replace, skip or upsert an event by mistake") {
  const Folder folder;
  const auto path = folder / "shop.wmk";
  example::make_shop(path, 3);
  const std::string never_changed = "an event is never changed",
                    after_last = "an event is only added after the last one";
  CHECK(denied(path, "UPDATE events SET kind = 'x' WHERE id = 3") == never_changed);
  CHECK(denied(path, "UPDATE OR REPLACE events SET id = 1 WHERE id = 3") == never_changed);
  CHECK(denied(path, "DELETE FROM events WHERE id = 3") == "an event is never deleted");
  CHECK(denied(path, "DELETE FROM events") == "an event is never deleted");
  const std::string values = "events VALUES(";
  CHECK(denied(path, "INSERT OR REPLACE INTO " + values + "1, 'shop', 1, 'h', 'k', 't', '{}')") == after_last);
  CHECK(denied(path, "REPLACE INTO " + values + "4, 'shop', 2, 'h', 'k', 't', '{}')") == after_last);
  CHECK(denied(path, "INSERT INTO " + values + "5, 'shop', 4, 'h', 'k', 't', '{}')") == after_last);
  CHECK(denied(path, "INSERT INTO " + values + "4, 'shop', 5, 'h', 'k', 't', '{}')") == after_last);
  CHECK(denied(path, "INSERT INTO " + values + "4, 'build:B1', 2, 'h', 'k', 't', '{}')") == after_last);
  CHECK(denied(path, "INSERT INTO " + values + "NULL, 'shop', 4, 'h', 'k', 't', '{}')") == after_last);
  CHECK(denied(path, "INSERT INTO " + values +
                         "1, 'shop', 1, 'h', 'k', 't', '{}') "
                         "ON CONFLICT(id) DO UPDATE SET kind = 'x'") == after_last);
  CHECK_FALSE(denied(path, "INSERT INTO " + values + "4, 'shop', 4, x'00', 'k', 't', '{}')").empty()); // STRICT
  CHECK(
      Raw(path).run("INSERT INTO " + values + "4, 'shop', 4, 'h', 'k', 't', '{}')").empty()); // the verifier's to find
}

TEST_CASE("another program cannot change, delete or replace a stored file by mistake") {
  const Folder folder;
  const auto path = folder / "shop.wmk";
  example::make_shop(path, 1);
  Raw raw(path);
  REQUIRE(raw.run("INSERT INTO blobs VALUES('a', x'00')").empty());
  CHECK(raw.run("UPDATE blobs SET bytes = x'01'") == "a blob is never changed");
  CHECK(raw.run("DELETE FROM blobs") == "a blob is never deleted");
  CHECK(raw.run("INSERT OR REPLACE INTO blobs VALUES('a', x'01')") == "a blob is stored once");
  CHECK(raw.run("INSERT INTO blobs VALUES('a', x'01') ON CONFLICT DO UPDATE SET bytes = x'01'") ==
        "a blob is stored once");
  CHECK_FALSE(raw.run("INSERT OR REPLACE INTO blobs(rowid, sha256, bytes) VALUES(1, 'b', x'01')").empty());
  CHECK(raw.first("SELECT hex(bytes) FROM blobs") == "00");
}

TEST_CASE("reading leaves nothing beside a closed file and does not touch it") {
  const Folder folder;
  const auto path = folder / "shop.wmk";
  example::make_shop(path, 2);
  const std::string before = example::content(path);
  {
    Store store = opened(path, Store::Mode::read_only);
    CHECK(texts(store) == Texts{"1", "2"});
    CHECK(folder.names() == Texts{"shop.wmk"});
    CHECK(add(store, build::shop_chain, "three").error().code == "store-failed");
    CHECK_FALSE(store.first_difference()->has_value());
  }
  CHECK(folder.names() == Texts{"shop.wmk"});
  CHECK(example::content(path) == before);
}

TEST_CASE("reading beside a program that writes sees its events") {
  const Folder folder;
  Store writer = opened(folder / "shop.wmk", Store::Mode::create);
  REQUIRE(add(writer, build::shop_chain, "one").ok());
  const Store reader = opened(folder / "shop.wmk", Store::Mode::read_only);
  CHECK(texts(reader) == Texts{"one"});
  const std::int64_t before = *reader.data_version();
  REQUIRE(add(writer, build::shop_chain, "two").ok());
  CHECK(*reader.data_version() != before);
  CHECK(texts(reader) == Texts{"one", "two"});
}

TEST_CASE("reading what a crash left sees the log and leaves everything as it is") {
  const Folder folder;
  const auto path = folder / "shop.wmk", left = folder / "left";
  fs::create_directory(left);
  for (const bool with_shared_memory : {false, true}) {
    Store writer = opened(path, Store::Mode::create);
    REQUIRE(add(writer, build::shop_chain, "one").ok());
    for (const std::string ending : {"", "-wal", "-shm"}) {
      if (ending == "-shm" && !with_shared_memory) continue;
      fs::copy_file(path.native() + ending, (left / "shop.wmk").native() + ending,
                    fs::copy_options::overwrite_existing);
    }
    const std::string log = example::content(left / "shop.wmk-wal");
    REQUIRE_FALSE(log.empty());
    CHECK(texts(opened(left / "shop.wmk", Store::Mode::read_only)) == Texts{"one"});
    CHECK(example::content(left / "shop.wmk-wal") == log);
    CHECK(fs::exists(left / "shop.wmk-shm") == with_shared_memory);
    CHECK(texts(opened(left / "shop.wmk")) == Texts{"one"});
    for (const fs::path& used : {path, left / "shop.wmk"})
      for (const std::string ending : {"", "-wal", "-shm"}) fs::remove(used.native() + ending);
  }
}

TEST_CASE("a file changed while it is read without locks is told instead of mixed up") {
  const Folder folder;
  const auto path = folder / "shop.wmk";
  example::make_shop(path, 1);
  const Store reader = opened(path, Store::Mode::read_only);
  {
    Store writer = opened(path);
    REQUIRE(add(writer, build::shop_chain, "two").ok());
    CHECK(texts(reader) == Texts{"1"}); // the new event is in the log beside it: the old moment still holds
  }
  const auto events = reader.events_since(build::shop_chain, 0);
  REQUIRE_FALSE(events.ok());
  CHECK(events.error().code == "store-busy");
  CHECK(texts(opened(path, Store::Mode::read_only)) == Texts{"1", "two"});
}

TEST_CASE("a write-protected file is read, and refused for writing") {
  const Folder folder;
  example::make_shop(folder / "shop.wmk", 1);
  FaultVfs disk;
  disk.write_protected = true;
  CHECK(texts(opened(folder / "shop.wmk", Store::Mode::read_only)) == Texts{"1"});
  const auto store = Store::open(folder / "shop.wmk", Store::Mode::read_write);
  REQUIRE_FALSE(store.ok());
  CHECK(store.error().code == "store-failed");
  CHECK(store.error().message.find("write-protected") != std::string::npos);
  CHECK(folder.names() == Texts{"shop.wmk"});
}

TEST_CASE("names with signs that mean something in a URI or to the shell are plain names") {
  const Folder folder;
  for (const std::string_view name : {"a ?mode=memory#x%41&.wmk", "file:shop.wmk", "L\u00e4ufer's \"shop\".wmk"}) {
    const auto path = folder / name;
    example::make_shop(path, 1);
    CHECK(texts(opened(path, Store::Mode::read_only)) == Texts{"1"});
    CHECK(opened(path).backup(path.native() + "2").ok());
    CHECK(fs::exists(path));
    CHECK(fs::exists(path.native() + "2"));
  }
  CHECK(folder.names().size() == 6);
}

TEST_CASE("a symbolic link leads to the file and its companions stand beside the file") {
  const Folder folder;
  fs::create_directory(folder / "elsewhere");
  example::make_shop(folder / "elsewhere" / "shop.wmk", 1);
  fs::create_symlink(folder / "elsewhere" / "shop.wmk", folder / "link.wmk");
  Store store = opened(folder / "link.wmk");
  REQUIRE(add(store, build::shop_chain, "two").ok());
  CHECK(folder.names() == Texts{"elsewhere", "link.wmk"});
  CHECK(texts(opened(folder / "elsewhere" / "shop.wmk", Store::Mode::read_only)) == Texts{"1", "two"});
}
