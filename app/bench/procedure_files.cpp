#include "bench/procedure_files.h"

#include "bench/beside.h"
#include "bench/form.h"
#include "bench/numbers_table.h"
#include "handover/make.h"
#include "procedure/emptied.h"
#include "procedure/reader.h"
#include "record/replaced.h"
#include "json/read.h"
#include "json/write.h"

#include <fmt/format.h>

#include <algorithm>

namespace bench {

namespace fs = std::filesystem;
using procedure::Reading;
using quantity::Error;
using quantity::Result;

namespace {

Error first_error(const fs::path& file, const Reading& reading) {
  const auto error = std::ranges::find(reading.remarks, procedure::Severity::error, &procedure::Remark::severity);
  return {"bad-procedure",
          fmt::format("{}, line {}: {}.", file.filename().string(), error->fault.place.line, error->fault.message)};
}

std::vector<Field> fields(NewProcedure& its) {
  return {{.id = "id",
           .label = "Its short name",
           .text = &its.id,
           .hint = "a to z, 0 to 9 and - ; the file gets this name."},
          {.id = "title", .label = "Its title", .text = &its.title, .hint = "As it is to stand on screens and pages."},
          {.id = "model", .label = "Engine", .text = &its.model, .hint = "The model, as on its plate."}};
}

// The file that was made.
Result<fs::path> begun(Ui& ui) {
  const NewProcedure& its = ui.procedures.fresh;
  const auto text = json::read_file(its.from);
  if (!text) return text.error();
  if (const Reading from = procedure::read_procedure(*text); !from.procedure) return first_error(its.from, from);
  for (const auto& [id, typed] : {std::pair("id", &its.id), {"title", &its.title}, {"model", &its.model}})
    if (typed->empty()) return Error{"bad-value", fmt::format("\"{}\" is still empty.", id)};
  const std::string fresh =
      json::pretty(procedure::emptied(json::read(*text).root, {its.id, its.title, its.model})) + "\n";
  if (const Reading again = procedure::read_procedure(fresh); !again.procedure)
    return first_error("the new procedure", again);
  const fs::path folder = own_procedures(ui.desk.shop_file());
  std::error_code failed;
  fs::create_directories(folder, failed);
  if (failed) return Error{"not-written", fmt::format("{} cannot be made: {}.", folder.string(), failed.message())};
  const fs::path file = folder / (its.id + ".json");
  if (const auto written = handover::write_new(file, fresh); !written) return written.error();
  return file;
}

void begin(Ui& ui) {
  ProceduresState& its = ui.procedures;
  const auto file = begun(ui);
  if (!file) return refuse(its.fresh.form, fields(its.fresh), file.error().message);
  its.fresh = NewProcedure();
  ui.refused = false;
  if (const auto opened = open_procedure(its, *file); !opened) {
    ui.refused = true;
    ui.message = opened.error().message;
    return;
  }
  its.may_fill = true;
  ui.message = fmt::format("{} is begun: {} sets of numbers to fill in; behind them stands what else is of the other "
                           "engine, to be looked over in the file.",
                           file->string(), its.numbers.size());
  for (const auto& one : procedure::of_old_engine(*its.procedure)) its.of_old_engine.push_back(one.words);
}

} // namespace

void list_procedures(ProceduresState& its, const fs::path& shop_file) {
  its.files = procedures_for(shop_file);
  const fs::path own = own_procedures(shop_file);
  its.own = static_cast<std::size_t>(
      std::ranges::count_if(its.files, [&](const auto& file) { return file.path.parent_path() == own; }));
  its.standing.clear();
  for (const ProcedureFile& file : its.files) {
    const auto text = json::read_file(file.path);
    const Reading reading = text ? procedure::read_procedure(*text) : Reading();
    its.standing.push_back(reading.procedure ? standing_words(numbers_of(*reading.procedure)) : "");
  }
}

Result<void> open_procedure(ProceduresState& its, const fs::path& file) {
  its.file.clear();
  its.procedure.reset();
  its.of_old_engine.clear();
  auto text = json::read_file(file);
  if (!text) return text.error();
  const Reading reading = procedure::read_procedure(*text);
  if (!reading.procedure) return first_error(file, reading);
  its.file = file;
  its.text = std::move(*text);
  its.procedure = reading.procedure;
  its.numbers = numbers_of(*reading.procedure);
  its.narrowed.clear();
  its.numbers_list.begin_anew();
  its.focus = true;
  return {};
}

Result<void> save_procedure(ProceduresState& its, const std::string& fresh) {
  if (const auto saved = record::replace_file(its.file, its.text, fresh); !saved) return saved.error();
  its.text = fresh;
  its.procedure = procedure::read_procedure(fresh).procedure;
  its.numbers = numbers_of(*its.procedure);
  return {};
}

void ask_for_procedure(Ui& ui, const ProcedureFile& from) {
  ui.procedures.fresh = NewProcedure();
  ui.procedures.fresh.open = true;
  ui.procedures.fresh.from = from.path;
  ui.procedures.fresh.title = from.title;
  ui.message.clear();
  ui.again = true;
}

void new_procedure(Ui& ui) {
  NewProcedure& its = ui.procedures.fresh;
  say(fonts().large, theme().ink, "A new procedure, from " + its.from.filename().string());
  say(fonts().text, theme().soft_ink, "Its steps come along, every limit comes out empty.");
  const Filled filled = fill_in(ui, its.form, fields(its), "Begin it");
  if (filled == Filled::left) {
    its = NewProcedure();
    ui.procedures.focus = ui.again = true;
  }
  if (filled == Filled::sent) begin(ui);
}

} // namespace bench
