#include "record/example.h"

#include "record/seal.h"

#include <catch2/catch.hpp>

#include <sqlite3.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <sstream>
#include <stdlib.h>

namespace example {

namespace fs = std::filesystem;

Folder::Folder() {
  std::string name = (fs::temp_directory_path() / "witnessmark-test-XXXXXX").native();
  REQUIRE(::mkdtemp(name.data()) != nullptr);
  path_ = fs::canonical(name);
}

Folder::~Folder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

std::vector<std::string> Folder::names() const {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(path_)) names.push_back(entry.path().filename());
  std::ranges::sort(names);
  return names;
}

std::string content(const fs::path& path) {
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  return text.str();
}

void write(const fs::path& path, std::string_view content) {
  std::ofstream(path, std::ios::binary) << content;
}

record::Store opened(const fs::path& path, record::Store::Mode mode) {
  auto store = record::Store::open(path, mode);
  INFO((store.ok() ? "" : store.error().message));
  REQUIRE(store.ok());
  return *std::move(store);
}

record::Result<void> add(record::Store& store, std::string_view chain, std::string_view text) {
  return store.transaction([&]() -> record::Result<void> {
    const auto head = store.head(chain);
    if (!head) return head.error();
    record::Event event;
    event.chain = chain;
    event.time = {1714546800'000 + head->seq, 60};
    event.person = "ada";
    event.name = "Ada Vane";
    event.kind = "note";
    event.body = json::Value::object({{"text", json::Value::text(std::string(text))}});
    return store.append(record::sealed(event, *head, nullptr));
  });
}

void make_shop(const fs::path& path, int events) {
  static std::map<int, std::string> made;
  if (!made.contains(events)) {
    const Folder folder;
    {
      auto store = opened(folder / "shop.wmk", record::Store::Mode::create);
      for (int i = 1; i <= events; ++i) REQUIRE(add(store, build::shop_chain, std::to_string(i)).ok());
    }
    made[events] = content(folder / "shop.wmk");
  }
  write(path, made[events]);
}

std::vector<std::string> texts(const record::Store& store, std::string_view chain) {
  const auto events = store.events_since(chain, 0);
  if (!events) return {events.error().code};
  std::vector<std::string> texts;
  for (const record::Event& event : *events) texts.push_back(event.body.at("text").as_text());
  return texts;
}

void rehash(std::vector<build::Event>& events) {
  std::map<std::string, record::Head> heads;
  std::map<std::string, std::string> moved; // old hash, new hash
  for (auto& event : events) {
    auto& head = heads.emplace(event.chain, record::Head{0, record::no_hash}).first->second;
    const std::string old = event.hash;
    event.seq = head.seq + 1;
    event.previous = head.hash;
    if (const auto* noted = event.body.find("head"))
      if (const auto it = moved.find(noted->as_text()); it != moved.end())
        event.body.set("head", json::Value::text(it->second));
    event.hash = record::hash_of(event);
    moved[old] = event.hash;
    head = {event.seq, event.hash};
  }
}

Raw::Raw(const fs::path& path) {
  REQUIRE(sqlite3_open_v2(path.c_str(), &handle_, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, nullptr) == SQLITE_OK);
}

Raw::~Raw() {
  sqlite3_close(handle_);
}

std::string Raw::run(const std::string& sql) {
  if (sqlite3_exec(handle_, sql.c_str(), nullptr, nullptr, nullptr) == SQLITE_OK) return "";
  return sqlite3_errmsg(handle_);
}

std::string Raw::first(const std::string& sql) {
  std::string value;
  const auto take = [](void* to, int, char** columns, char**) {
    if (static_cast<std::string*>(to)->empty() && columns[0]) *static_cast<std::string*>(to) = columns[0];
    return 0;
  };
  INFO(sql);
  REQUIRE(sqlite3_exec(handle_, sql.c_str(), take, &value, nullptr) == SQLITE_OK);
  return value;
}

void Raw::forge(const std::string& table, const std::string& sql) {
  const std::string of_table = " FROM sqlite_schema WHERE type = 'trigger' AND tbl_name = '" + table + "'";
  const std::string made = first("SELECT group_concat(sql, '; ')" + of_table);
  const std::string dropped = first("SELECT group_concat('DROP TRIGGER ' || name, '; ')" + of_table);
  INFO(sql);
  REQUIRE(run("BEGIN") == "");
  REQUIRE(run(dropped) == "");
  REQUIRE(run(sql) == "");
  REQUIRE(run(made) == "");
  REQUIRE(run("COMMIT") == "");
}

} // namespace example
