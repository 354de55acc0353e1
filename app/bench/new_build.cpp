// A new engine, opened from the window.
#include "bench/beside.h"
#include "bench/builds.h"
#include "bench/form.h"

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using json::Value;

namespace {

std::vector<std::string> titles(const NewBuild& its) {
  std::vector<std::string> out;
  for (const auto& file : its.files) out.push_back(fmt::format("{} ({})", file.title, file.path.filename().string()));
  return out;
}

std::string chosen_path(const NewBuild& its) {
  if (!its.path.empty()) return its.path;
  return its.file < its.files.size() ? its.files[its.file].path.string() : std::string();
}

std::vector<Field> fields(NewBuild& its) {
  std::vector<Field> out;
  if (!its.files.empty())
    out.push_back({.id = "procedure",
                   .label = "Procedure",
                   .text = &its.file_narrowed,
                   .hint = "Up and Down choose; letters narrow them down.",
                   .kind = Field::Kind::choice,
                   .choices = titles(its),
                   .picked = &its.file});
  out.push_back({.id = "path",
                 .label = its.files.empty() ? "File of the procedure" : "or another file",
                 .text = &its.path,
                 .hint = "Its path; or drop the file on the window."});
  out.push_back({.id = "model", .label = "Engine", .text = &its.model, .hint = "The model, as on its plate."});
  out.push_back({.id = "serial", .label = "Serial number", .text = &its.serial, .hint = "As stamped on the block."});
  out.push_back({.id = "build",
                 .label = "Name in this shop",
                 .text = &its.build,
                 .hint = "a to z, 0 to 9, - _ and . ; proposed from the serial number."});
  out.push_back({.id = "customer", .label = "Customer", .text = &its.customer, .hint = "Whose engine it is."});
  out.push_back({.id = "hours", .label = "Hours run", .text = &its.hours, .hint = "A number, or: unknown"});
  return out;
}

void send(Ui& ui) {
  NewBuild& its = ui.builds.fresh;
  const std::string procedure = chosen_path(its);
  if (procedure.empty()) return refuse_at(its.form, fields(its), "path", "Name the file of the procedure.");
  Value line = action("open-build");
  line.set("build", Value::text(its.build));
  line.set("procedure", Value::text(procedure));
  line.set("engine", Value::object({{"model", Value::text(its.model)},
                                    {"serial", Value::text(its.serial)},
                                    {"hours", Value::text(its.hours)}}));
  line.set("customer", Value::text(its.customer));
  ui.send(std::move(line));
}

// What follows from what was typed, as long as nothing else is typed over it.
void propose(Ui& ui, std::size_t file_before) {
  NewBuild& its = ui.builds.fresh;
  const auto model_of = [&](std::size_t file) {
    return file < its.files.size() ? its.files[file].model : std::string();
  };
  if (its.file != file_before && its.model == model_of(file_before)) its.model = model_of(its.file);
  const bool typing = fields(its)[its.form.at].id == "path";
  if (!typing && its.path != its.looked_into) {
    its.looked_into = its.path;
    if (auto file = look_into(its.path); !file.model.empty()) its.model = file.model;
  }
  if (its.build != its.proposed) return;
  its.build = its.proposed = proposed_id(ui.desk.shop(), its.serial);
}

} // namespace

std::string proposed_id(const build::Shop& shop, const std::string& serial) {
  std::string id;
  for (const char c : serial) {
    const bool capital = c >= 'A' && c <= 'Z';
    const bool good = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '.' || c == '_';
    if (capital) id += static_cast<char>(c + 32);
    if (good) id += c;
    if (!capital && !good && !id.empty() && id.back() != '-') id += '-';
  }
  while (!id.empty() && id.back() == '-') id.pop_back();
  constexpr std::size_t longest = 60;
  id.resize(std::min(id.size(), longest));
  if (id.empty() || !shop.builds.count(id)) return id;
  for (int next = 2;; ++next)
    if (auto other = fmt::format("{}-{}", id, next); !shop.builds.count(other)) return other;
}

void ask_for_build(Ui& ui) {
  NewBuild& its = ui.builds.fresh;
  its = NewBuild();
  its.open = true;
  its.files = procedures_for(ui.desk.shop_file());
  if (!its.files.empty()) its.model = its.files.front().model;
  ui.message.clear();
  ui.again = true;
}

void new_build(Ui& ui) {
  NewBuild& its = ui.builds.fresh;
  if (const auto nobody = nobody_yet(ui, its.form)) {
    its.open = *nobody != Filled::left;
    return;
  }
  const std::size_t file = its.file;
  say(fonts().large, theme().ink, "A new engine");
  const Filled filled = fill_in(ui, its.form, fields(its), "Open the build");
  propose(ui, file);
  if (filled == Filled::left) {
    its.open = false;
    ui.again = true;
  }
  if (filled == Filled::sent && !ui.sent) send(ui);
}

bool build_opened(Ui& ui, const Answered& answer) {
  if (answer.action.text_or_empty("do") != "open-build") return false;
  NewBuild& its = ui.builds.fresh;
  if (!answer.ok()) {
    const std::string code = answer.answer.text_or_empty("error");
    const bool of_file = code == "bad-procedure" || code == "unreadable";
    if (of_file && (its.files.empty() || !its.path.empty()))
      refuse_at(its.form, fields(its), "path", answer.message());
    else if (of_file)
      refuse_at(its.form, fields(its), "procedure", answer.message());
    else
      refuse(its.form, fields(its), answer.message());
    return true;
  }
  its = NewBuild();
  ui.message.clear();
  ui.desk.open(answer.action.text_or_empty("build"));
  if (ui.desk.builds().size() == 1) ui.on_bench.build = answer.action.text_or_empty("build");
  ui.screen = "sheet";
  ui.sheet.focus = ui.sheet.scroll = true;
  ui.again = true;
  return true;
}

void procedure_dropped(Ui& ui, const std::string& path) {
  NewBuild& its = ui.builds.fresh;
  its.path = path;
  const ProcedureFile file = look_into(path);
  if (!file.model.empty()) its.model = file.model;
  its.form.at = its.files.empty() ? 0 : 1;
  its.form.focus = ui.again = true;
}

} // namespace bench
