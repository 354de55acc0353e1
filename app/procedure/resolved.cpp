#include "procedure/reader.h"

#include "procedure/names.h"

#include <fmt/format.h>

namespace procedure {

using json::Value;

namespace {

Value list_of(const std::vector<std::string>& texts) {
  Value list = Value::array();
  for (const std::string& text : texts) list.push(Value::text(text));
  return list;
}

template <typename Thing>
Value list_of(const std::vector<Thing>& things, Value (*write)(const Thing&)) {
  Value list = Value::array();
  for (const Thing& thing : things) list.push(write(thing));
  return list;
}

Value word(std::string_view text) {
  return Value::text(std::string(text));
}

Value number(const Exact& exact) {
  return Value::number(exact.text());
}

// Members that a file leaves out when there is nothing to say.
void set_text(Value& object, std::string_view key, const std::string& text) {
  if (!text.empty()) object.set(key, Value::text(text));
}
void set_texts(Value& object, std::string_view key, const std::vector<std::string>& texts) {
  if (!texts.empty()) object.set(key, list_of(texts));
}

Value write_condition(const OptionIs& condition) {
  return Value::object({{"option", Value::text(condition.option)}, {"is", list_of(condition.is)}});
}

void set_when(Value& object, std::string_view key, const When& when) {
  if (!when.empty()) object.set(key, list_of(when, write_condition));
}

Value write_option(const Option& option) {
  Value object = Value::object({{"id", Value::text(option.id)}, {"title", Value::text(option.title)}});
  set_text(object, "text", option.text);
  object.set("choices", list_of(option.choices));
  set_text(object, "given", option.given);
  return object;
}

Value write_part(const Part& part) {
  Value object = Value::object({{"id", Value::text(part.id)}, {"title", Value::text(part.title)}});
  set_texts(object, "positions", part.positions);
  if (part.once) object.set("once", Value::boolean(true));
  if (part.dated) object.set("dated", Value::boolean(true));
  if (part.alpha) object.set("alpha", number(*part.alpha));
  return object;
}

Value write_bounds(const Bounds& bounds) {
  Value object = Value::object();
  if (bounds.low) object.set("low", number(*bounds.low));
  if (bounds.high) object.set("high", number(*bounds.high));
  return object;
}

void set_accepted(Value& object, const Accepted& accepted) {
  if (accepted.empty()) return;
  Value all = Value::object();
  for (const auto& [code, reason] : accepted) all.set(code, Value::text(reason));
  object.set("accepted", std::move(all));
}

Value write_beside(const Beside& beside) {
  Value object = Value::object({{"unit", word(beside.unit->name)}});
  if (beside.standard) object.set("standard", write_bounds(*beside.standard));
  if (beside.service) object.set("service", write_bounds(*beside.service));
  if (beside.target) object.set("target", number(*beside.target));
  return object;
}

Value write_hand(const Hand& hand) {
  return Value::object({{"by", Value::text(hand.by)}, {"on", Value::text(hand.on)}});
}

Value write_checked(const Checked& checked) {
  Value object = write_hand(checked.hand);
  object.set("unit", word(checked.unit->name));
  if (checked.standard) object.set("standard", write_bounds(*checked.standard));
  if (checked.service) object.set("service", write_bounds(*checked.service));
  if (checked.target) object.set("target", number(*checked.target));
  return object;
}

void set_values(Value& object, const LimitValues& values) {
  if (values.standard) object.set("standard", write_bounds(*values.standard));
  if (values.service) object.set("service", write_bounds(*values.service));
  if (values.target) object.set("target", number(*values.target));
  if (values.beside) object.set("beside", write_beside(*values.beside));
  if (values.entered) object.set("entered", write_hand(*values.entered));
  if (values.checked) object.set("checked", write_checked(*values.checked));
}

Value write_case(const LimitCase& one) {
  Value object = write_condition(one.when.front());
  set_when(object, "and", When(one.when.begin() + 1, one.when.end()));
  set_values(object, one.values);
  return object;
}

Value write_limit(const Limit& limit) {
  Value object = Value::object();
  set_text(object, "title", limit.title);
  object.set("unit", word(limit.unit->name));
  set_values(object, limit.values);
  object.set("basis", word(name_of(limit.basis)));
  set_text(object, "source", limit.source);
  object.set("rule", word(calc::name_of(limit.rule)));
  if (!limit.cases.empty()) object.set("when", list_of(limit.cases, write_case));
  set_accepted(object, limit.accepted);
  return object;
}

Value write_caution(const Caution& caution) {
  return Value::object({{"word", word(name_of(caution.word))},
                        {"hazard", Value::text(caution.hazard)},
                        {"consequence", Value::text(caution.consequence)},
                        {"avoid", Value::text(caution.avoid)}});
}

Value write_place(const Place& place) {
  return Value::array({number(place.x), number(place.y)});
}

Value write_fastener(const Fastener& fastener) {
  if (fastener.position.empty() && !fastener.at) return Value::text(fastener.id);
  Value object = Value::object({{"id", Value::text(fastener.id)}});
  set_text(object, "position", fastener.position);
  if (fastener.at) object.set("at", write_place(*fastener.at));
  return object;
}

Value write_stage(const Stage& stage) {
  Value object = Value::object({{"id", Value::text(stage.id)}});
  const auto key = name_of(stage.kind);
  if (has_limit(stage.kind))
    object.set(key, Value::text(stage.limit));
  else if (stage.kind == StageKind::wait)
    object.set(key, Value::object({{"value", number(*stage.seconds)}, {"unit", word("s")}}));
  else
    object.set(key, Value::text(stage.text));
  const bool turns = stage.kind == StageKind::torque || stage.kind == StageKind::angle;
  if (turns) object.set("by", word(name_of(stage.by)));
  if (stage.kind == StageKind::angle || stage.kind == StageKind::stretch)
    object.set("beyond", word(name_of(stage.beyond)));
  if (stage.prevailing) object.set("prevailing", Value::boolean(true));
  if (stage.slot) object.set("slot", Value::boolean(true));
  return object;
}

Value write_bolt(const Bolt& bolt) {
  Value object = Value::object({{"diameter", number(bolt.diameter)}, {"pitch", number(bolt.pitch)}});
  set_text(object, "class", bolt.strength);
  object.set("lubrication", word(name_of(bolt.lubrication)));
  if (bolt.head_diameter) object.set("head-diameter", number(*bolt.head_diameter));
  if (bolt.uses) object.set("uses", Value::integer(*bolt.uses));
  set_text(object, "length", bolt.length);
  if (bolt.structural) object.set("structural", Value::boolean(true));
  return object;
}

// Fasteners in the order they were worked out in; "order" then only says where that came from, so it is left out when
// another entry's are taken over.
void set_tightening(Value& object, const Entry& entry) {
  if (entry.fasteners_of.empty()) {
    object.set("fasteners", list_of(entry.fasteners, write_fastener));
    object.set("order", word(entry.worked_out_order ? "pattern" : "listed"));
  } else {
    object.set("fasteners-of", Value::text(entry.fasteners_of));
    if (entry.retorque) object.set("retorque", Value::boolean(true));
  }
  if (!entry.outline.empty()) object.set("outline", list_of(entry.outline, write_place));
  if (entry.bolt) object.set("bolt", write_bolt(*entry.bolt));
  object.set("stages", list_of(entry.stages, write_stage));
}

Value write_from_entry(const FromEntry& from) {
  Value object = Value::object({{"entry", Value::text(from.step + "/" + from.entry)}});
  set_text(object, "result", from.result);
  if (from.as_found) object.set("as-found", Value::boolean(true));
  return object;
}

Value write_source(const Source& source) {
  if (const auto* limit = std::get_if<FromLimit>(&source))
    return Value::object({{"limit", Value::text(limit->limit)}, {"bound", Value::text(limit->bound)}});
  if (const auto* option = std::get_if<FromOption>(&source))
    return Value::object({{"option", Value::text(option->option)}});
  if (const auto* constant = std::get_if<Constant>(&source)) return Value::object({{"constant", constant->value}});
  return write_from_entry(std::get<FromEntry>(source));
}

void set_judging(Value& object, const Entry& entry) {
  set_texts(object, "parts", entry.parts);
  object.set("judged-by", word(name_of(entry.column)));
}

void set_readings(Value& object, const Entry& entry) {
  set_judging(object, entry);
  object.set("unit", word(entry.unit->name));
  set_text(object, "limit", entry.limit);
  if (entry.kind == EntryKind::readings) {
    object.set("rows", list_of(entry.rows));
    set_texts(object, "columns", entry.columns);
    if (!entry.places.empty()) object.set("places", list_of(entry.places, write_place));
    object.set("may-skip", Value::boolean(entry.may_skip));
  }
  object.set("by-eye", Value::boolean(entry.by_eye));
  object.set("as-found", Value::boolean(entry.as_found));
  set_texts(object, "gauges", entry.gauges);
}

void set_time(Value& object, std::string_view key, const std::optional<Exact>& seconds) {
  if (seconds) object.set(key, Value::object({{"value", number(*seconds)}, {"unit", word("s")}}));
}

void set_calculated(Value& object, const Step& step, const Entry& entry) {
  set_judging(object, entry);
  object.set("computation", word(entry.computation->name));
  Value inputs = Value::object();
  for (const auto& [name, source] : entry.inputs) inputs.set(name, write_source(source));
  object.set("inputs", std::move(inputs));
  Value judge = Value::object();
  for (const auto& [result, limit] : entry.judge) judge.set(result, Value::text(limit));
  object.set("judge", std::move(judge));
  if (!step.positions.empty()) object.set("over", word(entry.over_all ? "all" : "each"));
}

bool may_be_loose(EntryKind kind) {
  return kind == EntryKind::reading || kind == EntryKind::readings || kind == EntryKind::choice ||
         kind == EntryKind::identity || kind == EntryKind::photograph;
}

Value write_ring(const RingGap& ring) {
  return Value::object({{"groove", Value::integer(ring.groove)},
                        {"title", Value::text(ring.title)},
                        {"angle", number(Exact::rounded(ring.angle))}});
}

Value write_ring_gaps(const RingGaps& gaps) {
  return Value::object({{"mark", Value::text(gaps.mark)},
                        {"pin", number(Exact::rounded(gaps.pin))},
                        {"thrust", number(Exact::rounded(gaps.thrust))},
                        {"thrust-side", Value::text(gaps.thrust_side)},
                        {"rings", list_of(gaps.rings, write_ring)}});
}

Value write_entry(const Step& step, const Entry& entry) {
  Value object = Value::object(
      {{"id", Value::text(entry.id)}, {"kind", word(name_of(entry.kind))}, {"title", Value::text(entry.title)}});
  set_text(object, "text", entry.text);
  set_when(object, "when", entry.when);
  object.set("optional", Value::boolean(entry.optional));
  if (may_be_loose(entry.kind)) object.set("loose", Value::boolean(entry.loose));
  object.set("taken-apart", word(name_of(entry.taken_apart)));
  if (entry.unit) set_readings(object, entry);
  set_texts(object, "choices", entry.choices);
  set_texts(object, "good", entry.good);
  set_text(object, "option", entry.option);
  if (entry.kind == EntryKind::choice) set_texts(object, "parts", entry.parts);
  if (entry.proposed_by) object.set("proposed-by", write_from_entry(*entry.proposed_by));
  if (entry.kind == EntryKind::tightening) set_tightening(object, entry);
  set_time(object, "least", entry.least);
  set_time(object, "most", entry.most);
  if (entry.computation) set_calculated(object, step, entry);
  if (entry.ring_gaps) object.set("ring-gaps", write_ring_gaps(*entry.ring_gaps));
  set_accepted(object, entry.accepted);
  return object;
}

Value write_step(const Step& step) {
  Value object = Value::object({{"id", Value::text(step.id)}, {"title", Value::text(step.title)}});
  set_text(object, "text", step.text);
  object.set("after", list_of(step.after));
  set_when(object, "when", step.when);
  object.set("hold", Value::boolean(step.hold));
  set_text(object, "part", step.part);
  set_texts(object, "positions", step.positions);
  set_texts(object, "fits", step.fits);
  if (!step.cautions.empty()) object.set("cautions", list_of(step.cautions, write_caution));
  set_text(object, "figure", step.figure);
  Value& entries = object.set("entries", Value::array());
  for (const Entry& entry : step.entries) entries.push(write_entry(step, entry));
  set_accepted(object, step.accepted);
  return object;
}

Value write_finding(const OfferedFinding& finding) {
  Value object = Value::object(
      {{"id", Value::text(finding.id)}, {"parts", list_of(finding.parts)}, {"text", Value::text(finding.text)}});
  set_text(object, "usually", finding.usually);
  object.set("severity", word(finding.slight ? "slight" : "fault"));
  if (finding.cause) object.set("cause", Value::boolean(true));
  if (!finding.proof_step.empty()) object.set("proof", Value::text(finding.proof_step + "/" + finding.proof_entry));
  return object;
}

Value write_work(const OfferedWork& work) {
  Value object =
      Value::object({{"id", Value::text(work.id)}, {"parts", list_of(work.parts)}, {"text", Value::text(work.text)}});
  set_texts(object, "limits", work.limits);
  if (!work.sizes_entry.empty())
    object.set("sizes", Value::object({{"entry", Value::text(work.sizes_step + "/" + work.sizes_entry)},
                                       {"low", Value::text(work.low)},
                                       {"high", Value::text(work.high)}}));
  set_text(object, "finish", work.finish);
  return object;
}

Value write_gear(const TrainGear& gear) {
  Value object = Value::object(
      {{"id", Value::text(gear.id)}, {"title", Value::text(gear.title)}, {"teeth", Value::integer(gear.teeth)}});
  set_text(object, "meshes", gear.meshes);
  if (!gear.meshes.empty()) object.set("direction", number(Exact::rounded(gear.direction)));
  return object;
}

Value write_section(const Section& section) {
  Value object = Value::object({{"id", Value::text(section.id)},
                                {"title", Value::text(section.title)},
                                {"deferrable", Value::boolean(section.deferrable)},
                                {"steps", list_of(section.steps, write_step)}});
  set_accepted(object, section.accepted);
  return object;
}

} // namespace

Value resolved(const Procedure& procedure) {
  Value root = Value::object({{"format", Value::integer(1)},
                              {"id", Value::text(procedure.id)},
                              {"title", Value::text(procedure.title)},
                              {"revision", Value::text(procedure.revision)},
                              {"engine", Value::object({{"model", Value::text(procedure.model)}})}});
  set_text(root, "notice", procedure.notice);
  root.set("rule", word(calc::name_of(procedure.rule)));
  if (!procedure.options.empty()) root.set("options", list_of(procedure.options, write_option));
  if (!procedure.parts.empty()) root.set("parts", list_of(procedure.parts, write_part));
  Value limits = Value::object();
  for (const Limit& limit : procedure.limits) limits.members().push_back({limit.id, write_limit(limit), {}});
  root.set("limits", std::move(limits));
  if (!procedure.findings.empty()) root.set("findings", list_of(procedure.findings, write_finding));
  if (!procedure.machine_work.empty()) root.set("machine-work", list_of(procedure.machine_work, write_work));
  if (!procedure.gear_train.empty()) root.set("gear-train", list_of(procedure.gear_train, write_gear));
  root.set("sections", list_of(procedure.sections, write_section));
  set_accepted(root, procedure.accepted);
  return root;
}

} // namespace procedure
