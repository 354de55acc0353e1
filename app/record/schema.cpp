#include "record/schema.h"

#include "quantity/quoted.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace record {

namespace {

// Every column of `events` is in the JSON of `event`, or its hash. `blobs` has no rowid, so that no row can be replaced
// by one with the same rowid. The INSERT guards close what the DELETE guards leave open: INSERT OR REPLACE deletes
// without asking them on a connection that has not switched recursive_triggers on.
constexpr std::array<SchemaItem, 12> items = {{
    {"events", "CREATE TABLE events("
               "id INTEGER PRIMARY KEY, chain TEXT NOT NULL, seq INTEGER NOT NULL, hash TEXT NOT NULL, "
               "kind TEXT NOT NULL, time TEXT NOT NULL, event TEXT NOT NULL, UNIQUE(chain, seq)) STRICT"},
    {"sqlite_autoindex_events_1", ""},
    {"heads", "CREATE TABLE heads("
              "chain TEXT NOT NULL PRIMARY KEY, seq INTEGER NOT NULL, hash TEXT NOT NULL) STRICT, WITHOUT ROWID"},
    {"blobs", "CREATE TABLE blobs(sha256 TEXT NOT NULL PRIMARY KEY, bytes BLOB NOT NULL) STRICT, WITHOUT ROWID"},
    {"keys", "CREATE TABLE keys("
             "owner TEXT NOT NULL, what TEXT NOT NULL, locked_pem TEXT NOT NULL, PRIMARY KEY(owner, what)) "
             "STRICT, WITHOUT ROWID"},
    {"attempts", "CREATE TABLE attempts("
                 "person TEXT NOT NULL PRIMARY KEY, wrong INTEGER NOT NULL, last_utc_ms INTEGER NOT NULL) "
                 "STRICT, WITHOUT ROWID"},
    {"events_next", "CREATE TRIGGER events_next BEFORE INSERT ON events "
                    "WHEN NEW.id IS NOT (SELECT coalesce(max(id), 0) + 1 FROM events) OR "
                    "NEW.seq IS NOT (SELECT coalesce(max(seq), 0) + 1 FROM events WHERE chain = NEW.chain) "
                    "BEGIN SELECT RAISE(ABORT, 'an event is only added after the last one'); END"},
    {"events_stay", "CREATE TRIGGER events_stay BEFORE UPDATE ON events "
                    "BEGIN SELECT RAISE(ABORT, 'an event is never changed'); END"},
    {"events_kept", "CREATE TRIGGER events_kept BEFORE DELETE ON events "
                    "BEGIN SELECT RAISE(ABORT, 'an event is never deleted'); END"},
    {"blobs_once", "CREATE TRIGGER blobs_once BEFORE INSERT ON blobs "
                   "WHEN EXISTS(SELECT 1 FROM blobs WHERE sha256 = NEW.sha256) "
                   "BEGIN SELECT RAISE(ABORT, 'a blob is stored once'); END"},
    {"blobs_stay", "CREATE TRIGGER blobs_stay BEFORE UPDATE ON blobs "
                   "BEGIN SELECT RAISE(ABORT, 'a blob is never changed'); END"},
    {"blobs_kept", "CREATE TRIGGER blobs_kept BEFORE DELETE ON blobs "
                   "BEGIN SELECT RAISE(ABORT, 'a blob is never deleted'); END"},
}};

} // namespace

std::span<const SchemaItem> schema() {
  return items;
}

Result<std::optional<std::string>> schema_difference(const Connection& db) {
  using Difference = std::optional<std::string>;
  auto rows = db.query("SELECT name, coalesce(sql, '') FROM sqlite_schema ORDER BY rowid");
  if (!rows) return rows.error();
  std::size_t known = 0;
  while (true) {
    const auto row = rows->next();
    if (!row) return row.error();
    if (!*row) break;
    const auto item = std::ranges::find(items, rows->text(0), &SchemaItem::name);
    if (item == items.end())
      return Difference(fmt::format("{} holds a table, index or trigger {} that is not of this program",
                                    db.path().native(), quantity::quoted(rows->text(0))));
    if (rows->text(1) != item->sql)
      return Difference(fmt::format("{} holds the table or trigger {} in another form than this program makes it",
                                    db.path().native(), quantity::quoted(item->name)));
    ++known;
  }
  if (known == items.size()) return Difference();
  return Difference(fmt::format("{} lacks tables, indexes or triggers of a shop file: it has {} of {}",
                                db.path().native(), known, items.size()));
}

} // namespace record
