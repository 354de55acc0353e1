// Tightening entries: fasteners and their places, stages, what is known of the bolts.
#include "procedure/reading.h"

#include "json/utf8.h"

#include <algorithm>
#include <set>

namespace procedure {

using json::Fields;
using json::Kind;
using json::Value;

namespace {

constexpr std::size_t most_fasteners = 100;

class TighteningReader {
public:
  TighteningReader(Fields& fields, Entry& entry, Faults& faults) : fields_(fields), entry_(entry), faults_(faults) {}

  void read() {
    read_fasteners();
    read_outline();
    read_bolt();
    read_stages();
  }

private:
  void fault_at(const Value& item, const std::string& pointer, const std::string& message) {
    faults_.push_back({item.place(), pointer, fmt::format("{}: {}", fields_.what(), message)});
  }

  void read_fasteners() {
    entry_.fasteners_of = text_or_empty(fields_, "fasteners-of");
    const bool own = entry_.fasteners_of.empty();
    if (!own && fields_.has("fasteners"))
      fields_.fault("fasteners-of", "\"fasteners-of\" takes them over from another entry; leave \"fasteners\" out");
    entry_.retorque = flag(fields_, "retorque");
    if (own && entry_.retorque)
      fields_.fault("retorque", "\"retorque\" goes on from another entry; name it in \"fasteners-of\"");
    std::set<std::string> seen;
    std::size_t placed = 0;
    each(fields_, "fasteners", own, [&](const Value& item, const std::string& pointer) {
      Fastener fastener = read_fastener(item, pointer);
      if (fastener.id == "all")
        fault_at(item, pointer, "a fastener cannot be named \"all\": that word means every one of them");
      if (!fastener.id.empty() && !seen.insert(fastener.id).second)
        fault_at(item, pointer, fmt::format("the fastener {} is listed twice", json::shown(fastener.id)));
      placed += fastener.at.has_value();
      entry_.fasteners.push_back(std::move(fastener));
    });
    if (entry_.fasteners.size() > most_fasteners)
      fields_.fault("fasteners", fmt::format("{} fasteners; {} is the most one joint can have", entry_.fasteners.size(),
                                             most_fasteners));
    if (placed > 0 && placed < entry_.fasteners.size())
      fields_.fault("fasteners", "give the place of every fastener, or of none");
    entry_.worked_out_order = one_of(fields_, "order", written_orders).value_or(false);
    if (!own && fields_.has("order"))
      fields_.fault("order", "the order is taken over with the fasteners; leave it out");
    if (own && entry_.worked_out_order && placed == 0)
      fields_.fault("order", "an order worked out from the pattern needs the place (\"at\") of every fastener");
  }

  Fastener read_fastener(const Value& item, const std::string& pointer) {
    Fastener fastener;
    if (item.is(Kind::object)) {
      Fields object(item, pointer, named("fastener", item), faults_);
      fastener.id = text_or_empty(object, "id", true);
      fastener.position = text_or_empty(object, "position");
      fastener.at = read_place(object.any("at", false), [&](const std::string& why) { object.fault("at", why); });
      close(object, "fastener");
    } else if (item.is(Kind::text)) {
      fastener.id = item.as_text();
      if (fastener.id.empty()) fault_at(item, pointer, "a fastener needs a name");
    } else {
      fault_at(item, pointer, "a fastener is a name, or an object with \"id\" and \"position\" or \"at\"");
    }
    return fastener;
  }

  void read_outline() {
    each(fields_, "outline", false, [&](const Value& item, const std::string& pointer) {
      const auto place = read_place(&item, [&](const std::string& why) { fault_at(item, pointer, why); });
      if (place) entry_.outline.push_back(*place);
    });
    if (fields_.has("outline") && entry_.outline.size() < 3)
      fields_.fault("outline", "\"outline\" needs three corners at least");
  }

