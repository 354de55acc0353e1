// Reads and checks a procedure. Every fault is told with its line, column and JSON pointer; a procedure is given only
// when there is no error.
#pragma once

#include "procedure/procedure.h"
#include "json/read.h"

#include <memory>

namespace procedure {

enum class Severity { error, warning };

struct Remark {
  Severity severity = Severity::error;
  std::string code; // "W01"... for warnings, "" for errors
  json::Fault fault;
};

struct Reading {
  std::shared_ptr<const Procedure> procedure; // null when any remark is an error
  std::vector<Remark> remarks;                // in the order of the file
};

Reading read_procedure(std::string_view text);

// "FILE:LINE:COL: error: ..." or "FILE:LINE:COL: warning: W01 ..." with the pointer at the end.
std::string line_of(const Remark& remark, std::string_view file);

// What a warning code means and what to do, or "" when there is no such code.
std::string_view explain(std::string_view code);

// The self-contained form: every default written out. Reads back to the same procedure.
json::Value resolved(const Procedure& procedure);

} // namespace procedure
