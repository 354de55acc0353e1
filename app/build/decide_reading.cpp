// Readings: record, again, correct, take-back.
#include "build/decision.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace build {

using json::Kind;
using procedure::EntryKind;

namespace {

// One number of an action and the cell it is for.
struct Given {
  std::size_t cell = 0;
  Value typed;
  bool skipped = false;
  Exact value; // in the entry's unit
};

// The numbers of "value" or "values", nested as the entry asks: position by position, row by row.
class Numbers {
public:
  Numbers(const Build& build, EntryAt at, const Value& action)
      : step_(build.plan->step(at.step)), entry_(build.plan->entry(at)), shape_(procedure::cells_of(step_, entry_)),
        action_(action) {}

  Result<std::vector<Given>> read() {
    const Value* one = action_.find("value");
    const Value* many = action_.find("values");
    if ((one != nullptr) == (many != nullptr))
      return bad_value("Give either \"value\" or \"values\", not both and not neither.");
    std::size_t first = 0;
    if (const auto* position = action_.find("position")) {
      const auto found = named_position(step_, position->is(Kind::text) ? position->as_text() : std::string());
      if (!found) return found.error();
      first = *found * shape_.per_position();
    } else if (!step_.positions.empty()) {
      dimensions_.push_back({shape_.positions, "position"});
    }
    if (!entry_.rows.empty()) dimensions_.push_back({shape_.rows, "row"});
    if (!entry_.columns.empty()) dimensions_.push_back({shape_.columns, "column"});
    if (const auto unit = choose_unit(); !unit) return unit.error();
    if (one && !dimensions_.empty())
      return bad_value(fmt::format("{} asks for several numbers; give \"values\" nested {}.", entry_.title, nesting()));
    const auto done = take(one ? *one : *many, 0, first);
    if (!done) return done.error();
    if (out_.empty()) return bad_value(fmt::format("{}: there is no number in \"values\".", entry_.title));
    return std::move(out_);
  }

private:
  struct Level {
    std::size_t size;
    const char* name;
  };

  std::string nesting() const {
    std::string out;
    for (const auto& level : dimensions_)
      out += fmt::format("{}{} {}{}", out.empty() ? "" : " of ", level.size, level.name, level.size == 1 ? "" : "s");
    return out.empty() ? "as one number" : "as " + out;
  }

  Result<void> choose_unit() {
    unit_ = entry_.unit;
    const auto* named = action_.find("unit");
    if (!named) return {};
    const Unit* found = named->is(Kind::text) ? quantity::find_unit(named->as_text()) : nullptr;
    if (!found) return Error{"bad-unit", fmt::format("\"unit\" of {} is no unit that is known here.", entry_.title)};
    if (found->dimension != entry_.unit->dimension)
      return Error{"bad-unit", fmt::format("{} is measured in {}, and {} measures {}.", entry_.title, entry_.unit->name,
                                           found->name, quantity::name_of(found->dimension))};
    unit_ = found;
    return {};
  }

  Result<void> take(const Value& value, std::size_t depth, std::size_t first) {
    if (depth == dimensions_.size()) return take_number(value, first);
    const Level& level = dimensions_[depth];
    if (value.is(Kind::null)) return {};
    if (!value.is(Kind::array) || value.items().size() != level.size)
      return bad_value(fmt::format("{} asks for values nested {}; null stands for a point not measured yet.",
                                   entry_.title, nesting()));
    std::size_t stride = 1;
    for (std::size_t d = depth + 1; d < dimensions_.size(); ++d) stride *= dimensions_[d].size;
    for (std::size_t i = 0; i < level.size; ++i)
      if (const auto done = take(value.items()[i], depth + 1, first + i * stride); !done) return done.error();
    return {};
  }

  Result<void> take_number(const Value& value, std::size_t cell) {
    if (value.is(Kind::null)) return {};
    Given given{cell, as_recorded(value), false, {}};
    if (value.is(Kind::text) && value.as_text() == "-") {
      if (!entry_.may_skip)
        return bad_value(fmt::format("{}: no point may be left out here; measure {}.", entry_.title, name(cell)));
      given.skipped = true;
    } else {
      const auto number = typed_value(value, *unit_);
      if (!number)
        return Error{number.error().code, fmt::format("{}{}: {}", entry_.title, place(cell), number.error().message)};
      given.value = quantity::convert(number->value, *number->unit, *entry_.unit);
    }
    out_.push_back(std::move(given));
    return {};
  }

  std::string name(std::size_t cell) const { return procedure::name_of_cell(step_, entry_, cell); }
  std::string place(std::size_t cell) const { return shape_.count() > 1 ? fmt::format(" ({})", name(cell)) : ""; }