  void read_bolt() {
    const Value* object = fields_.object("bolt", false);
    if (!object) return;
    Fields fields(*object, fields_.pointer_to("bolt"), fmt::format("{}, bolt", fields_.what()), faults_);
    const auto length = [&](std::string_view key, bool required) {
      auto value = fields.number(key, required);
      if (value && value->sign() <= 0) fields.fault(key, fmt::format("\"{}\" must be more than 0, in mm", key));
      return value;
    };
    Bolt bolt;
    bolt.diameter = length("diameter", true).value_or(0);
    bolt.pitch = length("pitch", true).value_or(0);
    if (bolt.diameter.sign() > 0 && bolt.pitch >= bolt.diameter)
      fields.fault("pitch", "the pitch is as large as the diameter; the two may be swapped");
    bolt.strength = one_of(fields, "class", written_strengths).value_or("");
    bolt.lubrication = one_of(fields, "lubrication", written_lubrications, true).value_or(Lubrication::dry);
    bolt.head_diameter = length("head-diameter", false);
    if (bolt.head_diameter && *bolt.head_diameter <= bolt.diameter)
      fields.fault("head-diameter", "the face that turns must be wider than the thread");
    if (const auto uses = fields.integer("uses", false)) {
      if (*uses < 1 || *uses > 100) fields.fault("uses", "\"uses\" must be from 1 (never again) to 100");
      bolt.uses = static_cast<int>(std::clamp<std::int64_t>(*uses, 1, 100));
    }
    bolt.length = text_or_empty(fields, "length");
    bolt.structural = flag(fields, "structural");
    close(fields, "bolt");
    entry_.bolt = std::make_shared<const Bolt>(std::move(bolt));
  }

  std::optional<StageKind> kind_of(Fields& stage) {
    std::optional<StageKind> found;
    std::string all;
    for (const auto& kind : written_stage_kinds) {
      all += all.empty() ? "" : ", ";
      all += kind.text;
      if (!stage.has(kind.text)) continue;
      if (found) {
        stage.fault(kind.text, fmt::format("is one thing only: \"{}\" or \"{}\"", name_of(*found), kind.text));
        return std::nullopt;
      }
      found = kind.word;
    }
    if (!found) stage.fault("", fmt::format("says nothing to do; give one of: {}", all));
    return found;
  }

  Stage read_stage(const Value& item, const std::string& pointer) {
    Fields fields(item, pointer, named(fields_.what() + ", stage", item), faults_);
    Stage stage;
    stage.id = text_or_empty(fields, "id", true);
    const auto kind = item.is(Kind::object) ? kind_of(fields) : std::nullopt;
    if (!kind) return stage;
    stage.kind = *kind;
    switch (stage.kind) {
    case StageKind::torque:
      stage.limit = text_or_empty(fields, "torque", true);
      stage.by = one_of(fields, "by", written_bys).value_or(By::stage);
      stage.prevailing = flag(fields, "prevailing");
      stage.slot = flag(fields, "slot");
      break;
    case StageKind::angle:
      stage.limit = text_or_empty(fields, "angle", true);
      stage.by = one_of(fields, "by", written_bys).value_or(By::fastener);
      stage.beyond = one_of(fields, "beyond", written_beyonds).value_or(Beyond::loosen);
      break;
    case StageKind::stretch:
      stage.limit = text_or_empty(fields, "stretch", true);
      stage.by = By::fastener;
      stage.beyond = one_of(fields, "beyond", written_beyonds).value_or(Beyond::replace);
      break;
    case StageKind::check:
      stage.limit = text_or_empty(fields, "check", true);
      stage.by = By::fastener;
      break;
    case StageKind::loosen: stage.text = text_or_empty(fields, "loosen", true); break;
    case StageKind::mark: stage.text = text_or_empty(fields, "mark", true); break;
    case StageKind::wait: stage.seconds = read_seconds(fields, "wait", faults_); break;
    }
    close(fields, fmt::format("{}-stage", name_of(stage.kind)));
    return stage;
  }

