// A disk that fails, fills up, is held by another or loses its power: each ends in one clear sentence, and in a file
// that holds every event that was acknowledged.
#include "record/example.h"
#include "record/fault_vfs.h"

#include <catch2/catch.hpp>

#include <sqlite3.h>

#include <optional>

using example::add;
using example::Folder;
using example::opened;
using example::Raw;
using example::texts;
using record::Store;
using Texts = std::vector<std::string>;

namespace fs = std::filesystem;

namespace {

const Texts earlier = {"1", "2", "3"};

// What a real disk answers when this kind of call fails.
int code_of(Call call) {
  switch (call) {
  case Call::open: return SQLITE_CANTOPEN;
  case Call::read: return SQLITE_IOERR_READ;
  case Call::write: return SQLITE_IOERR_WRITE;
  case Call::truncate: return SQLITE_IOERR_TRUNCATE;
  case Call::sync: return SQLITE_IOERR_FSYNC;
  case Call::size: return SQLITE_IOERR_FSTAT;
  case Call::lock: return SQLITE_IOERR_LOCK;
  case Call::shared_memory: return SQLITE_IOERR_SHMMAP;
  case Call::remove: return SQLITE_IOERR_DELETE;
  case Call::access: return SQLITE_IOERR_ACCESS;
  }
  return SQLITE_IOERR;
}

struct Attempt {
  std::optional<record::Error> error; // of the first step that was refused
  bool acknowledged = false;
  bool reached = false; // the failing call came
};

// Opens, adds one event and closes, on a disk whose call number `nth` fails, once or from then on.
Attempt try_to_add(FaultVfs& disk, const fs::path& path, int nth, bool for_good, std::optional<int> code) {
  Attempt attempt;
  int calls = 0;
  disk.on_call = [&](Call call, const std::string&) {
    ++calls;
    if (calls < nth || (calls > nth && !for_good)) return SQLITE_OK;
    attempt.reached = true;
    return code ? *code : code_of(call);
  };
  {
    auto store = Store::open(path, Store::Mode::read_write);
    if (!store) attempt.error = store.error();
    if (store) {
      const auto added = add(*store, build::shop_chain, "4");
      attempt.acknowledged = added.ok();
      if (!added) attempt.error = added.error();
    }
  }
  disk.on_call = nullptr;
  return attempt;
}

void check_refusal(const Attempt& attempt) {
  if (!attempt.error) return;
  INFO(attempt.error->message);
  CHECK((attempt.error->code == "store-failed" || attempt.error->code == "store-busy"));
  CHECK(attempt.error->message.find('\n') == std::string::npos);
  CHECK(attempt.error->message.find("shop.wmk") != std::string::npos);
}

// After a fault: it opens, the earlier events are there, the new one when it was acknowledged, and work goes on.
void check_file(const fs::path& path, bool acknowledged) {
  Store store = opened(path);
  CHECK_FALSE(store.first_difference()->has_value());
  Texts found = texts(store);
  if (acknowledged) CHECK(found.size() == 4);
  if (found.size() == 4) {
    CHECK(found.back() == "4");
    found.pop_back();
  }
  CHECK(found == earlier);
  CHECK(add(store, build::shop_chain, "5").ok());
}

void remove_companions(const fs::path& path) {
  for (const std::string ending : {"-wal", "-shm", "-journal"}) fs::remove(path.native() + ending);
}

int fail_every_call_in_turn(const std::function<void(const fs::path&)>& prepare, bool for_good,
                            std::optional<int> code) {
  const Folder folder;
  const auto path = folder / "shop.wmk";
  FaultVfs disk;
  for (int nth = 1;; ++nth) {
    remove_companions(path);
    prepare(path);
    INFO("call " << nth << (for_good ? " and all after it" : ""));
    const Attempt attempt = try_to_add(disk, path, nth, for_good, code);
    check_refusal(attempt);
    check_file(path, attempt.acknowledged);
    if (!attempt.reached) {
      CHECK(attempt.acknowledged);
      return nth - 1;
    }
  }
}

void put_closed_file(const fs::path& path) {
  example::make_shop(path, 3);
}

// As `backup` makes it: not yet switched to a log beside the file.
void put_copy(const fs::path& path) {
  static const std::string bytes = [] {
    const Folder folder;
    put_closed_file(folder / "shop.wmk");
    REQUIRE(opened(folder / "shop.wmk").backup(folder / "copy.wmk").ok());
    return example::content(folder / "copy.wmk");
  }();
  example::write(path, bytes);
}

} // namespace

