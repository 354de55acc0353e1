#include "record/store.h"

#include "quantity/quoted.h"
#include "record/comparison.h"
#include "record/digest.h"
#include "record/new_file.h"
#include "record/parallel.h"
#include "record/seal.h"
#include "record/shop_file.h"
#include "json/read.h"

#include <fmt/format.h>

#include <map>
#include <stdexcept>

namespace record {

struct Store::State {
  ShopFile file;
  bool inside = false; // of a transaction

  const Connection& db() const { return file.db; }
  std::string name() const { return file.db.path().native(); }

  void demand_transaction() const {
    if (!inside) throw std::logic_error("the record is written inside a transaction only");
  }

  // What was read without locks counts only when nobody wrote meanwhile.
  template <typename T>
  Result<T> still(Result<T> read) const {
    if (file.stillness.disturbed()) return changed_meanwhile(file.db.path());
    return read;
  }

  Result<Head> head(std::string_view chain) const {
    auto query = db().query("SELECT seq, hash FROM heads WHERE chain = ?");
    if (!query) return query.error();
    const auto row = query->with(chain).next();
    if (!row) return row.error();
    if (!*row) return Head{0, no_hash};
    return Head{query->integer(0), std::string(query->text(1))};
  }

  struct Row {
    std::string text, hash;
  };

  Result<std::vector<Row>> rows_since(std::string_view chain, std::int64_t seq, std::int64_t most) const {
    auto query = db().query("SELECT event, hash FROM events WHERE chain = ? AND seq > ? ORDER BY seq LIMIT ?");
    if (!query) return query.error();
    query->with(chain).with(seq).with(most);
    std::vector<Row> rows;
    while (true) {
      const auto row = query->next();
      if (!row) return row.error();
      if (!*row) return rows;
      rows.push_back({std::string(query->text(0)), std::string(query->text(1))});
    }
  }

  Result<std::vector<Event>> events_since(std::string_view chain, std::int64_t seq, std::int64_t most) const {
    const auto rows = rows_since(chain, seq, most);
    if (!rows) return rows.error();
    std::vector<Event> events(rows->size());
    in_parallel(rows->size(), [&](std::size_t i) {
      const auto& [text, hash] = (*rows)[i];
      auto event = event_of(text);
      if (!event || hash != sha256_hex(text)) return; // its hash stays empty
      events[i] = *std::move(event);
      events[i].hash = hash;
    });
    for (const Event& event : events)
      if (++seq; event.hash.empty() || event.chain != chain || event.seq != seq)
        return Error{"store-damaged", fmt::format("{} is damaged: chain {}, event {} is not as it was written", name(),
                                                  quantity::quoted(chain), seq)};
    return events;
  }

  Result<std::vector<Event>> events_in_order() const {
    auto query = db().query("SELECT event, hash, id FROM events ORDER BY id");
    if (!query) return query.error();
    std::vector<Event> events;
    while (true) {
      const auto row = query->next();
      if (!row) return row.error();
      if (!*row) return events;
      auto event = event_of(query->text(0));
      if (!event)
        return Error{"store-damaged", fmt::format("{} is damaged: row {} of the events cannot be read: {}", name(),
                                                  query->integer(2), event.error().message)};
      event->hash = query->text(1);
      events.push_back(*std::move(event));
    }
  }

  Result<std::vector<std::string>> chains() const {
    return chains_by("SELECT heads.chain FROM heads CROSS JOIN events ON events.chain = heads.chain AND "
                     "events.seq = 1 ORDER BY events.id");
  }

  Result<std::vector<std::string>> newest_first() const {
    return chains_by("SELECT heads.chain FROM heads CROSS JOIN events ON events.chain = heads.chain AND "
                     "events.seq = heads.seq ORDER BY events.id DESC");
  }

  Result<std::vector<std::string>> chains_by(const char* order) const {
    auto query = db().query(order);
    if (!query) return query.error();
    std::vector<std::string> chains;
    while (true) {
      const auto row = query->next();
      if (!row) return row.error();
      if (!*row) return chains;
      chains.emplace_back(query->text(0));
    }
  }

  Result<std::optional<std::string>> blob(std::string_view sha256) const {
    auto query = db().query("SELECT bytes FROM blobs WHERE sha256 = ?");
    if (!query) return query.error();
    const auto row = query->with(sha256).next();
    if (!row) return row.error();
    if (!*row) return std::optional<std::string>();
    if (sha256_hex(query->text(0)) != sha256)
      return Error{"store-damaged",
                   fmt::format("{} is damaged: the stored file {} does not have that SHA-256", name(), sha256)};
    return std::optional(std::string(query->text(0)));
  }

