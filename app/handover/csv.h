// record.csv: one row a value, for a spreadsheet. RFC 4180: comma, CRLF, UTF-8, the first row names the columns. A cell
// that a spreadsheet would take for a formula gets an apostrophe in front.
#pragma once

#include "build/state.h"

#include <string>
#include <string_view>
#include <vector>

namespace handover {

// In the order of the procedure: readings, calculated results, stages of tightening, and what was confirmed, chosen,
// identified or waited for. Values and limits as on the pages, U in the value's unit.
std::string csv_of(const build::Build& build);

std::string csv_row(const std::vector<std::string>& cells);
std::string csv_cell(std::string_view text);

} // namespace handover
