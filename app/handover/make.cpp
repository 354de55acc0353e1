#include "handover/make.h"

#include "build/apply.h"
#include "handover/check.h"
#include "handover/content_parts.h"
#include "handover/csv.h"
#include "handover/enclosure.h"
#include "handover/evidence.h"
#include "handover/order.h"
#include "handover/pages.h"
#include "handover/scaled.h"
#include "handover/signature.h"
#include "record/folded.h"
#include "record/keyring.h"
#include "record/new_file.h"

#include <fmt/format.h>

#include <fstream>
#include <optional>

namespace handover {

using build::Build;
using record::Store;

namespace {

// A shop file opened and read as far as one build needs it.
struct Reading {
  Store store;
  record::Folded folded;
  const Build* build = nullptr;
  std::vector<build::Event> events; // the build's
};

Result<Reading> read(const std::filesystem::path& shop_file, Store::Mode mode, std::string_view build_id,
                     const record::Progress& progress = {}) {
  auto store = Store::open(shop_file, mode);
  if (!store) return store.error();
  Reading out{std::move(*store), {}, nullptr, {}};
  if (const auto taken = out.folded.take_in(out.store); !taken) return taken.error();
  if (!out.folded.shop.builds.contains(build_id)) return record::unknown_build(build_id);
  auto events = out.store.events_since(build::chain_of_build(build_id), 0);
  if (!events) return events.error();
  out.events = std::move(*events);
  for (std::size_t i = 0; i < out.events.size(); ++i) {
    if (i % 200 == 0 && !progress.goes_on("reading the record", i, out.events.size())) return record::stopped();
    if (const auto seen = out.folded.see(out.store, out.events[i]); !seen) return seen.error();
  }
  const auto build = out.folded.build(out.store, build_id);
  if (!build) return build.error();
  out.build = *build;
  return out;
}

Result<std::vector<Attached>> attachments(const Reading& reading, const std::string& person) {
  const auto all = reading.store.events_in_order();
  if (!all) return all.error();
  const auto procedure = reading.store.blob(reading.build->procedure_sha256);
  if (!procedure) return procedure.error();
  auto text = evidence_text({reading.build->id, procedure->value_or(""), //
                             record::excerpt_of(*all, reading.build->id, person)});
  if (!text) return text.error();
  return std::vector<Attached>{
      {"record.json", "application/json", "The record, to be checked by witnessmark verify", "Data", std::move(*text)},
      {"record.csv", "text/csv", "Every value, for a spreadsheet", "Supplement", csv_of(*reading.build)}};
}

Result<void> attach_photographs(const Reading& reading, std::vector<Attached>& out) {
  int number = 0;
  for (const auto& it : reading.build->photographs) {
    ++number;
    const auto bytes = reading.store.blob(it.sha256);
    if (!bytes) return bytes.error();
    auto small = scaled_down(bytes->value_or(""));
    const std::string where = of_photograph(*reading.build, it);
    if (!small) return Error{small.error().code, fmt::format("{} ({})", small.error().message, where)};
    out.push_back({fmt::format("photograph-{:03}.jpg", number), "image/jpeg", where, "Supplement", std::move(*small)});
  }
  return {};
}

Result<void> may_sign(const build::Actor& actor) {
  if (actor.roles.count(build::Role::builder) || actor.roles.count(build::Role::owner)) return {};
  return Error{"role-needed", fmt::format("{} may not sign a handover; a builder or an owner does.", actor.name)};
}

} // namespace

Result<std::string> draft_of(const std::filesystem::path& shop_file, std::string_view build_id) {
  const auto reading = read(shop_file, Store::Mode::read_only, build_id);
  if (!reading) return reading.error();
  if (reading->build->released())
    return Error{"build-released", fmt::format("The build {} is released, and a draft is of an open build only; give "
                                               "the person who signs its handover.",
                                               build_id)};
  return pages_of(content_of(*reading->build, reading->folded.shop, reading->events), *reading->build);
}

namespace {

// The build as the event left it that sent this order.
Result<Build> when_sent(const Reading& reading, std::string_view order) {
  auto then = build::begin(reading.events.front(), reading.build->plan);
  for (auto it = reading.events.begin() + 1; then && it != reading.events.end(); ++it) {
    if (const auto done = build::apply(*then, *it); !done) return done.error();
    if (it->kind == "send" && it->body.text_or_empty("order") == order) return then;
  }
  if (!then) return then.error();
  std::string known;
  for (const auto& one : reading.build->orders) known += (known.empty() ? "" : ", ") + one.id;
  return Error{"unknown-order",
               fmt::format("There is no order \"{}\" on the build {}; {}.", order, reading.build->id,
                           known.empty() ? "nothing of it was sent to a machine shop" : "there are: " + known)};
}

} // namespace

Result<std::string> order_of(const std::filesystem::path& shop_file, std::string_view build_id,
                             std::string_view order) {
  const auto reading = read(shop_file, Store::Mode::read_only, build_id);
  if (!reading) return reading.error();
  const auto then = when_sent(*reading, order);
  if (!then) return then.error();
  return pages_of(order_sheet_of(*then, reading->folded.shop, then->orders.back()));
}

Result<Handover> handover_of(const std::filesystem::path& shop_file, std::string_view build_id, std::string_view person,
                             std::string_view passphrase, const calc::Moment& now, Photographs photographs,
                             const record::Progress& progress) {
  auto reading = read(shop_file, Store::Mode::read_write, build_id, progress);
  if (!reading) return reading.error();
  const auto& shop = reading->folded.shop;
  const Build& build = *reading->build;
  if (!build.released())
    return Error{"build-open", fmt::format("The build {} is not released; only a draft of it can be made.", build_id)};
  const auto holder = record::unlock(reading->store, shop, person, passphrase, now);
  if (!holder) return holder.error();
  if (const auto may = may_sign(holder->actor); !may) return may.error();
  const auto pages = pages_of(content_of(build, shop, reading->events), build, progress);
  if (!pages) return pages.error();
  if (!progress.goes_on("putting the record with them")) return record::stopped();
  auto attached = attachments(*reading, holder->actor.person);
  if (!attached) return attached.error();
  if (photographs == Photographs::attached)
    if (const auto done = attach_photographs(*reading, *attached); !done) return done.error();
  const auto own = record::read_certificate(shop.person(person)->certificate_pem);
  if (!own) return own.error();
  const auto above = record::read_certificate(shop.certificate_pem);
  if (!above) return above.error();
  const SignedBy by{holder->actor.name, fmt::format("Handover of the build {}", build_id), calc::utc_text(now),
                    calc::utc_text(build.last)};
  if (!progress.goes_on("signing")) return record::stopped();
  auto pdf = enclosed(*pages, *attached, by,
                      [&](std::string_view content) { return signature_over(content, holder->key, *own, *above); });
  if (!pdf) return pdf.error();
  if (!progress.goes_on("checking it as any reader of it would")) return record::stopped();
  const auto report = check_pdf(*pdf, {});
  if (!report) return report.error();
  if (!report->intact) return Error{"not-intact", fmt::format("No handover is made: {}.", report->fault)};
  if (!progress.goes_on("writing the file")) return record::stopped();
  return Handover{std::move(*pdf), holder->actor.name};
}

Result<void> write_new(const std::filesystem::path& file, const std::string& bytes) {
  auto made = record::NewFile::for_target(file);
  if (!made) return made.error();
  std::ofstream out(made->path(), std::ios::binary);
  out << bytes;
  out.close();
  if (!out)
    return Error{"not-written",
                 fmt::format("{} could not be written to its end; is the disk full?", file.filename().string())};
  if (const auto kept = made->to_disk(); !kept) return kept.error();
  return made->take_name();
}

} // namespace handover