  Result<std::optional<LockedKey>> key(std::string_view owner, std::string_view what) const {
    auto query = db().query("SELECT owner, what, locked_pem FROM keys WHERE owner = ? AND what = ?");
    if (!query) return query.error();
    const auto row = query->with(owner).with(what).next();
    if (!row) return row.error();
    if (!*row) return std::optional<LockedKey>();
    return std::optional(
        LockedKey{std::string(query->text(0)), std::string(query->text(1)), std::string(query->text(2))});
  }

  Result<Tries> tries(std::string_view person) const {
    auto query = db().query("SELECT wrong, last_utc_ms FROM attempts WHERE person = ?");
    if (!query) return query.error();
    const auto row = query->with(person).next();
    if (!row) return row.error();
    if (!*row) return Tries{};
    return Tries{static_cast<int>(query->integer(0)), query->integer(1)};
  }

  Result<std::int64_t> data_version() const {
    auto query = db().query("PRAGMA data_version");
    if (!query) return query.error();
    if (const auto row = query->next(); !row) return row.error();
    return query->integer(0);
  }

  Result<std::map<std::string, Head>> heads() const {
    auto query = db().query("SELECT chain, seq, hash FROM heads");
    if (!query) return query.error();
    std::map<std::string, Head> heads;
    while (true) {
      const auto row = query->next();
      if (!row) return row.error();
      if (!*row) return heads;
      heads[std::string(query->text(0))] = {query->integer(1), std::string(query->text(2))};
    }
  }

  // Whether the event that was a chain's head is in this file, at its place.
  Result<bool> holds(const std::string& chain, const Head& head) const {
    auto query = db().query("SELECT 1 FROM events WHERE chain = ? AND seq = ? AND hash = ?");
    if (!query) return query.error();
    return query->with(chain).with(head.seq).with(head.hash).next();
  }

  // Sound in itself, and no shorter than the heads: while it was made, others may have added events.
  Result<void> check_copy(const std::map<std::string, Head>& heads) const {
    const auto difference = difference_in(db());
    if (!difference) return difference.error();
    if (*difference) return Error{"store-damaged", "the copy was not kept, for it is not sound: " + **difference};
    for (const auto& [chain, head] : heads) {
      const auto held = holds(chain, head);
      if (!held) return held.error();
      if (!*held)
        return Error{"store-failed", fmt::format("the copy was not kept, for it lacks event {} of chain {}: try again",
                                                 head.seq, quantity::quoted(chain))};
    }
    return {};
  }

  Result<void> insert(const Sealed& sealed) const {
    const Event& event = sealed.event();
    auto query = db().query("INSERT INTO events(id, chain, seq, hash, kind, time, event) "
                            "VALUES((SELECT coalesce(max(id), 0) + 1 FROM events), ?, ?, ?, ?, ?, ?)");
    if (!query) return query.error();
    return query->with(event.chain)
        .with(event.seq)
        .with(event.hash)
        .with(event.kind)
        .with(calc::utc_text(event.time))
        .with(sealed.text())
        .run();
  }

