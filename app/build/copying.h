// Taking values out of an event's body, for the files of `apply`. What does not fit throws std::logic_error, which
// `apply` turns into "bad-event".
#pragma once

#include "build/state.h"

namespace build {

Exact exact(const json::Value& text);
std::string optional_text(const json::Value& object, std::string_view key);
std::size_t index(const json::Value& value, std::size_t size);
Standing standing(const json::Value& text);
Moment moment(const json::Value& text);
std::size_t step_of(const Build& build, const json::Value& body);
EntryAt entry_of(const Build& build, const json::Value& body);

// apply.cpp. "places": cells of a reading, positions of a calculated entry, fasteners, or [0].
void forget(Build& build, EntryAt at, const json::Value& places);

// apply_readings.cpp
void take_cells(Build& build, const Event& event);
void zero(Build& build, const Event& event);

// apply_tightening.cpp
void still_sure(Build& build, const Event& event);
void tighten(Build& build, const Event& event);
void loosen(Build& build, const Event& event);
void bolt(Build& build, const Event& event);
void take_bolts_out(Build& build, const json::Value& out);
void extension(Build& build, const Event& event);

// apply_findings.cpp
void attach(Build& build, const Event& event);
void finding(Build& build, const Event& event);
void clear(Build& build, const Event& event);

// apply_orders.cpp
PartPlace part_place(const json::Value& item);
void part(Build& build, const Event& event);
void send(Build& build, const Event& event);
void come_back(Build& build, const Event& event);

} // namespace build
