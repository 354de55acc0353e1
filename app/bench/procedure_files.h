// The procedures there are, and a new one begun from another, in the folder "procedures" beside the shop file.
#pragma once

#include "bench/ui.h"

namespace bench {

void list_procedures(ProceduresState& its, const std::filesystem::path& shop_file);
// Reads it and puts its numbers into words; an error leaves none open.
quantity::Result<void> open_procedure(ProceduresState& its, const std::filesystem::path& file);
// The text of the open one, changed: whole in the file or not at all.
quantity::Result<void> save_procedure(ProceduresState& its, const std::string& fresh);

void ask_for_procedure(Ui& ui, const ProcedureFile& from);
void new_procedure(Ui& ui); // draws what is asked

} // namespace bench
