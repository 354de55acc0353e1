// A gauge that types its reading and Enter, as a keyboard would, and what becomes of it: it may fill the points of a
// set one after the other with nothing else touched, and nothing it types lands where nobody looks.
//
// Such a gauge is known by its speed. What it types is taken where a point is asked for. It is not taken, and that is
// said in its place, where a reading stands already (one outside stops the gauge there), and once the set is full and
// the work has moved on to something that another gauge measures or that is no reading; there a key that no gauge
// strikes goes on.
#pragma once

#include "bench/ui.h"

namespace bench {

// Whether what stands before the Enter of this frame came in faster than fingers type; said by whoever gives the keys.
void say_typed_at_once(bool on);
bool typed_at_once();

// A digit struck by itself, in this frame: one that is followed by another within a moment is part of a number, and
// answers no question. -1 for none.
void watch_typing(); // once a frame, before anything looks
int digit_alone();
bool digit_waits(); // for its moment to be over, or has just answered: frames are wanted

// "  +22,010 mm" -> "+22.010 mm". A gauge writes no thousands, so its one comma is the decimal mark.
std::string as_the_gauge_means(std::string_view typed);

bool by_function_key(const procedure::Entry& entry); // done with a key that types nothing

// What the gauge typed is not taken; says so, and which key leads on. Tab then brings it back.
void not_taken(Ui& ui, const build::Build& build, build::EntryAt at);
bool takes_it_up(Ui& ui); // Tab was struck for it: it stands in the field as if typed by hand

// After the work has moved on from `from` by a reading that the gauge typed: holds the sheet when that is of another
// kind there.
void hold_where_another_kind(Ui& ui, build::EntryAt from);
// Draws what is said while the sheet is held, takes in what is typed and lets it go. True when the entry's own field is
// not to be drawn.
bool held(Ui& ui, const build::Build& build, build::EntryAt at);

} // namespace bench
