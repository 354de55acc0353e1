#include "command/report.h"

#include <fmt/format.h>

#include <ostream>

namespace command {

using record::Known;
using record::Report;

namespace {

void print_notes(const Report& report, std::ostream& out) {
  if (report.practice) out << "PRACTICE, NOT A RECORD\n";
  for (const std::string& note : report.notes) out << "note: " << one_line(note) << '\n';
}

void print_heads(const Report& report, std::ostream& out) {
  for (const auto& [chain, head] : report.heads)
    out << fmt::format("head: {}, event {}, {}\n", one_line(chain), head.seq, head.hash);
}

} // namespace

Exit print_report(const Report& report, std::ostream& out) {
  if (report.intact) {
    out << fmt::format("intact (events: {}, signatures: {})\n", report.events, report.signatures);
  } else {
    out << "not intact: " << one_line(report.fault) << '\n';
  }
  out << "shop key: " << (report.shop_key.empty() ? "none found" : one_line(report.shop_key)) << '\n';
  print_notes(report, out);
  print_heads(report, out);
  return report.intact ? Exit::done : Exit::answer_is_no;
}

Result<Report> look_through_shop(const std::string& file, const Known& known) {
  auto report = record::verify_shop(file, known);
  if (report || report.error().code != "store-damaged") return report;
  Report damaged;
  damaged.fault = report.error().message;
  return damaged;
}

} // namespace command
