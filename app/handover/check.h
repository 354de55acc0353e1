// Whether a handover is untouched: its form and signature, then the record inside by the record's own verifier. Whether
// its pages say what the record says is not looked at here: the same signature covers both.
#pragma once

#include "record/verify.h"

#include <string>

namespace handover {

using quantity::Error;
using quantity::Result;

// The notes of the report say who signed it and when they claim to have done so. Code "foreign" when it is no handover.
Result<record::Report> check_pdf(const std::string& pdf, const record::Known& known);

} // namespace handover
