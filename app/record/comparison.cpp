#include "record/comparison.h"

#include "quantity/quoted.h"
#include "record/digest.h"
#include "record/parallel.h"
#include "record/schema.h"
#include "record/seal.h"
#include "json/read.h"
#include "json/write.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <map>
#include <span>
#include <utility>

namespace record {

namespace {

using Difference = std::optional<std::string>;

struct Last {
  std::int64_t seq = 0;
  std::string hash;
};
using Heads = std::map<std::string, Last, std::less<>>;

// A read transaction, so that what is compared belongs together.
class Snapshot {
public:
  explicit Snapshot(const Connection& db) : db_(db), begun_(!db.in_transaction()) {}
  ~Snapshot() {
    if (begun_ && db_.in_transaction()) static_cast<void>(db_.run("ROLLBACK"));
  }
  Snapshot(const Snapshot&) = delete;
  Snapshot& operator=(const Snapshot&) = delete;
  Result<void> begin() { return begun_ ? db_.run("BEGIN") : Result<void>(); }

private:
  const Connection& db_;
  bool begun_;
};

// Goes through the rows until one differs.
Result<Difference> first_of(const Connection& db, std::string_view sql, const std::function<Difference(Query&)>& look) {
  auto rows = db.query(sql);
  if (!rows) return rows.error();
  while (true) {
    const auto row = rows->next();
    if (!row) return row.error();
    if (!*row) return Difference();
    if (auto difference = look(*rows)) return difference;
  }
}

struct Row {
  std::int64_t id = 0;
  std::int64_t seq = 0;
  std::string chain, seq_text, hash, kind, time, text;
  build::Event event = {}; // of the text
  Difference difference = {};
};

Difference column_difference(const Row& row) {
  const build::Event& event = row.event;
  struct Column {
    std::string_view name, found;
    std::string wanted;
  };
  const Column columns[] = {{"chain", row.chain, event.chain},
                            {"seq", row.seq_text, std::to_string(event.seq)},
                            {"hash", row.hash, event.hash},
                            {"kind", row.kind, event.kind},
                            {"time", row.time, calc::utc_text(event.time)}};
  for (const auto& [name, found, wanted] : columns)
    if (found != wanted)
      return fmt::format("its column {} says {} where its text says {}", name, quantity::quoted(found),
                         quantity::quoted(wanted));
  return std::nullopt;
}

Difference event_difference(Row& row) {
  auto event = event_of(row.text);
  if (!event) return event.error().message;
  if (text_of(*event) != row.text) return "its text is not written in the canonical way";
  row.event = *std::move(event);
  row.event.hash = sha256_hex(row.text);
  return column_difference(row);
}

// Row after row: the numbers go up by one, in the file and in each chain, and each row agrees with its JSON. All cores
// look at many rows while the next are read.
class Rows {
public:
  Rows(Heads& heads, std::vector<build::Event>* events) : heads_(heads), events_(events) {}

  Difference add(Query& from) {
    if (filled_ == rows_.size()) rows_.emplace_back();
    Row& row = rows_[filled_++];
    row.id = from.integer(0);
    row.seq = from.integer(2);
    std::string* const texts[] = {&row.chain, &row.seq_text, &row.hash, &row.kind, &row.time, &row.text};
    for (int column = 1; std::string* const text : texts) *text = from.text(column++);
    return filled_ == together ? look_aside() : std::nullopt;
  }

  Difference finish() {
    if (auto difference = look_aside()) return difference;
    return take_looked_at();
  }

private:
  Difference look_aside() {
    if (auto difference = take_looked_at()) return difference;
    std::swap(rows_, looked_at_);
    to_look_at_ = std::exchange(filled_, 0);
    for (std::size_t from = 0; from < to_look_at_; from += at_once)
      aside_.hand_in([this, from] {
        for (std::size_t i = from; i < std::min(from + at_once, to_look_at_); ++i) look_at(looked_at_[i]);
        return true;
      });
    return std::nullopt;
  }

  static void look_at(Row& row) {
    try {
      row.difference = event_difference(row);
    } catch (const std::exception& damage) {
      row.difference = damage.what();
    }
  }