TEST_CASE("each call to the disk failing once ends in a refusal and a sound file") {
  CHECK(fail_every_call_in_turn(put_closed_file, false, std::nullopt) > 40);
}

TEST_CASE("the disk failing for good from any call on ends in a refusal and a sound file") {
  CHECK(fail_every_call_in_turn(put_closed_file, true, std::nullopt) > 40);
}

TEST_CASE("each call failing while a copy is opened for the first time ends in a refusal and a sound file") {
  CHECK(fail_every_call_in_turn(put_copy, false, std::nullopt) > 60);
}

TEST_CASE("the disk filling up at any write ends in a refusal that says so") {
  const Folder folder;
  const auto path = folder / "shop.wmk";
  FaultVfs disk;
  put_closed_file(path);
  {
    Store store = opened(path);
    disk.on_call = [](Call call, const std::string&) { return call == Call::write ? SQLITE_FULL : SQLITE_OK; };
    const auto added = add(store, build::shop_chain, "4");
    REQUIRE_FALSE(added.ok());
    CHECK(added.error().code == "store-failed");
    CHECK(added.error().message.starts_with("the disk is full: "));
    CHECK(texts(store) == earlier);
    disk.on_call = nullptr;
    CHECK(add(store, build::shop_chain, "4").ok()); // room was made
  }
  check_file(path, true);
}

TEST_CASE("each call failing while a shop file is made leaves the whole file or none") {
  const Folder folder;
  const auto path = folder / "shop.wmk";
  FaultVfs disk;
  for (int nth = 1;; ++nth) {
    remove_companions(path);
    fs::remove(path);
    int calls = 0;
    disk.on_call = [&](Call call, const std::string&) { return ++calls == nth ? code_of(call) : SQLITE_OK; };
    INFO("call " << nth);
    const bool made = Store::open(path, Store::Mode::create).ok();
    disk.on_call = nullptr;
    if (made || fs::exists(path)) CHECK(texts(opened(path)).empty());
    if (!fs::exists(path)) CHECK(folder.names().empty());
    if (calls < nth) {
      CHECK(made);
      CHECK(nth > 40);
      break;
    }
  }
}

TEST_CASE("each call failing while a copy is made leaves the file alone and the whole copy or none") {
  const Folder folder;
  const auto path = folder / "shop.wmk", copy = folder / "copy.wmk";
  put_closed_file(path);
  FaultVfs disk;
  Store store = opened(path);
  for (int nth = 1;; ++nth) {
    fs::remove(copy);
    int calls = 0;
    disk.on_call = [&](Call call, const std::string&) { return ++calls == nth ? code_of(call) : SQLITE_OK; };
    INFO("call " << nth);
    const auto copied = store.backup(copy);
    disk.on_call = nullptr;
    CHECK(fs::exists(copy) == copied.ok());
    if (copied) CHECK(texts(opened(copy, Store::Mode::read_only)) == earlier);
    CHECK(folder.names().size() == (copied ? 4 : 3)); // the file with its -wal and -shm, and nothing half done
    CHECK(texts(store) == earlier);
    if (calls < nth) {
      CHECK(copied.ok());
      CHECK(nth > 20);
      break;
    }
  }
}

TEST_CASE("an event is acknowledged only after a sync of the log that holds it") {
  const Folder folder;
  FaultVfs disk;
  Store store = opened(folder / "shop.wmk", Store::Mode::create);
  for (int i = 0; i < 5; ++i) {
    bool written = false, synced_after = false;
    disk.forget_counts();
    disk.on_call = [&](Call call, const std::string& path) {
      const bool log = path.ends_with("-wal");
      if (log && call == Call::write) written = true, synced_after = false;
      if (log && call == Call::sync) synced_after = true;
      return SQLITE_OK;
    };
    REQUIRE(add(store, build::shop_chain, "event").ok());
    CHECK(written);
    CHECK(synced_after);
    CHECK(disk.count(Call::sync) >= 1);
    disk.on_call = nullptr;
  }
}

TEST_CASE("a file opened once more syncs as the first time") {
  const Folder folder;
  put_closed_file(folder / "shop.wmk");
  FaultVfs disk;
  Store store = opened(folder / "shop.wmk");
  REQUIRE(add(store, build::shop_chain, "4").ok());
  disk.forget_counts();
  REQUIRE(add(store, build::shop_chain, "5").ok());
  CHECK(disk.count(Call::sync) == 1);
}