  const procedure::Step& step_;
  const procedure::Entry& entry_;
  procedure::CellShape shape_;
  const Value& action_;
  std::vector<Level> dimensions_;
  const Unit* unit_ = nullptr;
  std::vector<Given> out_;
};

// The verdicts in the shape of the values given.
Value verdict_shape(const Value& values, const std::vector<std::string>& verdicts, std::size_t& next) {
  if (values.is(Kind::null)) return {};
  if (!values.is(Kind::array)) return Value::text(verdicts[next++]);
  Value out = Value::array();
  for (const auto& item : values.items()) out.push(verdict_shape(item, verdicts, next));
  return out;
}

// The mean of the tries made with the best gauge (the others stay in the record), and its U: only the repeatability
// part shrinks with their number.
void summarise(Cell& cell) {
  const auto& best =
      *std::min_element(cell.tries.begin(), cell.tries.end(), [](const Try& a, const Try& b) { return a.u < b.u; });
  Exact sum;
  Exact u;
  long long n = 0;
  for (const auto& one : cell.tries) {
    if (one.gauge != best.gauge) continue;
    sum += one.value;
    u = quantity::max(u, one.u);
    ++n;
  }
  cell.value = sum / Exact(n);
  cell.u = u;
  if (n > 1 && best.repeat.sign() > 0) {
    const double all = u.to_double();
    const double part = best.repeat.to_double();
    const double kept = std::max(0.0, all * all - part * part);
    cell.u = Exact::rounded(std::sqrt(kept + part * part / static_cast<double>(n)));
  }
}

Value try_value(const Try& one) {
  Value out = Value::object({{"value", Value::text(one.value.text())}, {"u", Value::text(one.u.text())}});
  if (one.repeat.sign() > 0) out.set("repeat", Value::text(one.repeat.text()));
  if (!one.gauge.empty()) out.set("gauge", Value::text(one.gauge));
  return out;
}

// Writes one cell as it is from now on, judged, into an event.
Value cell_item(const Case& it, EntryAt at, std::size_t index, Cell cell, bool as_found, std::string& verdict) {
  const auto& step = it.build.plan->step(at.step);
  const auto& entry = it.build.plan->entry(at);
  Value item = Value::object({{"cell", Value::integer(static_cast<std::int64_t>(index))},
                              {"name", Value::text(procedure::name_of_cell(step, entry, index))}});
  if (cell.skipped) {
    item.set("skipped", Value::boolean(true));
    verdict = "recorded";
    return item;
  }
  Value tries = Value::array();
  for (const auto& one : cell.tries) tries.push(try_value(one));
  item.set("tries", std::move(tries));
  if (cell.tries.empty()) return item;
  summarise(cell);
  Value by = Value::object();
  // The value is judged as the record keeps it.
  const Exact kept = *Exact::written(cell.value.text());
  const Standing standing = as_found ? Standing::recorded : standing_of(it.build, at, index, kept, cell.u, by);
  item.set("value", Value::text(cell.value.text()));
  item.set("u", Value::text(cell.u.text()));
  verdict = std::string(name_of(standing));
  item.set("verdict", Value::text(verdict));
  if (!by.members().empty()) item.set("by", std::move(by));
  return item;
}

// Everything the readings' actions share once the entry is known to take them.
class Recording {
public:
  Recording(const Case& it, EntryAt at) : it_(it), at_(at), entry_(it.build.plan->entry(at)) {}

  Result<Decision> decide(bool as_found, SignedSteps signed_steps) {
    const auto given = Numbers(it_.build, at_, it_.action).read();
    if (!given) return given.error();
    if (const auto gauge = choose_gauge(); !gauge) return gauge.error();
    body_ = begun(it_, at_);
    body_.set("unit", Value::text(std::string(entry_.unit->name)));
    if (as_found) body_.set("as_found", Value::boolean(true));
    std::vector<Value> cells;
    std::vector<std::string> verdicts;
    std::set<std::size_t> positions;
    for (const auto& one : *given) {
      const auto cell = next_cell(one, as_found);
      if (!cell) return cell.error();
      std::string verdict;
      cells.push_back(cell_item(it_, at_, one.cell, *cell, as_found, verdict));
      cells.back().set("typed", one.typed);
      verdicts.push_back(verdict);
      positions.insert(one.cell / procedure::cells_of(it_.build.plan->step(at_.step), entry_).per_position());
    }
    body_.set("cells", Value::array(std::move(cells)));
    if (gauge_) body_.set("gauge", facts(*gauge_, trust_, *entry_.unit));
    return finish(verdicts, positions, as_found, signed_steps);
  }

private:
  Result<void> choose_gauge() {
    const std::string id = it_.action.text_or_empty("gauge");
    if (entry_.by_eye) {
      if (id.empty()) return {};
      return refusal("gauge-unfit", fmt::format("{} is counted or read by eye; leave the gauge out.", entry_.title));
    }
    if (id.empty())
      return refusal("gauge-unknown", fmt::format("{}: say which gauge it was measured with.", entry_.title));
    gauge_ = it_.shop.gauge(id);
    if (!gauge_)
      return refusal("gauge-unknown",
                     fmt::format("There is no gauge \"{}\" in the shop; add it, or name another.", id));
    return may_measure(it_.shop, *gauge_, entry_, it_.context.now);
  }

