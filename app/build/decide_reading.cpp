// Readings: record, again, correct, take-back.
#include "build/cells.h"
#include "build/comparator.h"
#include "build/doubt.h"
#include "build/neighbours.h"
#include "build/numbers.h"
#include "build/second_look.h"
#include "build/understood.h"
#include "build/wrong_part.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

using json::Kind;
using procedure::EntryKind;

namespace {

// The verdicts in the shape of the values given.
Value verdict_shape(const Value& values, const std::vector<std::string>& verdicts, std::size_t& next) {
  if (values.is(Kind::null)) return {};
  if (!values.is(Kind::array)) return Value::text(verdicts[next++]);
  Value out = Value::array();
  for (const auto& item : values.items()) out.push(verdict_shape(item, verdicts, next));
  return out;
}

// Where the numbers go: the entry itself; as it was before strip-down, never judged; or a second look at a signed step.
enum class Place { entry, as_found, second_look };

// Everything the readings' actions share once the entry is known to take them.
class Recording {
public:
  Recording(const Case& it, EntryAt at) : it_(it), at_(at), entry_(it.build.plan->entry(at)) {}

  Result<Decision> decide(Place place, SignedSteps signed_steps) {
    place_ = place;
    const bool as_found = place == Place::as_found;
    const auto given = given_numbers(it_.build, at_, it_.action);
    if (!given) return given.error();
    if (const auto gauge = choose_gauge(); !gauge) return gauge.error();
    if (const auto here = parts_are_here(*given); !here) return here.error();
    if (const auto how = choose_how(given->front().cell); !how) return how.error();
    body_ = begun(it_, at_);
    body_.set("unit", Value::text(std::string(entry_.unit->name)));
    if (as_found) body_.set("as_found", Value::boolean(true));
    if (place == Place::second_look) body_.set("second_look", Value::boolean(true));
    std::vector<Value> cells;
    std::vector<std::string> verdicts;
    std::set<std::size_t> positions;
    for (const auto& one : *given) {
      const auto cell = next_cell(one);
      if (!cell) return cell.error();
      std::string verdict;
      cells.push_back(cell_item(it_, at_, one.cell, *cell, as_found, verdict));
      cells.back().set("typed", one.typed);
      verdicts.push_back(verdict);
      positions.insert(one.cell / procedure::cells_of(it_.build.plan->step(at_.step), entry_).per_position());
    }
    body_.set("cells", Value::array(std::move(cells)));
    if (gauge_) body_.set("gauge", facts(*gauge_, trust_, *entry_.unit));
    if (setting_) body_.set("setting", setting_value());
    return finish(verdicts, positions, signed_steps);
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

  // What a comparator was set at, and how warm part and gauge were.
  Result<void> choose_how(std::size_t first_cell) {
    auto setting = asked_setting(it_, at_, gauge_, first_cell);
    if (!setting) return setting.error();
    setting_ = std::move(*setting);
    const auto warmth = asked_warmth(it_, at_);
    if (!warmth) return warmth.error();
    warmth_ = *warmth;
    return {};
  }

  Value setting_value() const {
    Value out = Value::object({{"number", Value::integer(setting_->number)},
                               {"at", Value::text(setting_->set.at.text())},
                               {"gauge", Value::text(setting_->set.gauge)},
                               {"division", Value::text(setting_->set.division.text())}});
    if (!setting_->standard) return out;
    out.set("with", Value::text(setting_->set.with));
    out.set("standard", facts(*setting_->standard, setting_->trust, *entry_.unit));
    return out;
  }

  // From what the gauge shows to the value, and what is known of it.
  Result<Try> understood(const Given& given) {
    Try out;
    out.value = given.value;
    out.at = it_.context.now;
    if (setting_) {
      if (const auto may = may_show(setting_->set, given.value, entry_); !may) return may.error();
      out.value = setting_->set.at + given.value;
      out.shared = setting_->u;
      out.set = setting_->number;
      out.set_with = setting_->set.with;
    }
    if (gauge_) {
      // The range of a dial is that of its hand, that of any other comparator is the size it reaches.
      const Exact& reached = setting_ && gauge_->kind == "dial indicator" ? given.value : out.value;
      if (const auto range = in_range(*gauge_, reached, *entry_.unit); !range) return range.error();
      trust_ = trust(*gauge_, reached, *entry_.unit);
      out.own = trust_.u;
      out.repeat = trust_.repeat;
      out.gauge = gauge_->id;
    }
    if (warmth_) {
      out.warmth = *warmth_;
      const auto at_20 = take_to_20(*out.warmth, out.value, *entry_.unit);
      if (!at_20) return at_20.error();
      out.value = at_20->value;
      out.shared = both(out.shared, *at_20->u);
    }
    out.u = both(out.own, out.shared);
    return out;
  }

  // The cell with this number in it: first try, one more, or in place of the last.
  Result<Cell> next_cell(const Given& given) {
    const auto& state = it_.build.entry(at_);
    const std::string kind = it_.kind();
    const Cell& was = state.cells[given.cell];
    const std::string where = procedure::name_of_cell(it_.build.plan->step(at_.step), entry_, given.cell);
    if (kind == "record" && place_ == Place::entry && was.filled() && !was.asked)
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
    auto now = understood(given);
    if (!now) return now.error();
    if (gauge_ && place_ != Place::as_found)
      if (const auto fine = fine_enough(given.cell, now->u); !fine) return fine.error();
    if (kind != "record") cell.tries = was.tries;
    if (kind == "correct") cell.tries.pop_back();
    if (kind == "again")
      for (auto& one : cell.tries) one.set_aside = one.set_aside || doubted(it_.shop, one);
    cell.tries.push_back(std::move(*now));
    return cell;
  }

  // Nothing is measured on a part that is away; what it was as found may be written down late.
  Result<void> parts_are_here(const std::vector<Given>& given) const {
    if (place_ == Place::as_found || it_.kind() == "correct") return {};
    std::set<std::size_t> positions;
    const auto shape = procedure::cells_of(it_.build.plan->step(at_.step), entry_);
    for (const auto& one : given) positions.insert(one.cell / shape.per_position());
    return is_here(it_.build, at_, positions);
  }

  Result<void> fine_enough(std::size_t cell, const Exact& all) {
    if (entry_.limit.empty()) return {};
    const auto shape = procedure::cells_of(it_.build.plan->step(at_.step), entry_);
    const Applied by = applied(it_.build, at_, entry_.limit, cell / shape.per_position());
    if (!by.bounds) return {};
    const Exact u = quantity::convert_difference(all, *entry_.unit, *by.limit->unit);
    if (!calc::too_coarse(u, *by.bounds)) return {};
    if (all != trust_.u)
      return refusal(
          "gauge-unfit",
          fmt::format("{}{} is too coarse for {}{}: together the uncertainty is {:.2g} {} and the limits are "
                      "{}; {}.",
                      gauge_->id, setting_ && setting_->standard ? " set on " + setting_->set.with : "", entry_.title,
                      warmth_ ? " taken to 20 degC" : "", all.to_double(), entry_.unit->name,
                      text(*by.bounds, *by.limit->unit),
                      warmth_ ? "let the part come to 20 degC, or take finer ones" : "take finer ones"));
    return refusal(
        "gauge-unfit",
        fmt::format("{} is too coarse for {}: its uncertainty is {} {}{} and the limits are {}; take a finer one.",
                    gauge_->id, entry_.title, trust_.u.text(), entry_.unit->name, trust_.assumed ? " (assumed)" : "",
                    text(*by.bounds, *by.limit->unit)));
  }

  Result<Decision> finish(const std::vector<std::string>& verdicts, const std::set<std::size_t>& positions,
                          SignedSteps signed_steps) {
    Standing worst = Standing::empty;
    for (const auto& verdict : verdicts) worst = worse(worst, *standing_named(verdict));
    body_.set("verdict", Value::text(std::string(name_of(worst))));
    Build next = as_it_would_be(it_, body_);
    if (const auto* other = open_set(next.entry(at_), setting_ ? setting_->number : 0))
      return refusal(
          "zero-missing",
          fmt::format("{} is being read with {} set at {}: go on from that setting, or put it back on it and "
                      "record what it shows.",
                      entry_.title, other->gauge, setting_text(*other, *entry_.unit)));
    if (place_ != Place::second_look) {
      if (const auto done = follow(next, body_, {{at_, positions}}, signed_steps); !done) return done.error();
      if (place_ == Place::entry) note_far(next.entry(at_).cells);
      if (place_ == Place::entry) note_other(next);
    }
    Decision out;
    out.answer = Value::object({{"verdict", Value::text(std::string(name_of(worst)))}});
    std::size_t used = 0;
    const Value* values = it_.action.find("values");
    out.answer.set("verdicts", verdict_shape(values ? *values : *it_.action.find("value"), verdicts, used));
    out.answer.set("calculated", calculated_answer(body_));
    if (!far_.empty()) out.answer.set("far", text_list(far_));
    if (!other_.items().empty()) out.answer.set("other", std::move(other_));
    out.body = std::move(body_);
    return out;
  }

  // Which of those just read are far from the others; measured once more (or corrected) they are believed.
  void note_far(const std::vector<Cell>& cells) {
    if (it_.kind() != "record") return;
    for (const std::size_t cell : far_from_neighbours(cells, cells_named()))
      far_.push_back(procedure::name_of_cell(it_.build.plan->step(at_.step), entry_, cell));
  }

  // Which of those just read, and of what is worked out from them, would be good in an engine of another size.
  void note_other(const Build& next) {
    std::set<std::pair<OtherChoice, std::string>> seen;
    const auto add = [&](const std::vector<OtherChoice>& choices, const std::string& entry) {
      for (const auto& one : choices) {
        if (!seen.insert({one, entry}).second) continue;
        Value item = Value::object({{"option", Value::text(one.option)}, {"choice", Value::text(one.choice)}});
        if (!entry.empty()) item.set("entry", Value::text(entry));
        other_.push(std::move(item));
      }
    };
    for (const std::size_t cell : cells_named()) add(other_choices(next, at_, cell), "");
    const auto* calculated = body_.find("calculated");
    if (!calculated) return;
    for (const auto& item : calculated->items()) {
      const auto step = *next.plan->find_step(item.at("step").as_text());
      const auto& entry = item.at("entry").as_text();
      const auto place = static_cast<std::size_t>(item.at("at").as_integer().value_or(0));
      add(other_choices_of_calculated(next, {step, *next.plan->find_entry(step, entry)}, place), entry);
    }
  }

  std::vector<std::size_t> cells_named() const {
    std::vector<std::size_t> out;
    for (const auto& item : body_.at("cells").items())
      out.push_back(static_cast<std::size_t>(item.at("cell").as_integer().value_or(0)));
    return out;
  }

  const Case& it_;
  EntryAt at_;
  const procedure::Entry& entry_;
  std::optional<Setting> setting_;
  std::optional<Warmth> warmth_;
  std::vector<std::string> far_;
  Value other_ = Value::array(); // [{option, choice, entry}]
  Place place_ = Place::entry;
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
  asked.text("set_with", false);
  const std::string taken = asked.text("taken_at", false);
  if (const auto wrong = asked.wrong()) return *wrong;
  if (taken.empty()) return {};
  const auto moment = calc::parse_moment(taken);
  if (!moment) return bad_value(fmt::format("\"taken_at\": {}", moment.error().message));
  if (moment->utc_ms > now.utc_ms) return bad_value("\"taken_at\" lies in the future.");
  return {};
}

Result<void> may_record_second_look(const Case& it, EntryAt at) {
  const std::string& title = it.build.plan->step(at.step).title;
  if (!it.shop.one_person)
    return refusal(
        "second-person-needed",
        fmt::format("\"{}\" is closed by a second person; only in a one-person shop does whoever did it look "
                    "again, and an owner says that it is one.",
                    title));
  if (!may_look_again(it.shop, it.build, at.step, it.context.who()->person))
    return refusal(
        "out-of-order",
        fmt::format("A second look is for a step that you have signed and nobody else has: \"{}\" is none.", title));
  const auto before = before_second_look(it.build, at.step, it.context.now);
  if (!before.empty()) return refusal(before.front().code, before.front().message);
  return {};
}

} // namespace

Result<Decision> record(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "position", "value", "values", "unit", "gauge", "set_at",
                          "set_with", "part_at", "gauge_at", "as_found", "second_look", "taken_at"});
  const auto at = reading_entry(it, asked);
  if (!at) return at.error();
  const bool as_found = asked.truth("as_found").value_or(false);
  const bool second_look = asked.truth("second_look").value_or(false);
  if (const auto good = facts_of_reading(asked, it.context.now); !good) return good.error();
  if (second_look) {
    if (as_found || it.kind() != "record")
      return bad_value("\"second_look\" goes with \"record\" alone, not with \"again\" or \"as_found\".");
    if (const auto may = may_record_second_look(it, *at); !may) return may.error();
    return Recording(it, *at).decide(Place::second_look, SignedSteps::refuse);
  }
  if (const auto may = may_write(it.build, *at); !may) return may.error();
  if (const auto read = cautions_read(it.build, at->step, it.context); !read) return read.error();
  if (!as_found)
    if (const auto turn = in_turn(it.build, *at, true); !turn) return turn.error();
  return Recording(it, *at).decide(as_found ? Place::as_found : Place::entry, SignedSteps::refuse);
}

Result<Decision> correct(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "position", "value", "values", "unit", "gauge", "set_at",
                          "set_with", "part_at", "gauge_at", "taken_at", "reason", "text"});
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
  auto decision = Recording(it, *at).decide(Place::entry, is_signed ? SignedSteps::sign_again : SignedSteps::refuse);
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
    if (cell.counted().empty()) // what was set aside for the try taken back is in doubt again
      for (auto& one : cell.tries) one.set_aside = false;
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
