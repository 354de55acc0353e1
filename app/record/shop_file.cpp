#include "record/shop_file.h"

#include "record/new_file.h"
#include "record/schema.h"

#include <fmt/format.h>

#include <algorithm>
#include <span>
#include <sys/stat.h>
#include <system_error>

namespace record {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view magic("SQLite format 3\0", 16);
constexpr std::size_t version_at = 60, application_at = 68, header_size = 72;

struct Setting {
  std::string_view set, ask, answer;
};

// What SQLite keeps for the connection only, so it is set anew at every opening and asked back.
constexpr Setting careful[] = {
    {"PRAGMA trusted_schema = OFF", "PRAGMA trusted_schema", "0"},
    {"PRAGMA cell_size_check = ON", "PRAGMA cell_size_check", "1"},
    {"PRAGMA foreign_keys = ON", "PRAGMA foreign_keys", "1"},
    {"PRAGMA recursive_triggers = ON", "PRAGMA recursive_triggers", "1"},
};
constexpr Setting durable[] = {
    {"PRAGMA journal_mode = WAL", "PRAGMA journal_mode", "wal"},
    {"PRAGMA synchronous = FULL", "PRAGMA synchronous", "2"},
    {"PRAGMA secure_delete = ON", "PRAGMA secure_delete", "1"},
};

fs::path beside(const fs::path& path, std::string_view ending) {
  return path.native() + std::string(ending);
}

std::string stamp_of(const fs::path& path) {
  struct stat state {};
  if (::stat(path.c_str(), &state) != 0) return "";
  return fmt::format("{} {} {}.{:09}", state.st_ino, state.st_size, state.st_mtim.tv_sec, state.st_mtim.tv_nsec);
}

Error foreign(const fs::path& path) {
  return {"store-foreign", fmt::format("{} is no shop file of this program: choose another file", path.native())};
}

// The file itself, symbolic links followed: SQLite's companions stand beside it.
Result<fs::path> existing_file(const fs::path& path) {
  std::error_code error;
  const auto state = fs::status(path, error);
  if (state.type() == fs::file_type::not_found)
    return Error{"store-absent", fmt::format("there is no file {}", path.native())};
  const fs::path real = error ? fs::path() : fs::canonical(path, error);
  if (error) return Error{"store-failed", fmt::format("{} cannot be reached: {}", path.native(), error.message())};
  if (state.type() != fs::file_type::regular) return foreign(path);
  return real;
}

// How a file can be read without leaving anything beside it: a -wal is there while it is in use or after a crash, a
// -shm with it while it is in use. A -journal is left by a crash while the file was switched to WAL.
Access way_of_reading(const fs::path& path) {
  std::error_code ignored;
  if (fs::exists(beside(path, "-journal"), ignored)) return Access::read;
  if (!fs::exists(beside(path, "-wal"), ignored)) return Access::read_frozen;
  return fs::exists(beside(path, "-shm"), ignored) ? Access::read : Access::read_alone;
}

Result<void> demand_ours(const fs::path& path, std::int64_t application, std::int64_t version) {
  if (application != application_id || version < 1) return foreign(path);
  if (version > schema_version)
    return Error{"store-newer", fmt::format("{} was written by a newer version of this program: open it with that one",
                                            path.native())};
  return {};
}

std::int64_t number_at(std::string_view bytes, std::size_t at) {
  std::int64_t number = 0;
  for (const char c : bytes.substr(at, 4)) number = number << 8 | static_cast<unsigned char>(c);
  return number;
}

// Before SQLite has read, locked or recovered anything.
Result<void> check_first_bytes(const Connection& db) {
  const auto bytes = db.first_bytes(header_size);
  if (!bytes) return bytes.error();
  if (!bytes->starts_with(magic)) return foreign(db.path());
  return demand_ours(db.path(), number_at(*bytes, application_at), number_at(*bytes, version_at));
}

// As SQLite sees it: what a newer program has changed may still be in the -wal.
Result<void> check_content(const Connection& db) {
  auto stamps = db.query("SELECT application_id, user_version FROM pragma_application_id, pragma_user_version");
  if (!stamps) return stamps.error();
  if (const auto row = stamps->next(); !row) return row.error();
  if (auto ours = demand_ours(db.path(), stamps->integer(0), stamps->integer(1)); !ours) return ours;
  const auto difference = schema_difference(db);
  if (!difference) return difference.error();
  if (*difference) return Error{"store-damaged", **difference + ": keep it, and go on with a copy of it from before"};
  return {};
}

Result<void> set_and_ask_back(const Connection& db, std::span<const Setting> settings) {
  for (const Setting& setting : settings) {
    if (auto set = db.run(setting.set); !set) return set;
    const auto answer = db.one(setting.ask);
    if (!answer) return answer.error();
    if (*answer != setting.answer)
      return Error{"store-failed",
                   fmt::format("{} cannot be kept safely here (\"{}\" is refused): keep it on a disk of "
                               "this computer",
                               db.path().native(), setting.set)};
  }
  return {};
}

Result<void> prepare(const Connection& db, Access access) {
  if (auto ours = check_first_bytes(db); !ours) return ours;
  if (access == Access::write && db.is_write_protected())
    return Error{"store-failed", fmt::format("{} cannot be written: it, its folder or its disk is write-protected",
                                             db.path().native())};
  if (access == Access::read_alone)
    if (auto kept = db.run("PRAGMA locking_mode = EXCLUSIVE"); !kept) return kept; // needs no -shm then
  if (auto set = set_and_ask_back(db, careful); !set) return set;
  if (auto ours = check_content(db); !ours) return ours;
  if (access == Access::write) return set_and_ask_back(db, durable);
  return {};
}

Result<void> make_tables(const Connection& db) {
  if (auto begun = db.run("BEGIN EXCLUSIVE"); !begun) return begun;
  for (const std::string& stamp : {fmt::format("PRAGMA application_id = {}", application_id),
                                   fmt::format("PRAGMA user_version = {}", schema_version)})
    if (auto set = db.run(stamp); !set) return set;
  for (const SchemaItem& item : schema()) {
    if (item.sql.empty()) continue;
    if (auto made = db.run(item.sql); !made) return made;
  }
  return db.run("COMMIT");
}

} // namespace

