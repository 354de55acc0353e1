// The faults that a procedure offers to be found.
#include "procedure/reading.h"

#include "json/utf8.h"

namespace procedure {

using json::Fields;
using json::Value;

namespace {

void read_proof(Fields& fields, OfferedFinding& finding) {
  const std::string* proof = fields.text("proof", false);
  if (!proof) return;
  const std::size_t slash = proof->find('/');
  if (slash == std::string::npos || slash == 0 || slash + 1 == proof->size()) {
    fields.fault("proof", fmt::format("there is no entry {}; write \"STEP/ENTRY\"", json::shown(*proof)));
    return;
  }
  finding.proof_step = proof->substr(0, slash);
  finding.proof_entry = proof->substr(slash + 1);
}

OfferedFinding read_finding(const Value& item, const std::string& pointer, Faults& faults) {
  Fields fields(item, pointer, named("finding", item), faults);
  OfferedFinding finding;
  finding.id = identifier(fields, "id");
  finding.parts = texts(fields, "parts", faults, true);
  finding.text = text_or_empty(fields, "text", true);
  finding.usually = text_or_empty(fields, "usually");
  finding.slight = one_of(fields, "severity", written_severities).value_or(false);
  finding.cause = flag(fields, "cause");
  read_proof(fields, finding);
  if (finding.slight && finding.cause) fields.fault("cause", "is slight, so no release waits for its cause");
  if (finding.slight && fields.has("proof"))
    fields.fault("proof", "is slight, so there is nothing to clear by a proof");
  close(fields, "finding");
  return finding;
}

} // namespace

std::vector<OfferedFinding> read_findings(Fields& of, Faults& faults) {
  std::vector<OfferedFinding> findings;
  each(of, "findings", false,
       [&](const Value& item, const std::string& pointer) { findings.push_back(read_finding(item, pointer, faults)); });
  return findings;
}

} // namespace procedure
