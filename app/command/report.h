// How the answer of the verifier is said.
#pragma once

#include "command/output.h"
#include "record/verify.h"

#include <iosfwd>

namespace command {

using quantity::Result;

// Intact or the first thing that differs, the shop key's fingerprint, notes, heads. Gives done or answer_is_no.
Exit print_report(const record::Report& report, std::ostream& out);

// A damaged file is an answer; any other error means that there was nothing to look at.
Result<record::Report> look_through_shop(const std::string& file, const record::Known& known);

} // namespace command