void Stillness::watch(const fs::path& path) {
  seen_.emplace(path, stamp_of(path));
}

bool Stillness::disturbed() const {
  return std::ranges::any_of(seen_, [](const auto& file) { return stamp_of(file.first) != file.second; });
}

Error changed_meanwhile(const fs::path& path) {
  return {"store-busy", fmt::format("another program changed {} while it was being read: try again", path.native())};
}

Result<ShopFile> open_shop_file(const fs::path& path, bool writable) {
  const auto real = existing_file(path);
  if (!real) return real.error();
  const Access access = writable ? Access::write : way_of_reading(*real);
  Stillness stillness;
  if (access == Access::read_frozen || access == Access::read_alone) stillness.watch(*real);
  if (access == Access::read_alone) stillness.watch(beside(*real, "-wal"));
  auto db = Connection::open(*real, access, path);
  if (!db) return db.error();
  const auto prepared = prepare(*db, access);
  if (stillness.disturbed()) return changed_meanwhile(path);
  if (!prepared) return prepared.error();
  return ShopFile{std::move(*db), writable, std::move(stillness)};
}

Result<void> create_shop_file(const fs::path& path) {
  auto file = NewFile::for_target(path);
  if (!file) return file.error();
  {
    const auto db = Connection::open(file->path(), Access::write, path);
    if (!db) return db.error();
    if (auto made = make_tables(*db); !made) return made;
  }
  if (auto synced = file->to_disk(); !synced) return synced;
  return file->take_name();
}

} // namespace record