TEST_CASE("a power cut at any call loses no event that was acknowledged") {
  const Folder folder;
  const auto path = folder / "shop.wmk";
  put_copy(path);
  FaultVfs disk;
  std::vector<int> acknowledged; // at each cut
  int events = 3;
  disk.on_call = [&](Call call, const std::string&) {
    if (call != Call::write && call != Call::sync && call != Call::truncate && call != Call::remove) return SQLITE_OK;
    const std::string cut = std::to_string(acknowledged.size());
    disk.write_survivors(folder / ("cut" + cut), static_cast<unsigned>(acknowledged.size() % 3));
    acknowledged.push_back(events);
    return SQLITE_OK;
  };
  for (int round = 0; round < 4; ++round) { // closing moves the log into the file
    Store store = opened(path);
    for (int i = 0; i < 3; ++i) {
      REQUIRE(add(store, build::shop_chain, std::to_string(events + 1)).ok());
      ++events;
    }
  }
  disk.on_call = nullptr;
  CHECK(acknowledged.size() > 60);
  for (std::size_t cut = 0; cut < acknowledged.size(); ++cut) {
    INFO("cut " << cut << " after " << acknowledged[cut] << " events");
    const auto survivor = folder / ("cut" + std::to_string(cut)) / "shop.wmk";
    Store store = opened(survivor);
    const Texts found = texts(store);
    CHECK(found.size() >= static_cast<std::size_t>(acknowledged[cut]));
    CHECK(found.size() <= static_cast<std::size_t>(acknowledged[cut]) + 1);
    for (std::size_t i = 0; i < found.size(); ++i) CHECK(found[i] == std::to_string(i + 1));
    CHECK_FALSE(store.first_difference()->has_value());
    CHECK(add(store, build::shop_chain, "after the cut").ok());
  }
}

TEST_CASE("the power cut of these tests does lose what was not synced") {
  const Folder folder;
  put_closed_file(folder / "shop.wmk");
  FaultVfs disk;
  Raw careless(folder / "shop.wmk");
  REQUIRE(careless.run("PRAGMA synchronous = OFF; INSERT INTO attempts VALUES('ada', 1, 1)").empty());
  disk.write_survivors(folder / "cut", 0);
  CHECK(careless.first("SELECT count(*) FROM attempts") == "1");
  CHECK(Raw(folder / "cut" / "shop.wmk").first("SELECT count(*) FROM attempts") == "0");
}

TEST_CASE("a file held by another is waited for, for three seconds") {
  const Folder folder;
  put_closed_file(folder / "shop.wmk");
  FaultVfs disk;
  Store store = opened(folder / "shop.wmk");
  Store other = opened(folder / "shop.wmk");
  const auto both = other.transaction([&]() -> record::Result<void> {
    const auto added = add(store, build::shop_chain, "4");
    REQUIRE_FALSE(added.ok());
    CHECK(added.error().code == "store-busy");
    CHECK(added.error().message.find("another program") != std::string::npos);
    CHECK(texts(store) == earlier); // reading goes on
    return {};
  });
  CHECK(both.ok());
  CHECK(disk.slept_microseconds() > 2'500'000);
  CHECK(disk.slept_microseconds() < 3'500'000);
  CHECK(add(store, build::shop_chain, "4").ok());
}

TEST_CASE("a file that another program has locked whole is busy at opening") {
  const Folder folder;
  put_closed_file(folder / "shop.wmk");
  FaultVfs disk;
  Raw other(folder / "shop.wmk");
  REQUIRE(other.run("PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE").empty());
  const auto store = Store::open(folder / "shop.wmk", Store::Mode::read_write);
  REQUIRE_FALSE(store.ok());
  CHECK(store.error().code == "store-busy");
}

TEST_CASE("the last events are found without reading the file through") {
  const Folder folder;
  const auto path = folder / "shop.wmk";
  FaultVfs disk;
  {
    Store store = opened(path, Store::Mode::create);
    for (int i = 0; i < 400; ++i) REQUIRE(add(store, i % 2 == 0 ? "shop" : "build:B1", std::string(300, 'x')).ok());
  }
  const auto pages = static_cast<int>(fs::file_size(path) / 4096);
  CHECK(pages > 60);
  const Store store = opened(path, Store::Mode::read_only);
  disk.forget_counts();
  CHECK(store.events_since("shop", 198)->size() == 2);
  CHECK(disk.count(Call::read) < 10);
}
