#include "record/sqlite.h"

#include "record/owned.h"

#include <fmt/format.h>
#include <sqlite3.h>

#include <array>
#include <cerrno>
#include <map>
#include <stdexcept>
#include <system_error>
#include <utility>

namespace record {

namespace {

using Handle = Owned<sqlite3, sqlite3_close>;
using Prepared = Owned<sqlite3_stmt, sqlite3_finalize>;

// A path as a URI that SQLite reads back to the same bytes.
std::string uri_of(const std::filesystem::path& path, std::string_view options) {
  constexpr std::string_view plain = "/-._~0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
  std::string uri = "file:";
  for (const char c : path.native()) {
    if (plain.find(c) != std::string_view::npos) {
      uri += c;
    } else {
      uri += fmt::format("%{:02X}", static_cast<unsigned char>(c));
    }
  }
  return uri + std::string(options);
}

std::string_view options_of(Access access) {
  switch (access) {
  case Access::read: return "?mode=ro";
  case Access::read_frozen: return "?mode=ro&immutable=1";
  case Access::read_alone: return "?mode=ro&vfs=unix-none";
  case Access::write: return "?mode=rw";
  }
  throw std::logic_error("unknown access");
}

Error error_of(const std::filesystem::path& path, int code, int system_error, std::string_view detail) {
  const std::string& file = path.native();
  if (code == SQLITE_FULL || system_error == ENOSPC || system_error == EDQUOT)
    return {"store-failed", fmt::format("the disk is full: nothing was written to {}; make room and try again", file)};
  switch (code & 0xff) {
  case SQLITE_BUSY:
  case SQLITE_LOCKED:
    return {"store-busy", fmt::format("another program has been holding {} for {} seconds: try again when it is done",
                                      file, busy_ms / 1000)};
  case SQLITE_CORRUPT:
  case SQLITE_NOTADB:
  case SQLITE_FORMAT:
    return {"store-damaged",
            fmt::format("{} is damaged ({}): keep it, and go on with a copy of it from before", file, detail)};
  case SQLITE_READONLY:
  case SQLITE_PERM:
    return {"store-failed", fmt::format("{} cannot be written: it, its folder or its disk is write-protected", file)};
  case SQLITE_CANTOPEN:
    return {"store-failed", fmt::format("{} or a file beside it cannot be opened: look at who may write in its folder "
                                        "({})",
                                        file, detail)};
  case SQLITE_IOERR:
    return {"store-failed",
            fmt::format("the disk did not do as it was told and nothing was written to {} ({}): look at "
                        "the disk and try again",
                        file, detail)};
  default: return {"store-failed", fmt::format("nothing was written to {}: {}", file, detail)};
  }
}

} // namespace

struct Connection::State {
  std::filesystem::path called;
  Handle handle;
  std::map<std::string, Prepared, std::less<>> statements; // goes before the handle
};

Connection::Connection(std::unique_ptr<State> state) : state_(std::move(state)) {}
Connection::Connection(Connection&&) noexcept = default;
Connection& Connection::operator=(Connection&&) noexcept = default;
Connection::~Connection() = default;

Result<Connection> Connection::open(const std::filesystem::path& path, Access access,
                                    const std::filesystem::path& called) {
  sqlite3* handle = nullptr;
  const int flags = SQLITE_OPEN_URI | SQLITE_OPEN_FULLMUTEX | SQLITE_OPEN_EXRESCODE |
                    (access == Access::write ? SQLITE_OPEN_READWRITE : SQLITE_OPEN_READONLY);
  const int code = sqlite3_open_v2(uri_of(path, options_of(access)).c_str(), &handle, flags, nullptr);
  Connection connection(std::make_unique<State>(State{called, Handle(handle), {}}));
  if (code != SQLITE_OK) return connection.error(code);
  sqlite3_busy_timeout(handle, busy_ms);
  sqlite3_db_config(handle, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
  // A reader must not tidy up beside the file when it goes.
  if (access != Access::write) sqlite3_db_config(handle, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, nullptr);
  return connection;
}

Result<Query> Connection::query(std::string_view sql) const {
  auto found = state_->statements.find(sql);
  if (found == state_->statements.end()) {
    sqlite3_stmt* statement = nullptr;
    const int code = sqlite3_prepare_v3(state_->handle.get(), sql.data(), static_cast<int>(sql.size()),
                                        SQLITE_PREPARE_PERSISTENT, &statement, nullptr);
    if (code != SQLITE_OK) return error(code);
    found = state_->statements.emplace(sql, statement).first;
  }
  if (sqlite3_stmt_busy(found->second.get()) != 0) throw std::logic_error("a statement is used inside itself");
  return Query(*this, found->second.get());
}

Result<void> Connection::run(std::string_view sql) const {
  auto prepared = query(sql);
  if (!prepared) return prepared.error();
  return prepared->run();
}

Result<std::string> Connection::one(std::string_view sql) const {
  auto prepared = query(sql);
  if (!prepared) return prepared.error();
  const auto row = prepared->next();
  if (!row) return row.error();
  return *row ? std::string(prepared->text(0)) : std::string();
}

Result<std::string> Connection::first_bytes(int size) const {
  sqlite3_file* file = nullptr;
  sqlite3_file_control(state_->handle.get(), "main", SQLITE_FCNTL_FILE_POINTER, &file);
  std::string bytes(static_cast<std::size_t>(size), '\0');
  const int code = file->pMethods->xRead(file, bytes.data(), size, 0);
  if (code != SQLITE_OK && code != SQLITE_IOERR_SHORT_READ) return error_of(path(), code, 0, sqlite3_errstr(code));
  return bytes;
}

bool Connection::in_transaction() const {
  return sqlite3_get_autocommit(state_->handle.get()) == 0;
}

bool Connection::is_write_protected() const {
  return sqlite3_db_readonly(state_->handle.get(), "main") == 1;
}

const std::filesystem::path& Connection::path() const {
  return state_->called;
}

Error Connection::error(int code) const {
  sqlite3* const handle = state_->handle.get();
  const bool of_disk = (code & 0xff) == SQLITE_IOERR || (code & 0xff) == SQLITE_CANTOPEN;
  return error_of(state_->called, code, of_disk ? sqlite3_system_errno(handle) : 0, sqlite3_errmsg(handle));
}

Query::Query(const Connection& connection, sqlite3_stmt* statement) : connection_(&connection), statement_(statement) {}

Query::Query(Query&& other) noexcept
    : connection_(other.connection_), statement_(std::exchange(other.statement_, nullptr)),
      parameters_(other.parameters_), failed_(other.failed_) {}

Query::~Query() {
  if (!statement_) return;
  sqlite3_reset(statement_);
  sqlite3_clear_bindings(statement_);
}

void Query::bound(int code) {
  if (failed_ == SQLITE_OK) failed_ = code;
}

Query& Query::with(std::string_view text) & {
  bound(sqlite3_bind_text64(statement_, ++parameters_, text.data(), text.size(), SQLITE_TRANSIENT, SQLITE_UTF8));
  return *this;
}

Query& Query::with(std::int64_t number) & {
  bound(sqlite3_bind_int64(statement_, ++parameters_, number));
  return *this;
}

Query& Query::with_bytes(std::string_view bytes) & {
  bound(sqlite3_bind_blob64(statement_, ++parameters_, bytes.data(), bytes.size(), SQLITE_TRANSIENT));
  return *this;
}

Result<bool> Query::next() {
  if (failed_ != SQLITE_OK) return connection_->error(failed_);
  const int code = sqlite3_step(statement_);
  if (code == SQLITE_ROW) return true;
  if (code == SQLITE_DONE) return false;
  return connection_->error(code);
}

Result<void> Query::run() {
  while (true) {
    const auto row = next();
    if (!row) return row.error();
    if (!*row) return {};
  }
}

Result<bool> Query::changed() {
  if (auto done = run(); !done) return done.error();
  return sqlite3_changes(sqlite3_db_handle(statement_)) != 0;
}

std::string_view Query::text(int column) const {
  const void* const bytes = sqlite3_column_blob(statement_, column);
  return {static_cast<const char*>(bytes), static_cast<std::size_t>(sqlite3_column_bytes(statement_, column))};
}

std::int64_t Query::integer(int column) const {
  return sqlite3_column_int64(statement_, column);
}

} // namespace record
