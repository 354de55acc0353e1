#include "handover/check.h"

#include "handover/enclosure.h"
#include "handover/evidence.h"
#include "handover/signature.h"

#include <fmt/format.h>

#include <algorithm>

namespace handover {

namespace {

// The record inside, checked; where there is none that can be read, a report that says so.
record::Report record_in(const Enclosure& enclosure, const record::Known& known) {
  record::Report report;
  const auto file = std::find_if(enclosure.attached.begin(), enclosure.attached.end(),
                                 [](const Attached& it) { return it.name == "record.json"; });
  if (file == enclosure.attached.end()) {
    report.fault = "there is no record.json in it";
    return report;
  }
  const auto evidence = read_evidence(file->bytes);
  if (!evidence) {
    report.fault = evidence.error().message;
    return report;
  }
  return check_evidence(*evidence, known);
}

void signed_for_the_shop(const Signers& signers, const std::string& signed_at, record::Report& report) {
  const auto signer = report.signers.find(signers.signer);
  if (signers.shop != report.shop_key) {
    report.fault = "the file is signed under another shop key than the record in it";
  } else if (signer == report.signers.end()) {
    report.fault = "the file is signed by somebody who may not, by the record in it";
  } else {
    report.notes.insert(report.notes.begin(),
                        fmt::format("signed by {}, at {} as they state", signer->second, signed_at));
    return;
  }
  report.intact = false;
}

} // namespace

Result<record::Report> check_pdf(const std::string& pdf, const record::Known& known) {
  record::Report faulty;
  const auto enclosure = taken_apart(pdf);
  if (!enclosure) {
    if (enclosure.error().code == "foreign") return enclosure.error();
    faulty.fault = enclosure.error().message;
    return faulty;
  }
  const auto signers = check_signature(enclosure->signature, enclosure->content);
  if (!signers) {
    faulty.fault = signers.error().message;
    return faulty;
  }
  auto report = record_in(*enclosure, known);
  if (report.intact) signed_for_the_shop(*signers, enclosure->signed_at, report);
  return report;
}

} // namespace handover
