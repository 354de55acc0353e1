// What a procedure offers: faults to be found, and work to be done by a machine shop.
#include "procedure/reading.h"

#include "json/utf8.h"

#include <tuple>

namespace procedure {

using json::Fields;
using json::Value;

namespace {

OfferedFinding read_finding(const Value& item, const std::string& pointer, Faults& faults) {
  Fields fields(item, pointer, named("finding", item), faults);
  OfferedFinding finding;
  finding.id = identifier(fields, "id");
  finding.parts = texts(fields, "parts", faults, true);
  finding.text = text_or_empty(fields, "text", true);
  finding.usually = text_or_empty(fields, "usually");
  finding.slight = one_of(fields, "severity", written_severities).value_or(false);
  finding.cause = flag(fields, "cause");
  std::tie(finding.proof_step, finding.proof_entry) = step_and_entry(fields, "proof");
  if (finding.slight && finding.cause) fields.fault("cause", "is slight, so no release waits for its cause");
  if (finding.slight && fields.has("proof"))
    fields.fault("proof", "is slight, so there is nothing to clear by a proof");
  close(fields, "finding");
  return finding;
}

OfferedWork read_work(const Value& item, const std::string& pointer, Faults& faults) {
  Fields fields(item, pointer, named("machine work", item), faults);
  OfferedWork work;
  work.id = identifier(fields, "id");
  work.parts = texts(fields, "parts", faults, true);
  work.text = text_or_empty(fields, "text", true);
  work.limits = texts(fields, "limits", faults);
  work.finish = text_or_empty(fields, "finish");
  if (const Value* sizes = fields.object("sizes", false)) {
    Fields its(*sizes, fields.pointer_to("sizes"), fields.what() + ", sizes", faults);
    std::tie(work.sizes_step, work.sizes_entry) = step_and_entry(its, "entry", true);
    work.low = text_or_empty(its, "low", true);
    work.high = text_or_empty(its, "high", true);
    close(its, "sizes");
  }
  close(fields, "machine-work");
  return work;
}

} // namespace

std::pair<std::string, std::string> step_and_entry(Fields& fields, std::string_view key, bool required) {
  const std::string* text = fields.text(key, required);
  if (!text) return {};
  const std::size_t slash = text->find('/');
  if (slash == std::string::npos || slash == 0 || slash + 1 == text->size()) {
    fields.fault(key, fmt::format("there is no entry {}; write \"STEP/ENTRY\"", json::shown(*text)));
    return {};
  }
  return {text->substr(0, slash), text->substr(slash + 1)};
}

std::vector<OfferedWork> read_machine_work(Fields& of, Faults& faults) {
  std::vector<OfferedWork> work;
  each(of, "machine-work", false,
       [&](const Value& item, const std::string& pointer) { work.push_back(read_work(item, pointer, faults)); });
  return work;
}

std::vector<OfferedFinding> read_findings(Fields& of, Faults& faults) {
  std::vector<OfferedFinding> findings;
  each(of, "findings", false,
       [&](const Value& item, const std::string& pointer) { findings.push_back(read_finding(item, pointer, faults)); });
  return findings;
}

} // namespace procedure
