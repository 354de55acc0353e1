// The forms about a gauge or wrench: a new one, calibrated, checked on a standard, found out.
#pragma once

#include "bench/ui.h"

namespace bench {

void ask_about_gauge(Ui& ui, GaugeForm what, const build::Gauge* gauge); // null: a new one
void gauge_form(Ui& ui);                                                 // draws the one that is asked

} // namespace bench
