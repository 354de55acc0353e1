// SQLite behind two small classes: a connection that owns its prepared statements, and one use of a statement. Every
// failure of the library or the disk becomes an Error that names the file: "store-busy", "store-damaged" or
// "store-failed". One thread at a time.
#pragma once

#include "quantity/result.h"

#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>
#include <string_view>

struct sqlite3;
struct sqlite3_stmt;

namespace record {

using quantity::Error;
using quantity::Result;

// How long another process may hold the file before the answer is "store-busy".
constexpr int busy_ms = 3000;

enum class Access {
  read,        // takes part in locking; the -wal and -shm that are there are used
  read_frozen, // a file that nobody writes: no locks, nothing looked for beside it
  read_alone,  // a file and its -wal that nobody uses: no locks, no -shm
  write,       // the file must be there
};

class Connection;

// A statement being used: fill the parameters from left to right, then step. It is free again when this goes.
class Query {
public:
  Query(Query&& other) noexcept;
  Query& operator=(Query&&) = delete;
  ~Query();

  Query& with(std::string_view text) &;
  Query& with(std::int64_t number) &;
  Query& with_bytes(std::string_view bytes) &;

  Result<bool> next();    // whether there is a row
  Result<void> run();     // to the end, for a statement without rows
  Result<bool> changed(); // the same, and whether it changed or added any row

  // Of the row reached. The view holds until the next step. NULL and numbers read as text, as SQLite writes them.
  std::string_view text(int column) const;
  std::int64_t integer(int column) const;

private:
  friend class Connection;
  Query(const Connection& connection, sqlite3_stmt* statement);
  void bound(int code);
  const Connection* connection_;
  sqlite3_stmt* statement_;
  int parameters_ = 0;
  int failed_ = 0; // the first parameter that could not be filled
};

class Connection {
public:
  // `path` must be absolute and free of symbolic links; `called` is its name in messages. Nothing of the file has been
  // looked at yet but its first bytes.
  static Result<Connection> open(const std::filesystem::path& path, Access access, const std::filesystem::path& called);
  Connection(Connection&&) noexcept;
  Connection& operator=(Connection&&) noexcept;
  ~Connection();

  // The statement is prepared once. std::logic_error when the same text is being used already.
  Result<Query> query(std::string_view sql) const;
  Result<void> run(std::string_view sql) const;
  Result<std::string> one(std::string_view sql) const; // first column of the first row, "" without a row

  // The first `size` bytes of the file as it is on the disk, filled up with zeros. Read through SQLite's own handle:
  // closing another one would drop the locks that this process holds on the file.
  Result<std::string> first_bytes(int size) const;

  bool in_transaction() const;
  bool is_write_protected() const;
  const std::filesystem::path& path() const; // as it is called
  Error error(int code) const;

private:
  struct State;
  explicit Connection(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

} // namespace record