  // The cell with this number in it: first try, one more, or in place of the last.
  Result<Cell> next_cell(const Given& given, bool as_found) {
    const auto& state = it_.build.entry(at_);
    const std::string kind = it_.kind();
    const Cell& was = state.cells[given.cell];
    const std::string where = procedure::name_of_cell(it_.build.plan->step(at_.step), entry_, given.cell);
    if (kind == "record" && !as_found && was.filled() && !was.asked)
      return refusal(
          "already-recorded",
          fmt::format("{}{} is recorded already; take it back, correct it, measure it again or dispose of it.",
                      entry_.title, where.empty() ? "" : " (" + where + ")"));
    if (kind != "record" && was.tries.empty())
      return refusal("entry-missing", fmt::format("{}{} is not measured yet; record it first.", entry_.title,
                                                  where.empty() ? "" : " (" + where + ")"));
    Cell cell;
    if (given.skipped) {
      cell.skipped = true;
      return cell;
    }
    if (gauge_) {
      if (const auto range = in_range(*gauge_, given.value, *entry_.unit); !range) return range.error();
      trust_ = trust(*gauge_, given.value, *entry_.unit);
      if (!as_found)
        if (const auto fine = fine_enough(given.cell); !fine) return fine.error();
    }
    if (kind != "record") cell.tries = was.tries;
    if (kind == "correct") cell.tries.pop_back();
    cell.tries.push_back({given.value, trust_.u, trust_.repeat, gauge_ ? gauge_->id : ""});
    return cell;
  }

  Result<void> fine_enough(std::size_t cell) {
    if (entry_.limit.empty()) return {};
    const auto shape = procedure::cells_of(it_.build.plan->step(at_.step), entry_);
    const Applied by = applied(it_.build, at_, entry_.limit, cell / shape.per_position());
    if (!by.bounds) return {};
    const Exact u = quantity::convert_difference(trust_.u, *entry_.unit, *by.limit->unit);
    if (!calc::too_coarse(u, *by.bounds)) return {};
    return refusal(
        "gauge-unfit",
        fmt::format("{} is too coarse for {}: its uncertainty is {} {}{} and the limits are {}; take a finer one.",
                    gauge_->id, entry_.title, trust_.u.text(), entry_.unit->name, trust_.assumed ? " (assumed)" : "",
                    text(*by.bounds, *by.limit->unit)));
  }

  Result<Decision> finish(const std::vector<std::string>& verdicts, const std::set<std::size_t>& positions,
                          bool as_found, SignedSteps signed_steps) {
    Standing worst = Standing::empty;
    for (const auto& verdict : verdicts) worst = worse(worst, *standing_named(verdict));
    body_.set("verdict", Value::text(std::string(name_of(worst))));
    if (!as_found) {
      Build next = as_it_would_be(it_, body_);
      if (const auto done = follow(next, body_, {{at_, positions}}, signed_steps); !done) return done.error();
    }
    Decision out;
    out.answer = Value::object({{"verdict", Value::text(std::string(name_of(worst)))}});
    std::size_t used = 0;
    const Value* values = it_.action.find("values");
    out.answer.set("verdicts", verdict_shape(values ? *values : *it_.action.find("value"), verdicts, used));
    out.answer.set("calculated", calculated_answer(body_));
    out.body = std::move(body_);
    return out;
  }

  const Case& it_;
  EntryAt at_;
  const procedure::Entry& entry_;
  const Gauge* gauge_ = nullptr;
  Trust trust_;
  Value body_;
};

Result<EntryAt> reading_entry(const Case& it, Asked& asked) {
  const auto at = named_entry(it.build, asked);
  if (!at) return at.error();
  const auto& entry = it.build.plan->entry(*at);
  if (entry.kind == EntryKind::reading || entry.kind == EntryKind::readings) return *at;
  return wrong_kind(entry, "it is not recorded with numbers");
}

Result<void> facts_of_reading(Asked& asked, const Moment& now) {
  asked.decimal("set_at");
  const std::string taken = asked.text("taken_at", false);
  if (const auto wrong = asked.wrong()) return *wrong;
  if (taken.empty()) return {};
  const auto moment = calc::parse_moment(taken);
  if (!moment) return bad_value(fmt::format("\"taken_at\": {}", moment.error().message));
  if (moment->utc_ms > now.utc_ms) return bad_value("\"taken_at\" lies in the future.");
  return {};
}

} // namespace

