// order: the sheet that goes with parts to the machine shop.
#include "command/commands.h"
#include "handover/make.h"

#include <ostream>

namespace command {

namespace {

Exit run_order(const Arguments& arguments, const Streams& streams) {
  const auto pdf =
      handover::order_of(arguments.value("--shop"), arguments.value("--build"), arguments.value("--order"));
  if (!pdf) return refuse(streams, pdf.error().message);
  const std::string& out = arguments.value("--out");
  if (const auto written = handover::write_new(out, *pdf); !written) return refuse(streams, written.error().message);
  streams.out << "order, not signed: " << one_line(out) << '\n';
  return Exit::done;
}

} // namespace

Command order_command() {
  return {.name = "order",
          .purpose = "Writes the sheet that goes with parts to the machine shop, as a PDF to print.",
          .usage = {.line = "witnessmark order --shop FILE --build ID --order ID --out FILE.pdf",
                    .switches = {{.name = "--shop", .takes = Takes::one, .value = "FILE", .required = true},
                                 {.name = "--build", .takes = Takes::one, .value = "ID", .required = true},
                                 {.name = "--order", .takes = Takes::one, .value = "ID", .required = true},
                                 {.name = "--out", .takes = Takes::one, .value = "FILE.pdf", .required = true}}},
          .details =
              "  --shop FILE      the shop file; no event is written in it\n"
              "  --build ID       the build\n"
              "  --order ID       the order as \"send\" answered it: m1, m2, ...\n"
              "  --out FILE.pdf   the PDF; a file that is there already is not overwritten\n"
              "\n"
              "One sheet for the machinist: each part with the work, the size to work to, what was measured and\n"
              "found there up to the day it was sent, and boxes for the size made and initials. It does not\n"
              "name the customer and is not signed; the order itself stands in the build's record.\n",
          .work = run_order};
}

} // namespace command
