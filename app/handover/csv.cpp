#include "handover/csv.h"

#include "build/tightening.h"
#include "handover/values.h"
#include "handover/words.h"

#include <fmt/format.h>

namespace handover {

using build::Build;
using build::EntryAt;
using procedure::EntryKind;

namespace {

// One row; members in the order of the columns.
struct Row {
  std::string section, step, entry, kind, place, result, value, found, unit, u, target, low, high, limit_unit, basis,
      column, verdict, remark, gauges, signed_by, signed_at;
};

const std::vector<std::string> columns = {
    "section",        "step",      "entry",   "kind",   "place",     "result",     "value",
    "as found",       "unit",      "U",       "target", "low limit", "high limit", "limit unit",
    "basis of limit", "limit for", "verdict", "remark", "gauges",    "signed by",  "signed at"};

std::string text_of(const Row& it) {
  return csv_row({it.section, it.step,   it.entry,   it.kind,   it.place,  it.result,    it.value,
                  it.found,   it.unit,   it.u,       it.target, it.low,    it.high,      it.limit_unit,
                  it.basis,   it.column, it.verdict, it.remark, it.gauges, it.signed_by, it.signed_at});
}

void judged(Row& row, const build::Judged& judged) {
  row.verdict = std::string(build::name_of(judged.standing));
  row.remark = remark(judged);
}

void limited(Row& row, const std::optional<build::Bounds>& bounds, const procedure::Limit& limit,
             std::string_view doubt) {
  if (bounds && bounds->low) row.low = bounds->low->text();
  if (bounds && bounds->high) row.high = bounds->high->text();
  row.limit_unit = unit_name(*limit.unit);
  row.basis = fmt::format("{}{}{}{}{}", procedure::name_of(limit.basis), limit.source.empty() ? "" : ": ", limit.source,
                          doubt.empty() ? "" : "; ", doubt);
}

class Table {
public:
  explicit Table(const Build& build) : build_(build) {}

  std::string text() {
    out_ = csv_row(columns);
    std::size_t s = 0;
    for (const auto& section : build_.plan->procedure().sections) {
      section_ = section.title;
      for (std::size_t of_it = 0; of_it < section.steps.size(); ++of_it, ++s) step(s);
    }
    return out_;
  }

private:
  void step(std::size_t s) {
    if (build::step_on(build_, s) == build::Holds::no) return;
    for (std::size_t e = 0; e < build_.plan->step(s).entries.size(); ++e)
      if (const EntryAt at{s, e}; build::entry_on(build_, at) != build::Holds::no) entry(at);
  }

  Row begun(EntryAt at) const {
    const auto& step = build_.plan->step(at.step);
    const auto& entry = build_.plan->entry(at);
    Row row;
    row.section = section_;
    row.step = step.title;
    row.entry = entry.title;
    row.kind = std::string(procedure::name_of(entry.kind));
    for (const auto& signature : build_.step(at.step).signatures) {
      row.signed_by += (row.signed_by.empty() ? "" : "; ") + signature.name;
      row.signed_at = calc::offset_text(signature.time);
    }
    return row;
  }

  void entry(EntryAt at) {
    values(at);
    stages(at);
    plain(at);
  }

  void values(EntryAt at) {
    for (const auto& value : values_of(build_, at)) {
      Row row = begun(at);
      row.place = value.where;
      row.result = value.result;
      row.value = value.number();
      row.found = value.as_found;
      row.unit = unit_name(*value.unit);
      if (value.u.sign() > 0 && !value.left_out) row.u = shown_u(value.u);
      if (value.by.bounds && value.by.limit) limited(row, value.by.bounds, *value.by.limit, value.doubt);
      row.column = value.by.column;
      judged(row, value.judged);
      for (const auto& gauge : value.gauges) row.gauges += (row.gauges.empty() ? "" : "; ") + gauge;
      for (const auto& how : value.how) row.gauges += "; " + how;
      out_ += text_of(row);
    }
  }

  void stages(EntryAt at) {
    const auto& entry = build_.plan->entry(at);
    const auto& fasteners = build_.entry(at).fasteners;
    for (std::size_t s = 0; s < entry.stages.size(); ++s) {
      const auto& stage = entry.stages[s];
      const auto* limit = stage.limit.empty() ? nullptr : build_.limit(stage.limit);
      for (std::size_t f = 0; f < fasteners.size(); ++f) {
        if (fasteners[f].size() <= s) continue;
        const auto& one = fasteners[f][s];
        Row row = begun(at);
        row.place = entry.fasteners[f].id;
        row.result = fmt::format("stage {}: {}", s + 1, procedure::name_of(stage.kind));
        row.value = limit ? shown(one.value, {}, std::nullopt) : "done";
        if (limit) {
          row.unit = unit_name(*limit->unit);
          if (const auto aim = build::aim_of(build_, entry, stage)) {
            limited(row, aim->bounds, *limit, build::doubt_of(build_, stage.limit));
            if (aim->target) row.target = aim->target->text();
          }
        }
        judged(row, one.judged);
        row.gauges = one.gauge;
        out_ += text_of(row);
      }
    }
  }

  void plain(EntryAt at) {
    const auto& state = build_.entry(at);
    if (!state.done) return;
    Row row = begun(at);
    switch (build_.plan->entry(at).kind) {
    case EntryKind::confirm: row.value = "done"; break;
    case EntryKind::choice:
      row.value = state.text;
      judged(row, state.judged);
      break;
    case EntryKind::identity: row.value = state.text; break;
    case EntryKind::wait:
      row.value = fmt::format("{} to {}", calc::offset_text(state.from), calc::offset_text(state.until));
      break;
    default: return;
    }
    out_ += text_of(row);
  }

  const Build& build_;
  std::string section_;
  std::string out_;
};

} // namespace

std::string csv_cell(std::string_view text) {
  constexpr std::string_view formula = "=+-@\t\r";
  std::string cell(text);
  if (!cell.empty() && formula.find(cell.front()) != std::string_view::npos && !is_number(cell))
    cell.insert(cell.begin(), '\'');
  if (cell.find_first_of(",\"\r\n") == std::string::npos) return cell;
  std::string quoted = "\"";
  for (const char c : cell) quoted += c == '"' ? "\"\"" : std::string(1, c);
  return quoted + '"';
}

std::string csv_row(const std::vector<std::string>& cells) {
  std::string out;
  for (std::size_t c = 0; c < cells.size(); ++c) out += (c ? "," : "") + csv_cell(cells[c]);
  return out + "\r\n";
}

std::string csv_of(const Build& build) {
  return Table(build).text();
}

} // namespace handover
