#include "bench/beside.h"

#include "procedure/reader.h"
#include "json/read.h"

#include <fmt/format.h>

#include <algorithm>

namespace bench {

namespace fs = std::filesystem;

namespace {

constexpr int folders_up = 4; // build/release/witnessmark lies three below the clone
constexpr const char* schema = "procedure.schema.json";

} // namespace

std::optional<fs::path> find_beside(const fs::path& relative) {
  std::error_code failed;
  const fs::path program = fs::read_symlink("/proc/self/exe", failed);
  fs::path folder = program.parent_path();
  for (int up = 0; !failed && up <= folders_up && !folder.empty(); ++up, folder = folder.parent_path())
    for (const fs::path& in : {folder, folder / "share" / "witnessmark"}) {
      std::error_code ignored;
      if (fs::exists(in / relative, ignored)) return in / relative;
    }
  const fs::path here = fs::current_path(failed) / relative;
  return !failed && fs::exists(here, failed) ? std::optional(here) : std::nullopt;
}

ProcedureFile look_into(const fs::path& file) {
  const auto bytes = json::read_file(file);
  if (!bytes) return {file, bytes.error().message, ""};
  const auto reading = procedure::read_procedure(*bytes);
  if (!reading.procedure) return {file, "has faults; witnessmark lint shows them", ""};
  return {file, reading.procedure->title, reading.procedure->model};
}

namespace {

std::vector<ProcedureFile> procedures_in(const fs::path& folder) {
  std::vector<ProcedureFile> out;
  std::error_code failed;
  for (const auto& item : fs::directory_iterator(folder, failed))
    if (item.path().extension() == ".json" && item.path().filename() != schema) out.push_back(look_into(item.path()));
  std::ranges::sort(out, [](const auto& a, const auto& b) {
    return std::pair(a.model.empty(), a.title) < std::pair(b.model.empty(), b.title);
  });
  return out;
}

} // namespace

std::vector<ProcedureFile> procedures_beside() {
  const auto folder = find_beside("procedures");
  return folder ? procedures_in(*folder) : std::vector<ProcedureFile>();
}

fs::path own_procedures(const fs::path& shop_file) {
  return fs::absolute(shop_file).parent_path() / "procedures";
}

std::vector<ProcedureFile> procedures_for(const fs::path& shop_file) {
  std::vector<ProcedureFile> out = procedures_in(own_procedures(shop_file));
  for (ProcedureFile& shipped : procedures_beside()) {
    std::error_code failed;
    const bool there =
        std::ranges::any_of(out, [&](const auto& own) { return fs::equivalent(own.path, shipped.path, failed); });
    if (!there) out.push_back(std::move(shipped));
  }
  return out;
}

} // namespace bench
