#include "procedure/reader.h"

#include "procedure/check.h"
#include "procedure/reading.h"
#include "json/utf8.h"

#include <algorithm>

namespace procedure {

using json::Fields;
using json::Kind;
using json::Value;

namespace {

// Text of a stranger's file may end up on a screen, a page or a terminal, so all of it is looked at before anything
// else. Pointers are put together on the way back up, as they are seldom wanted.
void refuse_hidden(const Value& value, Faults& faults) {
  constexpr auto message = "the text holds a control character or a mark that changes the direction of reading";
  const auto look_inside = [&](const Value& inner, const auto& token) {
    const std::size_t before = faults.size();
    refuse_hidden(inner, faults);
    for (std::size_t i = before; i < faults.size(); ++i)
      faults[i].pointer = fmt::format("/{}{}", token(), faults[i].pointer);
  };
  if (value.is(Kind::text) && json::has_hidden_characters(value.as_text())) {
    faults.push_back({value.place(), "", message});
  } else if (value.is(Kind::array)) {
    for (std::size_t i = 0; i < value.items().size(); ++i)
      look_inside(value.items()[i], [i] { return std::to_string(i); });
  } else if (value.is(Kind::object)) {
    for (const json::Member& member : value.members()) {
      if (json::has_hidden_characters(member.key)) faults.push_back({member.place, "", message});
      look_inside(member.value, [&] { return json::pointer_token(member.key); });
    }
  }
}

Caution read_caution(const Value& item, const std::string& pointer, Faults& faults) {
  Fields fields(item, pointer, "caution", faults);
  Caution caution;
  caution.word = one_of(fields, "word", written_signal_words, true).value_or(SignalWord::notice);
  caution.hazard = text_or_empty(fields, "hazard", true);
  caution.consequence = text_or_empty(fields, "consequence", true);
  caution.avoid = text_or_empty(fields, "avoid", true);
  close(fields, "caution");
  return caution;
}

Step read_step(const Value& item, const std::string& pointer, const Procedure& procedure, Faults& faults) {
  Fields fields(item, pointer, named("step", item), faults);
  Step step;
  step.id = identifier(fields, "id");
  step.title = text_or_empty(fields, "title", true);
  step.text = text_or_empty(fields, "text");
  step.after = texts(fields, "after", faults, false, TextRule::any, 0);
  step.when = read_when(fields, "when", faults);
  step.hold = flag(fields, "hold");
  step.part = text_or_empty(fields, "part");
  step.positions = texts(fields, "positions", faults);
  const Part* part = procedure.part(step.part);
  if (part && !fields.has("positions")) step.positions = part->positions;
  step.fits = texts(fields, "fits", faults);
  step.cautions = list_of(fields, "cautions", false, [&](const Value& caution, const std::string& at) {
    return read_caution(caution, at, faults);
  });
  step.figure = identifier(fields, "figure", false);
  step.entries = list_of(fields, "entries", true, [&](const Value& entry, const std::string& at) {
    return read_entry(entry, at, procedure, step, faults);
  });
  step.accepted = accepted(fields, faults);
  close(fields, "step");
  return step;
}

Section read_section(const Value& item, const std::string& pointer, const Procedure& procedure, Faults& faults) {
  Fields fields(item, pointer, named("section", item), faults);
  Section section;
  section.id = identifier(fields, "id");
  section.title = text_or_empty(fields, "title", true);
  section.deferrable = flag(fields, "deferrable");
  section.steps = list_of(fields, "steps", true, [&](const Value& step, const std::string& at) {
    return read_step(step, at, procedure, faults);
  });
  section.accepted = accepted(fields, faults);
  close(fields, "section");
  return section;
}

std::string read_model(Fields& of, Faults& faults) {
  const Value* engine = of.object("engine");
  if (!engine) return "";
  Fields fields(*engine, of.pointer_to("engine"), "engine", faults);
  std::string model = text_or_empty(fields, "model", true);
  close(fields, "engine");
  return model;
}

Procedure read_all(const Value& root, Faults& faults) {
  Fields fields(root, "", "procedure", faults);
  Procedure procedure;
  const auto format = fields.integer("format");
  if (format && *format != 1)
    fields.fault("format", fmt::format("format {} is not known; this program reads format 1", *format));
  procedure.id = identifier(fields, "id");
  procedure.title = text_or_empty(fields, "title", true);
  procedure.revision = text_or_empty(fields, "revision", true);
  procedure.model = read_model(fields, faults);
  procedure.notice = text_or_empty(fields, "notice");
  procedure.rule = one_of(fields, "rule", written_rules).value_or(calc::Rule::simple);
  procedure.options = read_options(fields, faults);
  procedure.parts = read_parts(fields, faults);
  procedure.limits = read_limits(fields, procedure.rule, faults);
  procedure.findings = read_findings(fields, faults);
  procedure.machine_work = read_machine_work(fields, faults);
  procedure.gear_train = read_gear_train(fields, faults);
  procedure.index(); // entries look up what their options, parts and limits say
  procedure.sections = list_of(fields, "sections", true, [&](const Value& section, const std::string& at) {
    return read_section(section, at, procedure, faults);
  });
  procedure.index();
  settle_fasteners(procedure);
  procedure.accepted = accepted(fields, faults);
  close(fields, "procedure");
  return procedure;
}

void add_errors(std::vector<Remark>& remarks, Faults faults) {
  for (json::Fault& fault : faults) remarks.push_back({Severity::error, "", std::move(fault)});
}

bool comes_first(const Remark& a, const Remark& b) {
  return std::pair(a.fault.place.line, a.fault.place.column) < std::pair(b.fault.place.line, b.fault.place.column);
}

} // namespace

Reading read_procedure(std::string_view text) {
  Reading reading;
  json::Document document = json::read(text);
  add_errors(reading.remarks, std::move(document.faults));
  Faults faults;
  if (reading.remarks.empty()) refuse_hidden(document.root, faults);
  add_errors(reading.remarks, std::move(faults));
  if (!reading.remarks.empty()) return reading;

  faults.clear();
  auto procedure = std::make_shared<Procedure>(read_all(document.root, faults));
  add_errors(reading.remarks, std::move(faults));
  check(*procedure, document.root, reading.remarks);
  std::stable_sort(reading.remarks.begin(), reading.remarks.end(), comes_first);
  const auto is_error = [](const Remark& remark) { return remark.severity == Severity::error; };
  if (std::none_of(reading.remarks.begin(), reading.remarks.end(), is_error)) reading.procedure = std::move(procedure);
  return reading;
}

} // namespace procedure