  // Only from the event before; none of a chain that has no events.
  Result<bool> move_head(const Event& event) const {
    if (event.seq == 1 && event.previous == no_hash) {
      auto first = db().query("INSERT INTO heads(chain, seq, hash) VALUES(?, 1, ?) ON CONFLICT(chain) DO NOTHING");
      if (!first) return first.error();
      return first->with(event.chain).with(event.hash).changed();
    }
    auto query = db().query("UPDATE heads SET seq = ?, hash = ? WHERE chain = ? AND seq = ? AND hash = ?");
    if (!query) return query.error();
    return query->with(event.seq).with(event.hash).with(event.chain).with(event.seq - 1).with(event.previous).changed();
  }
};

Store::Store(std::unique_ptr<State> state) : state_(std::move(state)) {}
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;
Store::~Store() = default;

Result<Store> Store::open(const std::filesystem::path& path, Mode mode) {
  if (mode == Mode::create)
    if (auto created = create_shop_file(path); !created) return created.error();
  auto file = open_shop_file(path, mode != Mode::read_only);
  if (!file) return file.error();
  return Store(std::make_unique<State>(State{*std::move(file)}));
}

Result<void> Store::transaction(const std::function<Result<void>()>& work) {
  if (state_->inside) throw std::logic_error("a transaction is not begun inside another");
  if (!state_->file.writable)
    return Error{"store-failed", fmt::format("{} was opened for reading only", state_->name())};
  if (auto begun = state_->db().run("BEGIN IMMEDIATE"); !begun) return begun;

  // However `work` is left, nothing stays begun.
  struct Closing {
    State& state;
    explicit Closing(State& of) : state(of) { state.inside = true; }
    ~Closing() {
      state.inside = false;
      if (state.db().in_transaction()) static_cast<void>(state.db().run("ROLLBACK"));
    }
    Closing(const Closing&) = delete;
    Closing& operator=(const Closing&) = delete;
  } closing(*state_);

  if (auto done = work(); !done) return done;
  return state_->db().run("COMMIT");
}

Result<void> Store::append(const Sealed& sealed) {
  state_->demand_transaction();
  const Event& event = sealed.event();
  const auto readable = sealed.text().size() > json::largest_text ? Result<void>(Error{"bad-event", "it is too large"})
                                                                  : build::check_event(event);
  if (!readable)
    return Error{"store-failed", "nothing is written that could not be read back: " + readable.error().message};
  const auto moved = state_->move_head(event);
  if (!moved) return moved.error();
  if (!*moved)
    return Error{"store-failed",
                 fmt::format("event {} does not follow the last event of chain {} in {}: read the chain again",
                             event.seq, quantity::quoted(event.chain), state_->name())};
  return state_->insert(sealed);
}

Result<void> Store::put_blob(std::string_view sha256, std::string_view bytes) {
  state_->demand_transaction();
  if (sha256_hex(bytes) != sha256)
    return Error{"store-failed",
                 fmt::format("a file is stored under its SHA-256 only, not under {}", quantity::quoted(sha256))};
  auto query = state_->db().query("INSERT INTO blobs(sha256, bytes) SELECT ?1, ?2 "
                                  "WHERE NOT EXISTS(SELECT 1 FROM blobs WHERE sha256 = ?1)");
  if (!query) return query.error();
  return query->with(sha256).with_bytes(bytes).run();
}

Result<void> Store::put_key(const LockedKey& key) {
  state_->demand_transaction();
  auto query = state_->db().query("INSERT INTO keys(owner, what, locked_pem) VALUES(?, ?, ?) "
                                  "ON CONFLICT(owner, what) DO UPDATE SET locked_pem = excluded.locked_pem");
  if (!query) return query.error();
  return query->with(key.owner).with(key.what).with(key.locked_pem).run();
}

Result<void> Store::put_tries(const std::string& person, const Tries& tries) {
  state_->demand_transaction();
  auto query =
      state_->db().query("INSERT INTO attempts(person, wrong, last_utc_ms) VALUES(?, ?, ?) ON CONFLICT(person) "
                         "DO UPDATE SET wrong = excluded.wrong, last_utc_ms = excluded.last_utc_ms");
  if (!query) return query.error();
  return query->with(person).with(std::int64_t{tries.wrong}).with(tries.last_utc_ms).run();
}

Result<Head> Store::head(std::string_view chain) const {
  return state_->still(state_->head(chain));
}

Result<std::vector<Event>> Store::events_since(std::string_view chain, std::int64_t seq, std::int64_t most) const {
  return state_->still(state_->events_since(chain, seq, most));
}

Result<std::vector<Event>> Store::events_in_order() const {
  return state_->still(state_->events_in_order());
}

Result<std::vector<std::string>> Store::chains() const {
  return state_->still(state_->chains());
}

Result<std::vector<std::string>> Store::newest_first() const {
  return state_->still(state_->newest_first());
}

Result<std::optional<std::string>> Store::blob(std::string_view sha256) const {
  return state_->still(state_->blob(sha256));
}

Result<std::optional<LockedKey>> Store::key(std::string_view owner, std::string_view what) const {
  return state_->still(state_->key(owner, what));
}

Result<Tries> Store::tries(std::string_view person) const {
  return state_->still(state_->tries(person));
}

Result<std::int64_t> Store::data_version() const {
  return state_->still(state_->data_version());
}

Result<std::optional<std::string>> Store::first_difference(std::vector<Event>* events) const {
  return state_->still(difference_in(state_->db(), events));
}

Result<void> Store::backup(const std::filesystem::path& target) const {
  if (state_->inside) throw std::logic_error("a copy is not made inside a transaction");
  auto file = NewFile::for_target(target);
  if (!file) return file.error();
  const auto heads = state_->still(state_->heads());
  if (!heads) return heads.error();
  {
    auto copying = state_->db().query("VACUUM INTO ?");
    if (!copying) return copying.error();
    if (auto copied = state_->still(copying->with(file->path().native()).run()); !copied) return copied;
  }
  if (auto synced = file->to_disk(); !synced) return synced;
  {
    const auto copy = open(file->path(), Mode::read_only);
    if (!copy) return Error{copy.error().code, "the copy was not kept: " + copy.error().message};
    if (auto checked = copy->state_->check_copy(*heads); !checked) return checked;
  }
  return file->take_name();
}

} // namespace record
