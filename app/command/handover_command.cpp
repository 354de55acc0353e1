// handover: the pages of a build that is still open, as a draft, marked on every page and unsigned.
#include "command/commands.h"
#include "handover/pages.h"
#include "record/folded.h"
#include "record/new_file.h"

#include <fmt/format.h>

#include <fstream>
#include <ostream>

namespace command {

namespace {

Result<handover::Content> open_content(const record::Store& store, const build::Shop& shop, const build::Build& build) {
  if (build.released())
    return Error{"build-released",
                 fmt::format("the build {} is released, and a draft is of an open build only", one_line(build.id))};
  const auto events = store.events_since(build::chain_of_build(build.id), 0);
  if (!events) return events.error();
  return handover::content_of(build, shop, *events);
}

Result<std::string> draft_of(const std::string& shop_file, const std::string& id) {
  const auto store = record::Store::open(shop_file, record::Store::Mode::read_only);
  if (!store) return store.error();
  record::Folded folded;
  if (const auto taken = folded.take_in(*store); !taken) return taken.error();
  const auto build = folded.build(*store, id);
  if (!build) return build.error();
  const auto content = open_content(*store, folded.shop, **build);
  if (!content) return content.error();
  return handover::pages_of(*content, **build);
}

// To a file that is not there yet, whole or not at all.
Result<void> write_new(const std::string& name, const std::string& bytes) {
  auto file = record::NewFile::for_target(name);
  if (!file) return file.error();
  std::ofstream out(file->path(), std::ios::binary);
  out << bytes;
  out.close();
  if (!out)
    return Error{"not-written", fmt::format("{} could not be written to its end; is the disk full?", one_line(name))};
  if (const auto kept = file->to_disk(); !kept) return kept.error();
  return file->take_name();
}

Exit run_handover(const Arguments& arguments, const Streams& streams) {
  const auto pdf = draft_of(arguments.value("--shop"), arguments.value("--build"));
  if (!pdf) return refuse(streams, pdf.error().message);
  const std::string& out = arguments.value("--out");
  if (const auto written = write_new(out, *pdf); !written) return refuse(streams, written.error().message);
  streams.out << "draft, not signed: " << one_line(out) << '\n';
  return Exit::done;
}

} // namespace

Command handover_command() {
  return {.name = "handover",
          .purpose = "Writes an open build as a PDF to read, marked DRAFT on every page.",
          .usage = {.line = "witnessmark handover --shop FILE --build ID --out FILE.pdf",
                    .switches = {{.name = "--shop", .takes = Takes::one, .value = "FILE", .required = true},
                                 {.name = "--build", .takes = Takes::one, .value = "ID", .required = true},
                                 {.name = "--out", .takes = Takes::one, .value = "FILE.pdf", .required = true}}},
          .details = "  --shop FILE      the shop file; nothing in it is changed\n"
                     "  --build ID       the build, which must still be open\n"
                     "  --out FILE.pdf   the PDF; a file that is there already is not overwritten\n"
                     "\n"
                     "A draft is not signed and holds no record: only the shop file does.\n",
          .work = run_handover};
}

} // namespace command