  Difference take_looked_at() {
    aside_.all_good();
    for (Row& row : std::span(looked_at_).first(to_look_at_)) {
      if (auto difference = follows(row)) return difference;
      if (events_) events_->push_back(std::move(row.event));
    }
    to_look_at_ = 0;
    return std::nullopt;
  }

  Difference follows(const Row& row) {
    Last& last = heads_[row.chain];
    const auto differs = [&](const std::string& what) {
      return fmt::format("chain {}, event {}: {}", quantity::quoted(row.chain), row.seq, what);
    };
    if (row.id != ++last_id_)
      return differs(fmt::format("it is number {} of the file where {} is due", row.id, last_id_));
    if (row.seq != ++last.seq) return differs(fmt::format("event {} is due here", last.seq));
    last.hash = row.hash;
    return row.difference ? Difference(differs(*row.difference)) : std::nullopt;
  }

  static constexpr std::size_t together = 512; // rows
  static constexpr std::size_t at_once = 16;
  Heads& heads_;
  std::vector<build::Event>* events_;
  std::vector<Row> rows_; // kept with the room of their texts
  std::vector<Row> looked_at_;
  std::size_t filled_ = 0; // of rows_
  std::size_t to_look_at_ = 0;
  std::int64_t last_id_ = 0;
  Aside aside_; // ends before what it looks at
};

Result<Difference> events_difference(const Connection& db, Heads& heads, std::vector<build::Event>* events) {
  Rows rows(heads, events);
  auto found = first_of(db, "SELECT id, chain, seq, hash, kind, time, event FROM events ORDER BY id",
                        [&](Query& row) { return rows.add(row); });
  if (found && *found) return found;
  if (auto difference = rows.finish()) return difference;
  return found;
}

Result<Difference> heads_difference(const Connection& db, Heads heads) {
  auto found = first_of(db, "SELECT chain, seq, hash FROM heads ORDER BY chain", [&](Query& row) -> Difference {
    const auto last = heads.find(row.text(0));
    if (last == heads.end()) return fmt::format("chain {}: it has a head but no events", quantity::quoted(row.text(0)));
    if (row.integer(1) != last->second.seq || row.text(2) != last->second.hash)
      return fmt::format("chain {}: its head is event {} with the hash {}, but the last event there is {} with {}",
                         quantity::quoted(row.text(0)), row.integer(1), quantity::quoted(row.text(2)), last->second.seq,
                         quantity::quoted(last->second.hash));
    heads.erase(last);
    return std::nullopt;
  });
  if (!found || *found || heads.empty()) return found;
  return Difference(fmt::format("chain {}: it has events but no head", quantity::quoted(heads.begin()->first)));
}

Result<Difference> blobs_difference(const Connection& db) {
  return first_of(db, "SELECT sha256, bytes FROM blobs ORDER BY sha256", [](Query& row) -> Difference {
    if (sha256_hex(row.text(1)) == row.text(0)) return std::nullopt;
    return fmt::format("the stored file {} does not have that SHA-256", quantity::quoted(row.text(0)));
  });
}

Result<Difference> library_difference(const Connection& db) {
  const auto answer = db.one("PRAGMA integrity_check(1)");
  if (!answer) return answer.error();
  if (*answer == "ok") return Difference();
  return Difference(fmt::format("SQLite finds the file damaged: {}", *answer));
}

Result<Difference> compare(const Connection& db, std::vector<build::Event>* events) {
  Snapshot snapshot(db);
  if (auto begun = snapshot.begin(); !begun) return begun.error();
  Heads heads;
  const std::function<Result<Difference>()> checks[] = {
      [&] { return schema_difference(db); }, [&] { return library_difference(db); },
      [&] { return events_difference(db, heads, events); }, [&] { return heads_difference(db, heads); },
      [&] { return blobs_difference(db); }};
  for (const auto& check : checks) {
    auto difference = check();
    if (!difference || *difference) return difference;
  }
  return Difference();
}

} // namespace

Result<build::Event> event_of(std::string_view text) {
  auto value = json::read_one(text);
  if (!value) return value.error();
  return build::event_from_json(std::move(*value));
}

Result<std::optional<std::string>> difference_in(const Connection& db, std::vector<build::Event>* events) {
  auto difference = compare(db, events);
  if (!difference && difference.error().code == "store-damaged") return Difference(difference.error().message);
  return difference;
}

} // namespace record
