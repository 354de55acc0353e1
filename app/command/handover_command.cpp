// handover: the signed PDF of a released build, or the draft of one that is still open.
#include "command/commands.h"
#include "command/passphrase.h"
#include "handover/make.h"
#include "record/session.h"

#include <fmt/format.h>

#include <ostream>
#include <string.h>

namespace command {

namespace {

Exit write_draft(const Arguments& arguments, const Streams& streams) {
  const auto pdf = handover::draft_of(arguments.value("--shop"), arguments.value("--build"));
  if (!pdf) return refuse(streams, pdf.error().message);
  const std::string& out = arguments.value("--out");
  if (const auto written = handover::write_new(out, *pdf); !written) return refuse(streams, written.error().message);
  streams.out << "draft, not signed: " << one_line(out) << '\n';
  return Exit::done;
}

Exit write_handover(const Arguments& arguments, const Streams& streams) {
  const std::string& person = arguments.value("--person");
  std::string passphrase = asked_passphrase(streams, fmt::format("Passphrase of {}: ", one_line(person)));
  const auto made = handover::handover_of(
      arguments.value("--shop"), arguments.value("--build"), person, passphrase, record::machine_clock(),
      arguments.has("--photos") ? handover::Photographs::attached : handover::Photographs::listed);
  explicit_bzero(passphrase.data(), passphrase.size());
  if (!made) return refuse(streams, made.error().message);
  const std::string& out = arguments.value("--out");
  if (const auto written = handover::write_new(out, made->pdf); !written)
    return refuse(streams, written.error().message);
  streams.out << fmt::format("signed by {}: {}\n", one_line(made->signer), one_line(out));
  return Exit::done;
}

Exit run_handover(const Arguments& arguments, const Streams& streams) {
  return arguments.has("--person") ? write_handover(arguments, streams) : write_draft(arguments, streams);
}

} // namespace

Command handover_command() {
  return {.name = "handover",
          .purpose = "Writes the PDF that goes with the engine: signed, or a draft of an open build.",
          .usage = {.line = "witnessmark handover --shop FILE --build ID --out FILE.pdf [--person ID [--photos]]",
                    .switches = {{.name = "--shop", .takes = Takes::one, .value = "FILE", .required = true},
                                 {.name = "--build", .takes = Takes::one, .value = "ID", .required = true},
                                 {.name = "--out", .takes = Takes::one, .value = "FILE.pdf", .required = true},
                                 {.name = "--person", .takes = Takes::one, .value = "ID"},
                                 {.name = "--photos"}}},
          .details =
              "  --shop FILE      the shop file; no event is written in it\n"
              "  --build ID       the build\n"
              "  --out FILE.pdf   the PDF; a file that is there already is not overwritten\n"
              "  --person ID      who signs: a builder or an owner. The passphrase is asked, or is the first line\n"
              "                   of stdin when that is no terminal\n"
              "  --photos         attaches the photographs too, 1600 pixels long at most; without, only their\n"
              "                   hashes are listed\n"
              "\n"
              "With --person, a released build: the pages, and attached to them record.json (the whole record of\n"
              "the build, for verify) and record.csv (every value), signed over all of it. The record is checked\n"
              "first; one with a fault is not handed over. Without --person, a build that is still open: a draft,\n"
              "marked on every page, unsigned, with nothing attached.\n",
          .work = run_handover};
}

} // namespace command
