// The shop file: SQLite on a local disk. Append-only events in chains, the head of each chain, blobs by hash, and two
// mutable tables in no chain (locked keys, wrong tries). What `append` has returned is on the disk (WAL, FULL).
// Only this interface is known above: append if the head is still X; read since; list chains.
#pragma once

#include "build/event.h"

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <vector>

namespace record {

using build::Event;
using quantity::Error;
using quantity::Result;

class Sealed;

struct Head {
  std::int64_t seq = 0;
  std::string hash; // 64 zeros for an empty chain
};
inline const std::string no_hash(64, '0');

struct LockedKey {
  std::string owner; // person id; for the shop's key: the owner it is kept for
  std::string what;  // "person" or "shop"
  std::string locked_pem;
};

struct Tries {
  int wrong = 0; // in a row
  std::int64_t last_utc_ms = 0;
};

class Store {
public:
  enum class Mode { read_only, read_write, create };

  // Codes: "store-absent", "store-exists" (create never overwrites), "store-foreign" (no shop file of ours),
  // "store-newer" (written by a newer program), "store-damaged", "store-failed", "store-busy".
  // read_only writes nothing beside the file; while nobody else has the file open it takes no locks, and a read answers
  // "store-busy" when another program has changed the file since. Any other change of tables or triggers than by this
  // program is "store-damaged".
  static Result<Store> open(const std::filesystem::path& path, Mode mode);
  Store(Store&&) noexcept;
  Store& operator=(Store&&) noexcept;
  ~Store();

  // Runs `work` inside BEGIN IMMEDIATE ... COMMIT with fsync; an error of `work` or of the disk rolls everything back.
  // "store-busy" when another process holds the file for 3 s. Not reentrant.
  Result<void> transaction(const std::function<Result<void>()>& work);

  // Only inside a transaction. Refused with "store-failed" unless it follows the chain's head.
  Result<void> append(const Sealed& sealed);
  Result<void> put_blob(std::string_view sha256, std::string_view bytes);
  Result<void> put_key(const LockedKey& key); // replaces that owner's key of that kind
  Result<void> put_tries(const std::string& person, const Tries& tries);

  Result<Head> head(std::string_view chain) const;
  // Those after `seq`, in order, no more than `most`; "store-damaged" when one does not have its hash.
  Result<std::vector<Event>> events_since(std::string_view chain, std::int64_t seq, std::int64_t most = all) const;
  static constexpr std::int64_t all = -1;
  // All chains together as they were written, for the verifier: hashes as they stand in the file, not checked.
  Result<std::vector<Event>> events_in_order() const;
  Result<std::vector<std::string>> chains() const;       // in the order they began
  Result<std::vector<std::string>> newest_first() const; // likewise, by their newest event
  Result<std::optional<std::string>> blob(std::string_view sha256) const;
  Result<std::optional<LockedKey>> key(std::string_view owner, std::string_view what) const;
  Result<Tries> tries(std::string_view person) const;

  // Changes whenever another connection has committed (PRAGMA data_version).
  Result<std::int64_t> data_version() const;

  // For the verifier: whether the columns of each row of `events` agree with its JSON, the schema is ours, SQLite's own
  // checks are clean. The first thing that differs, or nothing; then `events`, if given, gets events_in_order().
  Result<std::optional<std::string>> first_difference(std::vector<Event>* events = nullptr) const;

  // A consistent copy to a new file while this one is in use, synced and verified: sound in itself, and holding every
  // head that was there when it was begun. "store-exists" when the target is there.
  Result<void> backup(const std::filesystem::path& target) const;

private:
  struct State;
  explicit Store(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

} // namespace record
