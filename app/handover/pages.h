// The pages of a handover: cover, every clearance at a glance, the sheet for what is still to be done at the engine,
// the sections in order, what went otherwise than hoped, parts, gauges, safety notices and how to check the file.
#pragma once

#include "handover/content.h"

#include "quantity/result.h"
#include "record/progress.h"

namespace handover {

// The bytes of the PDF, without attachments and signature. The same content gives the same bytes. `build` is what the
// content was taken from, for the figures. Codes "not-written" when there is no memory for it, "stopped".
quantity::Result<std::string> pages_of(const Content& content, const Build& build,
                                       const record::Progress& progress = {});

} // namespace handover