  void read_stages() {
    std::set<std::string> seen;
    bool snug = entry_.retorque; // a torque since the beginning, or since it was let go
    bool tight = entry_.retorque;
    each(fields_, "stages", true, [&](const Value& item, const std::string& pointer) {
      Stage stage = read_stage(item, pointer);
      const bool first = entry_.stages.empty();
      if (!stage.id.empty() && !seen.insert(stage.id).second)
        fault_at(item, pointer, fmt::format("two stages have the id {}", json::shown(stage.id)));
      const auto needs = [&](bool there, std::string_view what) {
        if (!there) fault_at(item, pointer, fmt::format("stage {} {}", json::shown(stage.id), what));
      };
      switch (stage.kind) {
      case StageKind::torque: snug = tight = true; break;
      case StageKind::angle: needs(snug, "turns an angle, but no stage before it sets a torque"); break;
      case StageKind::stretch: tight = true; break;
      case StageKind::check: needs(tight, "checks a torque, but no stage before it sets one"); break;
      case StageKind::mark: needs(tight, "marks what no stage before it has tightened"); break;
      case StageKind::wait: needs(!first, "waits, but no stage comes before it"); break;
      case StageKind::loosen:
        needs(tight, "lets go what no stage before it has tightened");
        snug = tight = false;
        break;
      }
      entry_.stages.push_back(std::move(stage));
    });
    const auto kind = entry_.stages.empty() ? StageKind::torque : entry_.stages.back().kind;
    if (kind == StageKind::loosen) fields_.fault("stages", "the last stage leaves the joint untightened");
  }

  Fields& fields_;
  Entry& entry_;
  Faults& faults_;
};

// The order of calc's pattern-order; that of the file when it has none to give.
void work_out_order(Entry& entry) {
  Value positions = Value::array();
  for (const Fastener& fastener : entry.fasteners)
    positions.push(Value::array({Value::number(fastener.at->x.text()), Value::number(fastener.at->y.text())}));
  const auto* computation = calc::find_computation("pattern-order");
  const auto answer = calc::compute(
      *computation,
      Value::object({{"positions", Value::object({{"points", std::move(positions)}, {"unit", Value::text("mm")}})}}));
  if (!answer) return;
  const auto* order = std::get_if<calc::Outcomes>(answer->find("order"));
  std::vector<Fastener> sorted;
  for (const calc::Outcome& place : *order)
    sorted.push_back(entry.fasteners.at(static_cast<std::size_t>(std::get<Exact>(place).to_double()) - 1));
  entry.fasteners = std::move(sorted);
}

} // namespace

std::optional<Exact> read_seconds(Fields& of, std::string_view key, Faults& faults) {
  const Value* object = of.object(key, false);
  if (!object) return std::nullopt;
  Fields fields(*object, of.pointer_to(key), fmt::format("{}, {}", of.what(), key), faults);
  const auto value = fields.number("value");
  const Unit* its_unit = unit(fields);
  close(fields, "time");
  if (value && value->sign() <= 0) fields.fault("value", "must be more than 0");
  if (!value || !its_unit) return std::nullopt;
  const Unit& seconds = *quantity::find_unit("s");
  if (quantity::same_dimension(*its_unit, seconds)) return quantity::convert(*value, *its_unit, seconds);
  fields.fault("unit", fmt::format("{} is no unit of time: s, min or h", json::shown(its_unit->name)));
  return std::nullopt;
}

void read_tightening(Fields& fields, Entry& entry, Faults& faults) {
  TighteningReader(fields, entry, faults).read();
}

void settle_fasteners(Procedure& procedure) {
  const auto each_tightening = [&](const std::function<void(Entry&)>& look) {
    for (Section& section : procedure.sections)
      for (Step& step : section.steps)
        for (Entry& entry : step.entries)
          if (entry.kind == EntryKind::tightening) look(entry);
  };
  each_tightening([](Entry& entry) {
    const bool all = std::all_of(entry.fasteners.begin(), entry.fasteners.end(), [](const auto& f) { return f.at; });
    if (entry.worked_out_order && all && entry.fasteners.size() > 1) work_out_order(entry);
  });
  each_tightening([&](Entry& entry) {
    const std::size_t slash = entry.fasteners_of.find('/');
    if (slash == std::string::npos) return;
    const Step* step = procedure.step(std::string_view(entry.fasteners_of).substr(0, slash));
    const Entry* from = step ? step->find(std::string_view(entry.fasteners_of).substr(slash + 1)) : nullptr;
    if (!from || from == &entry || !from->fasteners_of.empty()) return; // told by the check
    entry.fasteners = from->fasteners;
    entry.worked_out_order = from->worked_out_order;
    if (entry.outline.empty()) entry.outline = from->outline;
    if (!entry.bolt) entry.bolt = from->bolt;
  });
}

} // namespace procedure