Result<Decision> record(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "position", "value", "values", "unit", "gauge", "set_at",
                          "as_found", "taken_at"});
  const auto at = reading_entry(it, asked);
  if (!at) return at.error();
  const bool as_found = asked.truth("as_found").value_or(false);
  if (const auto good = facts_of_reading(asked, it.context.now); !good) return good.error();
  if (const auto may = may_write(it.build, *at); !may) return may.error();
  if (const auto read = cautions_read(it.build, at->step, it.context); !read) return read.error();
  if (!as_found)
    if (const auto turn = in_turn(it.build, *at, true); !turn) return turn.error();
  return Recording(it, *at).decide(as_found, SignedSteps::refuse);
}

Result<Decision> correct(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "position", "value", "values", "unit", "gauge", "set_at",
                          "taken_at", "reason", "text"});
  const auto at = reading_entry(it, asked);
  if (!at) return at.error();
  const std::string reason = asked.text("reason");
  static const std::vector<std::string> reasons = {"misread",     "typed",        "wrong-place",
                                                   "wrong-gauge", "wrong-engine", "other"};
  asked.line("text", reason == "other");
  if (const auto good = facts_of_reading(asked, it.context.now); !good) return good.error();
  if (std::find(reasons.begin(), reasons.end(), reason) == reasons.end())
    return bad_value(fmt::format("\"reason\" must be one of {}: when the part itself changed, dispose of the reading.",
                                 fmt::join(reasons, ", ")));
  const bool is_signed = !it.build.step(at->step).signatures.empty();
  if (!is_signed) {
    if (const auto may = may_write(it.build, *at); !may) return may.error();
    if (const auto read = cautions_read(it.build, at->step, it.context); !read) return read.error();
  }
  auto decision = Recording(it, *at).decide(false, is_signed ? SignedSteps::sign_again : SignedSteps::refuse);
  if (!decision || !is_signed) return decision;
  // A signed step takes a correction only when no verdict changes; it is then signed again, alone.
  for (const auto& item : decision->body.at("cells").items()) {
    const auto cell = static_cast<std::size_t>(*item.at("cell").as_integer());
    if (item.text_or_empty("verdict") != name_of(it.build.entry(*at).cells[cell].judged.standing))
      return refusal("step-signed",
                     fmt::format("The correction changes a verdict of the signed step \"{}\"; reopen it.",
                                 it.build.plan->step(at->step).title));
  }
  Value again = Value::array({Value::text(it.build.plan->step(at->step).id)});
  if (const auto* more = decision->body.find("sign_again"))
    for (const auto& id : more->items())
      if (id != again.items().front()) again.push(id);
  decision->answer.set("sign_again", again);
  decision->body.set("sign_again", std::move(again));
  return decision;
}

Result<Decision> take_back(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry"});
  const auto at = reading_entry(it, asked);
  if (!at) return at.error();
  if (const auto may = may_write(it.build, *at); !may) return may.error();
  const auto& state = it.build.entry(*at);
  if (it.build.last_recorded_seq == 0 || it.build.last_recorded_seq != it.build.seq || it.build.last_recorded != *at)
    return refusal("too-late",
                   "Only the newest reading can be taken back, with nothing recorded since; correct it instead.");
  Value body = begun(it, *at);
  body.set("taken_back", Value::integer(state.last_seq));
  std::vector<Value> cells;
  std::set<std::size_t> positions;
  const auto shape = procedure::cells_of(it.build.plan->step(at->step), it.build.plan->entry(*at));
  for (const std::size_t c : state.last_cells) {
    Cell cell = state.cells[c];
    cell.skipped = false;
    if (!cell.tries.empty()) cell.tries.pop_back();
    std::string verdict;
    cells.push_back(cell_item(it, *at, c, std::move(cell), false, verdict));
    positions.insert(c / shape.per_position());
  }
  body.set("cells", Value::array(std::move(cells)));
  Build next = as_it_would_be(it, body);
  if (const auto done = follow(next, body, {{*at, positions}}); !done) return done.error();
  Decision out;
  out.answer = Value::object({{"calculated", calculated_answer(body)}});
  out.body = std::move(body);
  return out;
}

} // namespace build
