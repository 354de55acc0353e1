// What lies beside the program: the folders of procedures and of the demo, in the clone it was built in, where it is
// installed, or where it was started.
#pragma once

#include "bench/shop_state.h"

#include <filesystem>
#include <optional>
#include <vector>

namespace bench {

// "procedures/hx4-150.json": the first that is there, going up from the program's own folder.
std::optional<std::filesystem::path> find_beside(const std::filesystem::path& relative);

// Every procedure of that folder, in the order of their titles; those with faults last, saying so.
std::vector<ProcedureFile> procedures_beside();
// Before them those of the folder "procedures" beside the shop file, which are the shop's own.
std::filesystem::path own_procedures(const std::filesystem::path& shop_file); // that folder; it may not be there
std::vector<ProcedureFile> procedures_for(const std::filesystem::path& shop_file);
ProcedureFile look_into(const std::filesystem::path& file);

} // namespace bench
